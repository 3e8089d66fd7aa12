"""Logs: from what was typed to facts, with what was left out filled in from what was asked."""

from datetime import date

from bot.conversation import doubt, pace
from bot.conversation.answer import say_current, say_item, say_targets
from bot.conversation.effort import ask_effort, judging
from bot.conversation.filling import as_asked, as_made, filled, what_was_asked
from bot.conversation.trip import here, is_last_away
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import record as words
from bot.wording.evening import finished_lines
from bot.wording.exercise import sets_text, title
from core.athlete import DatedLog
from core.catalogue import get_exercise
from core.facts import (
    Effort,
    Logged,
    SetDone,
    Skipped,
    Swapped,
    Undone,
)
from core.planning import Item, named_item, standing_targets
from core.planning.evening import item_tonight
from core.replies.act import Done, Log
from core.strength import doubt_of

MOST_ASKED = 4
"""Most exercises offered as buttons when a log names none."""


def log(turn: Turn, act: Log, said: str) -> None:
    """Note the sets, read them back, and say what comes next."""
    slug = act.exercise or turn.in_hand
    if slug is None:
        _ask_which(turn, said)
        return
    if any(s.value is not None for s in act.sets):
        name = get_exercise(slug).name
        turn.say(f"I could not read that as sets of {name}. Name the exercise and the unit.")
        return
    if get_exercise(slug).sides == "together" and any(s.side != "both" for s in act.sets):
        turn.say(words.no_sides(get_exercise(slug).name))
        return
    item = named_item(turn.athlete, slug, today=turn.today, edge_mm=act.edge_mm)
    done = filled(item, as_made(turn, item.exercise, act))
    _say_logged(turn, item, _note_sets(turn, item, act, done, said))


def _note_sets(turn: Turn, item: Item, act: Log, done: tuple[SetDone, ...], said: str) -> DatedLog:
    edge_mm = act.edge_mm if act.edge_mm is not None else item.targets[0].edge_mm
    noted = _note(
        turn,
        Logged(
            exercise=item.exercise.slug,
            edge_mm=edge_mm if item.exercise.edged else None,
            sets=done,
            asked=what_was_asked(item.targets),
            note=act.note,
            said=said,
            typed=turn.typed,
        ),
        day=turn.today,
    )
    turn.take_in_hand(item.exercise.slug)
    return noted


def _note(turn: Turn, logged: Logged, *, day: date) -> DatedLog:
    return DatedLog(turn.note(logged, day=day).number, day, logged)


def _say_logged(turn: Turn, before: Item, noted: DatedLog) -> None:
    athlete, unit, done = turn.athlete, turn.athlete.units, noted.log.sets
    exercise = before.exercise
    after = named_item(athlete, exercise.slug, today=turn.today)
    found = doubt_of(athlete, noted.number)
    name = title(exercise, noted.log.edge_mm or before.targets[0].edge_mm)
    lines = [f"{name}: {sets_text(exercise, done, unit)}."]
    unknown = {s.band for s in done if s.band and s.load_kg is None}
    lines += [words.unknown_band(name) for name in sorted(unknown)]
    if exercise.from_floor and found is None:
        lines += words.unmakeable(here(turn).kit, exercise.slug, done, unit)
    if after.is_open:
        turn.say(*lines, words.sets_left(after))
        if turn.is_guided:
            pace.go_on(turn, after)
    else:
        turn.remember(rest_until=None)
        turn.say(*lines)
        if found is None:
            _say_next_time(turn, before)
        if turn.is_guided and not pace.call_partner(turn, after):
            say_current(turn)
    if found is None:
        ask_effort(turn, noted)
    else:
        doubt.ask(turn, noted, found)


def confirm(turn: Turn, text: str) -> bool:
    """Let a log that was asked about count, if that is what the text says; whether it did."""
    noted = doubt.confirmed(turn, text)
    if noted is None:
        return False
    item = named_item(turn.athlete, noted.log.exercise, today=noted.day)
    if not item.is_open:
        _say_next_time(turn, item)
    ask_effort(turn, noted)
    return True


def _say_next_time(turn: Turn, done: Item) -> None:
    """The next target, by name where it is another exercise or edge than the one done."""
    sides = {t.side for t in done.targets}
    targets = [
        t
        for t in standing_targets(turn.athlete, done.exercise.slug, today=turn.today)
        if t.side in sides or "both" in (t.side, *sides)
    ]
    edge_mm = done.targets[0].edge_mm
    when = "Next time at home" if is_last_away(turn) else "Next time"
    for slug in dict.fromkeys(t.exercise for t in targets):
        # One hand may go on to a harder exercise than the other.
        mine = tuple(t for t in targets if t.exercise == slug)
        moved = (slug, mine[0].edge_mm) != (done.exercise.slug, edge_mm)
        name = f": {title(get_exercise(slug), mine[0].edge_mm)}" if moved else ""
        say_targets(turn, mine, f"{when}{name}")


