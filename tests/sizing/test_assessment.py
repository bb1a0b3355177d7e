"""What an assessment concludes: outcome, power by duration, and where a fill begins and ends."""

import dataclasses

import msgspec
import numpy as np
import pytest
from tests.sizing import walk
from tests.sizing.cases import INCH, PSI, Case, lineup, scalar, site
from tests.sizing.closeness import Closeness
from tests.sizing.sweeps import ordinary_cases

from upstroke_service.physics.operator import SHORT_SPELL, sustainable_power
from upstroke_service.sizing import assessment, operation, reduction
from upstroke_service.sizing.assessment import DOES_NOT_FIT, FITS, FITS_WITH_LIMITS, Assessment

EASY = Case(static_water_level=10.0, bore=1.5 * INCH, handle_ratio=6.0, tires=True)


def assessed(case: Case) -> Assessment:
    return assessment.assess(site(case), lineup(case))


def test_a_cylinder_that_reaches_the_target_fits() -> None:
    found = assessed(EASY)
    assert found.reaches_target.item()
    assert found.outcome.item() == FITS
    assert found.fill.end.item() == EASY.target


@pytest.mark.parametrize(
    ("share", "outcome"), [(0.49, DOES_NOT_FIT), (0.51, FITS_WITH_LIMITS), (0.999, FITS_WITH_LIMITS)]
)
def test_half_of_the_water_is_still_worth_offering(share: float, outcome: int) -> None:
    tank = walk.Tank(EASY)
    stop = tank.pressure(share * tank.water(EASY.target))
    found = assessed(dataclasses.replace(EASY, tank_rating=stop))
    assert not found.reaches_target.item()
    assert found.outcome.item() == outcome
    assert found.fill.end.item() == stop


def test_a_fill_that_stores_nothing_is_offered_to_nobody() -> None:
    for case in (
        dataclasses.replace(EASY, start=EASY.target),
        dataclasses.replace(EASY, precharge=EASY.target + 1.0),
    ):
        found = assessed(case)
        assert found.outcome.item() == DOES_NOT_FIT
        assert found.fill.strokes.item() == found.fill.volume.item() == 0.0


def test_a_fill_that_takes_longer_than_a_spell_is_worked_at_the_power_that_lasts_so_long() -> None:
    short = assessed(EASY)
    long = assessed(dataclasses.replace(EASY, tank_volume=6.0 * EASY.tank_volume))
    seconds = long.fill.seconds.item()
    assert short.fill.seconds.item() < SHORT_SPELL < seconds
    assert scalar(short.at_end.power) == pytest.approx(EASY.power, rel=1e-9)
    assert scalar(long.at_end.power) == pytest.approx(sustainable_power(seconds, EASY.power), rel=2e-3)


def test_the_power_falls_without_a_step_as_the_fill_grows_longer() -> None:
    volumes = np.geomspace(1.0, 12.0, 60) * EASY.tank_volume
    many = msgspec.structs.replace(site(EASY), tank_volume=volumes.reshape(-1, 1, 1))
    seconds = assessment.assess(many, lineup(EASY)).fill.seconds.reshape(-1)
    per_volume = seconds / volumes
    assert seconds[0] < SHORT_SPELL < seconds[-1]
    assert np.all(np.diff(per_volume) >= -1e-9)
    assert np.max(per_volume[1:] / per_volume[:-1]) < 1.02


def test_people_who_take_turns_tire_later() -> None:
    long = dataclasses.replace(EASY, tank_volume=6.0 * EASY.tank_volume)
    alone, three = assessed(long), assessed(dataclasses.replace(long, people=3))
    share = three.fill.seconds.item() / 3.0
    assert three.fill.seconds.item() < alone.fill.seconds.item()
    assert scalar(three.at_end.power) == pytest.approx(sustainable_power(share, EASY.power), rel=2e-3)


