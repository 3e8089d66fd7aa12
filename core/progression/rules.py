"""Every reason a target can carry: its facts by name and what it means.

Masses end in ``_kg``, times in ``_s``; ``day``, ``since``, ``last``, ``asked`` and ``on``
are dates; ``sets`` of ``of`` were done; ``done`` lists reps or seconds set by set; other
numbers are counts, percents or years. Wording makes sentences of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Rule:
    """One kind of reason.

    Attributes:
        means: In one line.
        facts: Names of the facts it always has.
        may: Names of the facts it may have.
    """

    means: str
    facts: tuple[str, ...] = ()
    may: tuple[str, ...] = ()


_SESSION = ("day", "sets", "of")
_SEEN = ("load_kg", "hold_s", "done", "effort", "variation")
_PAIN = ("day",)
_PLACE = ("site", "score", "signs")

RULES: Mapping[str, Rule] = MappingProxyType(
    {
        # What the last session was
        "all-sets-easy": Rule("Every set was done and easy.", _SESSION, _SEEN),
        "all-sets-ok": Rule("Every set was done; the hardest was ok.", _SESSION, _SEEN),
        "all-sets-hard": Rule("Every set was done; the hardest was hard.", _SESSION, _SEEN),
        "all-sets-limit": Rule("Every set was done; the hardest was the limit.", _SESSION, _SEEN),
        "last-session": Rule("The session that is repeated.", _SESSION, _SEEN),
        "sets-missing": Rule("Fewer sets were done than asked: same again.", _SESSION, _SEEN),
        "no-effort": Rule("Nobody said how it went: same again.", _SESSION, _SEEN),
        "held-shorter": Rule("A set was ended early, not failed: same again.", _SESSION, _SEEN),
        "loads-differed": Rule(
            "Loads differed from set to set: all sets at load_kg next.",
            (*_SESSION, "top_kg"),
            _SEEN,
        ),
        "one-late-fail": Rule("One set failed late: same again.", (*_SESSION, "failed"), _SEEN),
        "late-fail-again": Rule(
            "One set failed late, as on the day since: lighter.",
            (*_SESSION, "failed", "since"),
            _SEEN,
        ),
        "early-fail": Rule(
            "A set failed before 80 % of the time: lighter.", (*_SESSION, "failed"), _SEEN
        ),
        "sets-failed": Rule("Several sets failed: lighter.", (*_SESSION, "failed"), _SEEN),
        "long-hold-failed": Rule(
            "A hold that had grown failed, and the plates are coarse: the dose's time again.",
            (*_SESSION, "failed", "to_s"),
            _SEEN,
        ),
        "aim-missed": Rule("A set failed or stayed under its aim.", _SESSION, _SEEN),
        "one-more": Rule(
            "Same load, one more rep or second in total.", (*_SESSION, "total"), _SEEN
        ),
        "top-reached": Rule("Every set reached the top of the range.", (*_SESSION, "high"), _SEEN),
        "top-at-limit": Rule("The top was reached at the limit: same again.", _SESSION, _SEEN),
        "bottom-missed-twice": Rule(
            "A set stayed under the bottom, as on the day since: easier.",
            (*_SESSION, "since", "low"),
            _SEEN,
        ),
        # First targets
        "start-stated": Rule("The athlete stated this start.", ("load_kg",)),
        "ramp": Rule(
            "A careful start (a quarter of body weight, an eighth for wide grips, or 10 and 5 kg): "
            "add a step per set while it feels easy, stop at ok.",
            ("load_kg",),
            ("body_kg", "part"),
        ),
        "ramp-on": Rule(
            "The level is still looked for: add a step per set while it feels easy, stop at ok.",
            ("session", "of_sessions"),
        ),
        "level-by-curve": Rule(
            "Big steps: the greatest load that the curve of short holds allows for short_s, by the "
            "best set since the search began.",
            (*_SESSION, "top_kg", "to_kg", "short_s"),
            _SEEN,
        ),
        "ramp-help": Rule(
            "A start with the most help: take less per set while it feels easy, stop at ok.",
            ("load_kg",),
        ),
        "body-first": Rule("A start with body weight alone.", ("load_kg",)),
        "ladder-foot": Rule("The first rung of the ladder, at the first aim."),
        # Loads
        "one-step": Rule("One step of the plates, at most 5 %.", ("from_kg", "to_kg")),
        "two-steps": Rule("Two steps of the plates, at most 5 %.", ("from_kg", "to_kg")),
        "step-down": Rule("Down to a load that exists.", ("from_kg", "to_kg")),
        "longer-at-lighter": Rule(
            "The lighter load is far down: held for hold_s it is still percent easier by the curve "
            "of short holds.",
            ("hold_s", "percent"),
        ),
        "known-step": Rule(
            "The next load is more than 5 % up, but was held on the day since: back to it, at "
            "short_s.",
            ("from_kg", "to_kg", "since", "short_s"),
        ),
        "step-too-big": Rule(
            "The next load is more than 5 % up: a second more per set, until until_s.",
            ("load_kg", "next_kg", "until_s"),
        ),
        "step-bridged": Rule(
            "Held for hold_s, so that the next load can be held for short_s (curve of short "
            "holds): the step is taken at that shorter hold.",
            ("from_kg", "to_kg", "hold_s", "short_s"),
        ),
        "seconds-back": Rule(
            "A second more per set until the prescribed time, before the next step.",
            ("hold_s", "until_s"),
        ),
        "smaller-plates": Rule(
            "The next load is too far away for seconds to bridge: smaller plates are needed.",
            ("load_kg", "next_kg"),
        ),
        "no-plate-left": Rule("No heavier load can be made.", ("load_kg",)),
        "smaller-edge": Rule("On to the next smaller edge owned.", ("edge_mm",)),
        "harder-exercise": Rule("On to the next harder exercise.", ("exercise",)),
        "half-load": Rule(
            "From about half of the load, since maxima do not carry over (bourne_2011): add a "
            "step per set while it feels easy, stop at ok.",
            ("from_kg",),
        ),
        "longer-instead": Rule("Nothing heavier may be lifted: longer instead."),
        "kept": Rule(
            "Nothing heavier, smaller, harder or longer is there: the same again keeps it.",
            ("hold_s",),
        ),
        "lightest-load": Rule("Nothing lighter can be made.", ("load_kg",)),
        "nothing-to-load": Rule("No load can be made."),
        "not-makeable": Rule(
            "The plates do not make the wanted load: the next lighter one.",
            ("wanted_kg", "load_kg"),
        ),
        "plates-unknown": Rule("No plates are known: type them, and steps can be made."),
        "bands-unknown": Rule("No bands are known: measure and type them, and help can fade."),
        # Reps and seconds at a net load
        "bottom-in-reach": Rule(
            "At the next load the bottom of the range is predicted (Epley, or the curve of short "
            "holds, on body weight and load together).",
            ("next_kg", "low", "body_kg"),
        ),
        "bottom-out-of-reach": Rule(
            "At the next load the bottom of the range is not predicted yet.",
            ("next_kg", "low", "body_kg"),
        ),
        "body-unknown": Rule(
            "Body weight is not known: only a step of at most 5 % of an assumed weight.",
            ("assumed_kg", "next_kg"),
        ),
        "past-the-top": Rule("One more in total, past the top.", ("total",)),
        "top-of-all": Rule("No more than this per set.", ("most",)),
        "month-step": Rule(
            "The next load is more than 10 % up, which no month allows for fingers.",
            ("next_kg", "body_kg"),
        ),
        "finer-steps": Rule("A lighter band or smaller plates would lead on."),
        "nothing-easier": Rule("There is no more help to give: the bottom of the range."),
        "band-unknown": Rule("How much the band helps is not known.", ("band",)),
        # Ladders of variations
        "step-longer": Rule("The aim goes up a step.", ("to",)),
        "next-rung": Rule("On to the next variation.", ("to",)),
        "once-more": Rule("Ok once: ok twice running, or easy once, before more is asked."),
        "one-more-rep": Rule("One more rep in total.", ("to",)),
        "ladder-top": Rule("The top of the ladder: the same again keeps it."),
        "bottom-missed": Rule("A set stayed under the bottom of the range.", ("low",)),
        "step-back": Rule("Missed twice running: the aim goes down a step.", ("to",)),
        "rung-back": Rule("Missed twice running: back to the variation before.", ("to",)),
        # Guards
        "under-age": Rule("Too young to train finger strength.", ("age", "least", "source")),
        "needs-coach": Rule(
            "At this age finger strength is for those with a coach.", ("age", "alone")
        ),
        "warning-sign": Rule(
            "A warning sign: nothing for this tissue until a doctor or physiotherapist has "
            "cleared it.",
            _PAIN,
            _PLACE,
        ),
        "pain-today": Rule("Pain today: this tissue stops for tonight.", _PAIN, _PLACE),
        "cleared": Rule("Back after a warning sign: half of the load.", (*_PAIN, "on"), _PLACE),
        "sore": Rule(
            "Pain lately: a fifth less, and no increase until needed sessions without (free so "
            "far).",
            (*_PAIN, "free", "needed"),
            _PLACE,
        ),
        "time-off-sets": Rule("Time off: the same load, two sets fewer.", ("days", "last", "sets")),
        "time-off": Rule("Time off: so many percent less.", ("days", "last", "percent")),
        "find-level-again": Rule(
            "A long time off: from half of the load, add a step per set while it feels easy, "
            "stop at ok.",
            ("days", "last"),
        ),
        "ill": Rule("Ill: nothing hard, and nothing more, until the athlete is back.", ("since",)),
        "after-illness": Rule(
            "First session after an illness: half of the sets, a tenth less load.", ("on",)
        ),
        "deload-planned": Rule(
            "An easier week after so many of training: half of the sets, a tenth less load.",
            ("weeks", "until"),
        ),
        "deload-downs": Rule(
            "An easier week after so many steps down within one: half of the sets, a tenth less "
            "load.",
            ("downs", "until"),
        ),
        "deload": Rule("An easier week: half of the sets, a tenth less load.", ("asked",)),
        "month-cap": Rule(
            "No more than 10 % above the load of 28 days ago (most_kg).",
            ("since", "then_kg", "most_kg"),
        ),
        "short-of-time": Rule("Fewer sets, to fit the minutes.", ("sets", "usual", "minutes")),
        "pin-limit": Rule("The pin and its handle carry no more.", ("limit_kg",), ("load_kg",)),
        "handle-limit": Rule("The handle carries no more.", ("limit_kg",), ("load_kg",)),
        "bar-unchecked": Rule(
            "Body weight is not known, so the bar's limit could not be checked.", ("limit_kg",)
        ),
        "bar-limit": Rule("The bar carries no more.", ("limit_kg", "body_kg"), ("load_kg",)),
    }
)
