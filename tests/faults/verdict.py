"""What must hold after a run, whatever failed and whoever was killed in it."""

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise

from sqlalchemy import select

from bot.ports import Chat
from bot.storage.rows import parcel_from_row
from bot.storage.tables import ATHLETE, INBOX, OUTBOX
from bot.wiring import House
from tests.double.bot_api import BotApiDouble
from tests.faults.plan import CHATS
from tests.faults.play import Played
from tests.faults.program import BREAKS

ANSWERS = ("answer", "question")
ON_ITS_WAY_S = 0.5
"""How long before its arrival here a message may have left a process that was killed since. [s]"""


@dataclass(frozen=True, slots=True)
class Row:
    """A message that was queued in the run, and what became of it."""

    chat_id: int
    kind: str
    text: str
    state: str
    why: str | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a run came to; ``faults`` is empty when all held."""

    faults: tuple[str, ...]
    counts: Counter[str]


def judge(played: Played, double: BotApiDouble, house: House) -> Verdict:
    """Compare what was typed, what is kept, what was queued and what arrived."""
    rows = _rows(house, played)
    found: list[str] = [] if played.quiet else ["something is stuck"]
    counts: Counter[str] = Counter(kills=len(played.kills))
    found += _logs(played, house, counts)
    found += _inbox(played, house)
    for chat_id in CHATS:
        mine = [row for row in rows if row.chat_id == chat_id]
        found += _answers(chat_id, mine, double, counts)
        found += _reminders(chat_id, mine, double, played, counts)
    return Verdict(tuple(found), counts)


def _rows(house: House, played: Played) -> list[Row]:
    query = (
        select(OUTBOX, ATHLETE.c.chat_id)
        .join(ATHLETE, ATHLETE.c.id == OUTBOX.c.athlete_id)
        .where(OUTBOX.c.queued_at >= played.began_at)
        .order_by(OUTBOX.c.id)
    )
    with house.store.read() as work:
        found = work._connection.execute(query).all()  # type: ignore[attr-defined]
        parcels = [parcel_from_row(row, doubts=0, seal=work._seal) for row in found]  # type: ignore[attr-defined]
    return [
        Row(row.chat_id, row.kind, parcel.message.text, row.state, row.why)
        for row, parcel in zip(found, parcels, strict=True)
    ]


def _logs(played: Played, house: House, counts: Counter[str]) -> list[str]:
    """Each logged set exactly once."""
    wrong = []
    for chat_id in CHATS:
        athlete = house.service.athlete(Chat("telegram", chat_id))
        kept = Counter(f"crimp 4x{d.log.sets[0].load_kg}kg ok" for d in athlete.logs)
        typed = Counter(
            words for chat, words in played.typed.values() if chat == chat_id and "crimp" in words
        )
        # Two troubles of one kind may type the same twice: as often as typed, it is kept.
        counts["logs"] += typed.total()
        if kept != typed:
            wrong.append(f"{chat_id}: typed {dict(typed)}, kept {dict(kept)}")
        if any(len(d.log.sets) != 4 for d in athlete.logs):
            wrong.append(f"{chat_id}: a log has not its four sets")
    return wrong


def _inbox(played: Played, house: House) -> list[str]:
    """Each update is kept once and handled; only the one made to break is marked as broken."""
    with house.store.read() as work:
        rows = work._connection.execute(select(INBOX)).all()  # type: ignore[attr-defined]
    wrong = []
    for number, (_, words) in played.typed.items():
        mine = [row for row in rows if row.update_id == number]
        if len(mine) != 1 or mine[0].handled_at is None:
            wrong.append(f"update {number} is kept {len(mine)} times or not handled")
        elif (mine[0].problem is not None) != (words == BREAKS):
            wrong.append(f"update {number} ended in {mine[0].problem}")
    return wrong


def _answers(
    chat_id: int, rows: list[Row], double: BotApiDouble, counts: Counter[str]
) -> list[str]:
    """Each answer at least once, unless its chat was closed, and at most twice."""
    wrong = []
    arrived = Counter(message.text for message in double.messages(chat_id))
    answers = [row for row in rows if row.kind in ANSWERS]
    for words in {row.text for row in answers}:
        these = [row for row in answers if row.text == words]
        due = [row for row in these if row.why != "gone"]
        counts["answers"] += len(due)
        counts["answers twice"] += max(0, arrived[words] - len(these))
        if arrived[words] < len(due):
            wrong.append(f"{chat_id}: {len(due)} times {words[:30]!r}, {arrived[words]} arrived")
        if arrived[words] > 2 * len(these):
            wrong.append(f"{chat_id}: {words[:30]!r} arrived {arrived[words]} times")
    return wrong


def _reminders(
    chat_id: int, rows: list[Row], double: BotApiDouble, played: Played, counts: Counter[str]
) -> list[str]:
    """The reminder at most once, except by a kill between send and mark; if not, known why."""
    queued = [row for row in rows if row.kind == "reminder"]
    came = [m.arrived_s for m in double.messages(chat_id) if m.text.startswith("Tonight at 18:30")]
    counts["reminders"] += len(queued)
    counts["reminders twice"] += max(0, len(came) - 1)
    if len(queued) > 1 or len(came) > 2:
        return [f"{chat_id}: {len(queued)} reminders, {len(came)} arrived"]
    for first, second in pairwise(came):
        if not any(first - ON_ITS_WAY_S < kill < second for kill in played.kills):
            return [f"{chat_id}: two reminders and no kill between"]
    if queued and not came:
        counts[f"reminders not sent: {queued[0].why}"] += 1
        if queued[0].why not in ("uncertain", "gone"):
            return [f"{chat_id}: the reminder is {queued[0].state} ({queued[0].why}), none arrived"]
    return []
