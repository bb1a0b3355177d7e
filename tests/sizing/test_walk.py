"""The integral along the pressure agrees with a fill that is walked stroke by stroke."""

import dataclasses
import functools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.integrate import quad
from tests.sizing import walk
from tests.sizing.cases import GALLON, PSI, Case, lineup, scalar, site
from tests.sizing.sweeps import ordinary_cases

from upstroke_service.sizing import assessment, filling, operation
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.filling import Fill
from upstroke_service.sizing.reduction import prepare

COUNT = 220


@dataclass(frozen=True)
class Pair:
    """One fill by the core and by the walk, and the walk's pump with the power of that fill."""

    case: Case
    found: Assessment
    walked: walk.Walked
    pump: walk.Pump

    @property
    def fill(self) -> Fill:
        """The fill by the core."""
        return self.found.fill

    @property
    def end(self) -> float:
        """Pressure at its end."""
        return float(self.fill.end.item())


def filled(case: Case, stop: float) -> Fill:
    return filling.total(prepare(site(case), lineup(case)), np.array([[stop]]))


@functools.cache
def pairs() -> tuple[Pair, ...]:
    """Ordinary fills of 5 to 120 strokes, to the target or to where the core says that it has to stop."""
    found: list[Pair] = []
    for case in ordinary_cases(seed=20_261_125, count=6_000):
        assessed = assessment.assess(site(case), lineup(case), stop_at_ceiling=False)
        if 5.0 <= assessed.fill.strokes.item() <= 120.0:
            walked = walk.fill(case, assessed.fill.end.item())
            found.append(Pair(case, assessed, walked, walk.Pump(case, walked.power)))
        if len(found) == COUNT:
            break
    return tuple(found)


def limited_by(pair: Pair) -> str:
    """What keeps the cadence below the preferred one at the end of a fill."""
    case, pump = pair.case, pair.pump
    cadence, effective = pump.cadences(pair.end)
    if effective < cadence:
        return "rests"
    if cadence == case.cadence:
        return "nothing"
    faster = cadence * 1.001
    if pump.work(pair.end, faster) * faster > pump.power:
        return "power"
    return "force" if pump.hand_forces(pair.end, faster)[0] > case.hand_force_limit else "suction"


def test_the_sweep_is_wide() -> None:
    cases = [pair.case for pair in pairs()]
    assert len(cases) == COUNT
    limiting = [limited_by(pair) for pair in pairs()]
    for one in ("nothing", "power", "force", "suction", "rests"):
        assert limiting.count(one) >= 5, one
    stretched = [pair for pair in pairs() if pair.pump.cycle(pair.end).stroke < 0.9 * pair.pump.stroke]
    bled = [
        pair
        for pair in pairs()
        if not pair.case.suction
        and pair.pump.delivery(pair.end, *pair.pump.cadences(pair.end)).fall > 0.2 * pair.end
    ]
    for part in (
        [case for case in cases if case.suction],
        [case for case in cases if not case.check_valve and case.weep_hole_diameter > 0.0],
        [case for case in cases if case.check_valve and case.weep_hole_diameter > 0.0],
        [case for case in cases if case.start < case.precharge],
        [case for case in cases if case.air_chamber],
        [case for case in cases if case.open],
        [pair for pair in pairs() if pair.walked.power < pair.case.power],
        [pair for pair in pairs() if pair.walked.seconds > 900.0 and pair.case.tires and pair.case.people > 1],
        [pair for pair in pairs() if 0.0 < pair.pump.wanted / max(pair.case.casing_area, 1e-9)
         < pair.pump.drawdown(pair.case.cadence) * 1.001],
        [pair for pair in pairs() if pair.end < pair.case.target],
        stretched,
        bled,
    ):  # fmt: skip
        assert len(part) >= 5


def test_the_strokes_are_those_of_the_walk_within_a_half() -> None:
    for pair in pairs():
        assert pair.fill.strokes.item() == pytest.approx(pair.walked.strokes, abs=0.5)


def test_the_time_is_that_of_the_walk_within_one_percent() -> None:
    for pair in pairs():
        assert pair.fill.seconds.item() == pytest.approx(pair.walked.seconds, rel=0.01)


def test_the_work_is_that_of_the_walk_within_one_percent() -> None:
    for pair in pairs():
        assert pair.fill.work.item() == pytest.approx(pair.walked.work, rel=0.01)


RIGID = Case(
    runs=(),
    fittings=(),
    drop_pipe_inside_diameter=0.5,
    drop_pipe_outside_diameter=0.6,
    rod_modulus=1e30,
    drop_pipe_modulus=1e30,
    rod_diameter=0.0106,
    hand_force_limit=1e4,
)
"""Nothing gives or rubs but the seals, and the hand bears everything."""


