"""Suction: the atmosphere pushes the water up, so it sets the limit."""

from typing import Final, NamedTuple

import numpy as np

from . import atmosphere, water
from .real import Real

PRACTICAL_SHARE = 0.64
"""Share of the barometric head that hand suction pumps reach in practice. Common practice, no source:
reproduces published practical lifts within 1 ft from sea level to 10 560 ft."""

REQUIRED_NPSH: Final = 1.0
"""Net positive suction head in m that a hand suction pump needs: what foot valve, plunger valve and
cup leathers take, and what dissolved air asks for on its way out. Common practice, no source. It is
less than the 0.36 of the barometric head that PRACTICAL_SHARE leaves, 3.7 m at sea level and 2.5 m at
3 000 m, so that short suction pipes are judged by PRACTICAL_SHARE, and long or narrow ones by it."""


class Npsh(NamedTuple):
    """Net positive suction head at the cylinder, line by line, m.

    ``atmospheric_head`` and ``vapour_head`` are p_a/γ and p_v/γ, ``suction_lift`` from the pumping
    level up to the cylinder, ``friction`` and ``acceleration_head`` those of the suction pipe.

    Source: ISO 17769-1:2012, definitions of NPSH (from memory).
    """

    atmospheric_head: Real
    vapour_head: Real
    suction_lift: Real
    friction: Real
    acceleration_head: Real
    required: Real = REQUIRED_NPSH

    @property
    def available(self) -> Real:
        """What is left of the atmosphere's head at the cylinder."""
        barometric = self.atmospheric_head - self.vapour_head
        return npsh_available(barometric, self.suction_lift, self.friction, self.acceleration_head)

    @property
    def margin(self) -> Real:
        """What is available beyond what is required; negative: the column breaks off."""
        return self.available - self.required


def barometric_head(elevation: Real, temperature: Real) -> Real:
    """Height (p_a − p_v)/γ in m to which the atmosphere can push water.

    ``elevation`` m above sea level, water ``temperature`` K. Raises OutsideValidity where either is.

    Source: hydrostatics with the atmosphere and water models of this package.
    """
    return (atmosphere.pressure(elevation) - water.saturation_pressure(temperature)) / water.specific_weight(
        temperature
    )


def practical_suction_lift(elevation: Real, temperature: Real) -> Real:
    """Greatest suction lift in m to plan on: 0.64 of the barometric head.

    ``elevation`` m above sea level, water ``temperature`` K.

    Source: common practice, no source; see PRACTICAL_SHARE.
    """
    return PRACTICAL_SHARE * barometric_head(elevation, temperature)


def npsh_available(
    barometric_head: Real, suction_lift: Real, loss: Real, acceleration_head: Real = 0.0
) -> Real:
    """Net positive suction head available in m at the cylinder.

    ``barometric_head`` m as above, ``suction_lift`` m from the pumping level up to the cylinder,
    friction ``loss`` m and ``acceleration_head`` m of the suction line.

    Source: ISO 17769-1:2012, definition of NPSH available.
    """
    return barometric_head - suction_lift - loss - acceleration_head


def greatest_suction_lift(barometric_head: Real, loss: Real, required: Real) -> Real:
    """Greatest suction lift in m at a site: min(0.64·h_b, h_b − NPSHr − h_l).

    ``barometric_head`` h_b in m, ``loss`` h_l in m the greatest head that friction and acceleration
    together take within a stroke, ``required`` NPSHr in m. Negative where the water would have to
    stand above the cylinder.

    Source: ISO 17769-1:2012, definition of NPSH (from memory); PRACTICAL_SHARE and REQUIRED_NPSH.
    """
    lift: Real = np.minimum(PRACTICAL_SHARE * barometric_head, barometric_head - required - loss)
    return lift
