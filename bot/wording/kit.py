"""Words about what an athlete owns: what holds now, how to measure it, what to buy next."""

from decimal import Decimal

from bot.wording.number import bare_mass, listed, mass, number, plate_mass
from core.athlete import Athlete
from core.catalogue import get_exercise
from core.facts import EDGE_GRIP, PAIR, BandOwned, PulleyOwned
from core.kit.inventory import MODEST_GRIPS, Inventory
from core.kit.loads import loads_from_floor
from core.kit.purchase import Purchase
from core.quantity import Unit, own_unit

PERCENT = 100

HOW = (
    "Change any of it by typing it anew; plates + 2x0.5 adds, plates - 1x10 removes.",
    "A band's help is measured, labels are not trusted. On a scale, foot in the band as at the "
    "bottom of a pull-up: it shows 58 kg, so band green scale 58kg. Or at two points: "
    "band green 14kg bottom 8kg top.",
)
"""How to change the kit, and how to measure a band."""


def plates_line(kit: Inventory, unit: Unit) -> str:
    """The plates owned: "plates 2x10 2x5 kg", each with its unit where they are mixed."""
    if not kit.plates:
        return "no plates"
    if all(own_unit(p.kg) in (unit, None) for p in kit.plates):
        counts = " ".join(f"{p.count}x{bare_mass(p.kg, unit)}" for p in kit.plates)
        return f"plates {counts} {unit}"
    counts = " ".join(f"{p.count}x{plate_mass(p.kg, unit).replace(' ', '')}" for p in kit.plates)
    return f"plates {counts}"


def kit_lines(athlete: Athlete, purchase: Purchase | None, *, at_home: bool = False) -> list[str]:
    """Everything owned, in the words that change it, and the one thing to buy.

    With ``at_home`` the athlete is elsewhere, where the words would change another kit.
    """
    kit, unit = athlete.kit, athlete.units
    grips = kit.grips if kit.grips is not None else MODEST_GRIPS
    heading = "Your kit at home:" if at_home else "Your kit:"
    lines = [heading, f"· {plates_line(kit, unit)}", f"· pin {mass(kit.pin_kg, unit)}"]
    if kit.pin_limit_kg is not None:
        lines.append(f"· pin limit {mass(kit.pin_limit_kg, unit)}")
    lines += _by_grip(kit, unit)
    if kit.plates:
        lines.append(f"· grips {listed([get_exercise(g).name for g in grips])}")
    if kit.edges_mm:
        lines.append(f"· edges {' '.join(map(str, kit.edges_mm))} mm")
    if kit.belt_kg:
        lines.append(f"· belt {mass(kit.belt_kg, unit)}")
    lines.append(f"· {_bar(kit, unit)}")
    lines += [f"· {_band(band, unit)}" for band in kit.bands]
    if kit.pulley is not None:
        lines.append(f"· {_pulley(kit.pulley, unit)}")
    lines += () if at_home else HOW
    return lines if purchase is None else [*lines, purchase_line(purchase, unit)]


def _by_grip(kit: Inventory, unit: Unit) -> list[str]:
    parts = (
        ("pin", kit.pins),
        ("pin limit", kit.own_pin_limits),
        ("handle", kit.handles),
        ("handle limit", kit.handle_limits),
    )
    return [
        f"· {what} {grip_name(one.grip)} {mass(one.kg, unit)}"
        for what, many in parts
        for one in many
    ]


def grip_name(grip: str) -> str:
    """A grip's name, or that of all that are held on an edge."""
    return EDGE_GRIP if grip == EDGE_GRIP else get_exercise(grip).name


def band_name(name: str) -> str:
    """A band by its name: "green band", "green + red bands"."""
    return f"{name} bands" if PAIR in name else f"{name} band"


def _band(band: BandOwned, unit: Unit) -> str:
    points = ""
    if band.bottom_kg is not None and band.top_kg is not None:
        low, high = mass(band.bottom_kg, unit), mass(band.top_kg, unit)
        points = f", {low} at the bottom and {high} at the top"
    return f"{band_name(band.name)} {mass(band.help_kg, unit)}{points}"


def band_line(band: BandOwned, unit: Unit) -> str:
    """A band as noted."""
    name = band_name(band.name)
    points = ""
    if band.bottom_kg is not None and band.top_kg is not None:
        points = " on average, half way between bottom and top"
    return f"{name[0].upper()}{name[1:]}: {mass(band.help_kg, unit)} of help{points}."


