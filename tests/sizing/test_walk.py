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
from tests.sizing.closeness import Closeness
from tests.sizing.sweeps import ordinary_cases
from tests.sizing.walked_losses import area_of

from upstroke_service.sizing import assessment, filling, operation
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.filling import Fill
from upstroke_service.sizing.reduction import prepare

COUNT = 180

LEAST_NET = 0.12
"""Of the displacement: a pump that leaks nearly all stalls sooner or later by what is next to nothing."""
LASTING = 0.005
"""How near the core comes to the power that people keep up for as long as the fill takes."""
LEAST_STROKE = 0.5
"""Of the plunger's stroke, not lost to stretch: nobody would hang such a pump."""


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

    @functools.cached_property
    def close(self) -> Closeness:
        """How close the two have to be."""
        return Closeness.of(self.pump)

    @property
    def net(self) -> float:
        """Water per stroke of the walk, on the average, as a share of the displacement."""
        return self.fill.volume.item() / self.walked.strokes / self.pump.displacement


def filled(case: Case, stop: float) -> Fill:
    return filling.total(prepare(site(case), lineup(case)), np.array([[stop]]))


@functools.cache
def pairs() -> tuple[Pair, ...]:
    """Ordinary fills of 5 to 120 strokes, to the target or, half of them, to their practical ceiling."""
    found: list[Pair] = []
    for number, ordinary in enumerate(ordinary_cases(seed=20_261_125, count=6_000)):
        case = ordinary
        if number % 8 == 0:  # now and then somebody who takes long enough to tire
            case = dataclasses.replace(ordinary, power=ordinary.power / 6.0, tires=True)
        stops = number % 2 == 1
        assessed = assessment.assess(site(case), lineup(case), stop_at_ceiling=stops)
        if not 5.0 <= assessed.fill.strokes.item() <= 120.0 or not comparable(case, assessed):
            continue
        walked = walk.fill(case, assessed.fill.end.item())
        found.append(Pair(case, assessed, walked, walk.Pump(case, walked.power)))
        if len(found) == COUNT:
            break
    return tuple(found)


def comparable(case: Case, assessed: Assessment) -> bool:
    """Whether enough is left of stroke and water, and the power is the one kept up for the fill's own time.

    Where a fill stops short of its target, it stops where the power says, and the power depends on the time
    to there: the core does not follow that to the end.
    """
    op, effort, fill = assessed.op, assessed.at_end, assessed.fill
    stroke = operation.delivery(op, fill.end, effort.effective_cadence).stroke
    if scalar(stroke) < LEAST_STROKE * scalar(op.stroke):
        return False
    if scalar(effort.net_per_stroke) < LEAST_NET * scalar(op.displacement):
        return False
    lasts = math.isclose(scalar(op.site.power), walk.power_for(case, fill.seconds.item()), rel_tol=LASTING)
    return lasts or fill.end.item() == case.target


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


def plain() -> list[Pair]:
    """Those of which the core leaves nothing out."""
    return [pair for pair in pairs() if pair.close.plain]


def test_the_strokes_are_those_of_the_walk_within_a_half_where_nothing_is_left_out() -> None:
    assert len(plain()) >= 60
    for pair in plain():
        assert pair.fill.strokes.item() == pytest.approx(pair.walked.strokes, abs=0.5, rel=0.002)


def test_time_and_work_are_those_of_the_walk_within_two_percent_where_nothing_is_left_out() -> None:
    for pair in plain():
        assert pair.fill.seconds.item() == pytest.approx(pair.walked.seconds, rel=0.02)
        assert pair.fill.work.item() == pytest.approx(pair.walked.work, rel=0.01)


def test_the_water_per_stroke_is_that_of_the_walk() -> None:
    for pair in pairs():
        net = pair.fill.volume.item() / pair.fill.strokes.item() / pair.pump.displacement
        assert net == pytest.approx(pair.net, abs=pair.close.net)


def test_time_and_work_are_those_of_the_walk() -> None:
    for pair in pairs():
        strokes = pair.close.strokes(pair.net) + 0.012
        assert pair.close.work(pair.fill.seconds.item() / pair.walked.seconds, strokes)
        assert pair.close.work(pair.fill.work.item() / pair.walked.work, strokes)


