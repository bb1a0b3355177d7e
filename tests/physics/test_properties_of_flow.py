"""What must hold for water, atmosphere and friction whatever the numbers: directions, limits, inverses."""

import math

import numpy as np
import pytest
from tests.physics.strategies import DIAMETERS, FLOWS, PRESSURES, STEPS, for_all, numbers

from upstroke_service.physics import atmosphere, fittings, friction, head, pulsation, suction, water

DENSITY, VISCOSITY = 999.1, 1.1376e-3
TEMPERATURES = numbers(273.15, 313.15)
WARM_TEMPERATURES = numbers(277.14, 313.15)
ELEVATIONS = numbers(-400.0, 5_000.0)
ROUGHNESSES = numbers(0.0, 3e-4)


def pipe_loss(
    flow: float, diameter: float = 0.0266, length: float = 30.0, roughness: float = 1.5e-6
) -> float:
    area = friction.circular_area(diameter)
    return float(friction.head_loss(flow, area, diameter, length, roughness, DENSITY, VISCOSITY))


class TestWater:
    @for_all(TEMPERATURES, TEMPERATURES)
    def test_viscosity_falls_and_vapour_pressure_rises_with_temperature(
        self, one: float, other: float
    ) -> None:
        cold, warm = sorted((one, other))
        assert water.dynamic_viscosity(cold) >= water.dynamic_viscosity(warm)
        assert water.saturation_pressure(cold) <= water.saturation_pressure(warm)

    @for_all(WARM_TEMPERATURES, WARM_TEMPERATURES)
    def test_density_falls_with_temperature_above_four_degrees(self, one: float, other: float) -> None:
        cold, warm = sorted((one, other))
        assert water.density(cold) >= water.density(warm)

    def test_density_is_greatest_at_3_98_degrees(self) -> None:
        # CIPM (Tanaka et al. 2001): 3.983035 °C.
        temperatures = np.linspace(273.15, 283.15, 10_001)
        densest = temperatures[np.argmax(water.density(temperatures))]
        assert densest == pytest.approx(273.15 + 3.983, abs=0.01)

    @for_all(TEMPERATURES)
    def test_specific_weight_is_density_under_standard_gravity(self, temperature: float) -> None:
        assert water.specific_weight(temperature) == pytest.approx(
            9.80665 * water.density(temperature), rel=1e-15
        )


class TestAtmosphereAndSuction:
    @for_all(ELEVATIONS, ELEVATIONS, TEMPERATURES)
    def test_the_higher_the_site_the_less_the_atmosphere_lifts(
        self, one: float, other: float, temperature: float
    ) -> None:
        low, high = sorted((one, other))
        assert atmosphere.pressure(low) >= atmosphere.pressure(high)
        assert suction.barometric_head(low, temperature) >= suction.barometric_head(high, temperature)

    @for_all(ELEVATIONS, TEMPERATURES)
    def test_the_practical_lift_is_below_the_barometric_head(
        self, elevation: float, temperature: float
    ) -> None:
        assert suction.practical_suction_lift(elevation, temperature) > 0.0
        assert suction.practical_suction_lift(elevation, temperature) < suction.barometric_head(
            elevation, temperature
        )

    @for_all(numbers(0.0, 10.3), numbers(0.0, 8.0), numbers(0.0, 3.0), numbers(0.0, 3.0))
    def test_lift_loss_and_acceleration_take_their_head_away(
        self, barometric: float, lift: float, loss: float, acceleration: float
    ) -> None:
        available = suction.npsh_available(barometric, lift, loss, acceleration)
        assert barometric == pytest.approx(available + lift + loss + acceleration, abs=1e-12)


class TestHead:
    @for_all(PRESSURES, TEMPERATURES)
    def test_head_and_pressure_are_inverse(self, pressure: float, temperature: float) -> None:
        gamma = water.specific_weight(temperature)
        assert pressure == pytest.approx(
            head.head_pressure(head.pressure_head(pressure, gamma), gamma), rel=1e-14
        )


