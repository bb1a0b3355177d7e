"""The walk by itself: where the models have a closed form, it is that; its numbers are those of handbooks."""

import contextlib
import dataclasses
import functools
import math
import random
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.optimize import minimize_scalar
from tests.physics import stroke_simulation
from tests.physics.stroke_simulation import WATER_DENSITY
from tests.sizing import walk, walked_riser
from tests.sizing.cases import FOOT, GRAVITY, INCH, PSI, Case
from tests.sizing.sweeps import ordinary_cases
from tests.sizing.walked_losses import PHASES, Losses, area_of
from tests.sizing.walked_riser import Delivery, ShutAbove, Springs, Stroke, open_above

RIGID = Case(
    rod_modulus=1e30,
    drop_pipe_modulus=1e30,
    runs=(),
    fittings=(),
    drop_pipe_inside_diameter=0.5,
    drop_pipe_outside_diameter=0.6,
    power=1000.0,
    hand_force_limit=1e6,
)
"""Nothing gives, nothing leaks, nothing rubs but the seals."""


def test_a_rigid_tight_isothermal_fill_takes_what_the_closed_form_says() -> None:
    case, pump = RIGID, walk.Pump(RIGID)
    found = walk.fill(case, case.target)
    empty, full = case.precharge + case.atmospheric_pressure, case.target + case.atmospheric_pressure
    stored = case.tank_volume * (1.0 - empty / full)
    strokes = stored / (case.volumetric_efficiency * math.pi / 4.0 * case.bore**2 * case.stroke)
    assert found.strokes == pytest.approx(strokes, rel=1e-12)
    assert found.seconds == pytest.approx(strokes / case.cadence, rel=1e-12)

    # Per cycle the column, the rod and the seals; over the fill the gas, ∫ p dV = p₀·V·ln(p₂/p₁) − p_a·V_w,
    # of which the rod, let out under pressure, gives its share back.
    gas = empty * case.tank_volume * math.log(full / empty) - case.atmospheric_pressure * stored
    rod_share = (case.rod_diameter / case.bore) ** 2
    column = case.specific_weight * case.static_water_level * pump.plunger
    weight = pump.rod * pump.riser_length * (case.rod_density - case.density) * GRAVITY
    lifted = strokes * case.stroke * (column + weight + case.seal_drag)
    work = (lifted + gas * (1.0 - rod_share) / case.volumetric_efficiency) / case.handle_efficiency
    # What little friction there is in a pipe of 0.5 m, and the pressure that changes within a stroke.
    assert found.work == pytest.approx(work, rel=1e-4)


def test_an_open_tank_takes_its_volume_over_that_of_a_stroke() -> None:
    case = dataclasses.replace(RIGID, open=True, precharge=0.0, start=0.0, target=1.0, tank_volume=0.1)
    found = walk.fill(case, case.target)
    assert found.strokes == pytest.approx(0.1 / (0.92 * walk.Pump(case).displacement), rel=1e-9)


@pytest.mark.parametrize(
    ("psi", "pipe_mm", "rod_mm"), [(0.0, 8.7, 1.0), (50.0, 19.0, 2.2)], ids=["0 psi", "50 psi"]
)
def test_plastic_pipe_and_steel_rod_stretch_as_worked_by_hand(
    psi: float, pipe_mm: float, rod_mm: float
) -> None:
    # Worked from first principles: 1.75 in bore, 3/8 in stainless rod, 30 m of 1 1/4 in Schedule 80 PVC.
    case = Case(static_water_level=30.0, cylinder_depth=30.0)
    pump = walk.Pump(case)
    load = pump.plunger_load(psi * PSI, case.cadence)
    pipe, rod = load * pump.springs.pipe_give, load * pump.springs.rod_give
    assert 1e3 * pipe == pytest.approx(pipe_mm, abs=0.06)
    assert 1e3 * rod == pytest.approx(rod_mm, abs=0.06)


