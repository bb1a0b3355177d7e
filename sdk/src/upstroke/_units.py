"""The units of the contract: factors between them, and how people spell them.

The service's `/v1/units` is the authority on names and factors; a test holds this table against it.
Factors are exact by definition or, for psi and lbf, follow from the pound and standard gravity.
"""

from typing import Final, NamedTuple

_FOOT: Final = 0.3048
_INCH: Final = 0.0254
_GALLON: Final = 231.0 * _INCH**3
_POUND: Final = 0.45359237
_POUND_FORCE: Final = _POUND * 9.80665
_MINUTE: Final = 60.0
_DAY: Final = 86_400.0


class Unit(NamedTuple):
    """A unit as SI value = scale × value + offset."""

    dimension: str
    scale: float
    offset: float = 0.0


UNITS: Final[dict[str, Unit]] = {
    "ft": Unit("length", _FOOT),
    "in": Unit("length", _INCH),
    "m": Unit("length", 1.0),
    "cm": Unit("length", 0.01),
    "mm": Unit("length", 0.001),
    "psi": Unit("pressure", _POUND_FORCE / _INCH**2),
    "kPa": Unit("pressure", 1e3),
    "bar": Unit("pressure", 1e5),
    "gal": Unit("volume", _GALLON),
    "fl_oz": Unit("volume", _GALLON / 128.0),
    "L": Unit("volume", 1e-3),
    "mL": Unit("volume", 1e-6),
    "m3": Unit("volume", 1.0),
    "lbf": Unit("force", _POUND_FORCE),
    "N": Unit("force", 1.0),
    "W": Unit("power", 1.0),
    "hp": Unit("power", 550.0 * _FOOT * _POUND_FORCE),
    "kcal": Unit("energy", 4184.0),
    "kJ": Unit("energy", 1e3),
    "min": Unit("duration", _MINUTE),
    "s": Unit("duration", 1.0),
    "h": Unit("duration", 60.0 * _MINUTE),
    "1/min": Unit("cadence", 1.0 / _MINUTE),
    "degF": Unit("temperature", 5.0 / 9.0, 459.67 * 5.0 / 9.0),
    "degC": Unit("temperature", 1.0, 273.15),
    "gpm": Unit("flow", _GALLON / _MINUTE),
    "L/min": Unit("flow", 1e-3 / _MINUTE),
    "L/s": Unit("flow", 1e-3),
    "gal/d": Unit("daily_volume", _GALLON / _DAY),
    "L/d": Unit("daily_volume", 1e-3 / _DAY),
    "GPa": Unit("modulus", 1e9),
    "Mpsi": Unit("modulus", 1e6 * _POUND_FORCE / _INCH**2),
    "gpm/ft": Unit("specific_capacity", _GALLON / _MINUTE / _FOOT),
    "L/s/m": Unit("specific_capacity", 1e-3),
    "kg/m3": Unit("density", 1.0),
    "lb/ft3": Unit("density", _POUND / _FOOT**3),
}
"""Every unit that a request or an answer can hold; the order is the one in which messages list them."""

_SPELLINGS: Final[dict[str, tuple[str, ...]]] = {
    "ft": ("foot", "feet", "ft.", "'"),
    "in": ("inch", "inches", "in.", '"'),
    "m": ("meter", "meters", "metre", "metres"),
    "cm": ("centimeter", "centimeters", "centimetre", "centimetres"),
    "mm": ("millimeter", "millimeters", "millimetre", "millimetres"),
    "psi": ("psig", "lb/in2", "lbf/in2", "pound_force_per_square_inch"),
    "kPa": ("kilopascal", "kilopascals"),
    "bar": ("bars", "barg"),
    "gal": ("gallon", "gallons", "gals", "us gal", "us gallon", "us gallons"),
    "fl_oz": ("fl oz", "fl. oz.", "floz", "fluid ounce", "fluid ounces", "fluid_ounce"),
    "L": ("liter", "liters", "litre", "litres"),
    "mL": ("milliliter", "milliliters", "millilitre", "millilitres"),
    "m3": ("m³", "m^3", "meter ** 3", "cubic meter", "cubic meters", "cubic metre", "cubic metres"),
    "lbf": ("lb", "lbs", "pound", "pounds", "pound-force", "pounds-force", "pound_force", "force_pound"),
    "N": ("newton", "newtons"),
    "W": ("watt", "watts"),
    "hp": ("horsepower",),
    "min": ("minute", "minutes"),
    "s": ("sec", "second", "seconds"),
    "h": ("hr", "hour", "hours"),
    "gpm": ("gal/min", "gallon / minute", "gallons per minute"),
    "L/min": ("liter / minute", "liters per minute", "litres per minute"),
    "L/s": ("liter / second", "liters per second", "litres per second"),
    "gal/d": ("gallon / day", "gal/day", "gallons per day", "gallons a day"),
    "L/d": ("liter / day", "l/day", "liters per day", "litres per day", "litres a day"),
    "GPa": ("gigapascal", "gigapascals"),
    "Mpsi": ("megapound_force_per_square_inch",),
    "1/min": ("1 / minute", "/min", "per minute", "strokes/min", "strokes per minute", "spm"),
    "degF": ("f", "°f", "deg f", "fahrenheit", "degree_fahrenheit", "degrees fahrenheit"),
    "degC": ("c", "°c", "deg c", "celsius", "degree_celsius", "degrees celsius"),
    "gpm/ft": ("gpm per foot", "gal/min/ft"),
    "L/s/m": ("liter / meter / second", "l/(s·m)"),
    "kg/m3": ("kg/m³", "kg/m^3", "kilogram / meter ** 3"),
    "lb/ft3": ("lb/ft³", "lb/ft^3", "pound / foot ** 3", "pcf"),
}
_NAMES: Final = {name.casefold(): name for name in UNITS} | {
    spelling: name for name, spellings in _SPELLINGS.items() for spelling in spellings
}


def unit_name(spelling: str) -> str | None:
    """The contract's name of a unit that is spelled like this, or None: ``unit_name("Feet")`` is ``"ft"``."""
    if spelling in UNITS:
        return spelling
    return _NAMES.get(" ".join(spelling.split()).casefold())


def convert(value: float, unit: str, wanted: str) -> float:
    """The same quantity in another unit, both by the contract's names.

    Raises:
        ValueError: where a unit is unknown or the two measure different things.
    """
    for name in (unit, wanted):
        if name not in UNITS:
            raise ValueError(f"{name!r} is not a unit that this version knows")
    given, other = UNITS[unit], UNITS[wanted]
    if given.dimension != other.dimension:
        raise ValueError(f"{unit} is a unit of {given.dimension}, {wanted} one of {other.dimension}")
    if unit == wanted:
        return value
    return (value * given.scale + given.offset - other.offset) / other.scale
