"""What a rule for loaded holds looks at, and the answers they share."""

from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import islice

from core.catalogue import LoadedHold
from core.history import Session, Stream
from core.kit.loads import Loads
from core.physiology.short_hold import (
    FLOOR_PERCENT,
    PERCENT,
    share_held_frac,
    time_to_failure_s,
)
from core.progression.bridge import SHORTEST_S, short_hold_s, whole_s
from core.progression.case import Case, Proposal
from core.progression.first import SEARCH_FRAC
from core.progression.harder import harder_lines
from core.progression.judgement import HoldVerdict, hold_verdict
from core.progression.reshape import explained
from core.target import Change, Reason, Target, because

RISE_FRAC = Decimal("1.05")
"""No single step goes beyond this part of the last load. [-] House rule within acsm_2009."""

ABOUT_HALF_FRAC = Decimal("0.6")
"""The most that still counts as about half of a load. [-] House rule."""

COARSE_FRAC = Decimal("0.90")
"""Plates whose next lighter load is under this part of the last one are coarse. [-] House rule."""

MOST_LONGER = 1.5
"""A lighter load is not held longer than this part of the dose's hold: there the curve is surest.
[-] House rule."""

SECOND = 1


@dataclass(frozen=True, slots=True)
class HoldQuestion:
    """What next after the last session of a loaded hold.

    Attributes:
        case: Whose, and on which day.
        dose: The default dose.
        loads: Loads that exist.
        verdict: What the last session says.
        before: What the one before it said, None if there was none.
        same: The last dose again, without reasons.
    """

    case: Case
    dose: LoadedHold
    loads: Loads
    verdict: HoldVerdict
    before: HoldVerdict | None
    same: Target

    @property
    def load_kg(self) -> Decimal:
        """The load that the last session speaks for. [kg]"""
        return self.verdict.load_kg

    @property
    def again(self) -> Target:
        """The same dose again, with what the session was as the reason."""
        return self.said(f"all-sets-{self.verdict.effort}")

    @property
    def next_kg(self) -> Decimal | None:
        """The next load that exists, None where none is left. [kg]"""
        return self.loads.step_above(self.load_kg)

    @property
    def far_kg(self) -> Decimal | None:
        """The next load, if one step is more than 5 %; else None. [kg]"""
        next_kg = self.next_kg
        return None if next_kg is None or next_kg <= self.load_kg * RISE_FRAC else next_kg

    @property
    def search_kg(self) -> Decimal | None:
        """About half of the load, to begin something harder with; None if none is as light. [kg]"""
        half_kg = self.loads.at_most(self.load_kg * SEARCH_FRAC)
        lightest_kg = self.loads.lightest_kg
        if half_kg is not None or lightest_kg is None:
            return half_kg
        return lightest_kg if lightest_kg <= self.load_kg * ABOUT_HALF_FRAC else None

    @property
    def lines(self) -> tuple[Stream, ...]:
        """Harder lines of progress, empty where there are none or no load to begin them with."""
        return () if self.search_kg is None else harder_lines(self.case)

    def said(self, rule: str, change: Change = "same") -> Target:
        """The same dose again, explained by that rule of what the session was."""
        return explained(self.same, change, because(rule, **self.verdict.facts()))

    def holds(self, rule: str) -> Proposal:
        """The answer: the same again, by that rule."""
        held = self.said(rule)
        return Proposal(held, held)

    def longer(self, *why: Reason) -> Proposal:
        """The answer: a second more per set."""
        hold_s = self.verdict.hold_s + SECOND
        return Proposal(explained(replace(self.again, hold_s=hold_s), "longer", *why), self.again)

    def heavier(self, to_kg: Decimal, hold_s: int, why: Reason) -> Proposal:
        """The answer: another load, at that hold."""
        up = replace(self.again, load_kg=to_kg, hold_s=hold_s)
        return Proposal(explained(up, "up", why), self.again)

    def lighter(self, keep: Decimal, why: Reason) -> Proposal:
        """The answer: a lighter load that exists, at a hold that suits it; else a shorter hold."""
        again = self.said("last-session")
        lighter_kg = self.loads.at_most(self.load_kg * keep)
        if lighter_kg is None:
            hold_s = min(self.verdict.hold_s, short_hold_s(self.dose.hold_s))
            shorter = replace(self.same, hold_s=max(hold_s, SHORTEST_S))
            none = because("lightest-load", load_kg=self.load_kg)
            return Proposal(explained(shorter, "down", why, none), again)
        step = because("step-down", from_kg=self.load_kg, to_kg=lighter_kg)
        hold_s = self._hold_at_s(lighter_kg, keep)
        fallen = replace(self.same, load_kg=lighter_kg, hold_s=hold_s)
        if hold_s > self.dose.hold_s:
            longer = because("longer-at-lighter", hold_s=hold_s, percent=int((1 - keep) * 100))
            return Proposal(explained(fallen, "down", why, step, longer), again)
        return Proposal(explained(fallen, "down", why, step), again)

    def _hold_at_s(self, lighter_kg: Decimal, keep: Decimal) -> int:
        """The hold at a lighter load: the dose's, or more where coarse plates make it much lighter.

        Then as long as is by the curve still so much easier than what failed.
        """
        own_s = self.dose.hold_s
        if lighter_kg >= self.load_kg * COARSE_FRAC or self.dose.lifts > 1:
            return own_s
        share = share_held_frac(self.verdict.hold_s) * float(lighter_kg / (self.load_kg * keep))
        if share * PERCENT <= FLOOR_PERCENT:
            return own_s
        most_s = int(own_s * MOST_LONGER)
        return max(own_s, min(most_s, whole_s(time_to_failure_s(share))))


def hold_question(case: Case, dose: LoadedHold, loads: Loads) -> HoldQuestion | None:
    """The question after the last session, None before the first one with a load."""
    loaded = tuple(islice((s for s in reversed(case.level) if _is_loaded(s)), 2))
    if not loaded:
        return None
    verdict = hold_verdict(loaded[0], dose)
    before = hold_verdict(loaded[1], dose) if len(loaded) > 1 else None
    blank = replace(case.base(), reps=dose.lifts if dose.lifts > 1 else None)
    same = replace(blank, load_kg=verdict.load_kg, hold_s=verdict.hold_s)
    return HoldQuestion(case, dose, loads, verdict, before, same)


def _is_loaded(session: Session) -> bool:
    return session.top_load_kg is not None and session.top_load_kg > 0
