"""How much water a site's tank holds at a pressure; an open one holds its volume within OPEN_SPAN."""

import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Real

from .facts import OPEN_SPAN, Site


def start_of_storage(site: Site) -> Real:
    """Pressure in Pa at which water begins to be stored: the start, or the precharge if higher."""
    return np.maximum(site.start, site.precharge)


def stored_at(site: Site, pressure: Real) -> Real:
    """Water in m³ in the tank of ``site`` at a gauge ``pressure`` in Pa."""
    stored = tank.stored_volume(
        pressure, site.tank_volume, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    share = np.minimum(np.maximum(pressure / OPEN_SPAN, 0.0), 1.0)
    held: Real = np.where(site.open, site.tank_volume * share, stored)
    return held


def stored_between(site: Site, pressure: Real) -> Real:
    """Water in m³ that a fill from the start up to ``pressure`` in Pa stores; none where that is lower."""
    return np.maximum(stored_at(site, pressure) - stored_at(site, start_of_storage(site)), 0.0)


def per_pressure(site: Site, pressure: Real) -> Real:
    """Water in m³ gained per Pa at a gauge ``pressure`` in Pa."""
    gained = tank.storage_per_pressure(
        pressure, site.tank_volume, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    rate: Real = np.where(site.open, site.tank_volume / OPEN_SPAN, gained)
    return rate


def shown(site: Site, pressure: Real) -> Real:
    """The gauge pressure in Pa to show for one of the computation's: none where the tank is open."""
    gauge: Real = np.where(site.open, 0.0, pressure)
    return gauge
