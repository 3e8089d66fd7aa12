"""Why a number is what it is: each of the engine's reasons in one short sentence.

A template a rule. In braces stand the reason's own facts, formatted for reading, and:
``session`` (what was done, how it went and when), ``place`` (where it hurt).
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from bot.wording.number import count, mass, number, short_day
from core.catalogue import get_exercise
from core.quantity import Unit
from core.sources import SOURCES
from core.target import Change, Reason, Value

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
    "loads-differed": "{session}, up to {top_kg} in other sets: all sets at one load next",
    "one-late-fail": "{session}, one set failed late: the same again",
    "late-fail-again": "{session}, one set failed late as on {since}: lighter",
    "early-fail": "{session}, a set failed before 80 % of its time: lighter",
    "sets-failed": "{session}, {failed} sets failed: lighter",
    "long-hold-failed": "{session}, a long hold failed: back to {to_s} at the same load (house "
    "rule)",
    "aim-missed": "{session}, a set stayed under its aim",
    "one-more": "{session}: same load, {total} in total next",
    "top-reached": "{session}: every set reached {high}",
    "top-at-limit": "{session}, at your limit: the same again",
    "bottom-missed-twice": "{session}, a set under {low} as on {since}: easier",
    # First targets
    "start-stated": "you said you start at {load_kg}",
    "ramp": "a careful start near {load_kg}{of_body}: add a step per set while it feels easy, "
    "stop at ok, log that load (house rule)",
    "ramp-on": "session {session} of the {of_sessions} that find your level: add a step per set "
    "while it feels easy, stop at ok, log that load (house rule)",
    "ramp-help": "a start with the most help: take less per set while it feels easy, stop at ok "
    "(house rule)",
    "body-first": "a start with body weight alone (house rule)",
    "ladder-foot": "the first step of the ladder (house rule)",
    # Loads
    "one-step": "one plate step, {from_kg} to {to_kg}, is at most 5 % (house rule within "
    "ACSM 2009's 2-10 %)",
    "two-steps": "two plate steps, {from_kg} to {to_kg}, are at most 5 % (house rule within "
    "ACSM 2009's 2-10 %)",
    "step-down": "down from {from_kg} to {to_kg}, a load your plates make",
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
    "over (Bourne 2011): add a step per set while it feels easy, stop at ok",
    "longer-instead": "so longer instead (house rule)",
    "kept": "{hold_s} is the longest hold that still trains this: the same again keeps it",
    "lightest-load": "nothing lighter than {load_kg} can be made",
    "nothing-to-load": "your kit makes no load for this",
    "not-makeable": "your plates do not make {wanted_kg}: the next lighter load is {load_kg}",
    "plates-unknown": "I know no plates of yours; type them and I can make steps: plates 2x10 2x5",
    # Reps and seconds at a net load
    "bottom-in-reach": "with {next_kg} on top, {low} are predicted for a body of {body_kg} (Epley, "
    "or the curve of short holds)",
    "bottom-out-of-reach": "with {next_kg} on top, {low} are not predicted yet for a body of "
    "{body_kg}",
    "body-unknown": "your body weight is not known: only a step of at most 5 % of {assumed_kg} "
    "(house rule); type bw 71",
    "past-the-top": "one more in total, past the top: {total}",
    "top-of-all": "no more than {most} per set (house rule)",
    "month-step": "{next_kg} is more than 10 % up, too much in a month for fingers (house rule)",
    "finer-steps": "a lighter band or smaller plates would lead on",
    "nothing-easier": "there is no more help to give: the bottom of the range",
    "bands-unknown": "how much your bands help is not known: the same help again; type band green "
    "12kg",
    "band-unknown": "how much the {band} band helps is not known; type band {band} 12kg",
    # Ladders of variations
    "step-longer": "up a step, to {to}",
    "next-rung": "on to the next variation: {to}",
    "once-more": "ok once: ok twice running, or easy once, before more is asked (house rule)",
    "one-more-rep": "one more rep in total, {to}",
    "ladder-top": "the top of the ladder: the same again keeps it",
    "bottom-missed": "a set stayed under {low}",
    "step-back": "missed twice running: down a step, to {to}",
    "rung-back": "missed twice running: back to the variation before, {to}",
    # Guards
    "under-age": "age {age}: no finger-strength loading under {least}; growing fingers are easily "
    "hurt ({source})",
    "needs-coach": "age {age}: finger strength below {alone} only with a coach (house rule)",
    "warning-sign": "{place} on {day} is a warning sign: nothing for it until a doctor or "
    "physiotherapist has cleared it, then type back",
    "pain-today": "{place} today: not loaded tonight (house rule)",
    "cleared": "back on {on} after {place} on {day}: half of the load (house rule)",
    "sore": "{place} on {day}: a fifth less and no increase until {needed} sessions without, "
    "{free} so far (house rule)",
    "time-off-sets": "{days} days off since {last}: {sets_text} at first (house rule)",
    "time-off": "{days} days off since {last}: {percent} % less (house rule)",
    "find-level-again": "{days} days off since {last}: from about half, add a step per set while "
    "it feels easy, stop at ok (house rule)",
    "ill": "ill since {since}: nothing hard, nothing more until you type back (house rule)",
    "after-illness": "first time since you were back on {on}: half of the sets, a tenth less "
    "(house rule)",
    "deload-planned": "easier week after {weeks} of training, to {until}: half of the sets, a "
    "tenth less (house rule)",
    "deload-downs": "easier to {until} after {downs} steps down in a week: half of the sets, a "
    "tenth less (house rule)",
    "deload": "easier week asked for on {asked}: half of the sets, a tenth less (house rule)",
    "month-cap": "at most 10 % above the {then_kg} of {since}, so {most_kg} (house rule)",
    "short-of-time": "{sets} of {usual} sets, to fit {minutes} min (house rule)",
    "pin-limit": "pin and handle carry at most {limit_kg}",
    "handle-limit": "the handle carries at most {limit_kg}",
    "bar-unchecked": "the bar carries at most {limit_kg}, which I cannot check without your body "
    "weight; type bw 71",
    "bar-limit": "the bar carries at most {limit_kg}, you weigh {body_kg}",
}


def reason_text(reason: Reason, unit: Unit) -> str:
    """The reason in one sentence, masses in that unit."""
    facts = dict(reason.facts)
    words = {name: _word(name, value, unit) for name, value in facts.items()}
    if "of" in facts:
        words["session"] = _session(facts, unit)
    words["place"] = _place(facts)
    body_kg, part = facts.get("body_kg"), facts.get("part")
    words["of_body"] = f", {part} of {mass(body_kg, unit)}" if isinstance(body_kg, Decimal) else ""
    if "sets" in words:
        words["sets_text"] = count(int(words["sets"]), "set")
    return TEMPLATES[reason.rule].format_map(words)


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


def _session(facts: dict[str, Value], unit: Unit) -> str:
    """What was done: "4 of 4 sets at 22 kg were ok on Tue 1 Dec"."""
    words = f"{facts['sets']} of {facts['of']} sets"
    load_kg = facts.get("load_kg")
    if isinstance(load_kg, Decimal):
        words += f" at {mass(load_kg, unit)}" if load_kg else " without load"
    if "done" in facts:
        words += f" ({facts['done']})"
    if "variation" in facts:
        words += f", {facts['variation']},"
    words += f" were {facts['effort']}" if facts.get("effort") else " were done"
    return f"{words} on {short_day(facts['day'])}" if isinstance(facts["day"], date) else words


def _place(facts: dict[str, Value]) -> str:
    """Where it hurt: "pain left ring finger 4/10"."""
    score = f"{facts['score']}/10" if "score" in facts else ""
    return " ".join(str(w) for w in ("pain", facts.get("site"), score, facts.get("signs")) if w)


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
