"""Reads the check values of tests/published and turns them into SI.

A file holds series: one table of one source for one quantity, whose rows share the source, the units
and the tolerance. A quantity is named by the physics function it checks ("water.density").
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent.parent / "published"
KINDS = ("published", "library", "worked", "memory", "common-practice")
COMPARISONS = ("hazen_williams",)
"""Tables that have their own shape and their own test."""

_PSI = 6894.757293168361
_GALLON = 3.785411784e-3
_IMPERIAL_GALLON = 4.54609e-3
_INCH = 0.0254
_FOOT = 0.3048
_POUND = 0.45359237
_POUND_FORCE = 4.4482216152605

# Factor to SI and the offset that is added afterwards.
_UNITS: Mapping[str, tuple[float, float]] = {
    "1": (1.0, 0.0),
    "K": (1.0, 0.0),
    "degC": (1.0, 273.15),
    "degF": (5.0 / 9.0, 273.15 - 160.0 / 9.0),
    "Pa": (1.0, 0.0),
    "kPa": (1e3, 0.0),
    "MPa": (1e6, 0.0),
    "GPa": (1e9, 0.0),
    "psi": (_PSI, 0.0),
    "m": (1.0, 0.0),
    "mm": (1e-3, 0.0),
    "um": (1e-6, 0.0),
    "in": (_INCH, 0.0),
    "ft": (_FOOT, 0.0),
    "mm2": (1e-6, 0.0),
    "in2": (_INCH**2, 0.0),
    "cm3": (1e-6, 0.0),
    "mL": (1e-6, 0.0),
    "L": (1e-3, 0.0),
    "gal": (_GALLON, 0.0),
    "gal/ft": (_GALLON / _FOOT, 0.0),
    "m3/Pa": (1.0, 0.0),
    "gpm": (_GALLON / 60.0, 0.0),
    "imperial gpm": (_IMPERIAL_GALLON / 60.0, 0.0),
    "gpm/ft": (_GALLON / 60.0 / _FOOT, 0.0),
    "m/s": (1.0, 0.0),
    "m3/s at 1 Pa": (1.0, 0.0),
    "L/s": (1e-3, 0.0),
    "mL/s": (1e-6, 0.0),
    "L/min": (1e-3 / 60.0, 0.0),
    "ft/s": (_FOOT, 0.0),
    "s": (1.0, 0.0),
    "min": (60.0, 0.0),
    "1/s": (1.0, 0.0),
    "1/min": (1.0 / 60.0, 0.0),
    "N": (1.0, 0.0),
    "lbf": (_POUND_FORCE, 0.0),
    "N/m3": (1.0, 0.0),
    "kN/m3": (1e3, 0.0),
    "lbf/ft3": (_POUND_FORCE / _FOOT**3, 0.0),
    "J": (1.0, 0.0),
    "kJ": (1e3, 0.0),
    "kcal": (4184.0, 0.0),
    "J s": (1.0, 0.0),
    "J s2": (1.0, 0.0),
    "W": (1.0, 0.0),
    "hp": (745.6998715822702, 0.0),
    "kg/m3": (1.0, 0.0),
    "lb/ft3": (_POUND / _FOOT**3, 0.0),
    "mPa s": (1e-3, 0.0),
    "uPa s": (1e-6, 0.0),
}


@dataclass(frozen=True, slots=True)
class Source:
    """A publication."""

    author: str
    title: str
    edition: str


@dataclass(frozen=True, slots=True)
class Stated:
    """A number as the source states it, in the source's own unit."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class PublishedValue:
    """One check value in SI units, with everything needed to trace and to judge it."""

    id: str
    quantity: str
    arguments: Mapping[str, float]
    expected: float
    tolerance: float
    why_tolerance: str
    kind: str
    source: Source
    locator: str
    derivation: str
    series: int
    source_key: str
    stated_arguments: Mapping[str, Stated]
    stated_expected: Stated

    def allows(self, actual: Any) -> bool:
        """Whether ``actual`` lies within the tolerance of the expected value."""
        return bool(abs(self.expected - actual) <= self.tolerance)

    def in_stated_unit(self, actual: float) -> float:
        """Turn one of our values from SI into the unit in which the expected one is stated."""
        factor, offset = _UNITS[self.stated_expected.unit]
        return (actual - offset) / factor

    def stated_span(self, span: float) -> float:
        """Turn a difference from SI into the unit in which the expected value is stated."""
        return span / _UNITS[self.stated_expected.unit][0]


def to_si(value: float, unit: str) -> float:
    """Turn a value in a unit of the check values into SI."""
    factor, offset = _UNITS[unit]
    return value * factor + offset


def sources() -> dict[str, Source]:
    """Return every source by its key."""
    return {key: Source(**fields) for key, fields in _read("sources").items()}


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def _expand(number: int, series: Mapping[str, Any], known: Mapping[str, Source]) -> Iterator[PublishedValue]:
    units = series["units"]
    factor = _UNITS[units["expected"]][0]
    for row in series["values"]:
        fields = {**series.get("common", {}), **row}
        identifier, expected = fields.pop("id"), fields.pop("expected")
        absolute = series.get("absolute_tolerance", series.get("relative_tolerance", 0.0) * abs(expected))
        yield PublishedValue(
            id=identifier,
            quantity=series["quantity"],
            arguments={name: to_si(value, units[name]) for name, value in fields.items()},
            expected=to_si(expected, units["expected"]),
            tolerance=absolute * factor,
            why_tolerance=series["why_tolerance"],
            kind=series["kind"],
            source=known[series["source"]],
            locator=series["locator"],
            derivation=series.get("derivation", ""),
            series=number,
            source_key=series["source"],
            stated_arguments={name: Stated(value, units[name]) for name, value in fields.items()},
            stated_expected=Stated(expected, units["expected"]),
        )


def all_values() -> list[PublishedValue]:
    """Return every check value of the folder."""
    known = sources()
    names = sorted(path.stem for path in FOLDER.glob("*.toml"))
    every_series = [
        series for name in names if name not in ("sources", *COMPARISONS) for series in _read(name)["series"]
    ]
    return [value for number, series in enumerate(every_series) for value in _expand(number, series, known)]


def comparison(name: str) -> dict[str, Any]:
    """Return a table that has its own shape."""
    return _read(name)
