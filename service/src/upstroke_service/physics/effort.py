"""Forces on the rod and the handle, and the work of one cycle.

The rod leaves the riser through a packing, so the pressure at the pump head acts on the plunger area
less the rod area on the upstroke, and on the rod area when the rod re-enters on the downstroke.
"""

import numpy as np

from .constants import STANDARD_GRAVITY
from .friction import circular_area
from .real import Real


def buoyant_rod_weight(rod_diameter: Real, length: Real, rod_density: Real, water_density: Real) -> Real:
    """Weight in N of a rod under water, A_r·L·(ρ_rod − ρ)·g.

    ``rod_diameter`` m, ``length`` m, ``rod_density`` and ``water_density`` kg/m³.

    Source: Archimedes; API RP 11L uses the same 'weight of rods in fluid'.
    """
    return circular_area(rod_diameter) * length * (rod_density - water_density) * STANDARD_GRAVITY


def upstroke_force(
    lift: Real,
    head_pressure: Real,
    plunger_area: Real,
    rod_area: Real,
    specific_weight: Real,
    rod_weight: Real,
    seal_drag: Real,
) -> Real:
    """Rod force in N that lifts the plunger, γ·L·A_p + p_h·(A_p − A_r) + rod weight + seal drag.

    ``lift`` m from the pumping water level up to the pump head; ``head_pressure`` Pa gauge at the
    pump head, losses included; ``plunger_area`` and ``rod_area`` m²; ``specific_weight`` N/m³;
    ``rod_weight`` N, under water; ``seal_drag`` N.

    Source: balance of forces on the plunger; the rod's buoyancy takes the place of γ·L·A_r.
    """
    return (
        specific_weight * lift * plunger_area
        + head_pressure * (plunger_area - rod_area)
        + rod_weight
        + seal_drag
    )


def return_force(head_pressure: Real, rod_area: Real, rod_weight: Real, seal_drag: Real) -> Real:
    """Rod force in N that the downstroke needs, p_h·A_r + seal drag − rod weight.

    ``head_pressure`` Pa gauge at the pump head, ``rod_area`` m², ``rod_weight`` N under water,
    ``seal_drag`` N. Negative: the rod falls by its own weight.

    Source: balance of forces on the rod with the plunger valve open.
    """
    return head_pressure * rod_area + seal_drag - rod_weight


def hand_force(rod_force: Real, handle_ratio: Real, handle_efficiency: Real) -> Real:
    """Force in N at the handle's grip, F/(ratio·η).

    ``rod_force`` N; ``handle_ratio`` hand travel over stroke; ``handle_efficiency`` of the linkage.

    Source: lever law with a friction allowance.
    """
    return rod_force / (handle_ratio * handle_efficiency)


def work_per_cycle(upstroke_force: Real, return_force: Real, stroke: Real, handle_efficiency: Real) -> Real:
    """Work in J that the operator does in one cycle, s·(F_u + max(F_d, 0))/η.

    ``upstroke_force`` and ``return_force`` N, averaged over the stroke by volume; ``stroke`` m;
    ``handle_efficiency`` of the linkage. A rod that falls by itself gives nothing back to the hand.

    Source: work = force times travel.
    """
    work: Real = stroke * (upstroke_force + np.maximum(return_force, 0.0)) / handle_efficiency
    return work
