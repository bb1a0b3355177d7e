"""Stretch of rod and drop pipe, and how much a springy drop pipe holds under pressure.

A lift pump's cylinder hangs on the drop pipe and its plunger on the rod. On the upstroke the rod carries
the water, on the return the pipe does: both give way as the load changes hands, and the plunger moves
less in its cylinder than the handle moves it.
"""

import numpy as np

from .friction import circular_area
from .real import Real


def stiffness(modulus: Real, area: Real, length: Real) -> Real:
    """Stiffness E·A/L in N/m of a bar under tension.

    ``modulus`` Pa, ``area`` m² of the material's cross-section, ``length`` m.

    Source: Hooke's law.
    """
    return modulus * area / length


def wall_area(inside_diameter: Real, outside_diameter: Real) -> Real:
    """Cross-section π/4·(D² − d²) in m² of a pipe's wall, ``inside_diameter``, ``outside_diameter`` in m.

    Source: geometry.
    """
    return circular_area(outside_diameter) - circular_area(inside_diameter)


def effective_stroke(stroke: Real, stretch: Real) -> Real:
    """Plunger's stroke in m within its cylinder: ``stroke`` less ``stretch`` of rod and pipe, both m.

    Nothing is left, 0 m, where the stretch takes it all. Where the drop pipe stays under pressure through the return,
    the stretch is F·(1/k_rod + 1/k_pipe), with F the plunger area times the pressure above it.

    Source: API RP 11L, static terms for unanchored tubing (edition from memory).
    """
    remaining: Real = np.maximum(stroke - stretch, 0.0)
    return remaining


def riser_compliance(
    length: Real,
    inside_diameter: Real,
    outside_diameter: Real,
    modulus: Real,
    poisson_ratio: Real,
    water_bulk_modulus: Real = 2.2e9,
) -> Real:
    """Water in m³/Pa that a drop pipe takes in as its pressure rises: by its wall and by the water itself.

    ``length`` m, ``inside_diameter`` and ``outside_diameter`` m, ``modulus`` Pa and ``poisson_ratio`` of
    the wall, ``water_bulk_modulus`` Pa. The wall gives all around and lengthwise: the bottom is closed
    while the plunger comes down, and hangs free, so the pressure pulls on the pipe.

    Source: Lamé's thick-walled cylinder with closed ends, Timoshenko, Strength of Materials, part II
    (edition from memory).
    """
    inside, outside = inside_diameter * inside_diameter, outside_diameter * outside_diameter
    wall = outside - inside
    # Volume strain 2·ε_hoop + ε_axial per unit of pressure, with σ_axial = p·d²/(D² − d²).
    around = 2.0 * ((outside + inside) / wall + poisson_ratio)
    lengthwise = (1.0 - 4.0 * poisson_ratio) * inside / wall
    strain = (around + lengthwise) / modulus + 1.0 / water_bulk_modulus
    return circular_area(inside_diameter) * length * strain
