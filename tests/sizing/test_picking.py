"""Only those who tire are filled again: among any others each gets what it gets alone."""

import dataclasses
from typing import Any

import numpy as np
import pytest
from tests.sizing.cases import Case, lineup, site, site_axis

from upstroke_service.physics import operator
from upstroke_service.sizing import assessment, picking, reduction

EASY = Case(static_water_level=10.0, hand_force_limit=400.0, tires=True, tank_volume=0.4)
SITES = [
    dataclasses.replace(EASY, power=20.0),
    dataclasses.replace(EASY, power=20.0, tires=False),
    dataclasses.replace(EASY, power=120.0, tank_volume=0.02),
    dataclasses.replace(EASY, power=45.0, people=2.0),
]
PUMPS = [Case(), Case(bore=0.06, weep_hole_diameter=0.0016), Case(bore=0.035)]


def test_who_tires_among_others_is_filled_as_if_alone_and_the_others_as_if_nobody_tired() -> None:
    together = assessment.assess(site_axis(SITES), lineup(*PUMPS))
    rested = assessment.assess(
        site_axis([dataclasses.replace(case, tires=False) for case in SITES]), lineup(*PUMPS)
    )
    spell = rested.fill.seconds / np.array([case.people for case in SITES]).reshape(-1, 1, 1)
    tires = (spell > operator.SHORT_SPELL) & np.array([case.tires for case in SITES]).reshape(-1, 1, 1)
    power = np.broadcast_to(together.op.site.power, tires.shape)
    alone_rested = np.broadcast_to(rested.op.site.power, tires.shape)

    # Of one site all, of another none, of a third some: the case is worth its name.
    assert 0 < tires.sum() < tires.size
    assert {0, 3} < set(tires[..., 0].sum(axis=1).tolist())
    assert (power[tires] < alone_rested[tires]).all()
    assert (power[~tires] == alone_rested[~tires]).all()
    assert (together.fill.seconds[~tires] == rested.fill.seconds[~tires]).all()
    for row, case in enumerate(SITES):
        for place, pump in enumerate(PUMPS):
            alone = assessment.assess(site(case), lineup(pump))
            for one, many in (
                (alone.fill.seconds, together.fill.seconds),
                (alone.fill.work, together.fill.work),
                (alone.ceiling.pressure, together.ceiling.pressure),
                (alone.op.site.power, power),
            ):
                assert many[row, place] == pytest.approx(np.ravel(one), rel=1e-12)


def test_what_is_picked_and_put_back_unchanged_changes_nothing() -> None:
    found = assessment.assess(site_axis(SITES), lineup(*PUMPS))
    chosen = np.arange(len(SITES) * len(PUMPS)).reshape(len(SITES), -1) % 2 == 0
    back = picking.put(found.fill, picking.pick(found.fill, chosen), chosen)

    for name in found.fill.__struct_fields__:
        assert np.array_equal(getattr(back, name), getattr(found.fill, name)), name


def test_picked_coefficients_are_those_of_the_chosen_candidates() -> None:
    op = reduction.prepare(site_axis(SITES), lineup(*PUMPS))
    chosen = np.zeros((len(SITES), len(PUMPS)), dtype=bool)
    chosen[1, 2] = chosen[3, 0] = True
    some = picking.pick(op, chosen)

    assert some.lineup.bore.ravel().tolist() == [PUMPS[2].bore, PUMPS[0].bore]
    assert some.site.power.ravel().tolist() == [SITES[1].power, SITES[3].power]
    assert np.asarray(some.losses.riser.c2)[0] == np.asarray(op.losses.riser.c2)[1, 2]


def test_what_is_picked_when_it_is_asked_for_is_what_is_picked_at_once() -> None:
    op = reduction.prepare(site_axis(SITES), lineup(*PUMPS))
    chosen = np.arange(len(SITES) * len(PUMPS)).reshape(len(SITES), -1) % 3 == 0
    once = picking.pick(op, chosen)
    asked: Any = picking.Picked(op, picking.Places(chosen.shape, *np.nonzero(chosen)))

    assert np.array_equal(asked.lineup.bore, once.lineup.bore)
    assert np.array_equal(asked.site.power, once.site.power)
    assert np.array_equal(asked.losses.riser.at(0.5), once.losses.riser.at(0.5))
    assert np.array_equal(asked.site.water.barometric_head, once.site.water.barometric_head)
