"""Answers that change nothing: next, why, tonight, kit, progress, help. And the start."""

from bot.conversation.turn import Turn
from bot.ports import Button
from bot.wording import talk as talk_words
from bot.wording.evening import (
    evening_lines,
    exercise_lines,
    finished_lines,
    notable_lines,
    partner_of,
    warm_up_lines,
)
from bot.wording.exercise import sets_text, target_lines, title
from bot.wording.moment import SET_BUTTONS
from bot.wording.number import short_day
from bot.wording.reason import change_text, reason_text
from core.catalogue import get_exercise
from core.facts import EveningStarted
from core.planning import Item, ramp_kg, standing_targets
from core.planning.evening import item_tonight
from core.target import Target

RECENT_SESSIONS = 6


def say_next(turn: Turn, slug: str | None) -> None:
    """What to do next: in that exercise, else in tonight's evening."""
    if slug is None:
        say_current(turn)
        return
    turn.take_in_hand(slug)
    item = item_tonight(turn.athlete, slug, today=turn.today)
    if item.is_open and not item.is_begun:
        say_item(turn, item)
        return
    targets = standing_targets(turn.athlete, slug, today=turn.today)
    when = "still to do" if item.is_begun and item.is_open else "next time"
    for one in dict.fromkeys(t.exercise for t in targets):
        mine = tuple(t for t in targets if t.exercise == one)
        say_targets(turn, mine, f"{title(get_exercise(one), mine[0].edge_mm)}, {when}")


def say_current(turn: Turn) -> None:
    """The exercise to go on with tonight, or that there is none."""
    item = _whose_turn(turn)
    if item is None and not turn.tonight.items:
        turn.say(*evening_lines(turn.tonight, turn.athlete.units))
    elif item is None:
        turn.say(*finished_lines(turn.tonight))
    else:
        turn.take_in_hand(item.exercise.slug)
        say_item(turn, item)


def _whose_turn(turn: Turn) -> Item | None:
    """The exercise to go on with; of two that take turns the one called last."""
    item = turn.tonight.current
    if item is None:
        return None
    partner = partner_of(turn.tonight, item.exercise.slug)
    called = partner is not None and partner.exercise.slug == turn.in_hand
    return partner if called else item


def say_item(turn: Turn, item: Item) -> None:
    """One exercise to do now, with its targets."""
    if not any(t.sets for t in item.targets):
        say_targets(turn, item.targets, title(item.exercise))
        return
    slug = item.exercise.slug
    turn.say(
        *exercise_lines(item, turn.athlete.units, partner=partner_of(turn.tonight, slug)),
        buttons=(*SET_BUTTONS, Button("why", f"why {slug}")),
        targets=item.targets,
    )


def say_targets(turn: Turn, targets: tuple[Target, ...], heading: str) -> None:
    """Targets of one exercise under a heading that says what is new."""
    unit = turn.athlete.units
    changes = list(dict.fromkeys(change_text(t.change) for t in targets))
    if len(changes) > 1:
        changes = [f"{t.side} {change_text(t.change)}" for t in targets]
    if all(t.change == "stopped" for t in targets):
        heading = title(get_exercise(targets[0].exercise))
    turn.say(
        f"{heading}, {', '.join(changes)}:",
        *(target_lines(targets, unit) if any(t.sets for t in targets) else ()),
        *notable_lines(targets, unit),
        targets=targets,
        buttons=(Button("why", f"why {targets[0].exercise}"),),
    )


def say_why(turn: Turn, slug: str | None) -> None:
    """The facts and rules behind a target."""
    slug = slug or turn.in_hand
    if slug is None:
        turn.say("Why which exercise? For example: why crimp")
        return
    unit = turn.athlete.units
    targets = standing_targets(turn.athlete, slug, today=turn.today)
    seen: list[str] = []
    if len({t.reasons for t in targets}) == 1:
        targets = targets[:1]
    for target in targets:
        side = f"{target.side}: " if len(targets) > 1 else ""
        seen += [f"{side}{reason_text(r, unit, target)}" for r in target.reasons]
    exercise = get_exercise(slug)
    turn.say(f"{title(exercise, targets[0].edge_mm)}:", *(f"· {line}" for line in seen))


def say_tonight(turn: Turn) -> None:
    """Tonight in brief, with the button that begins it."""
    tonight = turn.tonight
    targets = [t for item in tonight.items for t in item.targets]
    buttons = () if turn.is_guided or not tonight.items else (Button("start", "start"),)
    turn.say(*evening_lines(tonight, turn.athlete.units), buttons=buttons, targets=targets)


def start_evening(turn: Turn) -> None:
    """Begin the evening: warm-up, then the first exercise."""
    tonight = turn.tonight
    if not tonight.items:
        turn.say(*evening_lines(tonight, turn.athlete.units))
        return
    if not turn.is_guided:
        turn.note(EveningStarted())
        tonight = turn.tonight
        turn.say(*warm_up_lines(tonight, ramp_kg(turn.athlete, tonight), turn.athlete.units))
    say_current(turn)


def say_progress(turn: Turn, slug: str | None) -> None:
    """The last sessions of one exercise, as they were logged; of none, the last four weeks."""
    logged = {d.log.exercise for d in turn.athlete.logs}
    slug = slug or (turn.in_hand if turn.in_hand in logged else None)
    if slug is None:
        # Loaded when asked for: they take a twentieth of the program's start.
        from bot.conversation.review import say_review

        say_review(turn)
        return
    exercise = get_exercise(slug)
    logs = [d for d in turn.athlete.logs if d.log.exercise == slug][-RECENT_SESSIONS:]
    if not logs:
        turn.say(f"Nothing logged yet for {exercise.name}.")
        return
    unit = turn.athlete.units
    lines = [f"{short_day(d.day)}: {sets_text(exercise, d.log.sets, unit)}" for d in logs]
    turn.say(f"{title(exercise)}, last logs:", *(f"· {line}" for line in lines))
    from bot.conversation.strength import strength_lines

    turn.say(*strength_lines(turn, slug))


def say_help(turn: Turn) -> None:
    """What can be typed."""
    turn.say(*talk_words.HELP.split("\n"))