@pytest.mark.parametrize("exponent", [1.0, 1.3])
def test_rigid_without_a_hole_and_unhurried_it_is_the_closed_form(exponent: float) -> None:
    case = dataclasses.replace(RIGID, power=1e4, gas_exponent=exponent)
    fill, atmosphere = filled(case, case.target), case.atmospheric_pressure
    squeezed = ((case.precharge + atmosphere) / (case.target + atmosphere)) ** (1.0 / exponent)
    stored = case.tank_volume * (1.0 - squeezed)
    strokes = stored / (case.volumetric_efficiency * math.pi / 4.0 * case.bore**2 * case.stroke)
    assert fill.volume.item() == pytest.approx(stored, rel=1e-12)
    assert fill.strokes.item() == pytest.approx(strokes, rel=1e-9)
    assert fill.seconds.item() == pytest.approx(strokes / case.cadence, rel=1e-9)


@pytest.mark.parametrize(
    ("power", "seal_drag"),
    [(500.0, 50.0), (162.0, 50.0), (81.0, 50.0), (185.0, 155.0), (500.0, 155.0)],
    ids=["preferred", "slows", "rests", "slows-and-pushes", "pushes"],
)
def test_without_friction_the_integral_is_exact_across_every_bend(power: float, seal_drag: float) -> None:
    # Adaptive quadrature of the walk's own cycles, told nothing of where the cadence begins to fall, rests
    # begin or the rod needs a push. Wide pipes: the core's friction between three cadences plays no part.
    case = dataclasses.replace(
        RIGID,
        power=power,
        seal_drag=seal_drag,
        weep_hole_diameter=0.0016,
        precharge=20 * PSI,
        start=20 * PSI,
    )
    pump, tank, gas = walk.Pump(case), walk.Tank(case), case.atmospheric_pressure

    def cycles(pressure: float) -> tuple[float, walk.Cycle]:
        cycle = pump.cycle(pressure)
        held = case.tank_volume * (case.precharge + gas) / (pressure + gas) ** 2
        return held / cycle.net, cycle

    def integral(rate: Callable[[float], float]) -> float:
        value, _ = quad(rate, case.start, case.target, epsabs=0.0, epsrel=1e-8, limit=400)
        return float(value)

    fill = filled(case, case.target)
    assert integral(lambda p: cycles(p)[0]) == pytest.approx(fill.strokes.item(), rel=1e-6)
    assert integral(lambda p: cycles(p)[0] / cycles(p)[1].effective) == pytest.approx(
        fill.seconds.item(), rel=2e-6
    )
    assert integral(lambda p: cycles(p)[0] * cycles(p)[1].work) == pytest.approx(fill.work.item(), rel=1e-6)
    assert tank.water(case.target) - tank.water(case.start) == pytest.approx(fill.volume.item(), rel=1e-9)


def test_the_water_is_what_the_tank_holds_more_than_before() -> None:
    for pair in pairs():
        tank = walk.Tank(pair.case)
        before = tank.water(max(pair.case.start, pair.case.precharge))
        stored = tank.water(pair.end) - before
        assert stored == pytest.approx(pair.fill.volume.item(), rel=1e-9)


def test_a_curve_ends_where_the_total_ends() -> None:
    for pair in pairs()[:60]:
        points = np.linspace(pair.fill.start[..., 0], pair.fill.end[..., 0], 25, axis=-1)
        curve = filling.curve(pair.found.op.site, pair.fill, points)
        for name in ("volume", "strokes", "seconds", "work"):
            along = getattr(curve, name)
            assert getattr(pair.fill, name).item() == pytest.approx(along[0, -1], rel=1e-6)
            assert np.all(np.diff(along[0]) >= 0.0)
            assert along[0, 0] == 0.0


def test_one_candidate_of_a_fill_has_the_curve_that_it_has_alone() -> None:
    cases = [Case(), Case(bore=0.05, weep_hole_diameter=0.0016), Case(bore=0.06)]
    together = filling.total(prepare(site(cases[0]), lineup(*cases)), np.full((3, 1), 45 * PSI))
    points = np.linspace(28.0, 45.0, 7)[np.newaxis] * PSI
    for place, case in enumerate(cases):
        picked = filling.curve(site(case), together.of(slice(place, place + 1)), points)
        alone = filling.curve(site(case), filled(case, 45 * PSI), points)
        for name in ("volume", "strokes", "seconds", "work", "cadence", "hand_force"):
            assert getattr(picked, name) == pytest.approx(getattr(alone, name), rel=1e-12)