PIPES = (
    # Inside and outside diameter in inches, modulus in Pa, Poisson's ratio: plastic, fibreglass, steel.
    (0.957, 1.315, 2.758e9, 0.38),
    (1.278, 1.660, 2.758e9, 0.38),
    (1.939, 2.375, 2.758e9, 0.38),
    (1.400, 1.700, 20e9, 0.30),
    (1.380, 1.660, 207e9, 0.30),
    (2.067, 2.375, 207e9, 0.30),
)
RODS = ((0.375, 193e9), (0.4375, 207e9), (0.500, 193e9), (0.375, 49.6e9))
"""Diameter in inches, modulus in Pa."""
HEAVIEST = 3000.0
"""Load in N on the plunger beyond which nobody pumps by hand."""
SIMULATIONS = 60


@dataclass(frozen=True)
class Drawn:
    """A pump as simulated in small steps of time from valves and resistances, and as the walk has it."""

    simulated: stroke_simulation.Pump
    springs: Springs
    stroke: Stroke

    @property
    def delivery(self) -> Delivery:
        """One cycle as walked."""
        if self.simulated.check_valve:
            return ShutAbove(self.springs, self.stroke).cycle()
        return open_above(self.springs, self.stroke)

    @property
    def loss(self) -> float:
        """Pressure that the flow to the tank costs: in proportion to it, work-weighted over a half sine."""
        return self.stroke.flowing - self.stroke.held


def _draw(draw: random.Random) -> Drawn:
    inside, outside, modulus, poisson = draw.choice(PIPES)
    rod, rod_modulus = draw.choice(RODS)
    depth, cadence, share = draw.uniform(8.0, 100.0), draw.uniform(20.0, 50.0), draw.uniform(0.4, 0.6)
    pump = stroke_simulation.Pump(
        bore=draw.uniform(1.25, 3.0) * INCH,
        stroke=draw.uniform(0.12, 0.28),
        depth=depth,
        lift=depth - min(4.5, 0.5 * depth),
        inside_diameter=inside * INCH,
        outside_diameter=outside * INCH,
        pipe_modulus=modulus,
        poisson_ratio=poisson,
        rod_diameter=rod * INCH,
        rod_modulus=rod_modulus,
        hole_diameter=draw.choice([0.0, 1 / 16, 1 / 16, 1 / 8]) * INCH,
        check_valve=draw.random() < 0.8,
        tank_pressure=draw.choice([0.0, 1.0, 1.0]) * draw.uniform(10.0, 60.0) * PSI,
        upstroke=share / cadence * 60.0,
        downstroke=(1.0 - share) / cadence * 60.0,
        rest=draw.choice([0.0, 0.0, draw.uniform(0.0, 3.0)]),
        loss=draw.choice([200.0, 200.0, 10_000.0]),
    )
    case = Case(
        drop_pipe_inside_diameter=pump.inside_diameter,
        drop_pipe_outside_diameter=pump.outside_diameter,
        drop_pipe_modulus=modulus,
        drop_pipe_poisson_ratio=poisson,
        rod_diameter=pump.rod_diameter,
        rod_modulus=rod_modulus,
    )
    upstroke_share = 1.0 - pump.rod_area / pump.plunger_area
    stroke = Stroke(
        plunger=pump.plunger_area,
        rod=pump.rod_area,
        length=pump.stroke,
        tightness=1.0,
        load=pump.plunger_pressure,
        held=pump.hole_pressure,
        flowing=pump.hole_pressure + pump.loss * math.pi / 4.0 * upstroke_share,
        hole=pump.hole_coefficient * area_of(pump.hole_diameter) * math.sqrt(2.0 / WATER_DENSITY),
        upstroke=pump.upstroke,
        downstroke=pump.downstroke,
        rest=pump.rest,
    )
    return Drawn(pump, Springs.of(case, depth), stroke)


