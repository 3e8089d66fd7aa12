"""How strong somebody is in one exercise, and whether that moved: for "progress"."""

from bot.conversation.turn import Turn
from bot.wording import strength as words
from core.catalogue import get_exercise
from core.history import edge_in_use, sides_of, stream_of
from core.review import difference_of, trend_of
from core.strength import Estimate, strength_from


def strength_lines(turn: Turn, slug: str) -> list[str]:
    """A line per hand with its uncertainty and trend, then the hands beside each other.

    Empty where no set said how much was left.
    """
    athlete, today, exercise = turn.athlete, turn.today, get_exercise(slug)
    lines: list[str] = []
    hands: list[Estimate] = []
    for side in sides_of(slug):
        edge_mm = edge_in_use(athlete, slug)
        line = stream_of(athlete, slug, side=side, edge_mm=edge_mm)
        found = strength_from(athlete, line, today=today)
        if found is None:
            continue
        hands.append(found)
        text = words.strength_line(found, athlete.units, on_body=not exercise.from_floor)
        trend = trend_of(athlete, line, today=today)
        lines.append(f"· {text}" + (f", {words.trend_text(trend)}" if trend else ""))
    if lines:
        lines.insert(0, words.HEADING)
    if len(hands) == 2 and not any(hand.is_floor for hand in hands):
        lines.append(words.hands_line(difference_of(*hands)))
    return lines
