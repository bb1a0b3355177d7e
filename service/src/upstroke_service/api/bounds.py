"""Bounds of every input quantity in every unit: one table for the check and for the schema."""

import inspect
import math
from typing import NamedTuple

from upstroke_service.contract.quantities import INPUTS, Quantity
from upstroke_service.units import UNITS

_DIGITS = 4


class Bounds(NamedTuple):
    """Least and greatest value that is accepted in one unit, and the way to SI."""

    lowest: float
    highest: float
    scale: float
    offset: float


def _inward(value: float, *, up: bool) -> float:
    """``value`` rounded to a few digits, so that a message can be read; never beyond the bound."""
    if value == 0.0:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(abs(value))) - _DIGITS + 1)
    # A bound that already is a short number must not move by a rounding error.
    near = round(value / step)
    count = (
        near
        if math.isclose(near * step, value, rel_tol=1e-9)
        else (math.ceil if up else math.floor)(value / step)
    )
    return float(f"{count * step:.{_DIGITS}g}")


def _units_of(kind: type[Quantity]) -> tuple[str, ...]:
    # Annotated[Literal[...], Meta] as declared in the contract.
    annotation = next(
        annotations["unit"]
        for annotations in map(inspect.get_annotations, kind.__mro__)
        if "unit" in annotations
    )
    return tuple(annotation.__origin__.__args__)


def _table() -> dict[type[Quantity], dict[str, Bounds]]:
    table: dict[type[Quantity], dict[str, Bounds]] = {}
    for kind in INPUTS:
        rows: dict[str, Bounds] = {}
        for name in _units_of(kind):
            unit = UNITS[kind.dimension][name]
            low, high = unit.from_si(kind.lowest), unit.from_si(kind.highest)
            rows[name] = Bounds(_inward(low, up=True), _inward(high, up=False), unit.scale, unit.offset)
        table[kind] = rows
    return table


BOUNDS = _table()
"""Bounds by kind of quantity and unit."""


def to_si(quantity: Quantity) -> float:
    """SI value of ``quantity``, which lies within its bounds."""
    # Every kind of quantity declares its unit; the base has none.
    _, _, scale, offset = BOUNDS[type(quantity)][quantity.unit]  # type: ignore[attr-defined]
    value = quantity.value * scale + offset
    # Converting may round beyond a bound: 32 °F would come out a hair below the freezing point.
    if value < quantity.lowest:
        return quantity.lowest
    return min(value, quantity.highest)
