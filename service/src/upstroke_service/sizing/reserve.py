"""What the water of one fill is good for: how much of it reaches the fixtures, and how fast it flows there.

A fixture works while the tank's pressure lifts water up to it, pushes it through the house's pipes and
leaves the least pressure that plumbing codes ask for. An open tank knows no such condition: its water is
dipped, or flows to what stands lower.
"""

import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Real
from upstroke_service.reference import fixtures

from . import storage
from .ceiling import relief_limit
from .facts import UNLIMITED, Site

LEAST_FACTOR = 1e-3
"""Drawdown factor up to which no tank is worth naming: it would be a thousand times as large as its use."""


def lowest_pressure(site: Site, use: str, floor_rise: Real) -> Real:
    """Gauge pressure in Pa at the tank below which a ``use`` no longer works, or the precharge if higher.

    The least pressure at its fixture, the fixture's height above the tank's gauge (``floor_rise`` m of
    the floor above the gauge, and its own above the floor), and what the house's pipes take.
    """
    lowest: Real = np.where(
        site.open,
        0.0,
        np.maximum(site.precharge, fixtures.minimum_pressure(use) + _way(site, use, floor_rise)),
    )
    return lowest


def _way(site: Site, use: str, floor_rise: Real) -> Real:
    """Pressure in Pa that the way from the tank's gauge to a fixture takes."""
    height = floor_rise + fixtures.USES[use].height
    return site.water.specific_weight * height + fixtures.HOUSE_PIPING.pressure


def usable_volume(site: Site, end: Real, lowest: Real) -> Real:
    """Water in m³ between the pressure ``end`` of a fill and the ``lowest`` that is of use, both Pa.

    An open tank's whole volume.
    """
    stored = storage.stored_at(site, end) - storage.stored_at(site, lowest)
    usable: Real = np.where(site.open, site.tank_volume, np.maximum(stored, 0.0))
    return usable


def serving_tank_volume(site: Site, end: Real, lowest: Real, wanted: Real) -> Real:
    """Total tank volume in m³ whose usable volume between ``end`` and ``lowest`` Pa is ``wanted`` m³.

    UNLIMITED where next to nothing of a tank lies in between: none would serve at that pressure. Of an
    open tank the volume wanted.
    """
    factor = np.asarray(
        tank.drawdown_factor(lowest, end, site.precharge, site.water.atmospheric_pressure, site.gas_exponent)
    )
    serves = factor > LEAST_FACTOR
    volume: Real = np.where(
        site.open, wanted, np.where(serves, wanted / np.where(serves, factor, 1.0), UNLIMITED)
    )
    return volume


def flow_at_fixture(site: Site, use: str, pressure: Real, floor_rise: Real) -> Real:
    """Flow in m³/s at the fixture of a ``use`` while the tank stands at a gauge ``pressure`` in Pa.

    It goes with the root of the pressure at the fixture, from the published flow at its pressure;
    nothing where the pressure does not lift the water that high.
    """
    known = fixtures.flow_of(use)
    left = np.maximum(pressure - _way(site, use, floor_rise), 0.0)
    flow: Real = known.flow * np.sqrt(left / known.pressure)
    return flow


def end_without_pump(site: Site) -> Real:
    """Pressure in Pa where a fill ends as far as tank, relief valve and hose are concerned: no pump limits it."""
    acceptance = tank.pressure_at_stored_volume(
        site.tank_acceptance, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    end = site.target
    for limit in (
        site.tank_rating,
        acceptance,
        relief_limit(site.relief_valve),
        site.hose_rating,
        site.highest_known_safe,
    ):
        end = np.minimum(end, limit)
    return end