def scale_line(name: str, scale_kg: Decimal, body_kg: Decimal | None, unit: Unit) -> str:
    """What a reading of the scale lacks to become a band's help."""
    again = f"band {name} scale {mass(scale_kg, unit).replace(' ', '')}"
    if body_kg is None:
        return f"Not noted: for that I need your body weight. Type bw 71.4, then again {again}"
    return (
        f"Not noted: the scale shows {mass(scale_kg, unit)} and you weigh {mass(body_kg, unit)}, "
        "so the band would take nothing off. Look again, or tell me your weight: bw 71.4"
    )


def _pulley(pulley: PulleyOwned, unit: Unit) -> str:
    return f"pulley {mass(pulley.hung_kg, unit)} takes {mass(pulley.taken_kg, unit)}"


def pulley_line(pulley: PulleyOwned | None, unit: Unit) -> str:
    """A pulley as noted, with what its bar has to carry."""
    if pulley is None:
        return "No pulley any more."
    hung, taken = mass(pulley.hung_kg, unit), mass(pulley.taken_kg, unit)
    return (
        f"Pulley: {hung} hung takes {taken} off you. The bar it hangs from carries you and the "
        "counterweight both."
    )


def grip_mass_line(what: str, grip: str, kg: Decimal, unit: Unit) -> str:
    """A pin, handle or rating of one grip as noted: "Handle of wide pinch 0.8 kg."."""
    of = "all grips on an edge" if grip == EDGE_GRIP else get_exercise(grip).name
    return f"{what} of {of} {mass(kg, unit)}."


def base_line(kit: Inventory, grip: str, unit: Unit) -> str:
    """What a grip weighs with nothing on it."""
    base = mass(kit.base_kg(grip), unit)
    return f"Pin and handle of {get_exercise(grip).name} weigh {base} together."


def over_rating(kit: Inventory, grip: str, load_kg: Decimal, unit: Unit) -> str | None:
    """That pin or handle may not carry a load, and what they may; None if they may."""
    limit_kg = kit.limit_kg(grip)
    if limit_kg is None or load_kg <= limit_kg:
        return None
    weaker = "handle" if limit_kg == kit.handle_limit_kg(grip) else "pin"
    within = loads_from_floor(kit, grip).at_most(limit_kg)
    instead = f" I ask for {mass(within, unit)} at most." if within is not None else ""
    return (
        f"{mass(load_kg, unit)} is more than the {weaker} of {get_exercise(grip).name} may carry: "
        f"{mass(limit_kg, unit)}.{instead}"
    )


def purchase_line(purchase: Purchase, unit: Unit) -> str:
    """The one thing to buy, and what it would change."""
    if purchase.plate_kg is not None:
        thing = f"a pair of {plate_mass(purchase.plate_kg, unit)} plates"
    else:
        thing = f"a band that takes off about {mass(purchase.help_kg or Decimal(0), unit)}"
    name, net_kg = get_exercise(purchase.exercise).name, purchase.net_kg
    now_kg, then_kg = purchase.step_kg, purchase.next_step_kg
    if then_kg is not None and now_kg is not None and then_kg < now_kg:
        gain = (
            f"{name} could then rise {_percent(then_kg / net_kg)} at its next step instead of "
            f"{_percent(now_kg / net_kg)}"
        )
    elif then_kg is not None and now_kg is None:
        gain = f"{name} has no heavier load now, and could then rise {_percent(then_kg / net_kg)}"
    else:
        gain = (
            f"over eight weeks {name} would then stay within {_percent(purchase.after)} of what "
            f"it may rise to on average, instead of {_percent(purchase.before)}"
        )
    return f"One thing to buy: {thing}. {gain[0].upper()}{gain[1:]}."


def _percent(part: Decimal) -> str:
    whole = part * PERCENT
    return f"{number(round(whole, 0 if whole >= 2 else 1))} %"


def _bar(kit: Inventory, unit: Unit) -> str:
    if kit.bar_limit_kg is None:
        return "bar, rating not given: check its label"
    return f"bar {mass(kit.bar_limit_kg, unit)}" if kit.bar_limit_kg else "no bar"
