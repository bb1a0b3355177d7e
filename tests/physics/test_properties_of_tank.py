"""What must hold for tank, weep hole and quadrature whatever the numbers: directions, limits, inverses."""

import math

import numpy as np
import pytest
from hypothesis import strategies as st
from tests.physics.strategies import GAS_EXPONENTS, PRESSURES, STEPS, for_all, numbers

from upstroke_service.physics import fill, tank, weep_hole

DENSITY = 999.1
PRECHARGES = numbers(0.0, 4e5)
ATMOSPHERES = numbers(54_000.0, 106_000.0)
VOLUMES = numbers(0.005, 1.0)
HOLES = numbers(5e-4, 6e-3)


class TestTank:
    @for_all(PRESSURES, PRESSURES, VOLUMES, PRECHARGES, ATMOSPHERES, GAS_EXPONENTS)
    def test_more_pressure_never_stores_less(
        self, one: float, other: float, volume: float, precharge: float, air: float, exponent: float
    ) -> None:
        low, high = sorted((one, other))
        stored_low = tank.stored_volume(low, volume, precharge, air, exponent)
        stored_high = tank.stored_volume(high, volume, precharge, air, exponent)
        assert 0.0 <= stored_low <= stored_high < volume

    @for_all(PRESSURES, PRECHARGES, STEPS, ATMOSPHERES, GAS_EXPONENTS)
    def test_more_precharge_never_stores_more(
        self, pressure: float, precharge: float, step: float, air: float, exponent: float
    ) -> None:
        soft = tank.stored_volume(pressure, 0.1, precharge, air, exponent)
        assert tank.stored_volume(pressure, 0.1, step * precharge, air, exponent) <= soft

    @for_all(PRECHARGES, numbers(0.0, 1.0), ATMOSPHERES, GAS_EXPONENTS)
    def test_nothing_is_stored_up_to_the_precharge(
        self, precharge: float, share: float, air: float, exponent: float
    ) -> None:
        assert tank.stored_volume(share * precharge, 0.1, precharge, air, exponent) == pytest.approx(
            0.0, abs=1e-16
        )

    @for_all(PRECHARGES, numbers(1.0, 9e5), STEPS, ATMOSPHERES, GAS_EXPONENTS)
    def test_each_further_pascal_stores_less(
        self, precharge: float, above: float, step: float, air: float, exponent: float
    ) -> None:
        near = tank.storage_per_pressure(precharge + above, 0.1, precharge, air, exponent)
        far = tank.storage_per_pressure(precharge + step * above, 0.1, precharge, air, exponent)
        assert 0.0 < far < near

    @for_all(PRECHARGES, numbers(1e-3, 1.0))
    def test_below_the_precharge_a_pascal_stores_nothing(self, precharge: float, below: float) -> None:
        assert tank.storage_per_pressure(precharge - below, 0.1, precharge, 101_325.0) == 0.0

    @for_all(numbers(0.0, 9e5), VOLUMES, PRECHARGES, ATMOSPHERES, GAS_EXPONENTS)
    def test_pressure_and_stored_volume_are_inverse(
        self, above: float, volume: float, precharge: float, air: float, exponent: float
    ) -> None:
        stored = tank.stored_volume(precharge + above, volume, precharge, air, exponent)
        back = tank.pressure_at_stored_volume(stored, volume, precharge, air, exponent)
        assert precharge + above == pytest.approx(back, rel=1e-9, abs=1e-6)

    @for_all(VOLUMES, numbers(1.0, 5.0))
    def test_a_tank_full_of_water_would_need_endless_pressure(self, volume: float, times: float) -> None:
        assert tank.pressure_at_stored_volume(times * volume, volume, 2e5, 101_325.0) == math.inf

    @for_all(VOLUMES, PRECHARGES, numbers(0.0, 4e5), numbers(1e3, 4e5), ATMOSPHERES, GAS_EXPONENTS)
    def test_the_tank_for_a_drawdown_gives_that_drawdown(
        self, volume: float, precharge: float, start: float, above: float, air: float, exponent: float
    ) -> None:
        end = max(start, precharge) + above
        drawdown = volume * tank.drawdown_factor(start, end, precharge, air, exponent)
        found = tank.total_volume_for_drawdown(drawdown, start, end, precharge, air, exponent)
        assert volume == pytest.approx(found, rel=1e-12)

    @for_all(PRESSURES, PRESSURES, PRESSURES, PRECHARGES, ATMOSPHERES, GAS_EXPONENTS)
    def test_gas_work_adds_up_along_the_way(
        self, one: float, two: float, three: float, precharge: float, air: float, exponent: float
    ) -> None:
        low, middle, high = sorted((one, two, three))

        def work(start: float, end: float) -> float:
            return float(tank.gas_work(start, end, 0.1, precharge, air, exponent))

        assert work(low, high) == pytest.approx(work(low, middle) + work(middle, high), rel=1e-9, abs=1e-6)

    @for_all(PRECHARGES, numbers(0.0, 4e5), numbers(1.0, 4e5), ATMOSPHERES, st.sampled_from([1.0, 1.1, 1.4]))
    def test_gas_work_lies_between_the_first_and_the_last_pressure_times_the_volume(
        self, precharge: float, above: float, further: float, air: float, exponent: float
    ) -> None:
        start, end = precharge + above, precharge + above + further
        volume = 0.1 * tank.drawdown_factor(start, end, precharge, air, exponent)
        work = tank.gas_work(start, end, 0.1, precharge, air, exponent)
        assert start * volume - 1e-6 <= work <= end * volume + 1e-6

    @for_all(numbers(0.05, 1.0), PRESSURES, VOLUMES, ATMOSPHERES, GAS_EXPONENTS)
    def test_air_that_was_found_takes_up_its_share_at_its_pressure(
        self, share: float, pressure: float, volume: float, air: float, exponent: float
    ) -> None:
        precharge = tank.precharge_of_air(share, pressure, air, exponent)
        stored = tank.stored_volume(pressure, volume, precharge, air, exponent)
        assert (1.0 - share) * volume == pytest.approx(stored, rel=1e-9, abs=1e-12)

    @for_all(PRECHARGES, numbers(250.0, 320.0), numbers(250.0, 320.0), ATMOSPHERES)
    def test_warmer_air_has_more_pressure_and_gets_it_back_when_it_cools(
        self, precharge: float, one: float, other: float, air: float
    ) -> None:
        cold, warm = sorted((one, other))
        warmed = tank.precharge_at_temperature(precharge, cold, warm, air)
        assert warmed >= precharge - 1e-6
        assert precharge == pytest.approx(
            tank.precharge_at_temperature(warmed, warm, cold, air), rel=1e-12, abs=1e-6
        )

    @for_all(PRESSURES, PRECHARGES, ATMOSPHERES, GAS_EXPONENTS)
    def test_any_fill_stores_between_the_adiabatic_and_the_isothermal_one(
        self, pressure: float, precharge: float, air: float, exponent: float
    ) -> None:
        fast, some, slow = (
            tank.stored_volume(pressure, 0.1, precharge, air, n) for n in (1.4, exponent, 1.0)
        )
        # (1 − x^(1/1.4))/(1 − x) is never below 1/1.4.
        assert slow / 1.4 - 1e-15 <= fast <= some + 1e-15
        assert some <= slow + 1e-15

    def test_parallel_tanks_are_one_tank_of_their_total_volume(self) -> None:
        three = sum(tank.stored_volume(3e5, volume, 2e5, 101_325.0) for volume in (0.02, 0.05, 0.08))
        assert three == pytest.approx(tank.stored_volume(3e5, 0.15, 2e5, 101_325.0), rel=1e-14)


