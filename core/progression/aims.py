"""Aims set by set: one more repetition or second in total, shared out from the first set on."""


def spread(total: int, *, sets: int, low: int, high: int) -> tuple[int, ...]:
    """So many reps or seconds in total, as even as can be, the first sets taking the rest.

    Args:
        total: In total. [reps or s]
        sets: Number of sets. > 0
        low: Least of a set. [reps or s]
        high: Most of a set. [reps or s], >= ``low``

    Returns:
        One aim per set, each within low and high.

    Example:
        >>> spread(22, sets=3, low=6, high=8)
        (8, 7, 7)
    """
    held = min(max(total, low * sets), high * sets)
    each, rest = divmod(held, sets)
    return (each + 1,) * rest + (each,) * (sets - rest)


def one_more(done: tuple[int, ...], *, sets: int, low: int, high: int) -> tuple[int, ...]:
    """One more in total than was done in the first ``sets`` sets, each within low and high.

    Example:
        >>> one_more((7, 6, 6), sets=3, low=6, high=8)
        (7, 7, 6)
    """
    return spread(sum(done[:sets]) + 1, sets=sets, low=low, high=high)


def as_done(done: tuple[int, ...], *, sets: int, low: int, high: int) -> tuple[int, ...]:
    """The same in total again; sets that were left out count as the least one done.

    Example:
        >>> as_done((8, 7), sets=3, low=6, high=8)
        (8, 7, 7)
    """
    missing = (min(done, default=low),) * (sets - len(done))
    return spread(sum(done[:sets]) + sum(missing), sets=sets, low=low, high=high)
