"""Typing slips: kept out of every estimate and target until they are confirmed."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.facts import SetDone
from core.strength import trusted

New = Callable[..., Any]


def trained(record: New, sessions: int = 6, **parts: object) -> Any:
    """A record of crimps at 22 kg, every third day from day 0."""
    book = record(**parts)
    for number in range(sessions):
        book.hold(3 * number, "22")
    return book


@pytest.mark.parametrize(
    ("typed", "meant"),
    # By hand: 220 / 10; 2.2 x 10; 48.5 lb of 0.45359237 kg; 2200 / 100.
    [("220", "22"), ("2.2", "22"), ("48.5", "21.999229945"), ("2200", "22")],
)
def test_usual_slips_are_doubted_with_what_was_meant(record: New, typed: str, meant: str) -> None:
    book = trained(record)
    number = book.hold(20, typed)
    doubt = book.doubt(number)
    assert doubt is not None
    assert doubt.set.load_kg == Decimal(typed)
    assert doubt.rather_kg == Decimal(meant)
    assert doubt.found.last == (book.on(15), SetDone("both", Decimal(22), hold_s=10, effort="ok"))


def test_a_slip_moves_neither_estimate_nor_line(record: New) -> None:
    book = trained(record)
    before, line = book.strength(20), book.line()
    book.hold(20, "220", "easy")
    assert book.strength(20) == before
    assert trusted(book.athlete, book.line()).sessions == line.sessions


@pytest.mark.parametrize("effort", [None, "fail", "easy", "limit"])
def test_a_slip_is_seen_whatever_was_said_of_effort(record: New, effort: Any) -> None:
    book = trained(record)
    number = book.hold(20, "220", effort, hold_s=None if effort == "fail" else 10)
    assert book.doubt(number) is not None
    assert len(trusted(book.athlete, book.line()).sessions) == 6


def test_one_slip_in_a_session_leaves_the_other_sets(record: New) -> None:
    book = trained(record)
    done = [SetDone("both", Decimal(kg), hold_s=10, effort="ok") for kg in (22, 22, 220, 22)]
    number = book.log(20, "half-crimp", done)
    doubt = book.doubt(number)
    assert doubt is not None
    assert doubt.set == done[2]
    assert trusted(book.athlete, book.line()).sessions[-1].sets == (done[0], done[1], done[3])


def test_what_was_confirmed_counts_at_once(record: New) -> None:
    book = trained(record)
    number = book.hold(20, "44", "ok")
    assert book.doubt(number) is not None
    book.athlete = replace(book.athlete, confirmed=frozenset({number}))
    assert book.doubt(number) is None
    assert trusted(book.athlete, book.line()) is book.line()
    # By hand: 44 kg x 10 s with 2 s left: 44 / 0.919 = 47.9 kg, the old level forgotten.
    assert book.strength(20).maximum_kg == pytest.approx(47.9, abs=0.1)
    after = book.hold(23, "45", "ok")
    assert book.doubt(after) is None


def test_a_high_load_typed_twice_still_has_to_be_confirmed(record: New) -> None:
    book = trained(record)
    numbers = [book.hold(20, "48.5"), book.hold(23, "48.5")]
    assert all(book.doubt(n) is not None for n in numbers)
    assert len(trusted(book.athlete, book.line()).sessions) == 6


def test_a_low_level_counts_once_the_next_session_agrees(record: New) -> None:
    book = trained(record)
    first = book.hold(20, "9", "hard")
    assert book.doubt(first) is not None
    second = book.hold(23, "9.5", "hard")
    assert book.doubt(first) is None
    assert book.doubt(second) is None
    assert book.strength(23).maximum_kg == pytest.approx(9.25 / 0.934, rel=0.03)
    assert len(trusted(book.athlete, book.line()).sessions) == 8


def test_a_low_slip_and_then_the_usual_load_stays_a_slip(record: New) -> None:
    book = trained(record)
    number = book.hold(20, "2.2")
    book.hold(23, "22")
    assert book.doubt(number) is not None
    assert [s.day for s in trusted(book.athlete, book.line()).sessions[-2:]] == [
        book.on(15),
        book.on(23),
    ]


def test_what_was_asked_for_is_never_doubted(record: New) -> None:
    # Half of the load after a warning sign was cleared, or after months off.
    book = trained(record)
    number = book.hold(90, "8", "ok", asked="8")
    assert book.doubt(number) is None


def test_easy_light_sets_are_no_slips(record: New) -> None:
    book = trained(record)
    assert book.doubt(book.hold(20, "8", "easy")) is None


def test_a_start_may_go_up_fast(record: New) -> None:
    # The first loads are low on purpose: 10 kg easy, then 16, then 22 ok, on one evening.
    book = record()
    numbers = [book.hold(0, "10", "easy"), book.hold(0, "16", "easy"), book.hold(0, "22", "ok")]
    assert all(book.doubt(n) is None for n in numbers)
    assert book.doubt(book.hold(0, "220", "ok")) is not None


def test_the_first_log_of_all_is_compared_with_the_plates(record: New, plates: Any) -> None:
    # By hand: 3 x 10 + 2 x 5 + 1 = 41 kg in all; doubted beyond 1.5 times, 61.5 kg.
    book = record(kit=plates)
    doubt = book.doubt(book.hold(0, "220"))
    assert doubt is not None
    assert doubt.found.why == "plates"
    assert doubt.rather_kg == 22
    assert record(kit=plates).doubt(1) is None
    assert (other := record(kit=plates)).doubt(other.hold(0, "60")) is None


def test_seconds_may_slip_too(record: New) -> None:
    book = trained(record)
    doubt = book.doubt(book.hold(20, "22", hold_s=100))
    assert doubt is not None
    assert doubt.rather_kg is None  # no load explains it


def test_reps_on_the_body_are_compared_by_what_the_body_weighs_with_it(record: New) -> None:
    book = record().weighed(0, "70")
    for day in range(0, 18, 3):
        book.pull(day, 6)
    assert book.doubt(book.pull(20, 6, load="10")) is None
    doubt = book.doubt(book.pull(23, 6, load="100"))
    assert doubt is not None
    assert doubt.rather_kg == 10


@given(st.lists(st.integers(200, 230), min_size=3, max_size=15))
def test_usual_training_is_never_doubted(record: New, tenths: list[int]) -> None:
    book = record()
    numbers = [book.hold(2 * i, str(t / Decimal(10)), "ok") for i, t in enumerate(tenths)]
    assert all(book.doubt(n) is None for n in numbers)
    assert trusted(book.athlete, book.line()) is book.line()


@given(st.integers(5, 8), st.integers(3, 40))
def test_ten_times_the_load_is_always_doubted(record: New, sessions: int, later: int) -> None:
    book = trained(record, sessions)
    assert book.doubt(book.hold(3 * sessions + later, "220", None)) is not None
