"""Requests of an invented site, for tests that change one thing about it."""

import copy
from typing import Any

Facts = dict[str, Any]


def quantity(value: float, unit: str) -> Facts:
    """A quantity as requests state it."""
    return {"value": value, "unit": unit}


def feet(value: float) -> Facts:
    return quantity(value, "ft")


def inches(value: float) -> Facts:
    return quantity(value, "in")


def psi(value: float) -> Facts:
    return quantity(value, "psi")


CYLINDER: Facts = {
    "id": "own",
    "kind": "lift",
    "bore": inches(1.75),
    "stroke": inches(9),
    "rated_lift": feet(250),
    "rod": {"diameter": inches(0.375), "material": "stainless_steel"},
    "drop_pipe": {"inside_diameter": inches(1.278), "material": "pvc"},
    "handle_ratio": 4.5,
}

SITE: Facts = {
    "well": {"static_water_level": feet(40), "well_depth": feet(160), "casing_inside_diameter": inches(6)},
    "tank": {"total_volume": quantity(20, "gal"), "precharge": psi(28), "maximum_working_pressure": psi(100)},
    "pressures": {"target": psi(45)},
    "site": {
        "public_water_connection": "no",
        "supply": {"kind": "pressure_switch", "cut_in": psi(30), "cut_out": psi(50)},
        "relief_valve": {"fitted": "yes", "set_pressure": psi(75)},
    },
}


def changed(changes: Facts, facts: Facts = SITE) -> Facts:
    """``facts`` with the values at some JSON Pointers replaced or added; None takes a value out."""
    copied = copy.deepcopy(facts)
    for pointer, value in changes.items():
        *path, last = pointer.removeprefix("/").split("/")
        node = copied
        for step in path:
            node = node.setdefault(step, {})
        if value is None:
            del node[last]
        else:
            node[last] = copy.deepcopy(value)
    return copied


def own(*cylinders: Facts, **changes: Any) -> Facts:
    """The site with cylinders of the caller's own: those given, or one with some fields changed."""
    return changed({"/selection": {"cylinders": list(cylinders) or [CYLINDER | changes]}})
