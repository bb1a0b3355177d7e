"""The walk by itself: where the models have a closed form, it is that; its numbers are those of handbooks."""

import dataclasses
import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar
from tests.sizing import walk
from tests.sizing.cases import FOOT, GRAVITY, INCH, PSI, Case
from tests.sizing.sweeps import ordinary_cases
from tests.sizing.walked_losses import PHASES, Losses, area_of
from tests.sizing.walked_riser import Return, Riser

from upstroke_service.physics.real import Array

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
    pipe, rod = load * pump.gives.pipe_give, load * pump.gives.rod_give
    assert 1e3 * pipe == pytest.approx(pipe_mm, abs=0.06)
    assert 1e3 * rod == pytest.approx(rod_mm, abs=0.06)


def simulated_return(
    riser: Riser, load: float, held: float, entering: float, time: float, hole: float
) -> Return:
    """The same return stroke, stepped through time: shut until the pressure is that beyond the check valve again."""

    def rate(_: float, state: Array) -> Array:
        leak = hole * np.sqrt(np.maximum(state[0], 0.0))
        rising = (entering - leak) / riser.compliance
        opened = state[0] >= held and rising > 0.0
        return np.array([0.0 if opened else rising, leak])

    begun = max(held - riser.coupling * load / riser.compliance, 0.0)
    solved = solve_ivp(
        rate, (0.0, time), [begun, 0.0], method="LSODA", rtol=1e-9, atol=[1e-2, 1e-14], max_step=time / 200.0
    )
    return Return(float(solved.y[1, -1]), held - float(solved.y[0, -1]))


def test_the_riser_bleeds_and_recovers_as_its_differential_equation_says() -> None:
    bled = recovered = 0
    for case in ordinary_cases(seed=71, count=300):
        pump = walk.Pump(case)
        if case.suction or not case.check_valve:
            continue
        for pressure, effective in ((5 * PSI, case.cadence), (50 * PSI, 0.3 * case.cadence)):
            found = pump.return_stroke(pressure, case.cadence, effective)
            time = 1.0 / effective - case.upstroke_share / case.cadence
            load, held = pump.plunger_load(pressure, case.cadence), pump.hole_pressure(pressure)
            entering = pump.rod * pump.stroke / time
            simulated = simulated_return(pump.gives, load, held, entering, time, pump.hole_capacity)
            assert found.fall == pytest.approx(simulated.fall, rel=1e-4, abs=2e-3 * held)
            assert found.leak == pytest.approx(simulated.leak, rel=1e-3, abs=1e-8)
            bled += found.fall > 0.5 * held
            recovered += found.fall == 0.0
    assert bled > 30
    assert recovered > 10


def test_the_stretched_pipe_and_rod_and_the_water_keep_their_energy() -> None:
    # One upstroke in small steps from a bled riser: the load goes over to the rod while the valve below is
    # shut, then the riser is brought up to pressure, then delivers. ∫ T du is what the closed form says.
    case = Case(static_water_level=60.0, weep_hole_diameter=INCH / 8)
    pump = walk.Pump(case)
    riser, area, load = pump.gives, pump.plunger, pump.plunger_load(50 * PSI, case.cadence)
    full, give = load / area, riser.rod_give + riser.pipe_give
    for fall in (0.0, 0.2 * full, 0.6 * full):
        pressure = begun = full - fall
        # Shut above and below: C·p − α·T stays what it was, up to T = A_p·p.
        pressure = riser.compliance * begun / (riser.compliance - riser.coupling * area)
        assert begun <= pressure
        steps = [
            (begun + share * (pressure - begun), share * area * pressure, 0.0)
            for share in np.linspace(0, 1, 400)
        ]
        # Open below: what the plunger moves in its cylinder presses the riser's water together.
        stored = riser.compliance - riser.coupling * area
        pressures = np.linspace(pressure, max(full, pressure), 400)
        steps += [(p, area * p, stored * (p - pressure) / area) for p in pressures]
        handle = np.array([moved + tension * give - riser.coupling * p for p, tension, moved in steps])
        tension = np.array([tension for _, tension, _ in steps])
        rising = float(np.trapezoid(tension, handle))
        work = rising + load * (case.stroke - (handle[-1] - handle[0]))
        assert load * case.stroke - work == pytest.approx(riser.spared(load, fall), rel=1e-4)
        # What moved in the cylinder is the stroke less the stretch.
        assert handle[-1] - handle[0] - steps[-1][2] == pytest.approx(riser.stretch(load, fall), rel=1e-9)


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
        walk.fill(case, 70 * PSI)
