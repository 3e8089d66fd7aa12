"""Every reason a day can carry: its facts by name and what it means. Wording makes words of them.

``day``, ``since`` and ``until`` are dates; ``until`` is the first day after, of an easier week
its last.
"""

from collections.abc import Mapping
from types import MappingProxyType

from core.progression.rules import RULES, Rule

DAY_RULES: Mapping[str, Rule] = MappingProxyType(
    {
        # What the day is
        "wall-visit": Rule("At the wall, told by the athlete.", ("day",)),
        "wall-day": Rule("A planned wall day.", ("day",)),
        "sick": Rule("Ill: nothing hard until back.", ("since",), ("until",)),
        "away": Rule("On a trip without a kit.", ("since",), ("until",)),
        "away-with-kit": Rule("On a trip with a kit.", ("since",), ("until",)),
        "paused": Rule("Nothing planned.", ("since",), ("until",)),
        # Why fingers are not trained
        "wall-same-day": Rule("The wall is on the same day.", ("day",)),
        "wall-next-day": Rule("The wall is on the next day.", ("day",)),
        "wall-day-before": Rule("The wall was or is on the day before.", ("day",)),
        "wall-day-passed": Rule("The day before was a wall day; nobody told of it.", ("day",)),
        "fingers-before": Rule("Hard finger work is less than 48 h before.", ("day",)),
        "fingers-after": Rule("Hard finger work is planned less than 48 h after.", ("day",)),
        "week-is-full": Rule("The week has as many finger evenings as can be repeated."),
        **{rule: RULES[rule] for rule in ("pain-today", "warning-sign")},
        "fingers-under-age": Rule("Too young for finger strength.", ("age",)),
        "fingers-need-coach": Rule("Finger strength at that age with a coach only.", ("age",)),
        "no-finger-block": Rule("The programme has no finger block."),
        "no-finger-kit": Rule("Nothing owned to train fingers with."),
        # Why they are trained lightly
        "easier-week": Rule("An easier week.", ("since", "until", "cause")),
        "fingers-sore": Rule("Fingers hurt lately.", ("day",)),
        "easy-after-illness": Rule("The first evening after an illness."),
    }
)
