"""Why a number is what it is: each of the engine's reasons in one short sentence.

A template a rule. In braces stand the reason's own facts, formatted for reading, and:
``session`` (what was done, how it went and when), ``place`` (where it hurt), ``with_next``
(the next load on the body), ``by`` (what predicted it), ``rung`` (the variation asked for).
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from bot.wording.number import count, mass, number, short_day
from core.catalogue import HoldRange, LoadedHold, LongHold, RepRange, TimedHold, get_exercise
from core.quantity import Unit
from core.sources import SOURCES
from core.target import Change, Reason, Target, Value

TEMPLATES: Mapping[str, str] = {
    # What the last session was
    "all-sets-easy": "{session}",
    "all-sets-ok": "{session}",
    "all-sets-hard": "{session}: the same again",
    "all-sets-limit": "{session}: the same again",
    "last-session": "{session}",
    "sets-missing": "only {session}: the same again until all are done",
    "no-effort": "{session}, and you did not say how it went: the same again",
    "held-shorter": "{session}, a set was ended early: the same again",
    "loads-differed": "loads differed from set to set on {day}, up to {top_kg}: all sets at "
    "{load_kg} next",
    "one-late-fail": "{session}, one set failed late: the same again",
    "late-fail-again": "{session}, one set failed late as on {since}: lighter",
    "early-fail": "{session}, one set failed before 80 % of its time: lighter",
    "sets-failed": "{session}, {failed} sets failed: lighter",
    "long-hold-failed": "{session}, a long hold failed: back to {to_s} at the same load (house "
    "rule)",
    "aim-missed": "{session}, a set stayed under its aim",
    "one-more": "{session}: one more next, {total} in total",
    "top-reached": "{session}: every set reached {high}",
    "top-at-limit": "{session}, at your limit: the same again",
    "bottom-missed-twice": "{session}, a set stayed under {low} as on {since}: easier",
    # First targets
    "start-stated": "you said you start at {load_kg}",
    "ramp": "a careful start near {load_kg}{of_body}: a step more each set while it feels easy, "
    "stop at ok, log that load (house rule)",
    "ramp-on": "evening {session} of the {of_sessions} that find your level: a step more each set "
    "while it feels easy, stop at ok, log that load (house rule)",
    "level-by-curve": "{session}, {top_kg} at most: {to_kg} for {short_s} leaves a few seconds in "
    "reserve (curve of short holds)",
    "ramp-help": "a start with the most help: less of it each set while it feels easy, stop at ok "
    "(house rule)",
    "body-first": "a start with body weight alone (house rule)",
    "ladder-foot": "the first step of the ladder (house rule)",
    # Loads
    "one-step": "one plate step, {from_kg} to {to_kg}, is at most 5 % (house rule within "
    "ACSM 2009's 2-10 %)",
    "two-steps": "two plate steps, {from_kg} to {to_kg}, are at most 5 % (house rule within "
    "ACSM 2009's 2-10 %)",
    "step-down": "down from {from_kg} to {to_kg}, a load your plates make",
    "longer-at-lighter": "held for {hold_s}, still {percent} % easier (curve of short holds)",
    "known-step": "back to {to_kg}, which you held on {since}, for {short_s} at first (house rule)",
    "step-too-big": "the next load is {next_kg}, more than 5 % up: a second more per set instead, "
    "up to {until_s} (house rule)",
    "step-bridged": "{hold_s} at {from_kg} says that {to_kg} can be held for {short_s} (curve of "
    "short holds): the step is taken at that shorter hold",
    "seconds-back": "a second more per set, up to {until_s}, before the next step (house rule)",
    "smaller-plates": "the next load, {next_kg}, is too far up for one step: smaller plates would "
    "help",
    "no-plate-left": "your plates make nothing above {load_kg}",
    "smaller-edge": "so on to the next smaller edge, {edge_mm} mm",
    "harder-exercise": "so on to {exercise}",
    "half-load": "from about half of {from_kg}, since strength on one edge or grip does not carry "
    "over (Bourne 2011): a step more each set while easy, stop at ok",
    "longer-instead": "so longer instead (house rule)",
    "kept": "{hold_s} is the longest hold that still trains this: the same again keeps it",
    "lightest-load": "nothing lighter than {load_kg} can be made",
    "nothing-to-load": "your kit makes no load for this",
    "not-makeable": "your plates do not make {wanted_kg}: the next lighter load is {load_kg}",
    "plates-unknown": "I know no plates of yours; type them and I can make steps: plates 2x10 2x5",
    # Reps and seconds at a net load
    "bottom-in-reach": "{with_next} you should reach {low} a set, at {body_kg} of body weight "
    "({by})",
    "bottom-out-of-reach": "{with_next} you would not reach {low} a set yet, at {body_kg} of body "
    "weight ({by})",
    "body-unknown": "your body weight is not known: only a step of at most 5 % of {assumed_kg} "
    "(house rule); type bw 71",
    "past-the-top": "so one more past the top instead, {total} in total",
    "top-of-all": "no more than {most} per set (house rule)",
    "month-step": "{next_kg} is more than 10 % up, too much in a month for fingers (house rule)",
    "finer-steps": "a lighter band or smaller plates would lead on",
    "nothing-easier": "there is no more help to give: the bottom of the range",
    "bands-unknown": "how much your bands help is not known: the same help again; type band green "
    "12kg",
    "band-unknown": "how much the {band} band helps is not known; type band {band} 12kg",
    # Ladders of variations
    "step-longer": "up a step, to {to} a set",
    "next-rung": "on to the next variation: {rung}, {to} a set",
    "once-more": "ok once: ok twice running, or easy once, before more is asked (house rule)",
    "one-more-rep": "one more rep in total",
    "ladder-top": "the top of the ladder: the same again keeps it",
    "bottom-missed": "a set stayed under {low}",
    "step-back": "missed twice running: down a step, to {to} a set",
    "rung-back": "missed twice running: back to the variation before: {rung}, {to} a set",
    # Guards
    "under-age": "age {age}: no finger-strength loading under {least}; growing fingers are easily "
    "hurt ({source})",
    "needs-coach": "age {age}: finger strength below {alone} only with a coach (house rule)",
    "warning-sign": "{place} on {day} is a warning sign: nothing for it until a doctor or "
    "physiotherapist has cleared it, then type back",
    "pain-today": "{place} today: not loaded tonight (house rule)",
    "cleared": "back on {on} after {place} on {day}: half of the load (house rule)",
    "sore": "{place} on {day}: a fifth less and no increase until {needed} evenings without pain, "
    "{free} so far (house rule)",
    "time-off-sets": "{days} days off since {last}: {sets_text} at first (house rule)",
    "time-off": "{days} days off since {last}: {percent} % less (house rule)",
    "find-level-again": "{days} days off since {last}: from about half, a step more each set while "
    "it feels easy, stop at ok (house rule)",
    "ill": "ill since {since}: nothing hard and no increase until you type back (house rule)",
    "after-illness": "first time since you were back on {on}: half of the sets, a tenth less "
    "(house rule)",
    "deload-planned": "easier week after {weeks} weeks of training, its last day {until}: half of "
    "the sets, a tenth less (house rule)",
    "deload-downs": "easier week after {downs} steps down within one, its last day {until}: half "
    "of the sets, a tenth less (house rule)",
    "deload": "easier week asked for on {asked}: half of the sets, a tenth less (house rule)",
    "month-cap": "fingers get at most 10 % more in 28 days: {then_kg} on {since}, so {most_kg} now "
    "(house rule)",
    "short-of-time": "{sets} of {usual} sets, to fit {minutes} min (house rule)",
    "pin-limit": "pin and handle carry at most {limit_kg}",
    "handle-limit": "the handle carries at most {limit_kg}",
    "bar-unchecked": "the bar carries at most {limit_kg}, which I cannot check without your body "
    "weight; type bw 71",
    "bar-limit": "the bar carries at most {limit_kg}, you weigh {body_kg}",
}


_WORK = frozenset({"low", "high", "total", "to", "most", "done"})
"""Facts that count repetitions, or seconds where the exercise is held."""


def reason_text(reason: Reason, unit: Unit, target: Target | None = None) -> str:
    """The reason in one sentence, masses in that unit; of that target where one is at hand."""
    facts = dict(reason.facts)
    words = {name: _word(name, value, unit) for name, value in facts.items()}
    dose = get_exercise(target.exercise).dose if target is not None else None
    is_held = isinstance(dose, HoldRange | TimedHold | LongHold)
    if is_held:
        words |= {name: f"{words[name]} s" for name in _WORK & words.keys()}
    if "of" in facts:
        usual_s = dose.hold_s if isinstance(dose, LoadedHold) else None
        on_body = isinstance(dose, RepRange | HoldRange)
        words["session"] = _session(facts, words, usual_s=usual_s, on_body=on_body, unit=unit)
        words.setdefault("load_kg", "one load")
    words["place"] = _place(facts)
    words["with_next"] = _with_next(facts.get("next_kg"), unit)
    words["by"] = "Epley, or the curve of short holds"
    if dose is not None:
        words["by"] = "curve of short holds" if is_held else "Epley"
    words["rung"] = (target.variation if target is not None else None) or "the next one"
    body_kg, part = facts.get("body_kg"), facts.get("part")
    words["of_body"] = f", {part} of {mass(body_kg, unit)}" if isinstance(body_kg, Decimal) else ""
    if isinstance(sets := facts.get("sets"), int):
        words["sets_text"] = count(sets, "set")
    return TEMPLATES[reason.rule].format_map(words)


def _with_next(next_kg: Value | None, unit: Unit) -> str:
    """A load on the body: "with 1.25 kg on top", "with 11 kg of help"."""
    if not isinstance(next_kg, Decimal):
        return ""
    if next_kg < 0:
        return f"with {mass(-next_kg, unit)} of help"
    return f"with {mass(next_kg, unit)} on top" if next_kg else "without help"


def _word(name: str, value: Value, unit: Unit) -> str:
    if isinstance(value, date):
        return short_day(value)
    if isinstance(value, Decimal):
        return mass(value, unit) if name.endswith("_kg") else number(value)
    if name.endswith("_s"):
        return f"{value} s"
    if name == "exercise" and isinstance(value, str):
        return get_exercise(value).name
    return _short_cite(value) if name == "source" and isinstance(value, str) else str(value)


def _short_cite(key: str) -> str:
    """A source as people name it: "Morrison AB 2007"."""
    cite = SOURCES[key].cite
    return f"{cite.split('.')[0]} {key.rpartition('_')[2]}"


def _session(
    facts: dict[str, Value],
    words: dict[str, str],
    *,
    usual_s: int | None,
    on_body: bool,
    unit: Unit,
) -> str:
    """What was done: "4 of 4 sets at 22 kg were ok on Tue 1 Dec"; a hold that is not the usual."""
    sets, of = facts["sets"], facts["of"]
    is_more = isinstance(sets, int) and isinstance(of, int) and sets > of
    text = f"{sets} sets" if is_more else f"{sets} of {of} sets"
    if usual_s is not None and facts.get("hold_s", usual_s) != usual_s:
        text += f" of {words['hold_s']}"
    load_kg = facts.get("load_kg")
    if isinstance(load_kg, Decimal):
        text += f" {_at_load(load_kg, unit, on_body=on_body)}"
    if "done" in facts:
        text += f" ({words['done']})"
    asides = [str(facts["variation"])] if "variation" in facts else []
    asides += ["more than asked"] if is_more else []
    text += f", {', '.join(asides)}," if asides else ""
    text += f" were {facts['effort']}" if facts.get("effort") else " were done"
    return f"{text} on {words['day']}"


def _at_load(load_kg: Decimal, unit: Unit, *, on_body: bool) -> str:
    """A load as it was used: "at 22 kg" from the floor, "with 5 kg on top" of the body."""
    if load_kg < 0:
        return f"with {mass(-load_kg, unit)} of help"
    if not load_kg:
        return "without load"
    return f"with {mass(load_kg, unit)} on top" if on_body else f"at {mass(load_kg, unit)}"


def _place(facts: dict[str, Value]) -> str:
    """Where it hurt and how: "pain in the left ring finger (4/10)", "left ring finger (pop)"."""
    site = facts.get("site")
    score = f"{facts['score']}/10" if "score" in facts else None
    how = ", ".join(str(word) for word in (facts.get("signs"), score) if word)
    what = (f"pain in the {site}" if site else "pain") if "signs" not in facts else site or "pain"
    return f"{what} ({how})" if how else str(what)


_CHANGES: Mapping[Change, str] = {
    "first": "a first target",
    "up": "up",
    "same": "the same again",
    "down": "lighter",
    "longer": "a little more work at the same load",
    "harder-variation": "on to something harder",
    "easier-variation": "back to something easier",
    "deload": "an easier week",
    "return": "back after time off",
    "stopped": "not to be loaded now",
}


def change_text(change: Change) -> str:
    """What is new, in a few words."""
    return _CHANGES[change]
