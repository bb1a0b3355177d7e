"""What holds for every case: monotony, independence of candidates and sites, and finite numbers."""

import dataclasses
from collections.abc import Iterator, Sequence
from unittest import mock

import msgspec
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.sizing.cases import PSI, Case, lineup, scalar, site, site_axis
from tests.sizing.sweeps import accepted_case, ordinary_cases, ordinary_strategy

from upstroke_service.physics.real import Array
from upstroke_service.sizing import assessment, ceiling, filling, operation, ranking, reduction
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.facts import Lineup, Site

# The same examples in every run: the machine's speed and yesterday's failures decide nothing.
DETERMINISTIC = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow]
)
PROPERTY = settings(DETERMINISTIC, max_examples=60)
EXTREMES = settings(DETERMINISTIC, max_examples=100)


def numbers(part: object, path: str = "") -> Iterator[tuple[str, Array]]:
    """Every number and array of a structure, with where it stands."""
    if isinstance(part, msgspec.Struct):
        for name in part.__struct_fields__:
            yield from numbers(getattr(part, name), f"{path}.{name}")
    elif isinstance(part, tuple):
        for place, item in enumerate(part):
            yield from numbers(item, f"{path}[{place}]")
    elif part is not None:
        yield path, np.asarray(part)


def hand_force(case: Case, pressure: float, cadence: float) -> float:
    upstroke, _ = operation.hand_forces(reduction.prepare(site(case), lineup(case)), pressure, cadence)
    return scalar(upstroke)


@PROPERTY
@given(ordinary_strategy(), st.floats(0.0, 60.0), st.floats(0.1, 30.0))
def test_more_head_never_needs_less_force_at_the_same_cadence(case: Case, psi: float, more: float) -> None:
    cadence, pressure = case.cadence, psi * PSI
    least = hand_force(case, pressure, cadence)
    assert hand_force(case, pressure + more * PSI, cadence) > least
    for deeper in ("static_water_level", "well_drawdown", "rise"):
        changed = dataclasses.replace(case, **{deeper: getattr(case, deeper) + more})
        assert hand_force(changed, pressure, cadence) > least
    longer = dataclasses.replace(case, runs=(*case.runs, (0.02, more, 1.5e-6)))
    assert hand_force(longer, pressure, cadence) > least


@PROPERTY
@given(ordinary_strategy(), st.floats(0.0, 60.0), st.floats(0.1, 30.0))
def test_more_pressure_is_never_pumped_faster(case: Case, psi: float, more: float) -> None:
    op = reduction.prepare(site(case), lineup(case))
    low, high = (scalar(operation.effective_cadence(op, value * PSI)) for value in (psi, psi + more))
    assert 0.0 < high <= low <= case.cadence


@PROPERTY
@given(ordinary_strategy(), st.floats(0.0, 40.0))
def test_a_higher_target_never_takes_fewer_strokes_less_time_or_less_work(case: Case, more: float) -> None:
    op = reduction.prepare(site(case), lineup(case))
    stop = ceiling.find(op).hard_stop
    low, high = (filling.total(op, np.minimum(case.target + extra * PSI, stop)) for extra in (0.0, more))
    for name in ("volume", "strokes", "seconds", "work"):
        assert scalar(getattr(high, name)) >= scalar(getattr(low, name)) * (1.0 - 1e-9) >= 0.0


@PROPERTY
@given(ordinary_strategy(), st.floats(1.0, 5.0))
def test_more_tank_never_gives_less_water(case: Case, times: float) -> None:
    one_power = dataclasses.replace(case, tires=False)
    # A casing of unknown width, which bounds no drawdown: the pump does not know how large the tank is.
    one_power = dataclasses.replace(one_power, casing_area=0.0)
    larger = dataclasses.replace(one_power, tank_volume=case.tank_volume * times)
    small, large = (assessment.assess(site(one), lineup(one)).fill for one in (one_power, larger))
    assert scalar(large.volume) >= scalar(small.volume)
    assert scalar(large.volume) == pytest.approx(times * scalar(small.volume), rel=1e-9)


@PROPERTY
@given(ordinary_strategy(), st.floats(1.0, 3.0))
def test_a_stronger_operator_is_never_slower(case: Case, times: float) -> None:
    stronger = dataclasses.replace(case, power=case.power * times)
    ops = [reduction.prepare(site(one), lineup(one)) for one in (case, stronger)]
    stop = np.minimum(case.target, np.minimum(*(ceiling.find(op).hard_stop for op in ops)))
    slow, quick = (filling.total(op, stop) for op in ops)
    assert scalar(quick.seconds) <= scalar(slow.seconds) * (1.0 + 1e-9)


NOT_RESULTS = ("fill.edges", "fill.along", "fill.cadences")
"""Where the quadrature stood, from which a curve is drawn: not one number per candidate."""


def results(found: Assessment) -> dict[str, Array]:
    """All that was found, by name, without the facts that it was found from."""
    parts = [name for name in found.__struct_fields__ if name not in ("op", "ceiling")]
    arrays = {path: value for name in parts for path, value in numbers(getattr(found, name), name)}
    kept = {path: value for path, value in arrays.items() if path not in NOT_RESULTS}
    return kept | dict(zip(LIMITS, found.ceiling.limits, strict=True))