def test_a_curve_agrees_with_the_walk_on_the_way() -> None:
    for pair in pairs()[:20]:
        points = np.linspace(pair.fill.start[..., 0], pair.fill.end[..., 0], 4, axis=-1)
        curve = filling.curve(pair.found.op.site, pair.fill, points)
        halfway = walk.walked(pair.case, points[0, 2], pair.walked.power)
        cycle = pair.pump.cycle(points[0, 2])
        assert abs(halfway.strokes - curve.strokes[0, 2]) <= 0.5
        assert halfway.seconds == pytest.approx(curve.seconds[0, 2], rel=0.01)
        assert cycle.effective == pytest.approx(curve.cadence[0, 2], rel=0.01)
        assert cycle.hand_force == pytest.approx(curve.hand_force[0, 2], rel=0.01)


def test_what_pumping_is_like_at_the_end_is_what_the_walk_says() -> None:
    for pair in pairs():
        cycle, effort = pair.pump.cycle(pair.end), pair.found.at_end
        assert scalar(effort.effective_cadence) == pytest.approx(cycle.effective, rel=0.015)
        assert scalar(effort.pumping_cadence) == pytest.approx(cycle.cadence, rel=0.015)
        assert scalar(effort.hand_force) == pytest.approx(max(cycle.hand_force, 0.0), rel=0.02)
        assert scalar(effort.return_force) == pytest.approx(cycle.return_force, rel=0.02, abs=0.5)
        assert scalar(effort.net_per_stroke) == pytest.approx(cycle.net, abs=0.01 * pair.pump.displacement)
        assert scalar(effort.power) == pytest.approx(cycle.work * cycle.effective, rel=0.01)


def test_forces_head_and_net_delivery_are_those_of_the_walk_at_every_pressure() -> None:
    for pair in pairs():
        op = pair.found.op
        for pressure in (0.0, pair.end, 0.5e6):
            cycle = pair.pump.cycle(pressure)
            effective = operation.effective_cadence(op, pressure)
            pumping = operation.pumping_cadence(op, effective)
            assert scalar(effective) == pytest.approx(cycle.effective, rel=0.015)
            assert scalar(operation.hand_force(op, pressure, pumping)) == pytest.approx(
                max(cycle.hand_force, 0.0), rel=0.03
            )
            net = scalar(operation.net_delivery(op, pressure, effective))
            assert net == pytest.approx(cycle.net, abs=0.01 * pair.pump.displacement)
            head = scalar(operation.total_head(op, pressure, pumping))
            assert head == pytest.approx(cycle.total_head, rel=0.015)


def test_what_a_suction_pump_has_left_of_the_atmosphere_is_what_the_walk_says() -> None:
    suction = [pair for pair in pairs() if pair.case.suction]
    for pair in suction:
        cadence = scalar(pair.found.at_target.pumping_cadence)
        margin = scalar(pair.found.npsh.margin)
        assert margin == pytest.approx(pair.pump.npsh_margin(cadence), abs=0.05)


def test_strokes_of_a_quarter_litre_fill_twenty_gallons_from_30_to_50_psi_in_89_43() -> None:
    # Worked from first principles: 22.357 L at 250 mL a stroke (precharge 28 psi, 14.696 psi of air).
    whole = Case(start=30 * PSI, tank_volume=20 * GALLON, handle_ratio=4.0)
    stroke = 0.25e-3 / (whole.volumetric_efficiency * walk.area_of(whole.bore))
    case = dataclasses.replace(whole, stroke=stroke, rod_modulus=1e30, drop_pipe_modulus=1e30)
    fill = filled(case, 50 * PSI)
    assert fill.volume.item() == pytest.approx(22.357e-3, abs=0.5e-6)
    assert fill.strokes.item() == pytest.approx(89.43, abs=0.005)
    assert walk.fill(case, 50 * PSI).strokes == pytest.approx(89.43, abs=0.005)


def test_nothing_is_pumped_where_the_start_is_the_end() -> None:
    case = Case(start=50 * PSI, target=50 * PSI)
    fill = filled(case, case.target)
    assert (fill.volume.item(), fill.strokes.item(), fill.seconds.item(), fill.work.item()) == (
        0.0,
        0.0,
        0.0,
        0.0,
    )


def test_below_the_precharge_nothing_is_stored() -> None:
    low, high = filled(Case(start=0.0), 50 * PSI), filled(Case(start=28 * PSI), 50 * PSI)
    assert low.start.item() == 28 * PSI
    assert low.strokes.item() == high.strokes.item()
