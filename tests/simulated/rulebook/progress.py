"""What the last session calls for, dose by dose, from the text of the rules.

``plain`` answers with every dose that the text allows where nothing stands above progress;
None where the text is silent (first targets, sessions of mixed loads, a new line).
"""

from datetime import timedelta
from decimal import Decimal

from core.catalogue import HoldRange, LoadedHold, RepRange, TimedHold, get_exercise
from core.target import Target
from tests.simulated.rulebook.breach import above, at_most
from tests.simulated.rulebook.curve import bridge_s, reps_to_failure, seconds_held, share_held
from tests.simulated.rulebook.record import Sitting, hardest, word_of
from tests.simulated.rulebook.search import SEARCH_SESSIONS, held_well_kg, search
from tests.simulated.rulebook.wanted import Wanted

LATELY = timedelta(days=56)
LONGEST_S = 30
"""Where neither plates nor ladder go on, holds may be lengthened so far (the engine's choice)."""


def plain(
    target: Target,
    line: list[Sitting],
    *,
    loads_kg: tuple[Decimal, ...],
    body_kg: Decimal,
    cap_kg: Decimal | None,
    sessions: int,
) -> list[Wanted] | None:
    """Every dose the text allows after these sittings (easier weeks left out).

    ``sessions`` counts those since the level was last looked for.
    """
    match get_exercise(target.exercise).dose:
        case LoadedHold() as dose:
            found = _loaded_hold(line, dose, loads_kg=loads_kg, cap_kg=cap_kg)
            if found is None:
                return None
            return [*found, *_open(line, dose, found, sessions=sessions, loads_kg=loads_kg)]
        case RepRange(share=share) | HoldRange(share=share) as dose if share > 0:
            return _range(line, dose, loads_kg=loads_kg, body_kg=body_kg)
        case TimedHold() as dose:
            return _timed(target, line, dose)
    return None


def _loaded_hold(
    line: list[Sitting], dose: LoadedHold, *, loads_kg: tuple[Decimal, ...], cap_kg: Decimal | None
) -> list[Wanted] | None:
    last = line[-1]
    load, hold = last.asked.load_kg, last.asked.hold_s
    if load is None or hold is None or {s.load_kg for s in last.sets} != {load}:
        return None

    def wanted(rule: str, kg: Decimal | None, seconds: int) -> Wanted:
        return Wanted(rule, kg, seconds * dose.sets)

    same = wanted("same-again", load, hold)
    failed, late = _failures(last)
    if failed > late or failed > 1:
        return _down(load, hold, Decimal("0.95"), "down-5", dose=dose, loads=loads_kg)
    if failed == 1:
        again = len(line) > 1 and _failures(line[-2]) == (1, 1)
        keep = Decimal("0.975")
        down = _down(load, hold, keep, "down-2.5", dose=dose, loads=loads_kg) if again else []
        # Loads that differed: whether the failure before was at the level is open.
        alike = not again or len({s.load_kg for s in line[-2].sets}) == 1
        return down if again and alike else [*down, wanted("one-late-fail", load, hold)]
    effort = hardest([word_of(s) for s in last.sets])
    if len(last.sets) < last.asked.sets or effort not in ("easy", "ok"):
        return [same]
    if hold < dose.hold_s:
        return [wanted("seconds-back", load, hold + 1)]
    step = above(loads_kg, load)
    most = load * Decimal("1.05")
    if cap_kg is not None:
        most = min(most, cap_kg)
    if step is not None and step <= load * Decimal("1.05"):
        if step > most:
            return [wanted("capped", load, hold)]
        two = above(loads_kg, step) if effort == "easy" else None
        # Two steps may be capped to one.
        rises = [kg for kg in (step, two) if kg is not None and kg <= most]
        return [wanted("up", rises[-1], dose.hold_s)]
    return _too_big(load, hold, step, dose, cap_kg=cap_kg)


def _open(
    line: list[Sitting],
    dose: LoadedHold,
    found: list[Wanted],
    *,
    sessions: int,
    loads_kg: tuple[Decimal, ...],
) -> list[Wanted]:
    """Where the text is open: readings that are as careful, and lead out of a dead end.

    *The first four sessions find the level*: see ``search``. *A step is a new load*: one held
    in the last 56 days, when nothing as light failed, may be gone back to at the shorter hold.
    *Down at least 5 %*: after a hold that had grown beyond the dose's, the dose's hold at the
    same load is, or the shorter one, where plates are coarse.
    """
    last = line[-1]
    load, hold = last.asked.load_kg, last.asked.hold_s or 0
    if load is None:
        return []
    first, step_kg = found[0].rule, above(loads_kg, load)
    short = max(5, dose.hold_s - 3)
    if sessions < SEARCH_SESSIONS and hardest([word_of(s) for s in last.sets]) in ("easy", "ok"):
        return search(line[-sessions:], dose, loads_kg)
    if first in ("a-second-more", "no-way-on") and step_kg is not None:
        held = [held_well_kg(s) for s in line if s.day >= last.day - LATELY]
        is_known = max(held, default=load) >= step_kg
        return [Wanted("known", step_kg, short * dose.sets)] if is_known else []
    if first.startswith("down") and hold > dose.hold_s:
        coarse = found[0].load_kg is None or found[0].load_kg < load * Decimal("0.9")
        if coarse or found[0].load_kg == load:
            return [
                Wanted("shorter", load, seconds * dose.sets)
                for seconds in (dose.hold_s, short)
                if share_held(hold) <= 0.95 * share_held(seconds)
            ]
    return []


