"""The facts of a sizing, in SI units: what the site is, who pumps, and which cylinders could do it.

Everything in this package broadcasts over three axes, (sites, candidates, points): a site's value is a
float, or an array of shape (sites, 1, 1) for many sites; a line-up's columns have the shape
(candidates, 1); points are pressures along a fill. A quote and a county's wells run the same lines.
"""

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from upstroke_service.physics import atmosphere, water
from upstroke_service.physics.real import Array, Real

Flags = NDArray[np.bool_]

UNLIMITED: Final = 1e9
"""Pressure in Pa that stands for 'no limit': finite, so that arithmetic stays finite."""

OPEN_SPAN: Final = 1.0
"""Pressure in Pa over which an open tank counts as filled, evenly: next to nothing, so that whatever
integrates along the pressure does so for open tanks too."""


class Water(msgspec.Struct, frozen=True):
    """Properties of the water and the air at a site, SI."""

    density: Real
    viscosity: Real
    specific_weight: Real
    saturation_pressure: Real
    atmospheric_pressure: Real

    @property
    def barometric_head(self) -> Real:
        """Height in m to which the atmosphere can push this water."""
        return (self.atmospheric_pressure - self.saturation_pressure) / self.specific_weight


def water_at(temperature: Real, elevation: Real) -> Water:
    """Water of ``temperature`` in K at a site ``elevation`` in m above sea level.

    Raises OutsideValidity outside 0 to 40 °C or −400 to 5 000 m.
    """
    return Water(
        density=water.density(temperature),
        viscosity=water.dynamic_viscosity(temperature),
        specific_weight=water.specific_weight(temperature),
        saturation_pressure=water.saturation_pressure(temperature),
        atmospheric_pressure=atmosphere.pressure(elevation),
    )


class Run(msgspec.Struct, frozen=True):
    """A stretch of pipe or hose between pump outlet and tank, m."""

    inside_diameter: Real
    length: Real
    roughness: Real


class Site(msgspec.Struct, frozen=True, kw_only=True):
    """Everything about a site that does not depend on the cylinder, SI, gauge pressures.

    ``drawdown_per_flow`` is the inverse of the specific capacity (s/m²), 0 where the well drawdown is
    stated; ``casing_area`` m², 0 where unknown; ``sustained_yield`` m³/s,
    UNLIMITED where unknown; ``fittings`` is the sum of K/(2·g·A²) over all fittings (s²/m⁵). An ``open``
    tank has the volume ``tank_volume`` to bring, a start of 0 and a target of OPEN_SPAN. ``power`` is
    what one person sustains for a quarter of an hour, and for as long as it takes unless one ``tires``;
    ``people`` take turns; ``session`` (s) the longest that one wants to pump.
    Ratings that nobody stated are UNLIMITED; ``highest_known_safe`` then holds the pressure that the
    system is known to stand in daily use.
    """

    water: Water
    static_water_level: Real
    well_drawdown: Real
    drawdown_per_flow: Real
    casing_area: Real
    sustained_yield: Real
    outlet_height: Real
    rise: Real
    cylinder_depth: Real | None
    runs: tuple[Run, ...]
    fittings: Real
    check_valve: bool | Flags
    cracking_pressure: Real
    air_chamber: bool | Flags
    open: bool | Flags
    tank_volume: Real
    precharge: Real
    gas_exponent: Real
    start: Real
    target: Real
    power: Real
    tires: bool | Flags
    people: Real
    session: Real
    hand_force_limit: Real
    comfortable_hand_force: Real
    cadence: Real
    tank_rating: Real
    tank_acceptance: Real
    relief_valve: Real
    hose_rating: Real
    highest_known_safe: Real
    casing_room: Real


class Lineup(msgspec.Struct, frozen=True, kw_only=True):
    """The candidate cylinders with what drives and carries them, columns of (candidates, 1), SI.

    ``suction`` is true where the cylinder stands at the surface. A ``weep_hole_diameter`` of 0 is no
    weep hole. ``rod_density`` kg/m³, moduli Pa, ``seal_drag`` N, ``upstroke_share`` of a cycle's time.
    """

    suction: Flags
    bore: Array
    stroke: Array
    rated_lift: Array
    outside_diameter: Array
    volumetric_efficiency: Array
    seal_drag: Array
    handle_ratio: Array
    handle_efficiency: Array
    upstroke_share: Array
    rod_diameter: Array
    rod_density: Array
    rod_modulus: Array
    drop_pipe_inside_diameter: Array
    drop_pipe_outside_diameter: Array
    drop_pipe_roughness: Array
    drop_pipe_modulus: Array
    drop_pipe_poisson_ratio: Array
    weep_hole_diameter: Array
    weep_hole_depth: Array
    weep_hole_coefficient: Array
