"""Words for training load: what was done, and that it foretells nothing."""

from bot.wording.number import count, listed, number
from core.review import TrainingLoad

NO_FORECAST = "It says what was done and foretells no injury (Impellizzeri 2020)."


def load_line(load: TrainingLoad) -> str:
    """Two weeks in a line: "Load: 820 in 7 days, 760 in the 7 before; monotony 1.4."

    "" while there are no two weeks to set beside each other.
    """
    if load.week_before is None:
        return ""
    text = f"Load: {_whole(load.week)} in 7 days, {_whole(load.week_before)} in the 7 before"
    if load.monotony is not None:
        text += f"; monotony {number(round(load.monotony, 1))}"
    walls = load.fortnight.walls_left_out
    return f"{text}; {count(walls, 'wall visit')} not counted." if walls else f"{text}."


def load_lines(load: TrainingLoad) -> list[str]:
    """The rest there is to say of it: strain, fading means, and what they rest on."""
    text = f"Load (RPE × min): {_whole(load.week)} in 7 days"
    if load.strain is not None:
        text += f", strain {_whole(load.strain)}"
    lines = [f"{text}."]
    if load.short_mean is not None:
        means = f"Fading mean a day: {_whole(load.short_mean)} over 7 days"
        if load.long_mean is not None:
            means += f", {_whole(load.long_mean)} over 28"
        lines.append(f"{means}.")
    return [*lines, *_basis(load), NO_FORECAST]


def _basis(load: TrainingLoad) -> list[str]:
    month, lines, out = load.month, [], []
    if month.evenings_assumed:
        evenings = count(month.evenings_assumed, "evening")
        lines.append(f"With the planned minutes, for want of a start: {evenings}.")
    if month.walls_left_out:
        out.append(f"{count(month.walls_left_out, 'wall visit')} without minutes or RPE")
    if month.evenings_left_out:
        out.append(f"{count(month.evenings_left_out, 'evening')} without efforts")
    return lines + ([f"Left out: {listed(out)}."] if out else [])


def _whole(load: float) -> str:
    return number(round(load))