@functools.cache
def drawn() -> tuple[tuple[Drawn, stroke_simulation.Cycle], ...]:
    """Pumps that a person can work, two fifths of the stroke at most lost to stretch; and what they do."""
    draw = random.Random(20_261_125)  # noqa: S311 - a sweep, not a secret
    found: list[tuple[Drawn, stroke_simulation.Cycle]] = []
    while len(found) < SIMULATIONS:
        pump = _draw(draw)
        load = pump.stroke.plunger * pump.stroke.load
        if load <= HEAVIEST and load * pump.springs.give <= 0.4 * pump.stroke.length:
            with contextlib.suppress(
                ArithmeticError
            ):  # a pump that stalls may never come to a steady operation
                found.append((pump, stroke_simulation.simulate(pump.simulated)))
    return tuple(found)


def test_each_cycle_brings_and_takes_in_what_the_simulation_of_its_valves_says() -> None:
    errors: list[float] = []
    for pump, cycle in drawn():
        found, swept = pump.delivery, pump.simulated.swept
        errors.append((found.delivered - (cycle.delivered - cycle.air)) / swept)
        assert found.taken_in == pytest.approx(cycle.taken_in, abs=0.015 * swept)
    assert np.abs(errors).max() < 0.015
    assert np.abs(errors).mean() < 0.002
    assert abs(np.mean(errors)) < 0.001


def test_each_upstroke_takes_the_work_that_the_simulation_of_its_valves_says() -> None:
    # The simulation's loss at its outlet and in its three valves comes on top.
    errors: list[float] = []
    for pump, cycle in drawn():
        stroke = pump.stroke
        at_gland = pump.simulated.outlet_pressure * stroke.rod
        moved = pump.loss * (stroke.plunger - stroke.rod)
        work = pump.delivery.lifted + (moved - at_gland) * stroke.length
        errors.append(work / cycle.upstroke_work - 1.0)
    assert np.abs(errors).max() < 0.03
    assert np.abs(errors).mean() < 0.004


def test_the_simulated_pumps_are_as_varied_as_what_people_own() -> None:
    found = [(pump, pump.delivery) for pump, _ in drawn()]
    bled = [pump for pump, walked in found if walked.fall > 0.3 * pump.stroke.held]
    stretched = [pump for pump, walked in found if walked.taken_in < 0.9 * pump.simulated.swept]
    lost = [pump for pump, walked in found if walked.leaked > 0.3 * pump.simulated.swept]
    open_ones = [pump for pump, _ in found if not pump.simulated.check_valve]
    assert all(len(part) >= 10 for part in (bled, stretched, lost, open_ones))


def test_no_water_is_lost_and_more_steps_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    shut = [pump for pump, _ in drawn() if pump.simulated.check_valve]
    found = [pump.delivery for pump in shut]
    for pump, walked in zip(shut, found, strict=True):
        leaked = walked.delivered + walked.leaked
        assert walked.taken_in == pytest.approx(leaked, abs=5e-4 * pump.simulated.swept)
    monkeypatch.setattr(walked_riser, "STEPS", 200)
    monkeypatch.setattr(
        walked_riser, "TRAVELLED", [(1.0 - math.cos(math.pi * k / 200)) / 2.0 for k in range(201)]
    )
    for pump, walked in zip(shut, found, strict=True):
        fine = pump.delivery
        assert walked.delivered == pytest.approx(fine.delivered, abs=0.004 * pump.simulated.swept)
        assert walked.lifted == pytest.approx(fine.lifted, rel=0.002)


def test_losses_between_the_known_cadences_are_those_of_the_cadence_itself() -> None:
    for case in ordinary_cases(seed=72, count=40):
        losses = walk.Pump(case).losses
        for share in (0.0011, 0.503, 0.987):
            cadence = losses.slowest + share * (case.cadence - losses.slowest)
            direct, between = losses._evaluated(cadence), losses.at(cadence)  # noqa: SLF001 - both are the walk's own
            for name in ("riser", "pipes", "fittings", "peak_force", "peak_riser"):
                assert getattr(between, name) == pytest.approx(getattr(direct, name), rel=2e-5)