@PROPERTY
@given(st.integers(0, 10_000), st.permutations(range(7)))
def test_the_order_of_the_candidates_only_reorders_the_answers(seed: int, places: list[int]) -> None:
    cases = ordinary_cases(seed, len(places))
    straight = results(assessment.assess(site(cases[0]), lineup(*cases)))
    shuffled = results(assessment.assess(site(cases[0]), lineup(*[cases[place] for place in places])))
    columns = (len(places), 1)
    for path, found in shuffled.items():
        expected = np.broadcast_to(straight[path], columns)[places]
        assert np.broadcast_to(found, columns) == pytest.approx(expected, rel=1e-12, abs=1e-12), path


@PROPERTY
@given(st.integers(0, 10_000), st.integers(1, 4))
def test_a_candidate_is_judged_as_if_it_were_alone(seed: int, others: int) -> None:
    cases = ordinary_cases(seed, 1 + others)
    together = results(assessment.assess(site(cases[0]), lineup(*cases)))
    alone = results(assessment.assess(site(cases[0]), lineup(cases[0])))
    for path, found in together.items():
        first = np.broadcast_to(found, (1 + others, 1))[0]
        assert np.ravel(alone[path]) == pytest.approx(first, rel=1e-12, abs=1e-12), path


FEW_AND_MANY = (ceiling.MANY, 0)
"""From how many on limits are sought in the way of many: more than there are here, and any."""


def assert_each_site_is_as_if_alone(many: Site, alone: Sequence[Site], pumps: Lineup) -> None:
    for size in FEW_AND_MANY:
        with mock.patch.object(ceiling, "MANY", size):
            together = assessment.assess(many, pumps)
        assert_as_if_alone(together, alone, pumps)


def assert_as_if_alone(together: Assessment, alone: Sequence[Site], pumps: Lineup) -> None:
    count = len(pumps.bore)
    everything, order = results(together), ranking.order(together)
    for place, one in enumerate(alone):
        single = assessment.assess(one, pumps)
        assert np.broadcast_to(order, (len(alone), count))[place].tolist() == ranking.order(single).tolist()
        for path, expected in results(single).items():
            found = np.broadcast_to(everything[path], (len(alone), count, 1))[place]
            assert found == pytest.approx(np.broadcast_to(expected, (count, 1)), rel=1e-12, abs=1e-12), path


@PROPERTY
@given(st.integers(0, 10_000), st.integers(1, 5), st.integers(1, 5), st.sampled_from(["stated", "derived"]))
def test_many_sites_at_once_give_what_each_gives_alone(
    seed: int, sites: int, pumps: int, depth_known: str
) -> None:
    cases = [
        dataclasses.replace(
            case,
            runs=(*case.runs, *Case().runs, *Case().runs)[:2],
            cylinder_depth=case.static_water_level + 30.0 if depth_known == "stated" else None,
        )
        for case in ordinary_cases(seed, sites)
    ]
    candidates = lineup(*ordinary_cases(seed + 1, pumps))
    assert_each_site_is_as_if_alone(site_axis(cases), [site(case) for case in cases], candidates)


VARIED = [name for name in Site.__struct_fields__ if name not in ("water", "runs")]


@pytest.mark.parametrize("name", VARIED)
def test_sites_may_differ_in_one_fact_alone(name: str) -> None:
    pumps = lineup(Case(), Case(bore=0.05, weep_hole_diameter=0.0016), Case(bore=0.06, suction=True))
    base = site(Case(drawdown_per_flow=500.0, rise=1.0, outlet_height=0.2, well_drawdown=0.3))
    first = getattr(base, name)
    if isinstance(first, bool):
        values: list[float | bool] = [True, False]
    elif name == "cylinder_depth":
        values = [30.0, 45.0]
    else:
        values = [0.8 * first, 1.1 * first + 0.01]
    along = np.array(values).reshape(-1, 1, 1)
    alone = [msgspec.structs.replace(base, **{name: value}) for value in values]
    assert_each_site_is_as_if_alone(msgspec.structs.replace(base, **{name: along}), alone, pumps)


@EXTREMES
@given(st.lists(accepted_case(), min_size=1, max_size=2), st.booleans())
def test_every_number_is_finite_whatever_the_contract_accepts(cases: list[Case], stop: bool) -> None:  # noqa: FBT001
    found = assessment.assess(site(cases[0]), lineup(*cases), stop_at_ceiling=stop)
    for path, value in numbers(found):
        assert np.all(np.isfinite(value.astype(np.float64))), path
    for value in (found.fill.volume, found.fill.strokes, found.fill.seconds, found.fill.work):
        assert np.all(value >= 0.0)
    for effort in (found.at_start, found.at_end):
        assert np.all(effort.hand_force >= 0.0)
        assert np.all((effort.useful >= 0.0) & (effort.useful <= 1.0))
        assert np.all((effort.effective_cadence > 0.0) & (effort.effective_cadence <= cases[0].cadence))
        assert np.all(effort.power <= found.op.site.power * (1.0 + 1e-6))
    assert sorted(ranking.order(found).tolist()) == list(range(len(cases)))

    points = np.linspace(found.fill.start[..., 0], found.fill.end[..., 0], 5, axis=-1)
    curve = filling.curve(found.op.site, found.fill, points)
    for values in (curve.volume, curve.strokes, curve.seconds, curve.work):
        assert np.all(np.isfinite(values))
        assert np.all(np.diff(values) >= -1e-12 * np.abs(values[..., 1:]))
