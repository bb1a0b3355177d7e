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
    pressure: Real,
    hole_capacity: Real,
    duration: Real,
    inflow: Real,
    compliance: Real,
    taken: Real = 0.0,
    rest: Real = 0.0,
) -> tuple[Real, Real]:
    """Water in m³ that the hole takes, and fall of pressure in Pa, in a riser shut in by a check valve.

    ``pressure`` Pa at the hole when the valve closes, at which it opens again; ``hole_capacity`` m³/s at
    1 Pa; ``inflow`` m³ that comes in evenly over a ``duration`` in s, ``taken`` m³ that the riser takes
    up at its beginning; ``compliance`` m³/Pa of the riser; ``rest`` s that follows without inflow. With
    y = √p it obeys 2·C·y·dy/dt = a − c·y, whose mean of y is taken as that of its ends: exact without
    inflow, where y falls in a straight line. Where the pressure would fall below that outside, air comes
    in and takes the place of water.

    Source: volume balance of the riser and the orifice equation.
    """
    held = np.maximum(pressure, 0.0)
    top = np.sqrt(held)
    start = np.sqrt(np.maximum(held - taken / np.maximum(compliance, _NEGLIGIBLE), 0.0))
    half = 0.5 * hole_capacity * duration
    left = np.maximum((compliance * start - half) * start + inflow, 0.0)
    root = half + np.sqrt(half * half + 4.0 * compliance * left)
    # It tends to the pressure at which the hole takes just what comes in, from either side.
    fed = np.where(half > 0.0, inflow / np.maximum(2.0 * half, _NEGLIGIBLE), np.inf)
    tends = np.maximum(2.0 * left / np.maximum(root, _NEGLIGIBLE), np.minimum(start, fed))
    bottom = np.minimum(np.minimum(tends, np.maximum(start, fed)), top)
    # From when it is back at the top, the check valve lets the rest of the inflow out to the tank.
    gain = np.maximum(inflow - half * (start + top), _NEGLIGIBLE)
    rising = np.minimum(compliance * (top * top - start * start) / gain, 1.0)
    most = half * (2.0 * top - (top - start) * rising)
    bled = np.maximum(np.minimum(inflow + compliance * (start * start - bottom * bottom), most), 0.0)
    end = np.maximum(bottom - 0.5 * hole_capacity * rest / np.maximum(compliance, _NEGLIGIBLE), 0.0)
    leak: Real = bled + compliance * (bottom * bottom - end * end)
    return leak, top * top - end * end