def test_the_peak_on_the_grid_of_phases_is_the_peak() -> None:
    for friction, inertia in ((3.0, 0.1), (3.0, 2.0), (3.0, 5.9), (3.0, 9.0)):

        def head(phase: float, friction: float = friction, inertia: float = inertia) -> float:
            return -(friction * math.sin(phase) ** 2 + inertia * math.cos(phase))

        best = minimize_scalar(head, bounds=(0.0, math.pi / 2.0), method="bounded", options={"xatol": 1e-9})
        sampled = max(-head(phase) for phase in PHASES)
        assert sampled == pytest.approx(max(-best.fun, -head(0.0)), rel=2e-5)


def test_harmonic_motion_in_a_suction_pipe_asks_for_2_119_metres() -> None:
    # Worked from first principles: 7.62 m of 1.380 in pipe, 0.3 L a stroke, 40 strokes a minute. A half sine
    # on half of the cycle starts as simple harmonic motion does. Friction is nothing at that moment.
    bore = 0.05
    case = Case(
        suction=True,
        bore=bore,
        stroke=0.3e-3 / area_of(bore),
        volumetric_efficiency=1.0,
        drop_pipe_inside_diameter=1.380 * INCH,
        viscosity=1e-9,
        drop_pipe_roughness=0.0,
        runs=(),
        fittings=(),
        handle_ratio=1.0,
    )
    losses = Losses(case, case.stroke, 7.62, 20.0 / 60.0)
    assert losses.at(40.0 / 60.0).peak_riser == pytest.approx(2.119, abs=0.001)


def test_an_air_chamber_brings_the_half_sine_to_its_mean() -> None:
    # Fittings lose by the square of the flow: over a whole cycle of which half is upstroke, the work-weighted
    # factor is 6.580 without a chamber and 1 with it (worked from first principles). The chamber also takes
    # what the rod displaces on its way down.
    bare = Case(runs=(), rod_diameter=1e-5)
    chamber = dataclasses.replace(bare, air_chamber=True)
    without, within = (walk.Pump(case).loss(case.cadence).fittings for case in (bare, chamber))
    assert without / within == pytest.approx(6.580, abs=0.001)


def test_power_is_flat_for_a_quarter_of_an_hour_each_and_falls_continuously_after_it() -> None:
    tiring = Case(tires=True, power=75.0)
    assert walk.power_for(tiring, 899.0) == 75.0
    assert walk.power_for(tiring, 901.0) == pytest.approx(75.0, rel=1e-3)
    # 180.3 W at 15 min, 139.0 at 60, by Krendel in Marks' Handbook (from memory).
    assert walk.power_for(tiring, 3600.0) == pytest.approx(75.0 * 139.0 / 180.3, rel=1e-3)
    four = dataclasses.replace(tiring, people=4.0)
    assert walk.power_for(four, 3600.0) == 75.0
    assert walk.power_for(dataclasses.replace(tiring, tires=False), 3600.0) == 75.0


def test_a_short_fill_draws_the_well_down_no_further_than_its_casing_empties() -> None:
    # 6 in casing, 1.47 gal/ft (geometry): a fill of 5.9 gal takes at most 4 ft of it.
    case = Case(casing_area=area_of(6.0 * INCH), drawdown_per_flow=1e9)
    pump = walk.Pump(case)
    assert pump.drawdown(case.cadence) == pytest.approx(pump.wanted / (1.469 * 3.785412e-3) * FOOT, rel=1e-3)
    assert walk.Pump(dataclasses.replace(case, drawdown_per_flow=100.0)).drawdown(0.5) < 0.1


def test_a_stall_is_said() -> None:
    case = Case(bore=1.25 * INCH, weep_hole_diameter=INCH / 8, hand_force_limit=1e4)
    with pytest.raises(RuntimeError, match="stalled"):
        walk.walked(case, 70 * PSI, case.power, most_strokes=300)
