"""The sizing core against values worked by hand, against the balance of energy, and against the trade."""

import dataclasses
import math

import numpy as np
import pytest
from tests.sizing import walk
from tests.sizing.cases import GALLON, GRAVITY, INCH, PSI, Case, lineup, scalar, site
from tests.sizing.sweeps import ordinary_cases
from tests.sizing.walked_losses import area_of

from upstroke_service.physics import tank, weep_hole
from upstroke_service.sizing import assessment, ceiling, filling, operation, reduction
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.operation import Operation

# Worked from first principles: 50 mm bore, 10.6 mm stainless rod, 25 m, handle ratio 8, efficiency 0.9,
# 50 N of seal drag, water of 10 °C, no friction (a wide drop pipe, a slow stroke, nothing beyond).
BENCH = Case(
    density=999.7025,
    bore=0.050,
    rod_diameter=0.0106,
    rod_density=7900.0,
    static_water_level=25.0,
    cylinder_depth=25.0,
    handle_ratio=8.0,
    handle_efficiency=0.9,
    seal_drag=50.0,
    runs=(),
    fittings=(),
    drop_pipe_inside_diameter=0.3,
    cadence=5.0 / 60.0,
    power=500.0,
)


def prepared(case: Case) -> Operation:
    return reduction.prepare(site(case), lineup(case))


@pytest.mark.parametrize(("pressure_psi", "newtons"), [(0.0, 94.5), (30.0, 148.4), (50.0, 184.3)])
def test_the_hand_force_is_the_one_worked_by_hand(pressure_psi: float, newtons: float) -> None:
    upstroke, returning = operation.hand_forces(prepared(BENCH), pressure_psi * PSI, BENCH.cadence)
    assert newtons == pytest.approx(scalar(upstroke), abs=0.05)
    assert scalar(returning) < 0.0  # the steel rod falls by itself


def test_a_1_75_inch_bore_reaches_150_newtons_at_49_6_psi() -> None:
    case = dataclasses.replace(BENCH, bore=1.75 * INCH, hand_force_limit=150.0)
    found = ceiling.find(prepared(case))
    assert LIMITS[found.governing.item()] == "hand_force"
    assert found.pressure.item() / PSI == pytest.approx(49.6, abs=0.05)


def test_a_plunger_of_63_5_by_125_millimetres_displaces_0_3959_litres() -> None:
    # Dimensions of a public-domain hand pump design; π/4·d²·s.
    op = prepared(dataclasses.replace(BENCH, bore=0.0635, stroke=0.125))
    assert scalar(op.displacement) == pytest.approx(0.3959e-3, abs=0.5e-7)


def test_at_rest_without_a_check_valve_20_gallons_fall_from_50_to_30_psi_in_795_seconds() -> None:
    # Worked from first principles: 1/16 in hole, coefficient 0.62 or 0.80, precharge 28 psi. Here the tank
    # is followed in steps of 10 mL, each at the flow of its own pressure.
    case = Case(tank_volume=20 * GALLON)
    air = walk.Tank(case)
    taken = []
    for coefficient in (0.62, 0.80):
        water, seconds, step = air.water(50 * PSI), 0.0, 1e-5
        while water > air.water(30 * PSI):
            speed = math.sqrt(2.0 * air.pressure(water - 0.5 * step) / case.density)
            seconds += step / (coefficient * area_of(INCH / 16) * speed)
            water -= step
        drained = weep_hole.time_to_drain(
            case.tank_volume, 28 * PSI, 50 * PSI, 30 * PSI, INCH / 16, coefficient, case.density, 101_325.0
        )
        assert seconds == pytest.approx(scalar(drained), rel=1e-3)
        taken.append(seconds)
    assert taken[0] == pytest.approx(795.0, abs=1.0)


def test_the_work_of_a_cycle_is_the_work_on_the_water_and_every_loss() -> None:
    for case in ordinary_cases(seed=3, count=150):
        op, pump = prepared(case), walk.Pump(case)
        for pressure in (0.0, 20 * PSI, 60 * PSI):
            effective = operation.effective_cadence(op, pressure)
            cadence = scalar(operation.pumping_cadence(op, effective))
            loss, gamma, volume = pump.loss(cadence), case.specific_weight, pump.displacement
            raised = gamma * volume * (
                pump.below_outlet + pump.drawdown(cadence)
            ) + volume * pump.outlet_pressure(pressure)
            in_riser = volume if case.suction else pump.lifting * pump.stroke
            friction = gamma * (
                loss.riser * in_riser + (loss.pipes + loss.fittings) * pump.lifting * pump.stroke
            )
            drag = 2.0 * case.seal_drag * pump.stroke
            sunk = pump.rod * pump.riser_length * (case.rod_density - case.density) * GRAVITY
            weight = 0.0 if case.suction else sunk
            given_away = (
                max(weight - case.seal_drag - pump.outlet_pressure(pressure) * pump.rod, 0.0) * pump.stroke
            )
            # While rod and drop pipe stretch the load only builds up: half of it times the stretch is saved.
            load = pump.plunger_load(pressure, pump.slowest)
            stretch = load * (pump.springs.rod_give + pump.springs.pipe_give)
            if stretch > 0.5 * pump.stroke * pump.lifting / pump.plunger:
                continue  # Nobody would hang such a pump; there the saving is bounded.
            saved = 0.5 * load * stretch
            at_the_rod = raised + friction + drag + given_away - saved
            work = scalar(operation.work_of_cycle(op, pressure, cadence))
            # Friction between the three cadences at which the core evaluates it: 1.5 % of the work.
            assert at_the_rod / case.handle_efficiency == pytest.approx(work, rel=0.015)


