"""What happens in one run, drawn from its seed: who types what when, what fails, who is killed."""

import random
from dataclasses import dataclass
from typing import Literal

from tests.double import faults
from tests.double.faults import Fault

BackEnd = Literal["sqlite", "postgresql"]
CHATS = (11, 12, 13, 14)
LOGS_EACH = 3
LASTS_S = 5.0
ANSWER_S = 1.0
"""The program's patience with the chat service in a run. [s]"""

SENDS: dict[str, Fault] = {
    "429": faults.too_many(1),
    "500": faults.server_error(500),
    "502": faults.server_error(502),
    "timeout before": faults.hang(after_effect=False),
    "timeout after": faults.hang(after_effect=True),
    "reset before": faults.reset(after_effect=False),
    "reset after": faults.reset(after_effect=True),
    "slow body": faults.drip(0.5),
    "too slow body": faults.drip(2.5),
    "malformed": faults.garble(),
    "403": faults.blocked(),
    "400 no chat": faults.chat_not_found(),
}
POLLS = ("429", "500", "502", "reset before", "reset after", "slow body", "malformed")
ACTS = ("blocks", "twice", "reordered", "breaks", "unreadable")
FAULTS = (*SENDS, *ACTS, *(f"poll {name}" for name in POLLS))


@dataclass(frozen=True, slots=True)
class Kill:
    """A kill -9: at a time of the run, or ``after_s`` after the next message arrives then."""

    at_s: float
    at_send: bool
    after_s: float


@dataclass(frozen=True, slots=True)
class Trouble:
    """A fault and when in the run it is set up; ``chat_id`` is whom it concerns."""

    name: str
    chat_id: int
    at_s: float


@dataclass(frozen=True, slots=True)
class Plan:
    """One run. ``logs`` are moment, chat and load; the reminder comes after ``remind_s``."""

    seed: int
    back_end: BackEnd
    remind_s: float
    logs: tuple[tuple[float, int, int], ...]
    troubles: tuple[Trouble, ...]
    kills: tuple[Kill, ...]


def draw(seed: int, back_end: BackEnd, names: tuple[str, ...] = ()) -> Plan:
    """The run of that seed; with these faults, or with some that are drawn too."""
    chance = random.Random(seed)
    logs = [
        (chance.uniform(0, LASTS_S), chat_id, 20 + index)
        for chat_id in CHATS
        for index in range(LOGS_EACH)
    ]
    chosen = names or chance.sample(FAULTS, chance.randint(2, 5))
    troubles = tuple(
        Trouble(name, chance.choice(CHATS), chance.uniform(0, LASTS_S - 1)) for name in chosen
    )
    kills = tuple(
        Kill(chance.uniform(0, LASTS_S), chance.random() < 0.7, chance.uniform(0, 0.04))
        for _ in range(chance.randint(1, 2))
    )
    return Plan(seed, back_end, chance.uniform(1, LASTS_S), tuple(sorted(logs)), troubles, kills)
