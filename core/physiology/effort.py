"""What an effort word, a rating or a count says about how much was left in a set."""

from collections.abc import Iterable
from decimal import Decimal

from core.errors import OutOfRange
from core.facts import Effort

MOST_RESERVE = Decimal(5)
"""A reported reserve above this counts as this. [reps or s] House rule."""

HARDNESS: tuple[Effort, ...] = ("easy", "ok", "hard", "limit", "fail")
"""Effort words, easiest first."""

RESERVE: dict[Effort, Decimal] = {
    "easy": Decimal(3),
    "ok": Decimal(2),
    "hard": Decimal(1),
    "limit": Decimal(0),
    "fail": Decimal(0),
}
"""What each word leaves at least. [reps or s]"""

HARDEST_RPE = Decimal(10)


def reserve(
    effort: Effort | None, *, rpe: Decimal | None = None, left: int | None = None
) -> Decimal | None:
    """How many repetitions or seconds were left; None where nothing was said.

    Args:
        effort: Word, if one was said.
        rpe: Rating, if one was said. [-], 1 to 10
        left: Repetitions or seconds left, if said. >= 0

    Returns:
        The least of what was said. [reps or s], 0 to 5

    Raises:
        OutOfRange: ``rpe`` or ``left`` breaks its interval.

    Validity: Repetitions. For holds the same numbers are read as seconds.
    Source: zourdos_2016, RPE 10 leaves 0 repetitions, 9 leaves 1, and so on; hackett_2017
        for not trusting a reported reserve above 5.
    Ours: Seconds for repetitions in holds: no published scale exists for them. Taking the
        hardest of several sayings.

    Example:
        >>> reserve(None, rpe=Decimal("8.5"))
        Decimal('1.5')
    """
    if rpe is not None and not 1 <= rpe <= HARDEST_RPE:
        raise OutOfRange("rpe", rpe, "1 to 10")
    if left is not None and left < 0:
        raise OutOfRange("left", left, ">= 0")
    said = [RESERVE[effort]] if effort is not None else []
    if rpe is not None:
        said.append(HARDEST_RPE - rpe)
    if left is not None:
        said.append(Decimal(left))
    return min(*said, MOST_RESERVE) if said else None


def effort_word(
    effort: Effort | None, *, rpe: Decimal | None = None, left: int | None = None
) -> Effort | None:
    """The word for what was said in any of the three ways; None where nothing was.

    A half in between takes the harder word: RPE 8.5 is hard.

    Example:
        >>> effort_word(None, left=2)
        'ok'
    """
    if effort == "fail":
        return "fail"
    least = reserve(effort, rpe=rpe, left=left)
    if least is None:
        return None
    return next(word for word in HARDNESS if RESERVE[word] <= least)


def hardest(efforts: Iterable[Effort | None]) -> Effort | None:
    """The hardest of the efforts that were said, None if none was."""
    said = [effort for effort in efforts if effort is not None]
    return max(said, key=HARDNESS.index, default=None)