def test_useful_efficiency_stays_below_0_85() -> None:
    # Published discharges at 75 W imply 0.65 to 0.71; above 0.85 something would be wrong.
    useful = []
    for case in ordinary_cases(seed=4, count=400):
        found = assessment.assess(site(case), lineup(case))
        useful += [scalar(found.at_start.useful), scalar(found.at_end.useful)]
    assert min(useful) >= 0.0
    assert 0.70 < max(useful) <= 0.85


def test_power_is_what_the_operator_sustains_and_never_more() -> None:
    for case in ordinary_cases(seed=61, count=300):
        op = prepared(case)
        pressure = np.array([[0.0, 20.0, 40.0, 80.0]]) * PSI
        effective = np.asarray(operation.effective_cadence(op, pressure))
        work = np.asarray(operation.work_of_cycle(op, pressure, operation.pumping_cadence(op, effective)))
        slowed = effective < op.preferred * (1.0 - 1e-9)
        pull, _ = operation.hand_forces(op, pressure, operation.pumping_cadence(op, effective))
        assert np.all(work * effective <= case.power * (1.0 + 1e-6))
        # Either the power slows the hand or the force, and then to just what it bears.
        spent = np.isclose(work * effective, case.power, rtol=1e-6)
        borne = np.isclose(np.asarray(pull), case.hand_force_limit, rtol=1e-6)
        slowest = np.isclose(effective, op.slowest, rtol=1e-9)
        assert np.all((spent | borne | slowest)[slowed])


def test_a_long_narrow_hose_on_a_large_bore_takes_no_more_power_than_there_is() -> None:
    # Nearly all of the work is friction, so W(n) is negative where its parabola is carried on to n = 0.
    case = Case(
        suction=True,
        static_water_level=4.0,
        runs=((0.5 * INCH, 80.0, 1.5e-6),),
        fittings=(),
        power=60.0,
        bore=0.08,
        stroke=0.15,
        handle_ratio=4.0,
        drop_pipe_inside_diameter=0.05,
    )
    for per_minute in (40.0, 45.0, 50.0):
        op = prepared(dataclasses.replace(case, cadence=per_minute / 60.0))
        pressure = np.arange(0.0, 30.0, 0.5)[np.newaxis] * PSI
        effective = operation.effective_cadence(op, pressure)
        work = operation.work_of_cycle(op, pressure, operation.pumping_cadence(op, effective))
        assert np.all(work * effective <= case.power * (1.0 + 1e-6))


def test_the_pressure_at_which_a_cadence_is_sustained_is_the_inverse_of_the_cadence() -> None:
    for case in ordinary_cases(seed=8, count=300):
        op = prepared(case)
        # Up to where work is counted: there the saving by stretch is bounded so that it still rises.
        pressure = np.array([[0.1, 0.4, 0.7, 1.0]]) * case.target
        effective = np.asarray(operation.effective_cadence(op, pressure))
        slowed = effective < op.preferred * (1.0 - 1e-9)
        work = operation.work_of_cycle(op, pressure, operation.pumping_cadence(op, effective))
        slowed &= np.isclose(np.asarray(work * effective), case.power, rtol=1e-9)
        back = np.asarray(operation.sustained_pressure(op, effective))
        assert back[slowed] == pytest.approx(pressure[slowed], rel=1e-5)
        # At the preferred cadence there is power to spare, so more pressure would do.
        assert np.all(back[~slowed] >= pressure[~slowed] * (1.0 - 1e-6))


def test_the_lift_budget_adds_up() -> None:
    for case in ordinary_cases(seed=9, count=50):
        budget = assessment.assess(site(case), lineup(case)).budget
        lines = (
            "static_water_level", "well_drawdown", "outlet_height", "rise", "pressure_head",
            "drop_pipe_friction", "conduit_friction", "fitting_losses", "check_valve",
        )  # fmt: skip
        total = sum(scalar(getattr(budget, line)) for line in lines)
        assert total == pytest.approx(scalar(budget.total_head), rel=1e-12)
        # The cadence changes on the way there, and the friction with it: no more than the sign is the same.
        assert (scalar(budget.pressure_room) >= case.target) == (scalar(budget.margin) >= 0.0)


