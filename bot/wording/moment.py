"""Words for planned moments: reminders, follow-ups, the end of a rest."""

from datetime import date, datetime

from bot.ports import Button
from bot.wording.evening import evening_lines
from bot.wording.exercise import target_lines, title
from bot.wording.number import short_day
from core.planning import Evening, Item
from core.quantity import Unit

WALL_BUTTON = Button("at the wall", "wall tonight")

REMINDER_BUTTONS = (
    Button("start", "start"),
    WALL_BUTTON,
    Button("later", "later 30 min"),
    Button("not tonight", "not tonight"),
)
"""The choices under a reminder. Each stands for a reply that can also be typed."""

FIT_BUTTONS = (
    Button("they fit", "back"),
    Button("pause 2 weeks", "pause 2 weeks"),
)

SET_BUTTONS = (
    Button("easy", "easy"),
    Button("ok", "ok"),
    Button("hard", "hard"),
    Button("skip", "skip"),
)
"""The choices under a set: how it went, or on to the next exercise."""


def reminder_lines(evening: Evening, begins: datetime | None, unit: Unit) -> list[str]:
    """The reminder before an evening: when, and what in brief. ``begins`` is local."""
    when = f"Tonight at {begins:%H:%M}." if begins is not None else "Your evening."
    return [when, *evening_lines(evening, unit)]


def follow_up_text(day: date) -> str:
    """The one question after an evening without a word."""
    return (
        f"Nothing logged for {short_day(day)}. Trained anyway? Type it when you like. "
        "Missed evenings are not made up."
    )


FIT_TEXT = (
    "Two planned evenings passed without a word. Do they still fit? Change them with, "
    "for example: evenings tue thu 20:30. I stay quiet until you write."
)


def rest_over_lines(item: Item, unit: Unit) -> list[str]:
    """The call for the next set."""
    done = max(t.sets - left for t, left in zip(item.targets, item.left, strict=True))
    total = max(t.sets for t in item.targets)
    return [
        f"Rest over. {title(item.exercise)}, set {done + 1} of {total}:",
        *target_lines(item.targets, unit),
    ]
