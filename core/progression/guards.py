"""What stands above every dose rule, in the order in which it is asked.

A guard takes the target, the same dose as last time (to fall back on) and the case. It may
only make the target gentler or stop it. Limits of pin and bar come last of all, where a
load that exists is chosen (``fitting``).
"""

from collections.abc import Callable

from core.progression.case import Case
from core.progression.deload import in_easier_week
from core.progression.month_cap import within_month
from core.progression.pain import without_pain
from core.progression.time_off import after_time_off
from core.progression.youth import of_age
from core.target import Target

Guard = Callable[[Target, Target, Case], Target]

GUARDS: tuple[Guard, ...] = (
    of_age,
    without_pain,
    after_time_off,
    in_easier_week,
    within_month,
)


def guarded(target: Target, same: Target, case: Case) -> Target:
    """The target after every guard; none is asked any more once it is stopped."""
    for guard in GUARDS:
        if target.change == "stopped":
            break
        target = guard(target, same, case)
    return target