def test_on_the_whole_a_pump_that_bleeds_takes_what_it_takes_in_the_walk() -> None:
    bleeding = [pair for pair in pairs() if pair.case.check_valve and pair.case.weep_hole_diameter > 0.0]
    strokes, seconds, work = (
        np.array([getattr(pair.fill, name).item() / getattr(pair.walked, name) - 1.0 for pair in bleeding])
        for name in ("strokes", "seconds", "work")
    )
    assert len(bleeding) >= 60
    assert np.median(np.abs(strokes)) < 0.01
    assert np.median(np.abs(seconds)) < 0.015
    assert np.median(np.abs(work)) < 0.02


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
    # Nor does its closed form of a drop pipe that is shut off: without a check valve the hole just leaks.
    case = dataclasses.replace(
        RIGID,
        power=power,
        seal_drag=seal_drag,
        weep_hole_diameter=0.0016,
        check_valve=False,
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


def test_a_fill_to_its_target_is_worked_at_the_power_that_lasts_so_long() -> None:
    full = [pair for pair in pairs() if pair.end == pair.case.target]
    tired = [pair for pair in full if pair.walked.power < pair.case.power]
    assert len(tired) >= 5
    for pair in full:
        lasting = walk.power_for(pair.case, pair.fill.seconds.item())
        assert scalar(pair.found.op.site.power) == pytest.approx(lasting, rel=LASTING)


def test_a_curve_agrees_with_the_walk_on_the_way() -> None:
    for pair in plain()[:20]:
        points = np.linspace(pair.fill.start[..., 0], pair.fill.end[..., 0], 4, axis=-1)
        curve = filling.curve(pair.found.op.site, pair.fill, points)
        halfway = walk.walked(pair.case, points[0, 2], pair.walked.power)
        cycle = pair.pump.cycle(points[0, 2])
        assert abs(halfway.strokes - curve.strokes[0, 2]) <= 0.5
        assert halfway.seconds == pytest.approx(curve.seconds[0, 2], rel=0.01)
        assert cycle.effective == pytest.approx(curve.cadence[0, 2], rel=0.01)
        assert cycle.hand_force == pytest.approx(curve.hand_force[0, 2], rel=0.01)


def assert_cadences_agree(pair: Pair, pressure: float, pumping: float, effective: float) -> None:
    """Both cadences are as far from the walk's as the work is.

    Or the hand feels no difference: where the force is near its limit and hardly falls with the cadence, a
    little force is a lot of cadence.
    """
    pump = pair.pump
    cadences = pump.cadences(pressure)
    forces = [pump.hand_forces(pressure, cadence)[0] for cadence in (cadences[0], pumping)]
    if math.isclose(*forces, rel_tol=0.004) and min(pumping, *cadences) > pump.slowest:
        return
    assert pair.close.work(cadences[0] / pumping, strokes=0.005)
    assert pair.close.work(cadences[1] / effective, strokes=0.005)


def test_what_pumping_is_like_at_the_end_is_what_the_walk_says() -> None:
    for pair in pairs():
        cycle, effort = pair.pump.cycle(pair.end), pair.found.at_end
        pumping, effective = scalar(effort.pumping_cadence), scalar(effort.effective_cadence)
        assert_cadences_agree(pair, pair.end, pumping, effective)
        assert scalar(effort.hand_force) == pytest.approx(max(cycle.hand_force, 0.0), rel=0.012)
        assert scalar(effort.return_force) == pytest.approx(cycle.return_force, rel=1e-6, abs=1e-6)
        assert scalar(effort.net_per_stroke) == pytest.approx(
            pair.pump.delivery(pair.end, pumping, effective).delivered,
            abs=pair.close.net * pair.pump.displacement,
        )
        assert pair.close.work(
            scalar(effort.power) / (pair.pump.work(pair.end, pumping, effective) * effective)
        )


def test_forces_head_and_net_delivery_are_those_of_the_walk_at_every_pressure() -> None:
    for pair in pairs():
        op, pump = pair.found.op, pair.pump
        for pressure in (0.0, pair.end, 0.5e6):
            effective = scalar(operation.effective_cadence(op, pressure))
            pumping = scalar(operation.pumping_cadence(op, effective))
            cycle = pump.cycle(pressure)
            assert scalar(operation.hand_force(op, pressure, cycle.cadence)) == pytest.approx(
                max(cycle.hand_force, 0.0), rel=0.012, abs=0.1
            )
            assert scalar(operation.total_head(op, pressure, cycle.cadence)) == pytest.approx(
                cycle.total_head, rel=0.01
            )
            if cycle.stroke < LEAST_STROKE * pump.stroke:
                continue
            net = scalar(operation.net_delivery(op, pressure, cycle.effective))
            least = 0.0 if pair.case.check_valve else -math.inf
            assert max(net, least) == pytest.approx(cycle.net, abs=pair.close.net * pump.displacement)
            if cycle.net >= LEAST_NET * pump.displacement:
                assert_cadences_agree(pair, pressure, pumping, effective)


def test_what_a_suction_pump_has_left_of_the_atmosphere_is_what_the_walk_says() -> None:
    suction = [pair for pair in pairs() if pair.case.suction]
    for pair in suction:
        cadence = scalar(pair.found.at_target.pumping_cadence)
        margin = scalar(pair.found.npsh.margin)
        assert margin == pytest.approx(pair.pump.npsh_margin(cadence), abs=0.05)


def test_strokes_of_a_quarter_litre_fill_twenty_gallons_from_30_to_50_psi_in_89_43() -> None:
    # Worked from first principles: 22.357 L at 250 mL a stroke (precharge 28 psi, 14.696 psi of air).
    whole = Case(start=30 * PSI, tank_volume=20 * GALLON, handle_ratio=4.0)
    stroke = 0.25e-3 / (whole.volumetric_efficiency * area_of(whole.bore))
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
