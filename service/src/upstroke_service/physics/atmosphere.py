"""The atmosphere's pressure at a site."""

from .constants import STANDARD_ATMOSPHERE
from .errors import require_within
from .real import Real

LOWEST_ELEVATION = -400.0
HIGHEST_ELEVATION = 5_000.0

_EARTH_RADIUS = 6_356_766.0
_SEA_LEVEL_TEMPERATURE = 288.15
_LAPSE_RATE = 0.0065
# g₀·M/(R*·L) with the 1976 standard's own constants.
_EXPONENT = 9.80665 * 0.0289644 / (8.31432 * 0.0065)


def pressure(elevation: Real) -> Real:
    """Atmospheric pressure in Pa, absolute, at ``elevation`` in m above sea level (geometric).

    p = p₀·(1 − L·H/T₀)^(g₀M/R*L) with the geopotential altitude H = r₀z/(r₀ + z). Weather moves the
    true value by about ±3 %. Raises OutsideValidity outside −400 to 5 000 m.

    Source: US Standard Atmosphere 1976, equations 18 and 33a (= ISO 2533:1975 in the troposphere).
    """
    require_within("site elevation", elevation, LOWEST_ELEVATION, HIGHEST_ELEVATION, "m")
    geopotential = _EARTH_RADIUS * elevation / (_EARTH_RADIUS + elevation)
    return STANDARD_ATMOSPHERE * (1.0 - _LAPSE_RATE * geopotential / _SEA_LEVEL_TEMPERATURE) ** _EXPONENT
