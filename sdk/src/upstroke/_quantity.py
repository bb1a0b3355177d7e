"""A quantity: a value with its unit, and the forms in which a caller may give one."""

import re
from collections.abc import Mapping
from math import isfinite
from numbers import Real
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeAlias, cast, runtime_checkable

from msgspec import Struct

from ._units import convert, unit_name

_TEXT: Final = re.compile(r"\s*([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)\s*(\S.*?)\s*")


class Quantity(Struct, frozen=True):
    """A value with its unit: ``Quantity(120, "ft")``, the same as ``Quantity.parse("120 feet")``.

    Answers hold their numbers in this form.
    """

    value: float
    unit: str

    @classmethod
    def parse(cls, text: str) -> "Quantity":
        """Read a decimal number followed by a unit: ``"120 ft"``, ``"2.5 inches"``, ``"40 PSI"``.

        Raises:
            ValueError: where the text is something else or the unit is unknown.
        """
        match = _TEXT.fullmatch(text)
        unit = unit_name(match[2]) if match else None
        if match is None or (unit is None and match[2][0] in "0123456789.,"):
            raise ValueError(f"{text!r} is not a decimal number followed by a unit, such as '120 ft'")
        if unit is None:
            raise ValueError(f"{match[2]!r} is not a known unit")
        return cls(float(match[1]), unit)

    def to(self, unit: str) -> "Quantity":
        """The same quantity in another unit: ``Quantity(120, "ft").to("m")`` is ``36.576 m``.

        Raises:
            ValueError: where a unit is unknown or measures something else.
        """
        wanted = unit_name(unit) or unit
        return Quantity(convert(self.value, unit_name(self.unit) or self.unit, wanted), wanted)

    def __format__(self, spec: str) -> str:
        """The value in a number format, then the unit: ``f"{head:.0f}"`` is ``120 ft``."""
        return f"{self.value:{spec}} {self.unit}" if spec else str(self)

    def __repr__(self) -> str:
        """Value and unit."""
        return f"{str(float(self.value)).removesuffix('.0')} {self.unit}"

    __str__ = __repr__


@runtime_checkable
class SupportsUnits(Protocol):
    """A quantity of another package, such as pint's."""

    @property
    def magnitude(self) -> Any:
        """The number."""

    @property
    def units(self) -> Any:
        """Its unit; its text names it."""

    def to(self, unit: Any, /) -> Any:
        """The same quantity in another unit."""


if TYPE_CHECKING:
    QuantityInput: TypeAlias = Quantity | str | Mapping[str, object] | SupportsUnits
else:
    QuantityInput = Quantity | str  # what JSON can hold: msgspec decodes the facts with this
"""How a caller may give a quantity: ``Quantity(120, "ft")``, ``"120 ft"``, ``{"value": 120, "unit": "ft"}``,
or a quantity of pint or a package like it."""

# Names of the contract that a units package such as pint reads differently or not at all.
_SYMBOLIC: Final = {
    "fl_oz": "fluid_ounce",
    "m3": "m**3",
    "gpm": "gallon/minute",
    "gpm/ft": "gallon/minute/foot",
    "kg/m3": "kg/m**3",
    "lb/ft3": "lb/ft**3",
}


def read_quantity(given: object, accepted: tuple[str, ...]) -> Quantity:
    """The quantity that a caller gave, in one of the accepted units.

    Raises:
        ValueError: where it is not one; the message says why.
    """
    quantity = _as_quantity(given, accepted)
    if quantity is None:
        raise ValueError(f"{given!r} is not a value with its unit, such as '120 ft'")
    name = unit_name(quantity.unit)
    if name not in accepted:
        raise ValueError(f"{quantity.unit!r} does not fit here")
    if not isfinite(quantity.value):
        raise ValueError(f"{quantity.value!r} is not a finite number")
    return Quantity(float(quantity.value), name)


def _as_quantity(given: object, accepted: tuple[str, ...]) -> Quantity | None:
    if isinstance(given, Quantity):
        return given
    if isinstance(given, str):
        return Quantity.parse(given)
    if isinstance(given, Mapping):
        return _from_mapping(cast("Mapping[object, object]", given))
    if isinstance(given, SupportsUnits):
        return _from_other_package(given, accepted)
    return None


def _from_mapping(given: Mapping[object, object]) -> Quantity | None:
    if set(given) != {"value", "unit"}:
        return None
    value, unit = given["value"], given["unit"]
    if isinstance(value, bool) or not isinstance(value, Real) or not isinstance(unit, str):
        return None
    return Quantity(float(value), unit)


def _from_other_package(given: SupportsUnits, accepted: tuple[str, ...]) -> Quantity:
    # Its own unit is kept where the contract has it, so that 120 ft stays 120 ft.
    own = unit_name(str(given.units))
    name = own if own in accepted else accepted[0]
    try:
        return Quantity(float(given.to(_SYMBOLIC.get(name, name)).magnitude), name)
    except Exception as error:  # the other package's own errors
        raise ValueError(f"{given!s} cannot be read in {name}: {error}") from error
