"""Local losses in fittings and valves."""

from .constants import STANDARD_GRAVITY
from .real import Real


def head_loss(flow: Real, flow_area: Real, resistance_coefficient: Real) -> Real:
    """Head loss h = K·v²/2g in m of water.

    ``flow`` m³/s, ``flow_area`` m² of the pipe that K refers to, ``resistance_coefficient`` K,
    dimensionless; several fittings of one size add their K.

    Source: Crane TP-410, equation 2-2.
    """
    velocity = flow / flow_area
    return resistance_coefficient * velocity * velocity / (2.0 * STANDARD_GRAVITY)
