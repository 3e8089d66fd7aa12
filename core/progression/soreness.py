"""What a pain report means for each tissue. It never says what is wrong.

All house rules, conservative on purpose. A pain counts for both hands: who spares one hand
loads the other.
"""

from datetime import date
from typing import Literal

from core.athlete import Athlete, DatedPain
from core.catalogue import Tissue
from core.derived import once
from core.facts import PainFelt
from core.progression.tissue import FINGERS, tissues_of

Spare = Literal["less", "stop", "professional"]
"""Less load, nothing tonight, or nothing until a professional has cleared it."""

GRAVITY: tuple[Spare, ...] = ("less", "stop", "professional")
"""From mild to grave."""

STOP_SCORE = 4
"""From this score on the tissue stops for the day. [-], of 10. House rule."""


def spare(pain: PainFelt, tissue: Tissue) -> Spare | None:
    """What a report means for a tissue on its day; None where it is not meant, or no pain.

    A warning sign: nothing until a professional has cleared it. 4 or more, no score, or any
    pain of the fingers: nothing tonight. Else less load.
    """
    if tissue not in tissues_of(pain.site) or (pain.score == 0 and not pain.flags):
        return None
    if pain.flags:
        return "professional"
    if pain.score is None or pain.score >= STOP_SCORE or tissue == FINGERS:
        return "stop"
    return "less"


def gravest(pain: PainFelt) -> Spare | None:
    """The gravest that a report means for any tissue; None if it is no pain."""
    found = [found for tissue in tissues_of(pain.site) if (found := spare(pain, tissue))]
    return max(found, key=GRAVITY.index, default=None)


def pains_of(athlete: Athlete, tissue: Tissue, day: date) -> tuple[DatedPain, ...]:
    """The reports of pain in a tissue up to that day, oldest first."""
    mine = once(
        athlete,
        ("pains", tissue),
        lambda: tuple(
            sorted((p for p in athlete.pains if spare(p.pain, tissue)), key=lambda p: p.day)
        ),
    )
    return tuple(p for p in mine if p.day <= day)


def open_sign(athlete: Athlete, tissue: Tissue, day: date) -> DatedPain | None:
    """The last warning sign that stops the tissue on that day: not cleared, or told that day."""
    for dated in reversed(pains_of(athlete, tissue, day)):
        cleared = dated.cleared is not None and dated.cleared <= day and dated.day < day
        if dated.pain.flags and not cleared:
            return dated
    return None


def pain_tonight(athlete: Athlete, tissue: Tissue, day: date) -> DatedPain | None:
    """The last report of that day that stops the tissue for tonight."""
    for dated in reversed(pains_of(athlete, tissue, day)):
        if dated.day == day and spare(dated.pain, tissue) == "stop":
            return dated
    return None
