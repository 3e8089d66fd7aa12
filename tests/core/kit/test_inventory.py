"""What an athlete owns after a change, and what each grip weighs and carries."""

from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.facts import (
    EDGE_GRIP,
    BandOwned,
    GripMass,
    KitChanged,
    PlateCount,
    PulleyOwned,
    paired,
)
from core.kit.inventory import Inventory, inventory_after
from core.kit.loads import loads_from_floor
from core.quantity import POUND_KG, plain


def after(*changes: KitChanged) -> Inventory:
    kit = Inventory()
    for change in changes:
        kit = inventory_after(kit, change)
    return kit


def mass(grip: str, kg: str) -> GripMass:
    return GripMass(grip, Decimal(kg))


def test_a_handle_comes_on_top_of_the_pin_of_its_grip() -> None:
    kit = after(
        KitChanged(pin_kg=Decimal("1.2")),
        KitChanged(handle=mass("wide-pinch", "0.8")),
        KitChanged(pin=mass("rolling-handle", "2.4")),
        KitChanged(handle=mass("rolling-handle", "0.5")),
    )
    # By hand: 1.2; 1.2 + 0.8; 2.4 + 0.5.
    assert kit.base_kg("half-crimp") == Decimal("1.2")
    assert kit.base_kg("wide-pinch") == Decimal(2)
    assert kit.base_kg("rolling-handle") == Decimal("2.9")
    assert kit.base_kg(None) == Decimal("1.2")


def test_a_mass_told_anew_replaces_the_old_one() -> None:
    kit = after(
        KitChanged(handle=mass("wide-pinch", "0.8")), KitChanged(handle=mass("wide-pinch", "0.9"))
    )
    assert kit.handles == (mass("wide-pinch", "0.9"),)


def test_one_edge_is_the_handle_of_all_grips_held_on_it_but_those_told_apart() -> None:
    kit = after(
        KitChanged(handle=mass(EDGE_GRIP, "0.7")), KitChanged(handle=mass("open-hand", "0.9"))
    )
    assert [kit.base_kg(g) for g in ("half-crimp", "repeaters", "open-hand", "wide-pinch")] == [
        Decimal("0.7"),
        Decimal("0.7"),
        Decimal("0.9"),
        Decimal(0),
    ]


@pytest.mark.parametrize(
    ("grip", "limit"),
    [("half-crimp", "60"), ("wide-pinch", "40"), ("rolling-handle", "30"), ("narrow-pinch", "50")],
)
def test_the_weaker_of_pin_and_handle_limits_the_grip(grip, limit) -> None:
    kit = after(
        KitChanged(pin_limit_kg=Decimal(60)),
        KitChanged(handle_limit=mass("wide-pinch", "40")),
        KitChanged(own_pin_limit=mass("rolling-handle", "30")),
        KitChanged(own_pin_limit=mass("narrow-pinch", "50")),
        KitChanged(handle_limit=mass("narrow-pinch", "80")),
    )
    assert kit.limit_kg(grip) == Decimal(limit)
    assert Inventory().limit_kg(grip) is None


def test_a_dropped_band_takes_its_pairs_with_it() -> None:
    kit = after(
        KitChanged(band=BandOwned("green", Decimal(12))),
        KitChanged(band=BandOwned("red", Decimal(8))),
        KitChanged(band=BandOwned(paired("red", "green"), Decimal(19))),
        KitChanged(drop_band="green"),
    )
    assert [b.name for b in kit.bands] == ["red"]


def test_plates_are_added_and_taken_away_by_mass_and_stand_heaviest_first() -> None:
    two, five, ten = (PlateCount(Decimal(kg), n) for kg, n in (("2.5", 2), ("5", 1), ("10", 3)))
    kit = after(KitChanged(plates=(two, ten)), KitChanged(plates=(five, two), change="add"))
    assert kit.plates == (ten, five, PlateCount(Decimal("2.5"), 4))
    fewer = KitChanged(
        plates=(PlateCount(Decimal(10), 1), PlateCount(Decimal(5), 2)), change="remove"
    )
    assert inventory_after(kit, fewer).plates == (
        PlateCount(Decimal(10), 2),
        PlateCount(Decimal("2.5"), 4),
    )


def test_a_pulley_comes_and_goes() -> None:
    owned = KitChanged(pulley=PulleyOwned(Decimal(20), Decimal(18)))
    assert after(owned).pulley == PulleyOwned(Decimal(20), Decimal(18))
    assert after(owned, KitChanged(drop_pulley=True)).pulley is None


plate = st.one_of(
    st.sampled_from(("0.5", "1.25", "2.5", "5")).map(Decimal),
    st.sampled_from(("1.25", "2.5", "10")).map(lambda lb: Decimal(lb) * POUND_KG),
)
grams = st.integers(0, 2500).map(lambda g: Decimal(g).scaleb(-3))


@given(
    st.dictionaries(plate, st.integers(1, 2), min_size=1, max_size=5),
    grams,
    grams,
    st.integers(2, 20),
)
@settings(max_examples=60, deadline=None)
def test_loads_of_a_grip_are_all_picks_of_plates_with_pin_and_handle(
    plates, pin_kg, handle_kg, limit
) -> None:
    """By exhaustive search, plates in kilograms and pounds mixed."""
    kit = Inventory(
        plates=tuple(PlateCount(kg, n) for kg, n in sorted(plates.items(), reverse=True)),
        pin_kg=pin_kg,
        handles=(GripMass("wide-pinch", handle_kg),),
        handle_limits=(GripMass("wide-pinch", Decimal(limit)),),
    )
    picks = product(*(range(n + 1) for n in plates.values()))
    sums = (sum(k * kg for k, kg in zip(pick, plates, strict=True)) for pick in picks)
    expected = {plain(pin_kg + handle_kg + s) for s in sums}
    loads = loads_from_floor(kit, "wide-pinch")
    assert set(loads.totals_kg) == {kg for kg in expected if 0 < kg <= limit}
    for load_kg in loads.totals_kg:
        assert sum(loads.plates_for(load_kg), loads.base_kg) == load_kg
