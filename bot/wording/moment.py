"""Words for planned moments: reminders, follow-ups, the end of a rest."""

from datetime import date, datetime

from bot.ports import Button
from bot.wording.exercise import set_lines, title
from bot.wording.number import short_day
from core.planning import Item
from core.quantity import Unit


def reminder_buttons(day: date) -> tuple[Button, ...]:
    """The choices under a reminder. Each stands for a reply that can also be typed.

    The wall's names its day: pressed late, it must not book a visit for another one.
    """
    return (
        Button("start", "start"),
        Button("at the wall", f"wall {day.isoformat()}"),
        Button("later", "later 30 min"),
        Button("not tonight", "not tonight"),
    )


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


def when_text(begins: datetime | None, now: datetime) -> str:
    """When the evening begins or began. ``begins`` is local."""
    if begins is None:
        return "Your evening."
    return f"Tonight at {begins:%H:%M}." if begins > now else f"Your evening, from {begins:%H:%M}."


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
    return _set_lines("Rest over. ", item, unit)


def turn_lines(item: Item, unit: Unit) -> list[str]:
    """The call for a set of the exercise whose turn it is."""
    return _set_lines("Now ", item, unit)


def _set_lines(lead: str, item: Item, unit: Unit) -> list[str]:
    # The hand that has most sets left is the one that is called.
    done = min(t.sets - left for t, left in zip(item.targets, item.left, strict=True) if left)
    total = max(t.sets for t in item.targets)
    name = title(item.exercise) if lead.endswith(". ") else item.exercise.name
    return [f"{lead}{name}, set {done + 1} of {total}:", *set_lines(item.targets, item.left, unit)]
