"""What a rule for reps or seconds at a net load looks at, and the answers they share."""

from dataclasses import dataclass, replace
from decimal import Decimal

from core.catalogue import HoldRange, RepRange
from core.kit.help import BodyLoads
from core.progression.aims import as_done
from core.progression.case import Case, Proposal
from core.progression.reshape import explained
from core.progression.span import Span, SpanVerdict, span_of, span_verdict
from core.target import Reason, Target, because


@dataclass(frozen=True, slots=True)
class NetQuestion:
    """What next after the last session of reps or seconds at a net load.

    Attributes:
        case: Whose, and on which day.
        loads: Loads that exist.
        span: The range.
        verdicts: What the last sessions say, at most two, the last one last.
        same: The last load again, without aims and reasons.
    """

    case: Case
    loads: BodyLoads
    span: Span
    verdicts: tuple[SpanVerdict, ...]
    same: Target

    @property
    def verdict(self) -> SpanVerdict:
        """What the last session says."""
        return self.verdicts[-1]

    @property
    def is_at_top(self) -> bool:
        """Whether every set that was asked reached the top of the range."""
        done, sets = self.verdict.done, min(self.verdict.of, self.span.sets)
        return len(done) >= sets and min(done[:sets]) >= self.span.high

    @property
    def top(self) -> Target:
        """The same again, with the top reached as the reason."""
        return self.said("top-reached", high=self.span.high)

    @property
    def next_kg(self) -> Decimal | None:
        """The next load that exists, None where none is left or the present one unknown. [kg]"""
        load_kg = self.verdict.load_kg
        return None if load_kg is None else self.loads.step_above(load_kg)

    def said(self, rule: str, **facts: int) -> Target:
        """The last session again, explained by that rule of what it was."""
        span = self.span
        aims = as_done(self.verdict.done, sets=span.sets, low=span.low, high=span.most)
        why = because(rule, **self.verdict.facts(), **facts)
        return explained(span.aimed(self.same, aims), "same", why)

    def at_bottom(self, load_kg: Decimal | None) -> Target:
        """Every set at the bottom of the range, at that load."""
        return self.span.aimed(
            replace(self.same, load_kg=load_kg), (self.span.low,) * self.span.sets
        )


def net_question(case: Case, dose: RepRange | HoldRange, loads: BodyLoads) -> NetQuestion | None:
    """The question after the last session, None before the first one."""
    if not case.level:
        return None
    span = span_of(dose)
    verdicts = tuple(span_verdict(s, span, case.athlete.kit) for s in case.level[-2:])
    same = replace(case.base(), load_kg=verdicts[-1].load_kg, band=verdicts[-1].band)
    return NetQuestion(case, loads, span, verdicts, same)


def held(target: Target, *why: Reason) -> Proposal:
    """The answer: that target again, with further reasons."""
    explained_target = explained(target, "same", *why)
    return Proposal(explained_target, explained_target)
