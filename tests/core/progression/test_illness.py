"""Illness: nothing hard until back, then one easy session. Days count from Tue 1 Dec 2026."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from core.athlete import Illness, athlete_from_facts
from core.facts import Asked, CameBack, Entry, PainFelt, Paused, SetDone
from core.progression.illness import easy_after_illness, illness_on

OK4 = ("ok",) * 4


def ill(diary, since: int, until: int | None):
    log = diary().held(0, "22", *OK4).timed(0, (15,) * 3).timed(0, (45,) * 2, exercise="side-split")
    return log.has(illnesses=(Illness(log.on(since), None if until is None else log.on(until)),))


@pytest.mark.parametrize("exercise", ["half-crimp", "wide-pull-up", "l-sit"])
def test_while_ill_nothing_hard_is_asked_for(diary, rules, exercise) -> None:
    sick = ill(diary, 2, None)
    for day in (2, 3, 40):
        target = sick.next(day, exercise)
        assert (target.change, target.sets, rules(target)) == ("stopped", 0, ["ill"])
    assert sick.next(1, exercise).change != "stopped"


def test_while_ill_hips_may_go_on_without_more_than_before(diary, rules) -> None:
    sick = ill(diary, 2, None).timed(1, (45,) * 2, exercise="side-split")
    target = sick.next(3, "side-split")
    assert (target.change, target.hold_s, rules(target)[0]) == ("same", 45, "ill")


def test_an_illness_with_an_end_is_over_on_that_day(diary) -> None:
    sick = ill(diary, 2, 5)
    assert sick.next(4).change == "stopped"
    assert sick.next(5).change == "return"


def test_the_first_session_of_a_tissue_is_easy_and_the_next_one_as_it_was(diary, rules) -> None:
    well = ill(diary, 2, 5)
    first = well.next(6)
    # 22 x 0.9 = 19.8
    assert (first.change, first.sets, first.load_kg) == ("return", 2, Decimal("19.5"))
    assert rules(first)[0] == "after-illness"
    assert first.reasons[0].get("on") == well.on(5)
    asked = Asked("left", 2, None, 10, Decimal("19.5"))
    easy = [SetDone("left", Decimal("19.5"), hold_s=10, effort="easy")] * 2
    well.log(6, "half-crimp", easy, asked=asked)
    after = well.next(8)
    assert (after.change, after.sets, after.load_kg) == ("up", 4, Decimal("22.5"))
    assert rules(well.next(8, "l-sit"))[0] == "after-illness"


def test_after_a_long_illness_the_load_goes_on_from_the_easy_session(diary) -> None:
    well = ill(diary, 2, 26)
    first = well.next(27)
    # 27 days off take 5 %, the easy session 10 %: 19.8
    assert (first.sets, first.load_kg) == (2, Decimal("19.5"))
    asked = Asked("left", 2, None, 10, Decimal("19.5"))
    well.log(27, "half-crimp", [SetDone("left", Decimal("19.5"), hold_s=10, effort="ok")] * 2,
             asked=asked)  # fmt: skip
    assert well.next(29).load_kg == 20


def test_a_first_target_after_an_illness_is_the_careful_start(diary) -> None:
    well = ill(diary, 2, 5)
    assert well.next(6, "wide-pinch").change == "first"


def test_easy_after_illness_gives_the_day_back_until_something_was_trained(diary) -> None:
    well = ill(diary, 2, 5)
    days = [easy_after_illness(well.athlete, well.on(day)) for day in (4, 5, 9)]
    assert days == [None, well.on(5), well.on(5)]
    well.held(9, "19.5", "easy", "easy")
    assert easy_after_illness(well.athlete, well.on(9)) == well.on(5)
    assert easy_after_illness(well.athlete, well.on(10)) is None


# --- from facts ------------------------------------------------------------------------------

NOON = datetime(2026, 12, 1, 12, tzinfo=UTC)


def athlete_of(*told: tuple[int, object]):
    """The athlete that these facts, with their days, add up to."""
    day_0 = date(2026, 12, 1)
    return athlete_from_facts(
        tuple(
            Entry(n, n, NOON, day_0 + timedelta(days=day), fact)  # type: ignore[arg-type]
            for n, (day, fact) in enumerate(told, start=1)
        )
    )


POP = PainFelt("finger", "left", None, ("pop",))
SICK = Paused(None, "sick")


def test_sick_until_back_is_an_illness_of_those_days() -> None:
    athlete = athlete_of((0, SICK), (6, CameBack()))
    assert athlete.illnesses == (Illness(date(2026, 12, 1), date(2026, 12, 7)),)
    assert illness_on(athlete, date(2026, 12, 6)) is not None
    assert illness_on(athlete, date(2026, 12, 7)) is None


def test_back_before_the_named_end_ends_the_illness_then() -> None:
    athlete = athlete_of((0, Paused(date(2026, 12, 20), "sick")), (6, CameBack()))
    assert athlete.illnesses[0].until == date(2026, 12, 7)
    late = athlete_of((0, Paused(date(2026, 12, 4), "sick")), (6, CameBack()))
    assert late.illnesses[0].until == date(2026, 12, 4)


def test_time_away_is_no_illness() -> None:
    assert athlete_of((0, Paused(None, "away"))).illnesses == ()


def test_back_clears_a_warning_sign_told_before_it_only() -> None:
    assert athlete_of((0, POP), (0, CameBack())).pains[0].cleared == date(2026, 12, 1)
    # A "back" earlier on the same day was about something else.
    assert athlete_of((0, CameBack()), (0, POP)).pains[0].cleared is None


def test_back_from_a_pause_says_nothing_of_a_finger_and_the_next_one_does() -> None:
    assert athlete_of((0, POP), (1, SICK), (6, CameBack())).pains[0].cleared is None
    again = athlete_of((0, POP), (1, SICK), (6, CameBack()), (7, CameBack()))
    assert again.pains[0].cleared == date(2026, 12, 8)
    assert again.illnesses[0].until == date(2026, 12, 7)


def test_a_second_back_does_not_move_the_day_of_clearing() -> None:
    athlete = athlete_of((0, POP), (3, CameBack()), (5, CameBack()))
    assert athlete.pains[0].cleared == date(2026, 12, 4)
    mild = athlete_of((0, PainFelt("finger", None, 2, ())), (3, CameBack()))
    assert mild.pains[0].cleared is None
