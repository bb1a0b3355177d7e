"""What must hold for a well whatever the numbers: bounds of its drawdown, and finite answers throughout."""

import math

import numpy as np
import pytest
from tests.physics.strategies import FLOWS, STEPS, for_all, numbers

from upstroke_service.physics import well

CAPACITIES = numbers(1e-6, 1e-2)
VOLUMES = numbers(1e-3, 2.0)
AREAS = numbers(1e-3, 1.0)
YIELDS = numbers(0.0, 2e-3)


@for_all(FLOWS, CAPACITIES, VOLUMES, AREAS)
def test_a_fill_draws_down_no_more_than_flow_or_volume_allow(
    flow: float, capacity: float, volume: float, area: float
) -> None:
    fall = well.drawdown(flow, capacity, volume, area)
    assert fall <= flow / capacity * (1.0 + 1e-12)
    assert fall <= volume / area * (1.0 + 1e-12)
    assert fall == pytest.approx(min(flow / capacity, volume / area), rel=1e-12)


@for_all(FLOWS, VOLUMES, AREAS)
def test_without_a_specific_capacity_all_water_comes_out_of_the_casing(
    flow: float, volume: float, area: float
) -> None:
    assert well.drawdown(flow, 0.0, volume, area) == pytest.approx(volume / area, rel=1e-12)


@for_all(FLOWS, CAPACITIES, VOLUMES)
def test_without_a_casing_diameter_the_long_run_holds(flow: float, capacity: float, volume: float) -> None:
    assert well.drawdown(flow, capacity, volume, 0.0) == pytest.approx(flow / capacity, rel=1e-12)


@for_all(FLOWS, VOLUMES)
def test_a_well_of_which_nothing_is_known_still_has_a_finite_drawdown(flow: float, volume: float) -> None:
    assert well.drawdown(flow, 0.0, volume, 0.0) == well.DEEPEST


@for_all(FLOWS, STEPS, CAPACITIES, VOLUMES, AREAS)
def test_more_flow_never_draws_down_less(
    flow: float, times: float, capacity: float, volume: float, area: float
) -> None:
    fall = well.drawdown(flow, capacity, volume, area)
    assert fall <= well.drawdown(times * flow, capacity, volume, area)


@for_all(numbers(0.0, 2.0), FLOWS, YIELDS)
def test_a_well_gives_until_it_is_dry_exactly_what_is_taken(
    storage: float, flow: float, sustained_yield: float
) -> None:
    time = float(well.time_until_dry(storage, flow, sustained_yield))
    assert math.isfinite(time)
    if time < well.LASTING:
        given = well.available_volume(storage, sustained_yield, time)
        assert given == pytest.approx(flow * time, rel=1e-6, abs=1e-9)
    else:
        assert sustained_yield >= flow or storage / (flow - sustained_yield) >= well.LASTING


def test_an_empty_casing_is_dry_at_once_unless_the_well_keeps_up() -> None:
    times = well.time_until_dry(0.0, np.array([1e-4, 1e-4]), np.array([5e-5, 1e-4]))
    assert times == pytest.approx([0.0, well.LASTING])
