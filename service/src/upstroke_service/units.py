"""Units: the only place that knows pint.

pint supplies every factor once, when this module is imported; a request converts by multiplication.
Nothing that a caller sends is ever parsed as a unit expression: units are closed lists of names.
"""

from typing import Final, Literal, NamedTuple

import numpy as np
import pint

from upstroke_service.physics.real import Array

System = Literal["us", "si"]

# Wire name of each unit, per dimension, with pint's name for it. The first entry is the SI unit that
# the inside computes with.
_NAMES: Final = {
    "length": {"m": "meter", "ft": "foot", "in": "inch", "cm": "centimeter", "mm": "millimeter"},
    "pressure": {"Pa": "pascal", "psi": "psi", "kPa": "kilopascal", "bar": "bar"},
    "volume": {
        "m3": "meter**3",
        "gal": "gallon",
        "fl_oz": "US_fluid_ounce",
        "L": "liter",
        "mL": "milliliter",
    },
    "flow": {
        "m3/s": "meter**3/second",
        "gpm": "gallon/minute",
        "L/min": "liter/minute",
        "L/s": "liter/second",
    },
    "force": {"N": "newton", "lbf": "pound_force"},
    "power": {"W": "watt", "hp": "horsepower"},
    "energy": {"J": "joule", "kJ": "kilojoule", "kcal": "kilocalorie"},
    "duration": {"s": "second", "min": "minute", "h": "hour"},
    "cadence": {"1/s": "1/second", "1/min": "1/minute"},
    "temperature": {"K": "kelvin", "degC": "degC", "degF": "degF"},
    "specific_capacity": {
        "m2/s": "meter**2/second",
        "gpm/ft": "gallon/minute/foot",
        "L/s/m": "liter/second/meter",
    },
    "density": {"kg/m3": "kilogram/meter**3", "lb/ft3": "pound/foot**3"},
    "daily_volume": {"m3/s": "meter**3/second", "gal/d": "gallon/day", "L/d": "liter/day"},
    "modulus": {"Pa": "pascal", "GPa": "gigapascal", "Mpsi": "megapsi"},
}


class Unit(NamedTuple):
    """A unit as SI value = scale·value + offset."""

    scale: float
    offset: float

    def to_si(self, value: float) -> float:
        """SI value of ``value`` in this unit."""
        return value * self.scale + self.offset

    def from_si(self, value: float) -> float:
        """Value in this unit of an SI ``value``."""
        return (value - self.offset) / self.scale


def _load() -> dict[str, dict[str, Unit]]:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    table: dict[str, dict[str, Unit]] = {}
    for dimension, names in _NAMES.items():
        si = next(iter(names.values()))
        units: dict[str, Unit] = {}
        for wire, name in names.items():
            offset = _in_units(registry, 0.0, name, si)
            difference = f"delta_{name}" if offset else name
            units[wire] = Unit(_in_units(registry, 1.0, difference, si), offset)
        table[dimension] = units
    return table


def _in_units(registry: pint.UnitRegistry[float], value: float, name: str, unit: str) -> float:
    # To 15 digits, as far as a product of factors is exact: a foot is 0.3048 m, not 0.30479999999999996.
    return float(f"{float(registry.Quantity(value, name).to(unit).magnitude):.15g}")


UNITS: Final = _load()
"""Every unit by dimension and wire name."""


_POWERS: Final = 10.0 ** np.arange(0, 309)
_TINY: Final = 1e-290


def significant(values: Array, digits: int = 6) -> Array:
    """``values`` rounded to ``digits`` significant decimal digits, elementwise; zero is never negative."""
    magnitude = np.abs(values)
    exponent = np.floor(np.log10(np.maximum(magnitude, _TINY))).astype(np.int64)
    # Scaling up by a power of ten and back down keeps decimal results exact: 0.3 stays 0.3.
    places = digits - 1 - exponent
    up = _POWERS[np.maximum(places, 0)]
    down = _POWERS[np.maximum(-places, 0)]
    rounded: Array = np.rint(values / down * up) / up * down + 0.0
    return rounded


def significant_number(value: float, digits: int = 6) -> float:
    """The same for one number."""
    return float(f"{value:.{digits - 1}e}") + 0.0
