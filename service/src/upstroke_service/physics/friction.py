"""Friction of water in round pipes, hoses and the annulus around a pump rod."""

import numpy as np

from .constants import STANDARD_GRAVITY
from .real import Real

_CHURCHILL_A = 2.457
_CHURCHILL_B = 37_530.0


def circular_area(diameter: Real) -> Real:
    """Flow area π/4·D² in m² of a round bore of ``diameter`` in m.

    Source: geometry.
    """
    return 0.25 * np.pi * diameter**2


def annulus(inside_diameter: Real, rod_diameter: Real) -> tuple[Real, Real]:
    """Flow area in m² and hydraulic diameter in m of a pipe with a rod inside it.

    Area = A(``inside_diameter``) − A(``rod_diameter``), hydraulic diameter = their difference, both
    in m. A rod of 0 m gives the plain pipe. In laminar flow the hydraulic diameter understates an
    annulus's loss by up to a third; the flow around a pump rod is turbulent for most of the stroke.

    Source: hydraulic diameter 4A/P of a concentric annulus (White, Fluid Mechanics, 'noncircular ducts').
    """
    return circular_area(inside_diameter) - circular_area(rod_diameter), inside_diameter - rod_diameter


def reynolds_number(
    flow: Real, flow_area: Real, hydraulic_diameter: Real, density: Real, viscosity: Real
) -> Real:
    """Reynolds number Re = ρ·v·D_h/µ, dimensionless.

    ``flow`` m³/s, ``flow_area`` m², ``hydraulic_diameter`` m, ``density`` kg/m³, ``viscosity`` Pa·s.

    Source: definition.
    """
    return density * flow * hydraulic_diameter / (flow_area * viscosity)


def churchill_friction_factor(reynolds: Real, relative_roughness: Real) -> Real:
    """Darcy friction factor, dimensionless, through laminar, transition and turbulent flow.

    f = 8·[(8/Re)¹² + (A + B)^−1.5]^(1/12), A = {2.457·ln[1/((7/Re)^0.9 + 0.27·ε/D)]}¹⁶,
    B = (37530/Re)¹⁶, with ``reynolds`` Re > 0 and ``relative_roughness`` ε/D from 0 to 0.05. Within
    ±3.2 % of Colebrook above Re 4 000, ±2 % up to ε/D 0.001; in the transition between 2 100 and
    4 000 no formula is better than about ±20 %.

    Source: Churchill, Chemical Engineering 84 (24), 1977, pp. 91-92.
    """
    inverse = 1.0 / np.asarray(reynolds, dtype=np.float64)
    a = _CHURCHILL_A * -np.log((7.0 * inverse) ** 0.9 + 0.27 * relative_roughness)
    b = _CHURCHILL_B * inverse
    # Powers by squaring: a general power of 16 costs ten times as much.
    a = a * a
    a = a * a
    a = a * a
    b = b * b
    b = b * b
    b = b * b
    rough = a * a + b * b
    laminar = 8.0 * inverse
    laminar = laminar * laminar * laminar
    laminar = laminar * laminar
    factor: Real = 8.0 * (laminar * laminar + 1.0 / (rough * np.sqrt(rough))) ** (1.0 / 12.0)
    return factor


def head_loss(
    flow: Real,
    flow_area: Real,
    hydraulic_diameter: Real,
    length: Real,
    roughness: Real,
    density: Real,
    viscosity: Real,
) -> Real:
    """Friction head in m of water over ``length`` m of pipe, hose or annulus.

    h = f·(L/D_h)·v²/2g with ``flow`` m³/s ≥ 0 (none: no loss), ``flow_area`` m²,
    ``hydraulic_diameter`` m, ``roughness`` m, ``density`` kg/m³, ``viscosity`` Pa·s.

    Source: Darcy-Weisbach; Crane TP-410, equation 1-4.
    """
    velocity = np.asarray(flow, dtype=np.float64) / flow_area
    reynolds = np.maximum(density * velocity * hydraulic_diameter / viscosity, 1e-6)
    factor = churchill_friction_factor(reynolds, roughness / hydraulic_diameter)
    loss: Real = factor * (length / hydraulic_diameter / (2.0 * STANDARD_GRAVITY)) * velocity * velocity
    return loss
