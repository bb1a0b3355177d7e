"""What must hold for force, work and cadence whatever the numbers: directions, limits, conservation."""

import math

import pytest
from tests.physics.strategies import STEPS, for_all, numbers

from upstroke_service.physics import cadence, cylinder, effort, friction, operator

DENSITY = 999.1
GAMMA = DENSITY * 9.80665
FORCES = numbers(0.0, 3_000.0)


class TestCylinder:
    @for_all(numbers(0.02, 0.1), numbers(0.0, 0.5))
    def test_displacement_is_area_times_stroke(self, bore: float, stroke: float) -> None:
        assert cylinder.plunger_area(bore) * stroke == pytest.approx(
            cylinder.displacement(bore, stroke), rel=1e-15
        )
        assert math.pi * (bore / 2.0) ** 2 == pytest.approx(cylinder.plunger_area(bore), rel=1e-14)


class TestEffort:
    lifts, head_pressures = numbers(0.0, 80.0), numbers(0.0, 7e5)
    bores, rods = numbers(0.03, 0.08), numbers(0.006, 0.016)

    @for_all(lifts, head_pressures, bores, rods, STEPS)
    def test_more_head_never_takes_less_force(
        self, lift: float, pressure: float, bore: float, rod: float, step: float
    ) -> None:
        plunger, rod_area = cylinder.plunger_area(bore), friction.circular_area(rod)

        def force(lift: float, pressure: float) -> float:
            return float(effort.upstroke_force(lift, pressure, plunger, rod_area, GAMMA, 60.0, 40.0))

        assert force(step * lift, pressure) >= force(lift, pressure)
        assert force(lift, step * pressure) >= force(lift, pressure)
        assert effort.return_force(step * pressure, rod_area, 60.0, 40.0) >= effort.return_force(
            pressure, rod_area, 60.0, 40.0
        )

    @for_all(lifts, head_pressures, bores, rods, numbers(0.0, 200.0), numbers(0.0, 80.0), numbers(0.5, 1.0))
    def test_the_operator_never_does_less_work_than_the_water_receives(
        self,
        lift: float,
        pressure: float,
        bore: float,
        rod: float,
        weight: float,
        drag: float,
        efficiency: float,
    ) -> None:
        stroke, plunger, rod_area = 0.2, cylinder.plunger_area(bore), friction.circular_area(rod)
        upstroke = effort.upstroke_force(lift, pressure, plunger, rod_area, GAMMA, weight, drag)
        returning = effort.return_force(pressure, rod_area, weight, drag)
        work = effort.work_per_cycle(upstroke, returning, stroke, efficiency)
        received = (GAMMA * lift + pressure) * plunger * stroke
        assert work * efficiency >= received * (1.0 - 1e-12)

    @for_all(lifts, head_pressures, bores, rods)
    def test_an_ideal_pump_gives_the_water_all_the_work(
        self, lift: float, pressure: float, bore: float, rod: float
    ) -> None:
        # No drag, a weightless rod, a handle without friction: force and work come from one balance.
        stroke, plunger, rod_area = 0.2, cylinder.plunger_area(bore), friction.circular_area(rod)
        upstroke = effort.upstroke_force(lift, pressure, plunger, rod_area, GAMMA, 0.0, 0.0)
        work = effort.work_per_cycle(upstroke, effort.return_force(pressure, rod_area, 0.0, 0.0), stroke, 1.0)
        received = GAMMA * lift * cylinder.displacement(bore, stroke) + pressure * cylinder.displacement(
            bore, stroke
        )
        assert received == pytest.approx(work, rel=1e-12)

    @for_all(FORCES, numbers(1.0, 12.0), numbers(0.5, 1.0), STEPS)
    def test_a_longer_handle_takes_less_force(
        self, force: float, ratio: float, efficiency: float, step: float
    ) -> None:
        assert effort.hand_force(force, step * ratio, efficiency) <= effort.hand_force(
            force, ratio, efficiency
        )
        assert force == pytest.approx(
            effort.hand_force(force, ratio, efficiency) * ratio * efficiency, rel=1e-14
        )

    @for_all(rods, numbers(0.0, 100.0))
    def test_a_rod_as_dense_as_water_weighs_nothing(self, rod: float, length: float) -> None:
        assert effort.buoyant_rod_weight(rod, length, DENSITY, DENSITY) == 0.0


class TestCadence:
    powers, works = numbers(5.0, 200.0), numbers(1.0, 400.0)
    linear, quadratic = numbers(0.0, 100.0), numbers(0.0, 200.0)
    slowest, ratios = numbers(0.2, 0.5), numbers(1.0, 3.0)

    @for_all(powers, works, linear, quadratic, slowest, ratios)
    def test_the_operator_is_never_asked_for_more_power_than_is_sustained(
        self, power: float, work: float, linear: float, quadratic: float, slowest: float, ratio: float
    ) -> None:
        preferred = ratio * slowest
        effective = float(cadence.sustained_cadence(power, work, linear, quadratic, slowest, preferred))
        pumping = max(effective, slowest)
        above = pumping - slowest
        spent = (work + linear * above + quadratic * above**2) * effective
        assert 0.0 < effective <= preferred
        assert spent <= power * (1.0 + 1e-6)

    @for_all(powers, works, linear, quadratic, slowest, ratios)
    def test_the_operator_slows_only_where_power_runs_out(
        self, power: float, work: float, linear: float, quadratic: float, slowest: float, ratio: float
    ) -> None:
        preferred = ratio * slowest
        effective = float(cadence.sustained_cadence(power, work, linear, quadratic, slowest, preferred))
        pumping = max(effective, slowest)
        above = pumping - slowest
        spent = (work + linear * above + quadratic * above**2) * effective
        assert effective == preferred or spent == pytest.approx(power, rel=1e-6)

    @for_all(powers, works, linear, quadratic, STEPS)
    def test_more_power_is_never_slower_and_more_work_never_faster(
        self, power: float, work: float, linear: float, quadratic: float, step: float
    ) -> None:
        def effective(power: float, work: float) -> float:
            return float(cadence.sustained_cadence(power, work, linear, quadratic, 1.0 / 3.0, 2.0 / 3.0))

        assert effective(step * power, work) >= effective(power, work) * (1.0 - 1e-9)
        assert effective(power, step * work) <= effective(power, work) * (1.0 + 1e-9)


class TestOperator:
    @for_all(numbers(60.0, 28_800.0), numbers(60.0, 28_800.0))
    def test_the_longer_the_work_the_less_the_power(self, one: float, other: float) -> None:
        short, long = sorted((one, other))
        assert operator.krendel_power(short) >= operator.krendel_power(long) > 0.0

    @pytest.mark.parametrize(("minutes", "horsepower"), [(5.0, 0.5), (150.0, 0.4), (480.0, 0.2)])
    def test_trained_men_stay_below_champion_athletes(self, minutes: float, horsepower: float) -> None:
        # D. R. Wilkie, Man as a Source of Mechanical Power, Ergonomics 3 (1960) 1-8, abstract.
        assert operator.krendel_power(60.0 * minutes) < 745.7 * horsepower
