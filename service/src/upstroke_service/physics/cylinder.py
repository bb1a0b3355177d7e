"""Geometry of the pump cylinder."""

from .friction import circular_area
from .real import Real


def plunger_area(bore: Real) -> Real:
    """Plunger area π/4·d² in m² of a cylinder of ``bore`` in m.

    Source: geometry.
    """
    return circular_area(bore)


def displacement(bore: Real, stroke: Real) -> Real:
    """Displacement A·s in m³ per cycle of a single-acting cylinder, ``bore`` and ``stroke`` in m.

    The delivered volume is this times the volumetric efficiency (slip past seals and valves).

    Source: definition, Hydraulic Institute (ANSI/HI 6.1-6.5, reciprocating power pumps).
    """
    return circular_area(bore) * stroke
