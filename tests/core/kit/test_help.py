"""Loads on the body: bands, nothing, a belt, and what the bar carries."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import OutOfRange
from core.facts import BandOwned, PlateCount, PulleyOwned
from core.kit.help import BodyLoad, band_help_kg, band_names, body_loads
from core.kit.inventory import Inventory
from core.quantity import POUND_KG

KIT = Inventory(
    plates=(PlateCount(Decimal(5), 1), PlateCount(Decimal("1.25"), 2)),
    bar_limit_kg=Decimal(80),
    bands=(BandOwned("red", Decimal(8)), BandOwned("green", Decimal(20))),
)


def dec(*numbers: str) -> tuple[Decimal, ...]:
    return tuple(Decimal(n) for n in numbers)


def test_options_run_from_most_help_over_nothing_to_most_weight() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.totals_kg == dec("-28", "-20", "-8", "0", "1.25", "2.5", "5", "6.25", "7.5")


def test_neighbours_step_from_band_to_band_to_nothing_to_plates() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    steps = [loads.step_above(kg) for kg in dec("-30", "-28", "-20", "-9", "-8", "0", "1")]
    assert tuple(steps) == dec("-28", "-20", "-8", "-8", "0", "1.25", "1.25")
    assert loads.step_above(Decimal("7.5")) is None
    back = [loads.step_below(kg) for kg in dec("2.5", "1.25", "0", "-8", "-20")]
    assert tuple(back) == dec("1.25", "0", "-8", "-20", "-28")
    assert loads.step_below(Decimal(-28)) is None


def test_a_load_between_two_options_falls_to_the_easier_one() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.at_most(Decimal(-10)) == -20
    assert loads.at_most(Decimal("-0.5")) == -8
    assert loads.at_most(Decimal(1)) == 0
    assert loads.at_most(Decimal(-21)) == -28
    assert loads.at_most(Decimal(-29)) is None


def test_bands_make_help_and_plates_make_a_weight() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.option_for(Decimal(-8)) == BodyLoad(Decimal(-8), "red", ())
    assert loads.option_for(Decimal(-28)) == BodyLoad(Decimal(-28), "green + red", ())
    assert loads.option_for(Decimal(0)) == BodyLoad(Decimal(0), None, ())
    assert loads.option_for(Decimal("6.25")).plates_kg == dec("5", "1.25")
    with pytest.raises(OutOfRange):
        loads.option_for(Decimal(-9))


def test_body_and_load_stay_within_what_the_bar_carries() -> None:
    # By hand: 80 kg bar, 76 kg body: at most 4 kg may be added.
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(76))
    assert loads.totals_kg == dec("-28", "-20", "-8", "0", "1.25", "2.5")
    assert loads.at_most(Decimal(50)) == Decimal("2.5")
    assert loads.step_above(Decimal("2.5")) is None
    assert loads.is_capped(Decimal("2.5"))


@pytest.mark.parametrize("takes_help", [True, False])
def test_a_band_on_the_bar_takes_nothing_off_it(takes_help) -> None:
    loads = body_loads(KIT, takes_help=takes_help, body_kg=Decimal(85))
    assert loads.totals_kg == ()
    assert loads.at_most(Decimal(0)) is None
    assert loads.lightest_kg is None


def test_without_a_body_weight_no_limit_is_checked() -> None:
    assert body_loads(KIT, takes_help=False, body_kg=None).most_kg is None


def test_without_known_bands_or_plates_only_loads_used_before_exist() -> None:
    used = dec("-12", "5", "-8")
    loads = body_loads(Inventory(), takes_help=True, body_kg=Decimal(60), used_kg=used)
    assert loads.totals_kg == dec("-12", "-8", "0", "5")
    assert [loads.at_most(kg) for kg in dec("-10", "-12", "4", "6")] == list(
        dec("-12", "-12", "0", "5")
    )
    assert loads.at_most(Decimal(-13)) is None
    assert loads.option_for(Decimal(-12)) == BodyLoad(Decimal(-12), None, ())
    assert [loads.step_above(kg) for kg in dec("-12", "-8", "0")] == list(dec("-8", "0", "5"))
    assert loads.step_above(Decimal(5)) is None
    assert [loads.step_below(kg) for kg in dec("5", "0")] == list(dec("0", "-8"))
    assert [loads.is_known(kg) for kg in dec("-12", "0", "5")] == [False, True, False]
    with pytest.raises(OutOfRange):
        loads.option_for(Decimal(-10))


def test_loads_used_before_do_not_count_beside_known_bands_and_plates() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60), used_kg=dec("-12", "3"))
    assert loads.totals_kg == dec("-28", "-20", "-8", "0", "1.25", "2.5", "5", "6.25", "7.5")


# --- two bands, the belt, the pulley -----------------------------------------------------------


@given(
    st.dictionaries(st.sampled_from("abcdef"), st.integers(1, 40), max_size=5),
    st.dictionaries(
        st.tuples(st.sampled_from("abcdef"), st.sampled_from("abcdef")).filter(
            lambda pair: pair[0] < pair[1]
        ),
        st.integers(1, 60),
        max_size=2,
    ),
)
def test_help_is_one_band_or_two_measured_together_or_summed(single, together) -> None:
    """By exhaustive search: every set of one or two bands, the measured pairs as measured."""
    bands = [BandOwned(name, Decimal(kg)) for name, kg in single.items()]
    bands += [BandOwned(" + ".join(pair), Decimal(kg)) for pair, kg in together.items()]
    expected = {Decimal(-kg) for kg in (*single.values(), *together.values())}
    for one in single:
        for other in single:
            if one < other:
                expected.add(Decimal(-together.get((one, other), single[one] + single[other])))
    kit = Inventory(bands=tuple(bands))
    loads = body_loads(kit, takes_help=True, body_kg=Decimal(60))
    assert loads.totals_kg == (*sorted(expected), 0)
    for kg in expected:
        option = loads.option_for(kg)
        assert option.band is not None
        assert band_help_kg(kit, option.band) == -kg


def test_two_bands_are_known_by_their_names_in_either_order() -> None:
    assert band_help_kg(KIT, "red + green") == band_help_kg(KIT, "green + red") == 28
    assert band_help_kg(KIT, "red + blue") is None
    assert band_help_kg(KIT, "blue") is None


def test_a_first_session_begins_with_one_band() -> None:
    assert body_loads(KIT, takes_help=True, body_kg=Decimal(60)).start_kg == -20


def test_the_belt_weighs_too_and_nothing_on_it_is_no_belt() -> None:
    kit = Inventory(plates=(PlateCount(Decimal(5), 1),), belt_kg=Decimal("0.6"))
    loads = body_loads(kit, takes_help=True, body_kg=Decimal(60))
    assert loads.totals_kg == dec("0", "0.6", "5.6")
    assert [loads.step_below(kg) for kg in dec("5.6", "0.6")] == list(dec("0.6", "0"))
    assert loads.option_for(Decimal("5.6")) == BodyLoad(
        Decimal("5.6"), None, dec("5"), Decimal("0.6")
    )
    assert loads.option_for(Decimal(0)) == BodyLoad(Decimal(0), None, ())


PULLEY = PulleyOwned(Decimal(20), Decimal(18))
HUNG = (PlateCount(Decimal(10), 1), PlateCount(Decimal(5), 1), PlateCount(Decimal("2.5"), 1))


def test_a_counterweight_takes_off_what_was_measured() -> None:
    # By hand: nine tenths of 2.5, 5, 7.5, 10, 12.5, 15 and 17.5.
    kit = Inventory(plates=HUNG, pulley=PULLEY)
    loads = body_loads(kit, takes_help=True, body_kg=Decimal(60))
    helped = [kg for kg in loads.totals_kg if kg < 0]
    assert tuple(helped) == dec("-15.75", "-13.5", "-11.25", "-9", "-6.75", "-4.5", "-2.25")
    assert loads.option_for(Decimal("-11.25")) == BodyLoad(
        Decimal("-11.25"), None, dec("10", "2.5")
    )
    # A quarter of 60 kg is 15: the least help not under it.
    assert loads.start_kg == Decimal("-15.75")
    assert body_loads(kit, takes_help=False, body_kg=Decimal(60)).totals_kg[0] == 0


@given(st.integers(1, 50), st.integers(1, 50), st.integers(1, 3), st.integers(0, 30), st.booleans())
def test_band_and_pulley_never_help_together(hung, taken, count, room, banded) -> None:
    """By exhaustive search over the counterweights, to half a gram."""
    plates = (PlateCount(Decimal(5), count), PlateCount(POUND_KG * 5, 1))
    bands = (BandOwned("red", Decimal(8)),) if banded else ()
    pulley = PulleyOwned(Decimal(hung), Decimal(taken))
    kit = Inventory(plates=plates, bands=bands, pulley=pulley, bar_limit_kg=Decimal(60 + room))
    loads = body_loads(kit, takes_help=True, body_kg=Decimal(60))
    sums = [5 * n + lb for n in range(count + 1) for lb in (0, POUND_KG * 5) if 5 * n + lb]
    # The bar carries body and counterweight both.
    sums = [Decimal(s) for s in sums if s <= room]
    helps = [help_kg for s in sums if (help_kg := s * taken / hung) <= 150]
    wanted = sorted({*(-h for h in helps), *((-Decimal(8),) if banded else ())})
    helped = [kg for kg in loads.totals_kg if kg < 0]
    assert all(any(abs(kg - exact) <= Decimal("0.0005") for exact in wanted) for kg in helped)
    assert all(any(abs(kg - exact) <= Decimal("0.0005") for kg in helped) for exact in wanted)
    for kg in helped:
        option = loads.option_for(kg)
        assert (option.band is None) != (option.plates_kg == ())
        if option.plates_kg:
            assert abs(sum(option.plates_kg) * taken / hung + kg) <= Decimal("0.0005")


def test_help_is_known_by_bands_or_a_pulley_and_a_weight_by_plates() -> None:
    bands = Inventory(bands=KIT.bands)
    known = body_loads(bands, takes_help=True, body_kg=None)
    assert [known.is_known(kg) for kg in dec("-8", "0", "5")] == [True, True, False]
    known = body_loads(Inventory(plates=HUNG), takes_help=True, body_kg=None)
    assert [known.is_known(kg) for kg in dec("-8", "0", "5")] == [False, True, True]
    known = body_loads(Inventory(plates=HUNG, pulley=PULLEY), takes_help=True, body_kg=None)
    assert [known.is_known(kg) for kg in dec("-8", "0", "5")] == [True, True, True]


def test_bands_and_pulley_take_turns_from_step_to_step() -> None:
    # By hand: 10 kg hung take 9 off; the band takes 8 off, and nothing else is there.
    kit = Inventory(
        plates=(PlateCount(Decimal(10), 1),),
        pulley=PULLEY,
        bands=(BandOwned("red", Decimal(8)),),
    )
    loads = body_loads(kit, takes_help=True, body_kg=Decimal(60))
    assert loads.totals_kg == dec("-9", "-8", "0", "10")
    assert [loads.step_above(kg) for kg in dec("-20", "-9", "-8.5", "-8")] == list(
        dec("-9", "-8", "-8", "0")
    )
    assert [loads.step_below(kg) for kg in dec("10", "0", "-8")] == list(dec("0", "-8", "-9"))
    assert loads.step_below(Decimal(-9)) is None
    assert (loads.lightest_kg, loads.at_most(Decimal("-8.4"))) == (-9, -9)


def test_among_loads_used_before_the_neighbours_are_the_nearest() -> None:
    loads = body_loads(
        Inventory(), takes_help=True, body_kg=None, used_kg=dec("3", "8", "5", "-4", "-9")
    )
    assert [loads.step_above(kg) for kg in dec("0", "3", "4", "8")] == [3, 5, 5, None]
    assert [loads.step_below(kg) for kg in dec("8", "5", "3", "0", "-4")] == [5, 3, 0, -4, -9]


def test_without_help_only_a_weight_used_before_counts() -> None:
    loads = body_loads(Inventory(), takes_help=False, body_kg=None, used_kg=dec("-4", "0", "3"))
    assert loads.totals_kg == dec("0", "3")
    assert (loads.lightest_kg, loads.start_kg) == (0, 0)


def test_without_bands_and_plates_a_first_session_begins_with_the_most_help_used() -> None:
    loads = body_loads(Inventory(), takes_help=True, body_kg=None, used_kg=dec("-4", "-9", "3"))
    assert loads.start_kg == -9
    assert body_loads(Inventory(), takes_help=True, body_kg=None, used_kg=dec("3")).start_kg == 0


def test_bands_known_only_together_are_a_start_too() -> None:
    pair = BandOwned("green + red", Decimal(19))
    loads = body_loads(Inventory(bands=(pair,)), takes_help=True, body_kg=None)
    assert loads.start_kg == -19
    more = (pair, BandOwned("blue + red", Decimal(15)))
    assert body_loads(Inventory(bands=more), takes_help=True, body_kg=None).start_kg == -19


def test_a_start_by_pulley_without_a_body_weight_takes_a_quarter_of_seventy() -> None:
    # By hand: 17.5 kg; 10 + 5 + 2.5 take off just that, and 20 kg would be the next.
    plates = (PlateCount(Decimal(20), 1), *HUNG)
    kit = Inventory(plates=plates, pulley=PulleyOwned(Decimal(1), Decimal(1)))
    assert body_loads(kit, takes_help=True, body_kg=None).start_kg == Decimal("-17.5")


def test_the_names_of_all_bands_are_those_alone_and_those_in_pairs_once_each() -> None:
    bands = (*KIT.bands, BandOwned("blue + red", Decimal(30)))
    assert band_names(Inventory(bands=bands)) == ("red", "green", "blue")


def test_the_bar_forbids_what_the_plates_would_make_and_nothing_else_is_capped() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(76))
    assert [loads.is_capped(kg) for kg in dec("-8", "0", "1.25", "2.5", "7.5")] == [
        False,
        False,
        False,
        True,
        False,
    ]
    # Body and load may weigh just what the bar carries: 80 - 75 leaves 5.
    exact = body_loads(KIT, takes_help=True, body_kg=Decimal(75))
    assert exact.totals_kg[-1] == exact.at_most(Decimal(9)) == 5


def test_a_first_session_begins_with_one_band_where_two_were_measured_together_too() -> None:
    bands = (*KIT.bands, BandOwned("green + red", Decimal(27)))
    assert body_loads(Inventory(bands=bands), takes_help=True, body_kg=None).start_kg == -20


def test_counterweights_a_gram_apart_are_told_apart() -> None:
    # By hand: 1.001 kg take 0.9009 off, 0.901 to the gram; 2.205 lb are 1.00017 kg and take
    # 0.90015 off, 0.900 to the gram.
    fine = (PlateCount(Decimal("1.001"), 1), PlateCount(POUND_KG * Decimal("2.205"), 1))
    loads = body_loads(Inventory(plates=fine, pulley=PULLEY), takes_help=True, body_kg=None)
    assert loads.totals_kg[1:3] == dec("-0.901", "-0.9")
    assert loads.option_for(Decimal("-0.901")).plates_kg == dec("1.001")
    assert loads.option_for(Decimal("-0.9")).plates_kg == (fine[1].kg,)
