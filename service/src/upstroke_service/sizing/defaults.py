"""What is assumed where a caller leaves a fact out, with plausible range and basis."""

import functools
import tomllib
from importlib import resources
from typing import Any

import msgspec

from upstroke_service.units import UNITS


class Default(msgspec.Struct, frozen=True, kw_only=True):
    """A default as the table states it. ``value``, ``low`` and ``high`` keep the unit they are stated in."""

    field: str
    value: "Stated | float | str | None" = None
    low: "Stated | float | None" = None
    high: "Stated | float | None" = None
    others: "tuple[Other, ...]" = ()
    source: str
    ask: int
    safety: bool = False


class Other(msgspec.Struct, frozen=True, kw_only=True):
    """Another plausible answer, as a request would give it; ``name`` has a wording."""

    name: str
    value: Any


class Stated(msgspec.Struct, frozen=True):
    """A value with a unit, as written in the table."""

    value: float
    unit: str

    @property
    def si(self) -> float:
        """The value in SI units."""
        return _BY_NAME[self.unit].to_si(self.value)


_BY_NAME = {name: unit for units in UNITS.values() for name, unit in units.items()}


@functools.cache
def table() -> dict[str, Default]:
    """Every default by the JSON Pointer of its fact."""
    text = resources.files("upstroke_service.sizing").joinpath("defaults.toml").read_text("utf-8")
    rows = msgspec.convert(tomllib.loads(text)["default"], list[Default])
    return {row.field: row for row in rows}


@functools.cache
def number(field: str) -> float:
    """The assumed value of a fact in SI units. Raises KeyError or TypeError where there is none."""
    value = table()[field].value
    if isinstance(value, Stated):
        return value.si
    if isinstance(value, float | int):
        return float(value)
    message = f"no number is assumed for {field}"
    raise TypeError(message)
