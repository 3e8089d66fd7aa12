"""Words of the set-up talk: a question each, answerable in one line, with its stated default."""

from dataclasses import dataclass

from bot.ports import Button

SKIP = Button("skip", "skip")


@dataclass(frozen=True, slots=True)
class QuestionText:
    """One question. ``prefix`` in front of a bare answer makes the full set-up line."""

    ask: str
    prefix: str
    default: str
    buttons: tuple[Button, ...] = (SKIP,)


QUESTIONS: dict[str, QuestionText] = {
    "units": QuestionText(
        "Kilograms or pounds? kg or lb",
        "units",
        "Kilograms then.",
        (Button("kg", "units kg"), Button("lb", "units lb")),
    ),
    "zone": QuestionText(
        "What time is it where you are, or which city? For example: 20:15, or Oslo",
        "zone",
        "No time zone, so no reminders until you type one: zone Oslo",
    ),
    "evenings": QuestionText(
        "Which evenings, from when, for how long? For example: tue thu 20:30 60 min",
        "evenings",
        "No evenings planned, so no reminders. Later: evenings tue thu 20:30 60 min",
    ),
    "body": QuestionText(
        "Your body weight? For example: 71.4",
        "bw",
        "Without it, loads on the bar move in small steps. Later: bw 71.4",
    ),
    "age": QuestionText(
        "Your age? Below 18 I ask nothing of fingers without a coach. For example: 34",
        "age",
        "Taken as 18 or over. Later: age 34",
    ),
    "plates": QuestionText(
        "Which plates do you own? For example: 2x10 2x5 2x2.5 2x1.25",
        "plates",
        "No plates, so no finger lifts for now. Later: plates 2x10 2x5",
    ),
    "pin": QuestionText(
        "What do loading pin and handle weigh together? For example: 1.2",
        "pin",
        "Pin counted as 0. Later: pin 1.2kg",
    ),
    "grips": QuestionText(
        "Which grips? crimp, open hand, wide pinch, narrow pinch, roller. "
        "For example: crimp, wide pinch",
        "grips",
        "Half crimp and open hand then: any edge gives these. Later: grips crimp roller",
    ),
    "edges": QuestionText(
        "How deep are your edges, in mm? For example: 20 15",
        "edges",
        "Edge depth not noted. Later: edges 20 15",
    ),
    "bar": QuestionText(
        "What may your pull-up bar carry by its label? For example: 120. No bar: none",
        "bar",
        "A bar of unknown rating: check its label before you load it. Later: bar 120kg",
    ),
    "band": QuestionText(
        "A band that helps with pull-ups? Not by its label: stand on a scale, foot in the band; "
        "what it takes off is its help. For example: green 12",
        "band",
        "No bands. Later: band green 12kg",
    ),
    "start": QuestionText(
        "A load you know feels ok for 10 s? For example: crimp 20. "
        "Or skip, and a short ramp finds it",
        "start",
        "The first evening starts light and ramps up until it feels ok.",
    ),
}
"""The questions in the order they are asked."""

NO_WORDS = ("none", "no", "nothing", "no bar", "no band", "no bands", "no plates")
"""Answers that mean "I have none of that"."""


def zone_unknown(text: str) -> str:
    """The answer to a zone that is none."""
    return (
        f"I know no time zone or city {text}. Try the time on your clock, for example 20:15, "
        "or a bigger city near you."
    )


def zone_choices(zones: tuple[str, ...]) -> tuple[str, tuple[Button, ...]]:
    """The question which of the zones with that time it is, and the buttons."""
    shown = zones[:6]
    buttons = tuple(
        Button(zone.rpartition("/")[2].replace("_", " "), f"zone {zone}") for zone in shown
    )
    return "Which of these keeps your clock, summer and winter? Or type a city.", buttons
