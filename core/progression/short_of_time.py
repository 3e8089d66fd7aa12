"""Fewer sets because the evening is short; what each set asks stays as it is."""

from dataclasses import replace

from core.target import Target, because


def in_less_time(target: Target, sets: int, *, minutes: int) -> Target:
    """The target with no more than so many sets.

    Args:
        target: What would be asked if time did not matter.
        sets: How many fit. [-], > 0
        minutes: The evening they have to fit into. [min]
    """
    if sets >= target.sets:
        return target
    by_set = target.by_set[:sets]
    why = because("short-of-time", sets=sets, usual=target.sets, minutes=minutes)
    return replace(
        target,
        sets=sets,
        by_set=by_set if len(set(by_set)) > 1 else (),
        reasons=(*target.reasons, why),
    )