def test_one_psi_of_pressure_costs_2_31_feet_of_lift() -> None:
    # Common practice, no source: 0.05 % high at 60 °F.
    case = dataclasses.replace(BENCH, density=999.0)
    low, high = (operation.total_head(prepared(case), psi * PSI, case.cadence) for psi in (30.0, 31.0))
    assert scalar(high - low) / 0.3048 == pytest.approx(2.31, rel=1e-3)


class TestTrade:
    """What the trade expects: common practice, no source."""

    ORDINARY = Case(
        bore=1.75 * INCH,
        static_water_level=25.0,
        stroke=9 * INCH,
        handle_ratio=6.0,
        power=75.0,
        tires=True,
        hand_force_limit=150.0,
        weep_hole_diameter=INCH / 16,
        rated_lift=90.0,
        runs=((0.75 * INCH, 15.0, 1.5e-6),),
    )
    """A 1 3/4 in cylinder with 25 m (82 ft) to the water, worked by an ordinary person."""

    def test_an_ordinary_person_gets_to_about_45_to_50_psi(self) -> None:
        # The hand sets it, not the weep hole, which this bore easily feeds.
        slow = dataclasses.replace(self.ORDINARY, handle_ratio=8.0, cadence=30.0 / 60.0)
        found = ceiling.find(prepared(slow))
        assert LIMITS[found.governing.item()] == "hand_force"
        assert 45.0 <= found.pressure.item() / PSI <= 50.0
        assert found.limits[LIMITS.index("net_delivery")].item() > 100 * PSI

    def test_an_eighth_inch_hole_stalls_a_small_bore(self) -> None:
        # 1 1/4 in at a shortened stroke displaces 109 mL; the hole takes 166 mL/s at 50 psi.
        small = dataclasses.replace(
            self.ORDINARY,
            bore=1.25 * INCH,
            handle_ratio=8.0,
            weep_hole_diameter=INCH / 8,
            hand_force_limit=500.0,
        )
        found = ceiling.find(prepared(small))
        assert LIMITS[found.governing.item()] == "net_delivery"
        assert found.pressure.item() < 50 * PSI
        with pytest.raises(RuntimeError, match="stalled"):
            walk.fill(small, 70 * PSI)
        large = dataclasses.replace(small, bore=2.5 * INCH, drop_pipe_inside_diameter=2.5 * INCH)
        assert ceiling.find(prepared(large)).limits[LIMITS.index("net_delivery")].item() > 50 * PSI

    def test_each_psi_brings_less_water_than_the_one_before_and_costs_more_work_per_gallon(self) -> None:
        op = prepared(self.ORDINARY)
        fill = filling.total(op, np.array([[50.0 * PSI]]))
        curve = filling.curve(op.site, fill, np.arange(28.0, 51.0)[np.newaxis] * PSI)
        water, work = np.diff(curve.volume[0]), np.diff(curve.work[0])
        assert np.all(np.diff(water) < 0.0)
        assert np.all(np.diff(work / water) > 0.0)
        low, high = (
            tank.storage_per_pressure(psi * PSI, 20 * GALLON, 28 * PSI, 101_325.0) * PSI / GALLON
            for psi in (30, 50)
        )
        # dV/dp falls as 1/(p + p_a)²: (64.7/44.7)².
        assert scalar(low / high) == pytest.approx((64.696 / 44.696) ** 2, rel=1e-4)

    def test_a_weep_hole_costs_strokes_and_a_missing_check_valve_more(self) -> None:
        sealed, holed, open_to_the_tank = (
            dataclasses.replace(self.ORDINARY, hand_force_limit=1000.0, rated_lift=500.0, **changes)
            for changes in ({"weep_hole_diameter": 0.0}, {}, {"check_valve": False})
        )
        strokes = [
            assessment.assess(site(case), lineup(case)).fill.strokes.item()
            for case in (sealed, holed, open_to_the_tank)
        ]
        assert strokes[0] < strokes[1] < strokes[2]

    def test_a_smaller_bore_reaches_more_pressure_and_a_larger_one_more_water_a_stroke(self) -> None:
        bores = [
            dataclasses.replace(self.ORDINARY, bore=inches * INCH) for inches in (1.25, 1.5, 1.75, 2.0, 2.5)
        ]
        found = assessment.assess(site(bores[0]), lineup(*bores))
        hand = found.ceiling.limits[LIMITS.index("hand_force"), :, 0]
        assert np.all(np.diff(hand) < 0.0)
        assert np.all(np.diff(np.ravel(found.at_start.net_per_stroke)) > 0.0)
