"""Words for a review of four weeks: evenings, what moved, what was in the way, one suggestion."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from bot.wording.exercise import done_load_text, work_text
from bot.wording.number import count, listed, long_day, mass, short_day
from bot.wording.strength import moved_text
from core.catalogue import Exercise, get_exercise
from core.facts import WEEKDAYS, SetDone
from core.quantity import Unit
from core.review import Adherence, ExerciseChange, LineChange, Review
from core.target import Reason, Value

MOST_EXERCISES = 5
"""Exercises that a review shows, the most trained first."""

MOST_LIMITS = 4
"""Hindrances that a review names."""

TOO_EARLY = "Too few sessions yet for a trend."

LIMIT_TEMPLATES: Mapping[str, str] = {
    "pain-felt": "pain {place} on {days_text}",
    "evenings-missed": "{missed_text} missed",
    "days-off": "{evenings_text} in time off",
    "kit-unknown": "no {owned} known for {exercise}",
    "steps-too-big": "big steps of load at {exercise}",
    "nothing-heavier": "nothing heavier for {exercise}",
    "level": "{exercise} level for {weeks} weeks",
    "easier-week": "an easier week from {since}",
}

SUGGESTION_TEMPLATES: Mapping[str, str] = {
    "see-professional": "{place}: a warning sign that is not cleared. See a doctor or "
    "physiotherapist, and type back once they have cleared it.",
    "pain-again": "pain {place} on {days_text}: have a doctor or physiotherapist look at it "
    "before you load it more.",
    "stay-light": "pain {place}: stay with the lighter loads. If it stays or comes back, a doctor "
    "or physiotherapist should look at it.",
    "other-day": "{missed} of {of} {weekday}s were missed. If another day fits better, type your "
    "evenings anew, for example: evenings tue sun 20:30 60 min",
    "fewer-evenings": "{held} of {planned} evenings were held. Fewer or shorter ones that happen "
    "do more. For example: evenings tue 20:30 40 min",
    "tell-kit": "tell me your {owned}, and {exercise} can move on. For example: {example}",
    "buy-plates": "a pair of {plate_kg} plates would help most: {exercise}{finer}.",
    "buy-band": "a band that takes off {help_kg} would help most: {exercise}{finer}.",
    "smaller-steps": "{exercise}: {step}smaller plates or a lighter band would lead on.",
    "heavier-plates": "{exercise}: {most}more plates would lead on.",
    "ease-a-week": "{exercise} has been level for {weeks} weeks. An easier week may help; type "
    "deload.",
    "other-exercise": "{exercise} has been level for {weeks} weeks, an easier week included. Try "
    "another of its kind for a while; that evening type: swap {exercise}",
    "weaker-first": "{exercise}: one hand is {percent} % stronger. Begin with the {weaker} one "
    "while you are fresh.",
    "begin": "a short evening is a start; type: 20 min",
    "go-on": "go on as planned.",
}

_KIT_EXAMPLES = {"plates": "plates 2x10 2x5 2x2.5", "bands": "band green 12kg"}


def review_lines(review: Review, unit: Unit) -> list[str]:
    """The review, a line for each thing it says."""
    shown = review.moved[:MOST_EXERCISES]
    more = len(review.moved) - len(shown)
    lines = [f"Four weeks to {short_day(review.until)}:", f"{kept_text(review.kept)}."]
    lines += [f"· {change_text(change, unit)}" for change in shown]
    if more:
        lines.append(f"· and {more} more; progress with a name shows one")
    if shown and not any(line.trend for change in shown for line in change.lines):
        lines.append(TOO_EARLY)
    named = list(review.limits[:MOST_LIMITS])
    if named:
        lines.append(f"In the way: {listed([limit_text(reason, unit) for reason in named])}.")
    lines.append(f"Next: {suggestion_text(review.suggestion, unit)}")
    return lines


def kept_text(kept: Adherence) -> str:
    """Evenings and wall: "7 of 8 evenings held, 1 more on another day, 3 visits to the wall"."""
    parts: list[str] = []
    if kept.planned:
        parts.append(f"{len(kept.held)} of {count(kept.planned, 'evening')} held")
        parts += [f"{len(kept.extra)} more on other days"] if kept.extra else []
    else:
        parts.append(f"{count(len(kept.extra), 'evening')} at home")
    if kept.at_wall:
        parts.append(f"{len(kept.at_wall)} left for the wall")
    if kept.walls:
        parts.append(f"{count(kept.walls, 'visit')} to the wall")
    return ", ".join(parts)


def change_text(change: ExerciseChange, unit: Unit) -> str:
    """What moved in an exercise: "half crimp 20 → 22.5 kg, up 9 % (4 to 14)"."""
    exercise = get_exercise(change.exercise)
    texts = {line.side: _line_text(exercise, line, unit) for line in change.lines}
    if len(set(texts.values())) == 1:
        return f"{exercise.name} {next(iter(texts.values()))}"
    sides = "; ".join(f"{side} {text}" for side, text in texts.items())
    return f"{exercise.name} {sides}"


def _line_text(exercise: Exercise, line: LineChange, unit: Unit) -> str:
    trend = f", {moved_text(line.trend)}" if line.trend is not None else ""
    if line.moved_to is not None:
        return f"on to: {line.moved_to}{trend}"
    first, last = line.first.sets, line.last.sets
    loads = [_top_text(exercise, sets, unit) for sets in (first, last)]
    works = [work_text(sets) for sets in (first, last)]
    if exercise.from_floor and loads[0] != loads[1]:
        shown = loads
    else:
        joined = " at " if exercise.from_floor else " "
        shown = [joined.join(filter(None, both)) for both in zip(works, loads, strict=True)]
    if shown[0] == shown[1]:
        return f"{shown[0]} as before{trend}" if line.sessions > 1 else f"{shown[0]} once"
    unit_text = f" {unit}"
    if exercise.from_floor and all(text.endswith(unit_text) for text in shown):
        shown[0] = shown[0].removesuffix(unit_text)
    return f"{shown[0]} → {shown[1]}{trend}"


def _top_text(exercise: Exercise, sets: tuple[SetDone, ...], unit: Unit) -> str:
    """The load of the heaviest set; where none has a number, of the first."""
    with_load = [done for done in sets if done.load_kg is not None]
    top = max(with_load, key=lambda done: done.load_kg or 0, default=sets[0])
    return done_load_text(exercise, top, unit)


def limit_text(reason: Reason, unit: Unit) -> str:
    """A hindrance in a few words: "2 evenings missed"."""
    return _filled(LIMIT_TEMPLATES[reason.rule], reason, unit)


def suggestion_text(reason: Reason, unit: Unit) -> str:
    """The suggestion as a sentence or two."""
    return _filled(SUGGESTION_TEMPLATES[reason.rule], reason, unit)


def _filled(template: str, reason: Reason, unit: Unit) -> str:
    facts = dict(reason.facts)
    words = {name: _word(name, value, unit) for name, value in facts.items()}
    for name, one in (("days", "day"), ("missed", "evening"), ("evenings", "evening")):
        amount = facts.get(name)
        if isinstance(amount, int):
            words[f"{name}_text"] = count(amount, one)
    words["example"] = _KIT_EXAMPLES.get(words.get("owned", ""), "")
    words["step"] = words["most"] = words["finer"] = ""
    if "step_kg" in facts:
        words["finer"] = f" could step by {words['next_step_kg']}, now by {words['step_kg']}"
    if "load_kg" in facts and "next_kg" in facts:
        words["step"] = f"after {words['load_kg']} comes {words['next_kg']}; "
    if "load_kg" in facts:
        words["most"] = f"nothing above {words['load_kg']} can be made; "
    # A pain whose place was not told leaves a gap.
    return " ".join(template.format_map(words).replace(" :", ":").split())


def _word(name: str, value: Value, unit: Unit) -> str:
    if isinstance(value, date):
        return short_day(value)
    if isinstance(value, Decimal):
        return mass(value, unit)
    if name == "exercise" and isinstance(value, str):
        return get_exercise(value).name
    if name == "weekday" and value in WEEKDAYS:
        return long_day(date(2024, 1, 1 + WEEKDAYS.index(value)))
    return str(value)