class TestFriction:
    @for_all(FLOWS, STEPS)
    def test_more_flow_costs_more_than_in_proportion(self, flow: float, step: float) -> None:
        assert pipe_loss(step * flow) >= step * pipe_loss(flow) * (1.0 - 1e-9)

    @for_all(FLOWS, DIAMETERS, STEPS)
    def test_a_wider_pipe_costs_less(self, flow: float, diameter: float, step: float) -> None:
        assert pipe_loss(flow, step * diameter) < pipe_loss(flow, diameter)

    @for_all(FLOWS, ROUGHNESSES, ROUGHNESSES)
    def test_a_rougher_pipe_never_costs_less(self, flow: float, one: float, other: float) -> None:
        smooth, rough = sorted((one, other))
        assert pipe_loss(flow, roughness=rough) >= pipe_loss(flow, roughness=smooth) * (1.0 - 1e-12)

    @for_all(FLOWS, numbers(0.0, 200.0))
    def test_loss_is_proportional_to_length(self, flow: float, length: float) -> None:
        assert length * pipe_loss(flow, length=1.0) == pytest.approx(
            pipe_loss(flow, length=length), rel=1e-12
        )

    @for_all(DIAMETERS, numbers(0.0, 100.0))
    def test_no_flow_costs_nothing(self, diameter: float, length: float) -> None:
        assert pipe_loss(0.0, diameter, length) == 0.0

    @for_all(FLOWS, numbers(0.02, 0.05), numbers(0.05, 0.7))
    def test_a_rod_in_the_pipe_costs_more_than_none(self, flow: float, diameter: float, share: float) -> None:
        area, hydraulic = friction.annulus(diameter, share * diameter)
        around = friction.head_loss(flow, area, hydraulic, 30.0, 1.5e-6, DENSITY, VISCOSITY)
        assert around > pipe_loss(flow, diameter)

    def test_a_three_eighths_rod_about_doubles_the_loss_of_an_inch_and_a_quarter_pipe(self) -> None:
        area, hydraulic = friction.annulus(0.03505, 0.009525)
        around = friction.head_loss(3e-4, area, hydraulic, 30.0, 1.5e-6, DENSITY, VISCOSITY)
        assert 1.5 < float(around) / pipe_loss(3e-4, 0.03505) < 2.5

    @for_all(DIAMETERS)
    def test_no_rod_leaves_the_plain_pipe(self, diameter: float) -> None:
        assert friction.annulus(diameter, 0.0) == (friction.circular_area(diameter), diameter)

    @for_all(FLOWS, DIAMETERS)
    def test_reynolds_number_is_that_of_a_round_pipe(self, flow: float, diameter: float) -> None:
        reynolds = friction.reynolds_number(
            flow, friction.circular_area(diameter), diameter, DENSITY, VISCOSITY
        )
        assert 4.0 * DENSITY * flow / (math.pi * VISCOSITY * diameter) == pytest.approx(reynolds, rel=1e-12)

    @for_all(FLOWS, DIAMETERS, numbers(0.0, 20.0), numbers(0.0, 20.0))
    def test_fittings_in_a_row_add_up(self, flow: float, diameter: float, one: float, other: float) -> None:
        area = friction.circular_area(diameter)
        apart = fittings.head_loss(flow, area, one) + fittings.head_loss(flow, area, other)
        assert apart == pytest.approx(fittings.head_loss(flow, area, one + other), rel=1e-12)


class TestPulsation:
    def test_the_nodes_lie_in_the_half_sine_and_the_weights_make_one(self) -> None:
        fractions, weights = pulsation.half_sine_nodes()
        assert np.all((fractions > 0.0) & (fractions < 1.0))
        assert np.all(weights > 0.0)
        assert np.sum(weights) == pytest.approx(1.0, rel=1e-15)

    @for_all(numbers(1e-5, 2e-3), DIAMETERS)
    def test_the_work_weighted_loss_lies_between_that_of_the_mean_and_of_the_peak(
        self, peak: float, diameter: float
    ) -> None:
        area = friction.circular_area(diameter)
        weighted = pulsation.work_weighted(
            lambda flow: friction.head_loss(flow, area, diameter, 30.0, 1.5e-6, DENSITY, VISCOSITY), peak
        )
        assert pipe_loss(2.0 / math.pi * peak, diameter) < weighted < pipe_loss(peak, diameter)

    @for_all(numbers(1e-5, 1e-3), numbers(0.2, 3.0))
    def test_a_half_sine_of_the_peak_delivers_the_volume(self, volume: float, duration: float) -> None:
        peak = pulsation.peak_flow(volume, duration)
        assert volume == pytest.approx(2.0 / math.pi * peak * duration, rel=1e-14)
