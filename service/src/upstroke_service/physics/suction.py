"""Suction: the atmosphere pushes the water up, so it sets the limit."""

from . import atmosphere, water
from .real import Real

PRACTICAL_SHARE = 0.64
"""Share of the barometric head that hand suction pumps reach in practice. Common practice, no source:
reproduces published practical lifts within 1 ft from sea level to 10 560 ft."""


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