def _failures(sitting: Sitting) -> tuple[int, int]:
    """How many sets failed, and how many of them late: at 80 % of the time or after."""
    failed = [s for s in sitting.sets if s.effort == "fail"]
    asked = sitting.asked.hold_s or 0
    late = [s for s in failed if s.hold_s is None or s.hold_s >= Decimal("0.8") * asked]
    return len(failed), len(late)


def _down(
    load: Decimal,
    hold: int,
    keep: Decimal,
    rule: str,
    *,
    dose: LoadedHold,
    loads: tuple[Decimal, ...],
) -> list[Wanted]:
    """A lighter load, at no longer a hold than is as much easier by the curve, or the dose's."""
    lighter = at_most(loads, load * keep)
    if lighter is None:
        # Nothing lighter exists: a shorter hold at the same load is all that is left.
        return [Wanted(rule, load, seconds * dose.sets) for seconds in range(1, hold + 1)]
    share = float(lighter / (load * keep)) * share_held(hold)
    most = max(dose.hold_s, min(LONGEST_S, int(seconds_held(share) + 1e-9)))
    return [Wanted(rule, lighter, seconds * dose.sets) for seconds in range(dose.hold_s, most + 1)]


def _too_big(
    load: Decimal, hold: int, step: Decimal | None, dose: LoadedHold, *, cap_kg: Decimal | None
) -> list[Wanted]:
    """One plate step is more than 5 %, or there is none."""
    longer = Wanted("a-second-more", load, (hold + 1) * dose.sets)
    stay = Wanted("no-way-on", load, hold * dose.sets)
    if step is None:
        return [longer, stay]
    needed = bridge_s(load, step, prescribed_s=dose.hold_s)
    if hold < min(needed, LONGEST_S):
        return [longer]
    short = max(5, dose.hold_s - 3)
    over_cap = cap_kg is not None and step > cap_kg
    if needed > LONGEST_S or over_cap or step > load * Decimal("1.1"):
        # Ten percent a month forbid the step, now or for good.
        bridged = [] if over_cap else [Wanted("bridged", step, short * dose.sets)]
        return [longer, stay, *bridged]
    return [Wanted("bridged", step, short * dose.sets)]


def _range(
    line: list[Sitting],
    dose: RepRange | HoldRange,
    *,
    loads_kg: tuple[Decimal, ...],
    body_kg: Decimal,
) -> list[Wanted] | None:
    low, high = (dose.low, dose.high) if isinstance(dose, RepRange) else (dose.low_s, dose.high_s)
    last = line[-1]
    load = last.asked.load_kg
    if load is None or {s.load_kg for s in last.sets} != {load} or len(last.sets) < dose.sets:
        return None
    done = _amounts(last, isinstance(dose, RepRange))
    effort = hardest([word_of(s) for s in last.sets])
    more = Wanted("one-more", load, None)
    if len(line) > 1 and all(min(_amounts(s, isinstance(dose, RepRange))) < low for s in line[-2:]):
        easier = at_most(loads_kg, load - Decimal("0.001"))
        return [Wanted("easier", load if easier is None else easier, low * dose.sets)]
    if min(done) < high:
        total = min(max(sum(done) + 1, low * dose.sets), high * dose.sets)
        return [Wanted("one-more", load, total)]
    if effort in (None, "limit", "fail"):
        return [Wanted("top-at-limit", load, None)]
    step = above(loads_kg, load)
    if step is None:
        return None
    left = {"easy": 3, "ok": 2, "hard": 1}[effort]
    predicted = _predicted(dose, float(body_kg + load), min(done), left, float(body_kg + step))
    if predicted >= low + 0.01:
        return [Wanted("harder-step", step, low * dose.sets)]
    if predicted <= low - 0.01:
        return [more]
    return [Wanted("harder-step", step, low * dose.sets), more]


def _amounts(sitting: Sitting, reps: bool) -> list[int]:
    return [(s.reps if reps else s.hold_s) or 0 for s in sitting.sets]


def _predicted(
    dose: RepRange | HoldRange, net: float, done: int, left: float, next_net: float
) -> float:
    if isinstance(dose, RepRange):
        return reps_to_failure(net, done=done, left=left, next_kg=next_net)
    share = share_held(done + left) * next_net / net
    return 0.0 if share > 1 else seconds_held(share)


def _timed(target: Target, line: list[Sitting], dose: TimedHold) -> list[Wanted]:
    """At most 5 s more than was asked or done; the next variation only from the ceiling.

    Who was asked for less for a while goes back to what had been reached before.
    """
    last = line[-1]
    names = get_exercise(target.exercise).variations
    same = [s for s in line if s.target.variation == target.variation]
    if same:
        asked = max(s.asked.hold_s or dose.start_s for s in same)
        done = max(min(d.hold_s or 0 for d in s.sets) for s in same)
        most = min(dose.ceiling_s, max(asked, done) + dose.step_s)
        return [Wanted("timed", None, s * dose.sets) for s in range(1, most + 1)]
    up = names.index(target.variation or "") - names.index(last.target.variation or "")
    reached = max(min(d.hold_s or 0 for d in s.sets) for s in line)
    if up == 1 and reached >= dose.ceiling_s:
        return [Wanted("next-variation", None, dose.start_s * dose.sets)]
    return []
