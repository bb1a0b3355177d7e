"""The order in which candidates are offered, criterion by criterion."""

import dataclasses

import msgspec
import numpy as np
import pytest
from tests.sizing.cases import Case, lineup, site, site_axis
from tests.sizing.sweeps import ordinary_cases

from upstroke_service.physics.real import Array
from upstroke_service.sizing import assessment, ranking
from upstroke_service.sizing.assessment import DOES_NOT_FIT, FITS, FITS_WITH_LIMITS, Assessment

BEST = {"outcome": FITS, "volume": 0.05, "margin": 20.0, "force": 90.0, "push": -20.0, "seconds": 300.0}
"""A candidate as good as can be; rated lift 100 m."""


def made(*candidates: dict[str, float]) -> Assessment:
    """An assessment of made-up candidates, each BEST but for what it states."""
    base = assessment.assess(site(Case()), lineup(*[Case() for _ in candidates]))

    def column(name: str) -> Array:
        return np.array([[{**BEST, **candidate}[name]] for candidate in candidates])

    replace = msgspec.structs.replace
    return replace(
        base,
        outcome=column("outcome"),
        fill=replace(base.fill, volume=column("volume"), seconds=column("seconds")),
        budget=replace(base.budget, margin=column("margin"), rated_lift=np.full((len(candidates), 1), 100.0)),
        at_end=replace(base.at_end, hand_force=column("force"), return_force=column("push")),
    )


@pytest.mark.parametrize(
    ("better", "worse"),
    [
        ({"outcome": FITS, "volume": 0.01}, {"outcome": FITS_WITH_LIMITS, "volume": 0.05}),
        ({"outcome": FITS_WITH_LIMITS, "seconds": 999.0}, {"outcome": DOES_NOT_FIT}),
        ({"volume": 0.05, "margin": 1.0}, {"volume": 0.04}),
        ({"margin": 10.5, "force": 149.0}, {"margin": 9.5, "force": 90.0}),
        ({"force": 99.0, "push": 10.0, "seconds": 900.0}, {"force": 101.0, "seconds": 100.0}),
        ({"push": -1.0, "seconds": 900.0}, {"push": 1.0, "seconds": 100.0}),
        ({"seconds": 299.0, "force": 99.0}, {"seconds": 301.0, "force": 50.0}),
        ({"seconds": 300.0, "force": 80.0}, {"seconds": 300.0, "force": 81.0}),
    ],
    ids=["outcome", "no-fit-last", "water", "margin", "comfortable-force", "wear", "minutes", "force"],
)
def test_each_criterion_counts_before_those_that_follow(
    better: dict[str, float], worse: dict[str, float]
) -> None:
    assert ranking.order(made(better, worse)).tolist() == [0, 1]
    assert ranking.order(made(worse, better)).tolist() == [1, 0]


def test_equals_keep_the_order_of_their_names() -> None:
    assert ranking.order(made({}, {}, {})).tolist() == [0, 1, 2]


def test_volumes_that_differ_by_rounding_are_the_same() -> None:
    assert ranking.order(made({"seconds": 301.0, "volume": 0.05 * (1.0 + 1e-9)}, {})).tolist() == [1, 0]


def test_a_spare_tenth_of_the_rated_lift_is_enough_margin() -> None:
    assert ranking.order(made({"margin": 10.0, "seconds": 299.0}, {"margin": 50.0})).tolist() == [0, 1]


def test_a_cylinder_without_any_rated_lift_comes_last_and_breaks_nothing() -> None:
    useless = Case(rated_lift=0.0)
    found = assessment.assess(site(Case()), lineup(useless, Case(static_water_level=20.0)))
    assert ranking.order(found).tolist() == [1, 0]


def test_what_one_site_prefers_does_not_depend_on_the_other_sites() -> None:
    # A buffer tank of half a litre beside a farm's: there the smaller bore stores 3 mL more, which counts
    # as more water however much the farm stores.
    buffer = Case(tank_volume=0.5e-3, static_water_level=8.0, runs=(), fittings=(), rated_lift=60.0)
    farm = dataclasses.replace(buffer, tank_volume=50.0)
    pumps = lineup(*[dataclasses.replace(buffer, bore=bore) for bore in (0.0402, 0.0400)])
    found = assessment.assess(site_axis([buffer, farm]), pumps)
    stored = found.fill.volume[0, :, 0]
    assert found.outcome[0, :, 0].tolist() == [FITS_WITH_LIMITS, FITS_WITH_LIMITS]
    assert 0.0 < stored[1] - stored[0] < 1e-6 * found.fill.volume.max()
    together = ranking.order(found)
    alone = [ranking.order(assessment.assess(site(one), pumps)).tolist() for one in (buffer, farm)]
    assert together.tolist() == alone
    assert together[0].tolist() == [1, 0]


def test_the_order_of_the_candidates_changes_nothing() -> None:
    cases = ordinary_cases(seed=21, count=12)
    shuffled = np.random.default_rng(1).permutation(len(cases))
    for ordinary in ordinary_cases(seed=22, count=10):
        straight = assessment.assess(site(ordinary), lineup(*cases))
        permuted = assessment.assess(site(ordinary), lineup(*[cases[place] for place in shuffled]))
        assert shuffled[ranking.order(permuted)].tolist() == ranking.order(straight).tolist()
