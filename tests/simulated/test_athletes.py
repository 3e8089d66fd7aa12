"""Simulated athletes keep the promises of the rules: a short form of ``run.py``.

Asserted is what holds for everybody: no rule is broken, every load can be made, first loads are
not above the maximum, and where the plates step by 5 % at most the load settles and does not
hunt. How coarser plates fare is printed (``pytest -s``). The whole, 500 athletes:
``python -m tests.simulated.run --athletes 500``.
"""

import pytest

from tests.simulated.crowd import Outcome, outcomes
from tests.simulated.report import able, report, shares
from tests.simulated.rulebook.book import TO_THE_DAY

ATHLETES = 15
"""Fixed, three for each kit; the same ones every time."""

RULES = (
    "makeable", "reasons", "limit", "dose", "stopped", "age", "warning-sign", "pain-stops",
    "cleared-half", "sore-fifth-less", "time-off", "deload", "deload-due", "month-cap", "up",
    "same-again", "one-late-fail", "down-5", "down-2.5", "seconds-back", "a-second-more", "bridged",
    "no-way-on", "capped", "after-ramp", "half-load", "plates-left", "easier", "one-more",
    "top-at-limit", "harder-step", "timed", "next-variation", "ladder", "order", "minutes",
    "warm-up", "twice", "wall-replaces", "fingers-48h", "fingers-before-wall",
)  # fmt: skip


@pytest.fixture(scope="module")
def crowd() -> tuple[Outcome, ...]:
    found = tuple(outcomes(range(ATHLETES)))
    print(report(found))
    return found


@pytest.mark.parametrize("rule", RULES)
def test_rule_is_never_broken(crowd, rule) -> None:
    seen = [(o.number, b) for o in crowd for b in o.breaches if b.rule == rule]
    assert not seen, seen[:3]


def test_every_breach_has_a_listed_rule(crowd) -> None:
    assert {b.rule for o in crowd for b in o.breaches} <= {*RULES, TO_THE_DAY}
    assert sum(o.evenings for o in crowd) > 30 * ATHLETES


def test_first_loads_after_three_weeks_off_are_not_above_the_maximum(crowd) -> None:
    firsts = [r for o in crowd if o.gap_days == 21 for r in o.returns]
    assert len(firsts) > ATHLETES
    assert not [r for r in firsts if r.part > 1 and not r.lightest]


def test_no_first_load_from_the_floor_is_above_the_maximum(crowd) -> None:
    begun = [part for o in crowd for part in o.starts]
    assert len(begun) > 3 * ATHLETES
    assert max(begun) <= 1


def test_fine_plates_settle_at_80_to_95_percent_of_the_maximum_and_do_not_hunt(crowd) -> None:
    said = shares(able(crowd))
    assert said.of >= 3
    assert said.percent(said.calm) >= 90, report(crowd)


def test_nobody_hunts(crowd) -> None:
    said = shares(crowd)
    assert said.of >= ATHLETES // 2
    assert said.hunting == 0, report(crowd)


def test_the_engine_fails_fewer_sets_than_either_plain_way(crowd) -> None:
    told = [(o.engine, o.fixed, o.repeat) for o in crowd if o.engine and o.fixed and o.repeat]
    rates = [
        sum(t.failed for t in way) / sum(t.sets for t in way) for way in zip(*told, strict=True)
    ]
    assert rates[0] < min(rates[1:])