def test_a_stated_power_is_kept_up_however_long_it_takes() -> None:
    long = dataclasses.replace(EASY, tank_volume=6.0 * EASY.tank_volume, tires=False)
    assert scalar(assessed(long).at_end.power) == pytest.approx(EASY.power, rel=1e-9)


def test_candidates_side_by_side_are_given_the_power_of_their_own_duration() -> None:
    large = dataclasses.replace(EASY, tank_volume=3.5 * EASY.tank_volume)
    quick, slow = large, dataclasses.replace(large, seal_drag=150.0)
    found = assessment.assess(site(large), lineup(quick, slow))
    assert found.fill.seconds[0].item() < SHORT_SPELL < found.fill.seconds[1].item()
    quick_power, slow_power = np.ravel(found.at_end.power)
    assert quick_power > slow_power
    assert found.fill.seconds[1].item() == pytest.approx(assessed(slow).fill.seconds.item(), rel=1e-12)


def test_the_effort_at_start_and_end_is_that_of_the_walk() -> None:
    for case in ordinary_cases(seed=12, count=120):
        case = dataclasses.replace(case, tires=False)  # noqa: PLW2901 - the same case, one power
        found, pump = assessed(case), walk.Pump(case)
        close = Closeness.of(pump)
        for effort, pressure in ((found.at_start, found.fill.start), (found.at_end, found.fill.end)):
            cadence, force = scalar(effort.pumping_cadence), scalar(effort.hand_force)
            cycle, same = pump.cycle(pressure.item()), pump.hand_forces(pressure.item(), cadence)
            # Near its limit the force hardly falls with the cadence: a little force is a lot of cadence.
            slowed = close.work(cycle.cadence / cadence, 0.005)
            assert slowed or max(same) == pytest.approx(cycle.hand_force, rel=0.004)
            assert max(*same, 0.0) == pytest.approx(force, rel=0.01)
            assert scalar(effort.power) <= case.power * (1.0 + 1e-6)


def test_friction_in_a_suction_pipe_acts_on_the_whole_plunger_and_in_a_drop_pipe_beside_the_rod() -> None:
    thick = Case(
        static_water_level=4.0,
        cylinder_depth=60.0,
        rod_diameter=0.03,
        drop_pipe_inside_diameter=0.05,
        drop_pipe_outside_diameter=0.06,
        runs=(),
        fittings=(),
        power=1000.0,
    )
    for suction in (False, True):
        case = dataclasses.replace(thick, suction=suction)
        pump, cadence = walk.Pump(case), case.cadence
        work = operation.work_of_cycle(reduction.prepare(site(case), lineup(case)), 0.0, cadence)
        assert pump.loss(cadence).riser > 0.1
        assert pump.work(0.0, cadence) == pytest.approx(scalar(work), rel=1e-4)


def test_a_return_stroke_that_must_be_pushed_counts_as_hand_force() -> None:
    case = dataclasses.replace(
        EASY,
        static_water_level=2.0,
        rod_diameter=0.034,
        rod_density=1400.0,
        drop_pipe_inside_diameter=0.08,
        drop_pipe_outside_diameter=0.09,
    )
    effort = assessed(dataclasses.replace(case, hand_force_limit=1000.0, target=60 * PSI)).at_end
    assert scalar(effort.hand_force) == scalar(effort.return_force)


def test_water_that_runs_downhill_by_itself_does_not_drive_the_operator() -> None:
    # The tank stands 40 m below the well: no force, no negative power, no negative efficiency.
    case = dataclasses.replace(
        EASY, rise=-40.0, start=0.0, precharge=0.0, target=10 * PSI, static_water_level=1.0
    )
    found = assessed(case)
    for effort in (found.at_start, found.at_end):
        assert scalar(effort.hand_force) >= 0.0
        assert scalar(effort.power) > 0.0
        assert scalar(effort.useful) >= 0.0
        assert scalar(effort.effective_cadence) == case.cadence
