"""The rule book catches what it should: targets of real evenings, spoilt by hand one at a time."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from core.facts import Asked, Entry, PainFelt, SetDone, SettingChanged
from core.target import Target, because
from tests.simulated.kits import KITS
from tests.simulated.person import DAY_ONE
from tests.simulated.rulebook.book import TO_THE_DAY, target_breaches
from tests.simulated.rulebook.record import Record, Sitting

FINE, FIVES = KITS[0], KITS[2]
KEY = ("half-crimp", "left", 20)


def target(
    load: str, plates: str, *, hold_s: int = 10, sets: int = 4, change: str = "same"
) -> Target:
    return Target(
        exercise="half-crimp", side="left", edge_mm=20, sets=sets, reps=None, hold_s=hold_s,
        by_set=(), load_kg=Decimal(load), plates_kg=tuple(map(Decimal, plates.split())),
        pin_kg=Decimal(1), band=None, variation=None, rest_s=120,
        change=change, reasons=(because("any"),),  # type: ignore[arg-type]
    )  # fmt: skip


AT_21 = target("21", "20")


def sat(
    day: int, load: str, *words: str | tuple[str, int], hold_s: int = 10, lowered: bool = False
) -> Sitting:
    """Four sets at one load; ("fail", 7) failed after 7 s."""
    pairs = [(w, hold_s) if isinstance(w, str) else w for w in words]
    kg = Decimal(load)
    sets = tuple(SetDone("left", kg, hold_s=s, effort=w) for w, s in pairs)  # type: ignore[arg-type]
    shown = replace(AT_21, load_kg=kg, hold_s=hold_s)
    asked = Asked("left", 4, None, hold_s, kg)
    return Sitting(on(day), sets, asked, shown, lowered)


def on(day: int) -> date:
    return DAY_ONE + timedelta(days=day)


def record(*sittings: Sitting, loaded: bool = True) -> Record:
    kept = Record(lines={KEY: list(sittings)}, body_kg=Decimal(70))
    kept.loaded["finger flexors", "fingers"] = [s.day for s in sittings]
    return kept


def broken(asked: Target, kept: Record, day: int, kit=FINE) -> set[str]:
    return {b.rule for b in target_breaches(asked, kept, kit, on(day))}


OK4 = ("ok",) * 4
EASY4 = ("easy",) * 4
HARD4 = ("ok", "ok", "ok", "hard")
LATE = ("ok", "ok", "hard", ("fail", 8))
EARLY = ("ok", "ok", "hard", ("fail", 7))
TWO = ("ok", "ok", ("fail", 9), ("fail", 9))


@pytest.mark.parametrize(
    ("words", "right", "wrong"),
    [
        # Pin 1 kg; the finest step is 0.25 kg; 5 % of 21 kg are 1.05 kg.
        (OK4, ("21.25", "20 0.25"), ("21.5", "20 0.5")),
        (EASY4, ("21.5", "20 0.5"), ("21.25", "20 0.25")),
        (HARD4, ("21", "20"), ("21.25", "20 0.25")),
        (LATE, ("21", "20"), ("20.75", "10 5 2.5 1.25 0.5 0.5")),
        # 95 % of 21 kg are 19.95 kg.
        (EARLY, ("19.75", "10 5 2.5 1.25"), ("20.25", "10 5 2.5 1.25 0.5")),
        (TWO, ("19.75", "10 5 2.5 1.25"), ("21", "20")),
    ],
)
def test_the_step_after_a_session(words, right, wrong) -> None:
    kept = record(sat(0, "20", *OK4), sat(2, "21", *words))
    assert broken(target(*right), kept, 4) == set()
    assert broken(target(*wrong), kept, 4)


def test_a_second_late_failure_running_must_go_down() -> None:
    kept = record(sat(0, "21", *LATE), sat(2, "21", *LATE))
    # 97.5 % of 21 kg are 20.475 kg.
    assert broken(target("20.25", "10 5 2.5 1.25 0.5"), kept, 4) == set()
    assert broken(AT_21, kept, 4) == {"down-2.5"}


def fives(load: str, *, hold_s: int) -> Target:
    plates = " ".join(["5"] * (int(load) // 5))
    return replace(target(load, plates, hold_s=hold_s), pin_kg=Decimal(0))


def test_a_step_of_more_than_five_percent_waits_for_its_seconds() -> None:
    # 50 to 55 kg: 7 s at 55 needs 99.8 % x 50 / 55 = 90.7 %, which is held 12.8 s: 13 s.
    early = record(sat(0, "50", *OK4, hold_s=12))
    ready = record(sat(0, "50", *OK4, hold_s=13))
    assert broken(fives("50", hold_s=13), early, 2, FIVES) == set()
    assert broken(fives("55", hold_s=7), early, 2, FIVES) == {"a-second-more"}
    assert broken(fives("55", hold_s=7), ready, 2, FIVES) == set()
    assert broken(fives("50", hold_s=14), ready, 2, FIVES) == {"bridged"}


def ramp(day: int, *sets: tuple[str, str, int]) -> Sitting:
    """Sets at loads that differ: load, word, seconds."""
    done = tuple(SetDone("left", Decimal(kg), hold_s=s, effort=w) for kg, w, s in sets)  # type: ignore[arg-type]
    return replace(sat(day, sets[0][0], "ok"), sets=done)


def test_the_search_asks_for_no_more_than_the_curve_leaves_two_seconds_of() -> None:
    # 40 kg for 10 s at the limit: 40 / 94.9 % = 42.2 kg; of that 9 s take 96.5 %, 40.7 kg.
    found = record(ramp(0, ("30", "easy", 10), ("35", "easy", 10), ("40", "limit", 10)))
    assert broken(fives("40", hold_s=7), found, 2, FIVES) == set()
    assert broken(fives("45", hold_s=7), found, 2, FIVES) == {"after-ramp"}
    # Full sessions after it: the same curve, and no more than the dose's hold.
    then = record(*found.lines[KEY], sat(2, "35", *EASY4))
    assert broken(fives("40", hold_s=7), then, 4, FIVES) == set()
    assert broken(fives("40", hold_s=10), then, 4, FIVES) == {"a-second-more"}
    assert broken(fives("45", hold_s=7), then, 4, FIVES) == {"a-second-more"}


def test_a_load_was_held_well_unless_one_as_light_failed() -> None:
    done = [sat(2 * n, "50", *OK4, hold_s=8) for n in range(4)]
    fell = ramp(8, ("45", "easy", 10), ("50", "fail", 3), ("50", "fail", 3))
    back = sat(10, "45", *OK4)
    # 50 kg were held three days before they failed: known. Of 45 kg that failed too, nothing is.
    assert broken(fives("50", hold_s=7), record(*done, fell, back), 12, FIVES) == set()
    never = [sat(2 * n, "45", *OK4) for n in range(4)]
    assert broken(fives("50", hold_s=7), record(*never, fell, back), 12, FIVES) == {"a-second-more"}


def test_a_load_far_down_may_be_held_as_long_as_it_is_five_percent_easier() -> None:
    # 35 kg for 8 s ask for 35 / 98.1 % = 35.7 kg; of 95 % of that 30 kg are 88.5 %: 14 s.
    kept = record(sat(0, "35", "ok", "ok", ("fail", 7), ("fail", 7), hold_s=8))
    for hold_s, rules in ((10, set()), (14, set()), (15, {"down-5"}), (9, {"down-5"})):
        assert broken(fives("30", hold_s=hold_s), kept, 2, FIVES) == rules


@pytest.mark.parametrize(
    ("days", "right", "wrong", "sets"),
    [
        (11, ("21", "20"), ("21.25", "20 0.25"), 2),
        (22, ("19.75", "10 5 2.5 1.25"), ("20.25", "10 5 2.5 1.25 0.5"), 4),  # 19.95 at most
        (29, ("18.75", "10 5 2.5 0.25"), ("19", "10 5 2.5 0.5"), 4),  # 18.9
        (56, ("10.5", "5 2.5 1.25 0.5 0.25"), ("11", "10"), 4),  # half
    ],
)  # fmt: skip
def test_time_off_lowers(days, right, wrong, sets) -> None:
    kept = record(sat(0, "21", *EASY4))
    assert broken(target(*right, sets=sets), kept, days) == set()
    assert broken(target(*wrong, sets=sets), kept, days) == {"time-off"}
    if sets == 2:
        assert broken(target(*right, sets=3), kept, days) == {"time-off"}


def hurting(kept: Record, day: int, score: int, *flags: str) -> Record:
    kept.pains.append((on(day), PainFelt("ring finger", None, score, flags)))
    return kept


def test_finger_pain_stops_then_lowers_then_holds() -> None:
    tonight = hurting(record(sat(0, "21", *OK4)), 2, 1)
    assert broken(AT_21, tonight, 2) == {"pain-stops"}
    assert broken(replace(AT_21, sets=0, change="stopped"), tonight, 2) == set()
    # A fifth less is 16.8 kg.
    assert broken(target("16.75", "10 5 0.5 0.25"), tonight, 4) == set()
    assert broken(target("17", "10 5 0.5 0.5"), tonight, 4) == {"sore-fifth-less"}
    once = hurting(record(sat(0, "21", *OK4), sat(4, "16.75", *EASY4, lowered=True)), 2, 1)
    assert broken(target("17.25", "10 5 1.25"), once, 6) == {"sore-fifth-less"}


def test_a_warning_sign_stops_until_cleared_and_then_halves() -> None:
    kept = hurting(record(sat(0, "21", *OK4)), 2, 1, "swelling")
    assert broken(AT_21, kept, 9) == {"warning-sign"}
    kept.backs.append(on(9))
    assert broken(target("10.5", "5 2.5 1.25 0.5 0.25"), kept, 9) == set()
    assert broken(target("11", "10"), kept, 9) == {"cleared-half"}


def test_an_easier_week_is_easier() -> None:
    kept = record(sat(0, "21", *EASY4))
    kept.deloads.append(on(2))
    # Nine tenths are 18.9 kg.
    assert broken(target("18.75", "10 5 2.5 0.25", sets=2, change="deload"), kept, 2) == set()
    assert broken(target("19", "10 5 2.5 0.5", sets=2, change="deload"), kept, 2) == {"deload"}
    assert broken(target("18.75", "10 5 2.5 0.25", sets=3, change="deload"), kept, 2) == {"deload"}


def test_a_month_may_add_a_tenth() -> None:
    sittings = [sat(2 * n, "20", *HARD4) for n in range(4)]
    kept = record(*sittings, *[sat(8 + 2 * n, "22", *OK4) for n in range(13)])
    # 28 days before day 35 the load was 20 kg: 22 kg at most.
    assert broken(target("22", "20 0.5 0.5"), kept, 35) == set()
    assert broken(target("22.25", "20 1.25"), kept, 35) == {"month-cap", "capped", TO_THE_DAY}


SPOILT: tuple[tuple[str, Callable[[Target], Target]], ...] = (
    ("makeable", lambda t: replace(t, load_kg=Decimal("21.1"))),
    ("makeable", lambda t: replace(t, plates_kg=(Decimal(10), Decimal(10)))),
    ("makeable", lambda t: replace(t, plates_kg=(Decimal(15), Decimal(5)))),
    ("makeable", lambda t: replace(t, pin_kg=Decimal(2))),
    ("reasons", lambda t: replace(t, reasons=())),
    ("dose", lambda t: replace(t, sets=5)),
    ("dose", lambda t: replace(t, sets=3)),
    ("stopped", lambda t: replace(t, sets=0)),
)


@pytest.mark.parametrize(("rule", "spoil"), SPOILT)
def test_a_spoilt_target_is_caught(rule, spoil) -> None:
    kept = record(sat(0, "21", *HARD4))
    assert broken(AT_21, kept, 2) == set()
    assert rule in broken(spoil(AT_21), kept, 2)


def test_limits_and_age() -> None:
    kept = record()
    heavy = target("91", "20 20 10 10 5 5 2.5 2.5 1.25 1.25 0.5 0.5")
    assert "limit" in broken(replace(heavy, load_kg=Decimal(91)), kept, 0)
    kept.take(Entry(1, 1, None, DAY_ONE, SettingChanged("age", "15")))  # type: ignore[arg-type]
    assert broken(AT_21, kept, 0) == {"age"}
