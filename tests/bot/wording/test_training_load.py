"""What is said of training load: numbers, what they rest on, and that they foretell nothing."""

from bot.wording.training_load import load_line, load_lines
from core.review import TrainingLoad
from core.review.training_load import Tally


def load(
    *,
    before: float | None = 760,
    monotony: float | None = 1.37,
    tally: tuple[int, ...] = (4, 0, 0, 0),
) -> TrainingLoad:
    strain = None if monotony is None else 820 * monotony
    long_mean = None if before is None else 99.6
    return TrainingLoad(
        820, before, monotony, strain, 118.4, long_mean, Tally(*tally), Tally(*tally)
    )


def test_the_line_of_the_week() -> None:
    assert load_line(load()) == "Load: 820 in 7 days, 760 in the 7 before; monotony 1.4."
    assert load_line(load(monotony=None)) == "Load: 820 in 7 days, 760 in the 7 before."
    assert load_line(load(before=None)) == ""
    assert load_line(load(tally=(4, 2, 0, 0))).endswith("; 2 wall visits not counted.")


def test_all_there_is_with_what_it_rests_on() -> None:
    # By hand: 820 x 1.37 = 1123.
    assert load_lines(load(tally=(4, 1, 2, 3))) == [
        "Load (RPE × min): 820 in 7 days, strain 1123.",
        "Fading mean a day: 118 over 7 days, 100 over 28.",
        "With the planned minutes, for want of a start: 3 evenings.",
        "Left out: 1 wall visit without minutes or RPE and 2 evenings without efforts.",
        "It says what was done and foretells no injury (Impellizzeri 2020).",
    ]


def test_what_is_not_known_is_not_said() -> None:
    lines = load_lines(load(before=None, monotony=None))
    assert lines[:2] == [
        "Load (RPE × min): 820 in 7 days.",
        "Fading mean a day: 118 over 7 days.",
    ]
    assert len(lines) == 3
