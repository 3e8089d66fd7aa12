"""Rules that are published, against what was published."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from core.athlete import Athlete, DatedLog
from core.facts import Logged, PlateCount, SetDone
from core.kit.inventory import Inventory
from core.progression import next_targets
from core.sources import SOURCES

DAY = date(2026, 12, 1)
KILOS = Inventory(plates=(PlateCount(Decimal(20), 2), PlateCount(Decimal(1), 4)))


def after(effort: str, load: str, athlete: Athlete) -> Decimal:
    sets = (SetDone("left", Decimal(load), hold_s=10, effort=effort),) * 4  # type: ignore[arg-type]
    log = DatedLog(1, DAY, Logged("half-crimp", None, sets, (), None, ""))
    load_kg = next_targets(replace(athlete, logs=(log,)), "half-crimp", today=DAY)[0].load_kg
    assert load_kg is not None
    return load_kg


@pytest.mark.parametrize("effort", ["easy", "ok"])
def test_a_step_lies_within_two_to_ten_percent(effort) -> None:
    # American College of Sports Medicine, Med Sci Sports Exerc 2009;41(3):687-708: 2 to 10 %
    # (summary seen). By hand: 40 kg -> 40.8 to 44.0 kg.
    load_kg = after(effort, "40", Athlete(kit=KILOS))
    assert Decimal("40.8") <= load_kg <= Decimal(44)


@pytest.mark.parametrize("age", [10, 14, 15])
def test_under_16_no_finger_strength_training(age) -> None:
    # Morrison AB, Schoffl VR. Br J Sports Med 2007;41(12):852-861 (seen).
    target = next_targets(Athlete(kit=KILOS, age=age), "half-crimp", today=DAY)[0]
    assert target.change == "stopped"
    cited = target.reasons[0].get("source")
    assert cited == "morrison_schoffl_2007"
    assert "2007;41(12):852-861" in SOURCES[cited].cite
