"""Why: every target that any scenario announces is explained, in words and numbers that add up.

What is asked must follow from what is said: a load, a hold or a number of sets that is not the
programme's own stands in the reasons' texts, or follows from a number there by the part that
the same text names ("a tenth less"). The parts are those of the rule book.
"""

import json
import re
from decimal import Decimal
from functools import cache
from pathlib import Path
from textwrap import wrap
from typing import Any

import pytest

from bot.adapters.replay import Replay
from bot.adapters.scenario import parse_scenario
from bot.clock import HandClock
from bot.wiring import IN_MEMORY, open_house
from core.athlete import Athlete
from core.catalogue import catalogue, get_exercise
from core.kit.loads import loads_from_floor
from core.progression.rules import RULES

FOLDER = Path(__file__).parents[1] / "scenarios"
FILES = sorted(FOLDER.glob("*.txt"))
COLUMNS = 40
LINES = 4
NUMBER = re.compile(r"\d+(?:\.\d+)?")
PARTS = {
    "half": Decimal("0.5"),
    "a tenth less": Decimal("0.9"),
    "a fifth less": Decimal("0.8"),
    "5 % less": Decimal("0.95"),
    "10 % less": Decimal("0.9"),
}
"""Parts of a load or of the sets that a text may name, and what they leave."""

SLUGS = {e.slug for e in catalogue().exercises if e.slug != e.name} | {
    rule for rule in RULES if "-" in rule
}


@cache
def announced(file: Path) -> tuple[list[dict[str, Any]], Athlete]:
    """Every target of a scenario as it stands in the JSON, each once; the athlete at the end."""
    scenario = parse_scenario(file.read_text(encoding="utf-8"))
    clock = HandClock(scenario.begins)
    with open_house(IN_MEMORY, clock=clock) as house:
        events = list(Replay(house.service, clock, house.deliver("terminal")).play(scenario))
        athlete = house.service.athlete(None)
    rows = {json.dumps(t) for e in events if e.parcel is not None for t in e.as_json()["targets"]}
    return [
        json.loads(row, parse_float=Decimal, parse_int=Decimal) for row in sorted(rows)
    ], athlete


def texts(target: dict[str, Any]) -> list[str]:
    return [reason["text"] for reason in target["reasons"]]


def numbers(target: dict[str, Any]) -> set[Decimal]:
    return {Decimal(n) for text in texts(target) for n in NUMBER.findall(text)}


def parts(target: dict[str, Any]) -> list[Decimal]:
    said = " ".join(texts(target))
    return [Decimal(1), *(part for words, part in PARTS.items() if words in said)]


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_every_target_has_reasons_in_plain_and_short_words(file: Path) -> None:
    targets, _ = announced(file)
    assert targets
    for target in targets:
        assert texts(target), target
        for text in texts(target):
            assert not re.search(r"[{}_]|None|Decimal|  ", text), text
            assert not any(slug in text for slug in SLUGS), text
            assert len(wrap(text, COLUMNS)) <= LINES, text
            assert text == text.strip(" .;")
        assert len(texts(target)) == len(set(texts(target)))


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_every_load_follows_from_the_reasons(file: Path) -> None:
    targets, athlete = announced(file)
    for target in targets:
        load_kg = target["load_kg"]
        if not load_kg or target["change"] == "stopped":
            continue
        meant = {n * part for n in numbers(target) for part in parts(target)}
        if target["pin_kg"] is not None:
            loads = loads_from_floor(athlete.kit, target["exercise"])
            meant |= {made for kg in meant if (made := loads.at_most(kg)) is not None}
        elif any("the most help" in text for text in texts(target)):
            assert abs(load_kg) == max(band.help_kg for band in athlete.kit.bands)
            continue
        elif min(parts(target)) < 1 and load_kg < 0 and athlete.body_kg is not None:
            # "A tenth less" of body and load, by the next band that gives as much help.
            most_kg = athlete.body_kg * max(part for part in parts(target) if part < 1)
            helps = [band.help_kg for band in athlete.kit.bands]
            meant |= {min(kg for kg in helps if athlete.body_kg - kg <= most_kg)}
        assert any(abs(abs(load_kg) - kg) <= Decimal("0.01") for kg in meant), target


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_every_hold_follows_from_the_reasons(file: Path) -> None:
    for target in announced(file)[0]:
        dose = get_exercise(target["exercise"]).dose
        usual = {getattr(dose, name, None) for name in ("hold_s", "start_s", "low_s", "least_s")}
        if target["hold_s"] is None or target["hold_s"] in usual:
            continue
        said = numbers(target)
        longer = (
            {n + 1 for n in said} if any("a second more" in t for t in texts(target)) else set()
        )
        sets = int(target["sets"]) or 1
        # "16 s in total" over three sets is 6, 5, 5.
        spread = {int(n) // sets + more for n in said for more in (0, 1)}
        assert target["hold_s"] in said | longer | spread, target


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.stem)
def test_every_number_of_sets_follows_from_the_reasons(file: Path) -> None:
    for target in announced(file)[0]:
        usual = get_exercise(target["exercise"]).dose.sets
        if target["sets"] in (usual, 0):
            continue
        halved = {-(-usual // 2), usual // 2} if Decimal("0.5") in parts(target) else set()
        assert target["sets"] in numbers(target) | halved, target
