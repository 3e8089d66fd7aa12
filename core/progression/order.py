"""The order of the rules: what is asked first, and what then. Read from top to bottom.

For loaded holds and net loads the first rule that answers decides. Ladders of variations
(timed holds, slow reps, long holds, reps without a load) have one rule each, in the module
of their dose kind. Then every guard may make the target gentler or stop it, and last of
all a load that exists is chosen within the limits of pin and bar (``fitting``).
"""

from collections.abc import Callable
from typing import TypeVar

from core.progression import finding, loaded_hold, net_load
from core.progression.case import Case, Proposal
from core.progression.easier_week import after_illness, in_easier_week, while_ill
from core.progression.hold_question import HoldQuestion
from core.progression.month_cap import within_month
from core.progression.net_question import NetQuestion
from core.progression.pain import fifth_less_while_sore, half_once_cleared, stopped_by_pain
from core.progression.time_off import after_time_off
from core.progression.youth import of_age
from core.target import Target

LOADED_HOLD: tuple[Callable[[HoldQuestion], Proposal | None], ...] = (
    # less
    loaded_hold.long_hold_failed,
    loaded_hold.much_failed,
    loaded_hold.late_fail_again,
    # the same again
    loaded_hold.one_late_fail,
    # the level is looked for
    finding.level_by_curve,
    # the same again
    loaded_hold.sets_missing,
    loaded_hold.held_shorter,
    loaded_hold.effort_unsaid,
    loaded_hold.was_hard,
    loaded_hold.loads_differed,
    loaded_hold.steps_unknown,
    # more
    loaded_hold.level_not_found,
    loaded_hold.seconds_back,
    loaded_hold.two_steps,
    loaded_hold.one_step,
    loaded_hold.known_step,
    loaded_hold.seconds_first,
    loaded_hold.bridged_step,
    # nothing heavier may be lifted
    loaded_hold.smaller_edge,
    loaded_hold.longer_instead,
    loaded_hold.harder_exercise,
    loaded_hold.kept,
)

NET_LOAD: tuple[Callable[[NetQuestion], Proposal | None], ...] = (
    # the same again, or less
    net_load.sets_missing,
    net_load.bottom_missed_twice,
    # more of the same
    net_load.one_more_in_total,
    # every set at the top
    net_load.top_at_limit,
    net_load.band_unknown,
    net_load.next_in_reach,
    net_load.harder_exercise,
    net_load.past_the_top,
    net_load.kept,
)

Guard = Callable[[Target, Target, Case], Target]
"""Takes the target, the same dose as last time (to fall back on) and the case."""

GUARDS: tuple[Guard, ...] = (
    # stop
    of_age,
    stopped_by_pain,
    while_ill,
    # make gentler
    half_once_cleared,
    fifth_less_while_sore,
    after_time_off,
    after_illness,
    in_easier_week,
    within_month,
)


Q = TypeVar("Q")


def asked(rules: tuple[Callable[[Q], Proposal | None], ...], question: Q) -> Proposal:
    """The answer of the first rule that has one. The last rule of each list always has."""
    return next(found for rule in rules if (found := rule(question)) is not None)


def guarded(target: Target, same: Target, case: Case) -> Target:
    """The target after every guard; none is asked any more once it is stopped."""
    for guard in GUARDS:
        if target.change == "stopped":
            break
        target = guard(target, same, case)
    return target
