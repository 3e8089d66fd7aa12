"""Every reason a review can give: its facts by name and what it means. Wording makes words of it.

``LIMITS`` say what was in the way of progress, ``SUGGESTIONS`` what to do next, in the order
in which they are asked.
"""

from collections.abc import Mapping
from types import MappingProxyType

from core.progression.rules import Rule

LIMITS: Mapping[str, Rule] = MappingProxyType(
    {
        "pain-felt": Rule("Pain in a place, on so many days.", ("place", "days")),
        "evenings-missed": Rule("Planned evenings that were not held.", ("missed", "planned")),
        "days-off": Rule("Planned evenings inside a pause, a trip or an illness.", ("evenings",)),
        "kit-unknown": Rule(
            "What is owned to make steps with is not known.", ("exercise", "owned")
        ),
        "steps-too-big": Rule(
            "The next load is far above the last one.", ("exercise",), ("load_kg", "next_kg")
        ),
        "nothing-heavier": Rule("Nothing heavier can be made.", ("exercise",), ("load_kg",)),
        "level": Rule("No gain for so many weeks of regular training.", ("exercise", "weeks")),
        "easier-week": Rule("An easier week lies in these weeks.", ("since", "until")),
    }
)

SUGGESTIONS: Mapping[str, Rule] = MappingProxyType(
    {
        # Pain first
        "see-professional": Rule(
            "A warning sign that nobody has cleared: a doctor or physiotherapist.", ("place",)
        ),
        "pain-again": Rule(
            "A place hurt on several days: let a professional look at it.", ("place", "days")
        ),
        "stay-light": Rule("Pain still eases the loads: stay with that.", ("place",)),
        # Evenings
        "other-day": Rule(
            "Evenings fail on one day of the week alone: another may fit.",
            ("weekday", "missed", "of"),
        ),
        "fewer-evenings": Rule(
            "Many evenings are missed: fewer or shorter ones may fit.", ("held", "planned")
        ),
        # Kit
        "tell-kit": Rule("Steps need to know what is owned.", ("exercise", "owned")),
        "buy-plates": Rule(
            "The pair of plates that would help most, and where.",
            ("plate_kg", "exercise"),
            ("step_kg", "next_step_kg"),
        ),
        "buy-band": Rule(
            "The band that would help most: what it should take off, and where.",
            ("help_kg", "exercise"),
            ("step_kg", "next_step_kg"),
        ),
        "smaller-steps": Rule(
            "Smaller steps would lead on.", ("exercise",), ("load_kg", "next_kg")
        ),
        "heavier-plates": Rule("More plates would lead on.", ("exercise",), ("load_kg",)),
        # Plateau
        "ease-a-week": Rule("Level for long, without an easier week.", ("exercise", "weeks")),
        "other-exercise": Rule(
            "Level for long in spite of an easier week: another exercise of its block.",
            ("exercise", "weeks"),
        ),
        # Hands
        "weaker-first": Rule(
            "One hand is stronger: begin with the other.", ("exercise", "weaker", "percent")
        ),
        # Else
        "begin": Rule("Nothing was trained at home."),
        "go-on": Rule("Nothing stands in the way."),
    }
)
