"""Logs: from what was typed to facts, with what was left out filled in from what was asked."""

from dataclasses import replace
from datetime import date, timedelta

from bot.conversation import doubt
from bot.conversation.answer import say_current, say_item, say_targets
from bot.conversation.effort import ask_effort
from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import record as words
from bot.wording.evening import finished_lines
from bot.wording.exercise import sets_text, title
from bot.wording.talk import NOTHING_TO_UNDO
from core.athlete import DatedLog
from core.catalogue import Exercise, HoldRange, LoadedHold, LongHold, TimedHold, get_exercise
from core.facts import (
    Asked,
    Effort,
    Logged,
    SetDone,
    Side,
    Skipped,
    Swapped,
    Undone,
    counting,
)
from core.history import SPLIT_SIDES
from core.kit.help import band_help_kg
from core.kit.shown import load_meant
from core.planning import Item, named_item, standing_targets
from core.planning.evening import item_tonight
from core.replies.act import Done, Log, SetSaid
from core.strength import doubt_of
from core.target import Target

_HOLDS = (LoadedHold, HoldRange, TimedHold, LongHold)
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
    done = _filled(item, _as_made(turn, item.exercise, act))
    _say_logged(turn, item, _note_sets(turn, item, act, done, said))


def _note_sets(turn: Turn, item: Item, act: Log, done: tuple[SetDone, ...], said: str) -> DatedLog:
    edge_mm = act.edge_mm if act.edge_mm is not None else item.targets[0].edge_mm
    noted = _note(
        turn,
        Logged(
            exercise=item.exercise.slug,
            edge_mm=edge_mm if item.exercise.edged else None,
            sets=done,
            asked=_asked(item.targets),
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


def _asked(targets: tuple[Target, ...]) -> tuple[Asked, ...]:
    return tuple(Asked(t.side, t.sets, t.reps, t.hold_s, t.load_kg) for t in targets if t.sets)


def _filled(item: Item, act: Log) -> tuple[SetDone, ...]:
    """The sets with reps, seconds and load filled in per side from tonight's target."""
    by_side = {t.side: t for t in item.targets}
    counts: dict[Side, int] = {
        t.side: t.sets - left for t, left in zip(item.targets, item.left, strict=True)
    }
    done: list[SetDone] = []
    for said in act.sets:
        sides = SPLIT_SIDES[said.side] if len(by_side) > 1 else (said.side,)
        mine: list[SetDone] = []
        for side in sides:
            target = by_side.get(side, item.targets[0])
            at = counts.get(target.side, 0)
            counts[target.side] = at + 1
            mine.append(_fill(item.exercise, said, target, at, side))
        if len(mine) == 2 and replace(mine[0], side="both") == replace(mine[1], side="both"):
            mine = [replace(mine[0], side="both")]
        done += mine
    return tuple(done)


def _fill(exercise: Exercise, said: SetSaid, target: Target, at: int, side: Side) -> SetDone:
    """One set of one side; ``at`` is how many came before it tonight."""
    amount = target.by_set[min(at, len(target.by_set) - 1)] if target.by_set else None
    hold_s, reps = said.hold_s, said.reps
    # How far a failed set got is known only if it was said.
    if said.effort != "fail":
        if isinstance(exercise.dose, _HOLDS):
            hold_s = hold_s if hold_s is not None else amount or target.hold_s
            reps = reps if reps is not None else target.reps
        elif reps is None:
            reps = amount or target.reps
    load_kg, band = said.load_kg, said.band
    if load_kg is None and band is None:
        load_kg, band = target.load_kg, target.band
    return SetDone(side, load_kg, band, reps, hold_s, said.effort, said.rpe, said.left)


def _as_made(turn: Turn, exercise: Exercise, act: Log) -> Log:
    """Bands become their help, where it is known, and loads those that exist and read the same."""
    return replace(act, sets=tuple(_set_as_made(turn, exercise, one) for one in act.sets))


def _set_as_made(turn: Turn, exercise: Exercise, said: SetSaid) -> SetSaid:
    athlete = turn.athlete
    if said.load_kg is not None:
        meant_kg = load_meant(
            athlete.kit, exercise, said.load_kg, body_kg=athlete.body_kg, unit=athlete.units
        )
        return replace(said, load_kg=meant_kg)
    help_kg = None if said.band is None else band_help_kg(athlete.kit, said.band)
    return said if help_kg is None else replace(said, load_kg=-help_kg)


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
        lines += words.unmakeable(athlete.kit, exercise.slug, done, unit)
    if after.is_open:
        turn.say(*lines, words.sets_left(after), *(_rest(turn, after) if turn.is_guided else ()))
    else:
        turn.remember(rest_until=None)
        turn.say(*lines)
        if found is None:
            _say_next_time(turn, before)
        if turn.is_guided:
            say_current(turn)
    if found is None:
        ask_effort(turn, noted.log)
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
    ask_effort(turn, noted.log)
    return True


def _say_next_time(turn: Turn, done: Item) -> None:
    """The next target, by name where it is another exercise or edge than the one done."""
    targets = standing_targets(turn.athlete, done.exercise.slug, today=turn.today)
    first = targets[0]
    edge_mm = done.targets[0].edge_mm
    moved = (first.exercise, first.edge_mm) != (done.exercise.slug, edge_mm)
    name = f": {title(get_exercise(first.exercise), first.edge_mm)}" if moved else ""
    say_targets(turn, targets, f"Next time{name}")


def _rest(turn: Turn, item: Item) -> list[str]:
    """Start the rest before the next set, and say so."""
    rest_s = item.targets[0].rest_s
    turn.remember(rest_until=turn.now + timedelta(seconds=rest_s))
    return [words.rest_line(rest_s)]


def done(turn: Turn, act: Done, said: str) -> None:
    """The set in hand, or all that is left of tonight, done as asked."""
    if act.scope == "session":
        _done_session(turn, act.effort or "ok", said)
        return
    slug = turn.in_hand
    if slug is None:
        turn.say(words.NOTHING_IN_HAND)
        return
    item = item_tonight(turn.athlete, slug, today=turn.today)
    if not any(item.left):
        turn.say(f"All sets of {item.exercise.name} are counted already.")
        return
    sets = _as_asked(item, rounds=1, effort=act.effort or "ok")
    _say_logged(turn, item, _note_sets(turn, item, Log(slug, ()), sets, said))


def _as_asked(item: Item, *, rounds: int, effort: Effort) -> tuple[SetDone, ...]:
    """The next sets of each side with a set left, exactly as asked."""
    sets: list[SetDone] = []
    for number in range(rounds):
        mine: list[SetDone] = []
        for target, left in zip(item.targets, item.left, strict=True):
            if number < left:
                plain = SetSaid(target.side, effort=effort)
                at = target.sets - left + number
                mine.append(_fill(item.exercise, plain, target, at, target.side))
        if len(mine) == 2 and replace(mine[0], side="both") == replace(mine[1], side="both"):
            mine = [replace(mine[0], side="both")]
        sets += mine
    return tuple(sets)


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
        sets = _as_asked(item, rounds=max(item.left), effort=effort)
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


def undo(turn: Turn) -> None:
    """Take back the newest reply that changed anything."""
    gone = _undone(turn)
    newest = _newest_reply(turn, gone)
    if newest is None:
        turn.say(NOTHING_TO_UNDO)
        return
    facts = [e for e in turn.entries if e.reply == newest and e.number not in gone]
    turn.note(Undone(tuple(e.number for e in facts), "undo"))
    turn.remember(rest_until=None)
    turn.say("Undone:", *(f"· {words.fact_line(e.fact, turn.athlete.units)}" for e in facts))
    logs = [e.fact for e in facts if isinstance(e.fact, Logged) and e.day == turn.today]
    if logs:
        # The exercise is open again; a bare reply after this means it.
        turn.take_in_hand(logs[-1].exercise)


def _undone(turn: Turn) -> frozenset[int]:
    """Numbers of the entries that were undone, by an undoing that itself still counts."""
    standing = {e.number for e in counting(turn.entries)}
    gone: set[int] = set()
    for entry in reversed(turn.entries):
        if entry.number not in standing and entry.number not in gone:
            # Neither counts nor was undone: it is an undoing in force.
            gone.update(entry.fact.entries if isinstance(entry.fact, Undone) else ())
    return frozenset(gone)


def _newest_reply(turn: Turn, gone: frozenset[int]) -> int | None:
    """The newest reply with something left to undo; plain undoings are passed over."""
    for entry in reversed(turn.entries):
        undoing = isinstance(entry.fact, Undone) and entry.fact.by == "undo"
        if entry.number not in gone and not undoing:
            return entry.reply
    return None


def fix(turn: Turn, act: Log, said: str) -> None:
    """Replace the last log of that exercise, on its own day."""
    slug = act.exercise or turn.in_hand
    logs = [d for d in turn.athlete.logs if slug is None or d.log.exercise == slug]
    if not logs:
        name = get_exercise(slug).name if slug else "anything"
        turn.say(f"Nothing logged yet for {name} that could be fixed.")
        return
    wrong = max(logs, key=lambda d: d.number)
    turn.note(Undone((wrong.number,), "fix"))
    item = named_item(turn.athlete, wrong.log.exercise, today=wrong.day)
    sets = _filled(item, _as_made(turn, item.exercise, act))
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