class TestWeepHole:
    @for_all(PRESSURES, HOLES, STEPS)
    def test_more_pressure_and_a_larger_hole_never_leak_less(
        self, pressure: float, diameter: float, step: float
    ) -> None:
        leak = weep_hole.discharge(pressure, diameter, 0.62, DENSITY)
        assert weep_hole.discharge(step * pressure, diameter, 0.62, DENSITY) >= leak
        assert weep_hole.discharge(pressure, step * diameter, 0.62, DENSITY) >= leak

    @for_all(numbers(-1e5, 0.0), HOLES)
    def test_no_water_leaks_without_pressure(self, pressure: float, diameter: float) -> None:
        assert weep_hole.discharge(pressure, diameter, 0.8, DENSITY) == 0.0

    @for_all(numbers(1e5, 2e5), numbers(1e3, 2e5), numbers(1e3, 2e5), GAS_EXPONENTS, numbers(0.0, 5e4))
    def test_draining_in_two_steps_takes_as_long_as_in_one(
        self, end: float, first: float, second: float, exponent: float, static: float
    ) -> None:
        def time(high: float, low: float) -> float:
            drained = weep_hole.time_to_drain(
                0.0757, 9e4, high, low, 1.5875e-3, 0.62, DENSITY, 101_325.0, exponent, static
            )
            return float(drained)

        whole = time(end + first + second, end)
        assert whole == pytest.approx(
            time(end + first + second, end + first) + time(end + first, end), rel=1e-9
        )

    @for_all(numbers(1e5, 4e5), STEPS)
    def test_time_to_drain_is_that_of_the_tank_s_volume_and_the_hole_s_area(
        self, start: float, step: float
    ) -> None:
        def time(volume: float, hole: float) -> float:
            return float(weep_hole.time_to_drain(volume, 9e4, start, 9e4, hole, 0.62, DENSITY, 101_325.0))

        assert step * time(0.05, 2e-3) == pytest.approx(time(step * 0.05, 2e-3), rel=1e-12)
        assert time(0.05, 2e-3) / step**2 == pytest.approx(time(0.05, step * 2e-3), rel=1e-12)

    @for_all(numbers(0.0, 2e5))
    def test_a_tank_below_its_precharge_has_nothing_to_drain(self, start: float) -> None:
        assert weep_hole.time_to_drain(0.05, 2e5, start, 0.0, 2e-3, 0.62, DENSITY, 101_325.0) == 0.0

    def test_an_empty_plain_tank_has_nothing_to_drain(self) -> None:
        assert weep_hole.time_to_drain(0.05, 0.0, 0.0, 0.0, 2e-3, 0.62, DENSITY, 101_325.0) == 0.0

    def test_a_plain_tank_drains_to_nothing_in_the_time_of_the_exact_integral(self) -> None:
        # ∫ dp/((p + a)²·√p) from 0 = √p/(a(p + a)) + atan(√(p/a))/a^1.5, precharge 0.
        air, start, volume, hole = 101_325.0, 3e5, 0.0757, 1.6e-3
        integral = math.sqrt(start) / (air * (start + air)) + math.atan(math.sqrt(start / air)) / air**1.5
        exact = volume * air * integral / (0.62 * math.pi / 4.0 * hole**2 * math.sqrt(2.0 / 1000.0))
        actual = weep_hole.time_to_drain(volume, 0.0, start, 0.0, hole, 0.62, 1000.0, air)
        assert exact == pytest.approx(actual, rel=1e-6)


class TestPanels:
    edges = st.lists(numbers(-1e3, 1e3), min_size=2, max_size=6).map(sorted)

    @for_all(edges, st.integers(1, 16))
    def test_the_weights_add_up_to_the_span_and_the_nodes_lie_in_it(
        self, edges: list[float], order: int
    ) -> None:
        nodes, weights = fill.panels(np.array(edges), order)
        assert nodes.shape == weights.shape == ((len(edges) - 1) * order,)
        assert edges[-1] - edges[0] == pytest.approx(np.sum(weights), rel=1e-12, abs=1e-12)
        assert np.all((nodes >= edges[0]) & (nodes <= edges[-1]))
        assert np.all(np.diff(nodes) >= 0.0)

    @for_all(numbers(-10.0, 10.0), st.integers(1, 8))
    def test_an_empty_panel_adds_nothing(self, edge: float, order: int) -> None:
        _, weights = fill.panels(np.array([edge, edge]), order)
        assert np.all(weights == 0.0)
