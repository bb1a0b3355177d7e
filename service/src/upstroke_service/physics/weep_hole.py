"""Leakage through a weep hole (drain-back hole) in the drop pipe."""

import numpy as np

from .fill import panels
from .friction import circular_area
from .real import Real
from .tank import storage_per_pressure

_DRAIN_ORDER = 24
_NEGLIGIBLE = 1e-30


def discharge(pressure: Real, diameter: Real, discharge_coefficient: Real, density: Real) -> Real:
    """Flow q = C_d·A·√(2p/ρ) in m³/s out of a hole; none at or below zero pressure.

    ``pressure`` Pa inside above outside at the hole, ``diameter`` m, ``discharge_coefficient``
    dimensionless (0.62 for a sharp edge, about 0.80 where the hole is a few diameters long),
    ``density`` kg/m³.

    Source: orifice equation; coefficients in Brater & King, Handbook of Hydraulics, chapter 4
    (edition from memory).
    """
    head = np.maximum(pressure, 0.0) * (2.0 / density)
    flow: Real = discharge_coefficient * circular_area(diameter) * np.sqrt(head)
    return flow


def time_to_drain(
    tank_volume: Real,
    precharge: Real,
    start: Real,
    end: Real,
    diameter: Real,
    discharge_coefficient: Real,
    density: Real,
    atmospheric_pressure: Real,
    gas_exponent: Real = 1.0,
    static_pressure: Real = 0.0,
) -> Real:
    """Time in s in which a resting tank without a check valve falls from ``start`` to ``end``.

    t = ∫ (dV_w/dp)/q(p + ``static_pressure``) dp. ``tank_volume`` m³; ``precharge``, ``start``,
    ``end`` Pa gauge with start ≥ end; hole ``diameter`` m, ``discharge_coefficient`` dimensionless,
    ``density`` kg/m³, ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless,
    ``static_pressure`` Pa of the water column between tank and hole.

    Source: volume balance of the tank and orifice models of this package.
    """
    lower = np.maximum(end, precharge)
    upper = np.maximum(start, lower)

    def column(value: Real) -> Real:
        return np.asarray(value)[..., np.newaxis]

    # With the root of the pressure at the hole as variable the integrand stays finite down to zero.
    static = column(static_pressure)
    limits = np.stack(np.broadcast_arrays(lower + static_pressure, upper + static_pressure), axis=-1)
    roots, weights = panels(np.sqrt(limits), _DRAIN_ORDER)
    storage = storage_per_pressure(
        np.maximum(roots * roots - static, column(precharge)),
        column(tank_volume),
        column(precharge),
        column(atmospheric_pressure),
        column(gas_exponent),
    )
    unit_flow = discharge(1.0, column(diameter), column(discharge_coefficient), column(density))
    time: Real = np.sum(weights * storage * 2.0 / unit_flow, axis=-1)
    return time


def return_leak(
    pressure: Real, hole_capacity: Real, duration: Real, inflow: Real, compliance: Real
) -> tuple[Real, Real]:
    """Water in m³ that the hole takes, and fall of pressure in Pa, in a riser shut in by a check valve.

    ``pressure`` Pa at the hole when the plunger turns at its top; ``hole_capacity`` m³/s at 1 Pa;
    ``duration`` s until it turns at the bottom, rests included; ``inflow`` m³ that the rod displaces
    meanwhile; ``compliance`` m³/Pa of the riser. With y = √p the riser obeys 2·C·y·dy/dt = a − c·y,
    whose mean of y is taken as that of its ends: exact without inflow, where y falls in a straight line.
    The check valve counts as shut for the whole return; one that opens late and closes early is not modelled.

    Source: volume balance of the riser and the orifice equation.
    """
    top = np.sqrt(np.maximum(pressure, 0.0))
    half = 0.5 * hole_capacity * duration
    stored = compliance * top * top
    rest = np.maximum(stored + inflow - half * top, 0.0)
    root = half + np.sqrt(half * half + 4.0 * compliance * rest)
    # Never below what keeps the hole fed by the rod alone, and never above the start: then it opens the
    # check valve.
    fed = inflow / np.maximum(2.0 * half, _NEGLIGIBLE)
    bottom = np.minimum(np.maximum(2.0 * rest / np.maximum(root, _NEGLIGIBLE), fed), top)
    fall = top * top - bottom * bottom
    leak: Real = np.minimum(inflow + compliance * fall, 2.0 * half * top)
    return leak, fall