def done(turn: Turn, act: Done, said: str) -> None:
    """The set in hand, or all that is left of tonight, done as asked."""
    if act.scope == "session":
        _done_session(turn, act.effort or "ok", said)
        return
    judged = None if act.effort is None else judging(turn, act.effort)
    if judged is not None:
        fix(turn, judged, said)
        return
    slug = turn.in_hand
    if slug is None:
        turn.say(words.NOTHING_IN_HAND)
        return
    item = item_tonight(turn.athlete, slug, today=turn.today)
    if not any(item.left):
        turn.say(f"All sets of {item.exercise.name} are counted already.")
        return
    sets = as_asked(item, rounds=1, effort=act.effort or "ok")
    _say_logged(turn, item, _note_sets(turn, item, Log(slug, ()), sets, said))


def _done_session(turn: Turn, effort: Effort, said: str) -> None:
    still = [i for i in turn.tonight.items if i.is_open]
    if not turn.is_guided and not any(i.is_begun for i in turn.tonight.items):
        turn.say(words.NOT_BEGUN)
        return
    if not still:
        turn.say("Tonight is complete already.")
        return
    unit = turn.athlete.units
    lines = ["Counted as asked:"]
    for item in still:
        sets = as_asked(item, rounds=max(item.left), effort=effort)
        _note_sets(turn, item, Log(item.exercise.slug, ()), sets, said)
        lines.append(f"· {item.exercise.name} {sets_text(item.exercise, sets, unit)}")
    turn.take_in_hand(None)
    turn.remember(rest_until=None)
    turn.say(*lines, "Not so? undo takes it back.")
    turn.say(*finished_lines(turn.tonight), buttons=(Button("undo", "undo"),))


def same(turn: Turn, said: str) -> None:
    """Repeat the last log."""
    logs = turn.athlete.logs
    last = max(logs, key=lambda d: d.number, default=None)
    if last is None:
        turn.say("Nothing logged yet to repeat.")
        return
    item = named_item(turn.athlete, last.log.exercise, today=turn.today)
    again = Log(item.exercise.slug, (), last.log.edge_mm)
    _say_logged(turn, item, _note_sets(turn, item, again, last.log.sets, said))


def skip(turn: Turn, slug: str | None) -> None:
    """Leave an exercise out tonight."""
    slug = slug or turn.in_hand
    if slug is None:
        turn.say("Skip which exercise? For example: skip l-sit")
        return
    turn.note(Skipped(slug))
    if turn.talk.in_hand == slug:
        turn.take_in_hand(None)
    turn.remember(rest_until=None)
    turn.say(f"Skipped {get_exercise(slug).name}.")
    if turn.is_guided:
        say_current(turn)


def swap(turn: Turn, slug: str | None) -> None:
    """Exchange an exercise tonight for another of its block."""
    slug = slug or turn.in_hand
    if slug is None:
        turn.say("Swap which exercise? For example: swap lock-off")
        return
    before = {i.exercise.slug for i in turn.tonight.items}
    turn.note(Swapped(slug))
    new = next((i for i in turn.tonight.items if i.exercise.slug not in before), None)
    turn.say(f"Tonight without {get_exercise(slug).name}.")
    if new is not None:
        turn.take_in_hand(new.exercise.slug)
        say_item(turn, new)


def fix(turn: Turn, act: Log, said: str) -> None:
    """Replace the last log of that exercise, on its own day."""
    slug = act.exercise or turn.last_logged
    logs = [d for d in turn.athlete.logs if slug is None or d.log.exercise == slug]
    if not logs:
        name = get_exercise(slug).name if slug else "anything"
        turn.say(f"Nothing logged yet for {name} that could be fixed.")
        return
    wrong = max(logs, key=lambda d: d.number)
    turn.note(Undone((wrong.number,), "fix"))
    item = named_item(turn.athlete, wrong.log.exercise, today=wrong.day)
    sets = filled(item, as_made(turn, item.exercise, act))
    edge_mm = act.edge_mm if act.edge_mm is not None else wrong.log.edge_mm
    noted = _note(
        turn,
        Logged(
            exercise=wrong.log.exercise,
            edge_mm=edge_mm,
            sets=sets,
            asked=wrong.log.asked,
            note=act.note or wrong.log.note,
            said=said,
            typed=turn.typed,
        ),
        day=wrong.day,
    )
    doubt.stay_confirmed(turn, wrong, noted)
    unit, exercise = turn.athlete.units, item.exercise
    turn.say(
        f"Fixed. {title(exercise)}: {sets_text(exercise, sets, unit)}, "
        f"instead of {sets_text(exercise, wrong.log.sets, unit)}.",
        buttons=(Button("undo", "undo"),),
    )
    found = doubt_of(turn.athlete, noted.number)
    if found is not None:
        doubt.ask(turn, noted, found)
    elif not item_tonight(turn.athlete, exercise.slug, today=turn.today).is_open:
        _say_next_time(turn, item)


def _ask_which(turn: Turn, said: str) -> None:
    items = [i for i in turn.tonight.items if i.is_open][:MOST_ASKED]
    buttons = [
        Button(i.exercise.name, f"{i.exercise.slug.replace('-', ' ')} {said}") for i in items
    ]
    turn.say(
        f"Which exercise was that? For example: crimp {said}",
        buttons=tuple(b for b in buttons if b.fits),
    )
