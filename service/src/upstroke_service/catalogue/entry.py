"""Reading one table of a catalogue file, field by field.

Every reader notes what is wrong and hands on a stand-in, so that the rest is read too: not-a-number
for a number, which no comparison finds too large or too small, and an empty text for a text.
"""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeGuard, TypeVar, cast

from upstroke_service.units import UNITS

from .faults import Faults
from .model import Price

_IDENTIFIER: Final = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")
_CURRENCY: Final = re.compile(r"[A-Z]{3}")
_LONGEST_TEXT: Final = 200
_LARGEST: Final = 1e300
"""Keeps out infinity and not-a-number, which TOML can write."""

StandIn = TypeVar("StandIn")


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and -_LARGEST < value < _LARGEST


def _listed(table: Mapping[str, object]) -> str:
    return ", ".join(f"{field} = {value!r}" for field, value in table.items()) or "nothing"


class Entry:
    """A table of the file under the ``label`` that its faults name."""

    def __init__(self, content: Mapping[str, object], label: str, faults: Faults) -> None:
        """Read from ``content``."""
        self._content = content
        self._known: set[str] = set()
        self._faults = faults
        self.label = label

    def refuse(self, field: str, message: str) -> None:
        """Note a fault of ``field``."""
        self._faults.add(self.label, field, message)

    def has(self, field: str) -> bool:
        """Whether the table holds ``field``."""
        return field in self._content

    def finish(self) -> None:
        """Note every field that nothing has asked for."""
        for field in self._content:
            if field not in self._known:
                self.refuse(field, f"unknown field; accepted: {', '.join(sorted(self._known))}")

    def text(self, field: str, default: str | None = None) -> str:
        """A text that isn't empty; required where there is no ``default``."""
        value = self._value(field, default, "a text")
        if value is None:
            return default or ""
        if isinstance(value, str) and 0 < len(value) <= _LONGEST_TEXT:
            return value
        return self._stand_in(field, f"must be a text of 1 to {_LONGEST_TEXT} characters", "")

    def identifier(self, field: str = "id") -> str:
        """A name that other entries and requests can use."""
        value = self._value(field, None, "an identifier")
        if isinstance(value, str) and _IDENTIFIER.fullmatch(value):
            return value
        if value is None:
            return ""
        return self._stand_in(
            field, "must be 1 to 64 lower-case letters, digits and hyphens, such as 'steel-3-8'", ""
        )

    def choice(self, field: str, accepted: Sequence[str]) -> str:
        """One of the ``accepted`` words."""
        value = self._value(field, None, f"one of: {', '.join(accepted)}")
        if value is None:
            return ""
        if isinstance(value, str) and value in accepted:
            return value
        return self._stand_in(field, f"is {value!r}; accepted: {', '.join(accepted)}", "")

    def flag(self, field: str) -> bool:
        """True or false."""
        value = self._value(field, None, "true or false")
        if isinstance(value, bool) or value is None:
            return bool(value)
        return self._stand_in(field, f"is {value!r}; accepted: true, false", default=False)

    def number(self, field: str, lowest: float, highest: float, default: float | None = None) -> float:
        """A plain number from ``lowest`` to ``highest``."""
        accepted = f"a number from {lowest:g} to {highest:g}"
        value = self._value(field, default, accepted)
        if value is None:
            return math.nan if default is None else default
        if _is_number(value) and lowest <= value <= highest:
            return float(value)
        return self._stand_in(field, f"is {value!r}; accepted: {accepted}", math.nan)

    def whole(self, field: str, lowest: int, highest: int) -> int:
        """A whole number from ``lowest`` to ``highest``."""
        accepted = f"a whole number from {lowest} to {highest}"
        value = self._value(field, None, accepted)
        if value is None:
            return lowest
        if isinstance(value, int) and not isinstance(value, bool) and lowest <= value <= highest:
            return value
        return self._stand_in(field, f"is {value!r}; accepted: {accepted}", lowest)

    def quantity(self, field: str, dimension: str, lowest: float, highest: float) -> float:
        """SI value of ``{ value = …, unit = "…" }``, from ``lowest`` to ``highest`` in SI units."""
        units = UNITS[dimension]
        form = f'{{ value = …, unit = "…" }} with one of the units {", ".join(units)}'
        value = self._value(field, None, form)
        if value is None:
            return math.nan
        if not isinstance(value, dict):
            return self._stand_in(field, f"is {value!r}; accepted: {form}", math.nan)
        table = cast("dict[str, object]", value)
        if set(table) != {"value", "unit"} or not _is_number(table["value"]):
            return self._stand_in(field, f"holds {_listed(table)}; accepted: {form}", math.nan)
        unit = units.get(str(table["unit"]))
        if unit is None:
            return self._stand_in(
                field, f"unit {table['unit']!r} is unknown; accepted: {', '.join(units)}", math.nan
            )
        si = unit.to_si(table["value"])
        if lowest <= si <= highest:
            return si
        bounds = f"{unit.from_si(lowest):.4g} to {unit.from_si(highest):.4g} {table['unit']}"
        return self._stand_in(field, f"is {table['value']!r} {table['unit']}; accepted: {bounds}", math.nan)

    def optional_whole(self, field: str, lowest: int, highest: int) -> int | None:
        """A whole number that may be left out."""
        if self.has(field):
            return self.whole(field, lowest, highest)
        self._known.add(field)
        return None

    def optional_quantity(self, field: str, dimension: str, lowest: float, highest: float) -> float:
        """A quantity that may be left out: not-a-number then."""
        if self.has(field):
            return self.quantity(field, dimension, lowest, highest)
        self._known.add(field)
        return math.nan

    def price(self) -> Price | None:
        """The price, which may be left out."""
        table = self.optional_table("price")
        if table is None:
            return None
        amount = table.number("amount", 0.0, 1e7)
        currency = table.text("currency")
        if currency and not _CURRENCY.fullmatch(currency):
            table.refuse("currency", f"is {currency!r}; accepted: three capital letters, such as USD")
        table.finish()
        return Price(amount=amount, currency=currency)

    def table(self, field: str) -> "Entry | None":
        """The table in ``field``, whose faults are named after both."""
        value = self._value(field, None, "a table")
        if isinstance(value, dict):
            return Entry(cast("dict[str, object]", value), f"{self.label} {field}", self._faults)
        if value is not None:
            self.refuse(field, "must be a table")
        return None

    def optional_table(self, field: str) -> "Entry | None":
        """A table that may be left out."""
        if self.has(field):
            return self.table(field)
        self._known.add(field)
        return None

    def tables(self, field: str) -> Iterator["Entry"]:
        """The tables of the list in ``field``, labelled by id or by position; at least one."""
        value = self._value(field, None, f"at least one [[{field}]]")
        if value is None:
            return
        if not isinstance(value, list) or not value:
            self.refuse(field, f"must hold at least one table: [[{field}]]")
            return
        for position, item in enumerate(cast("list[object]", value), start=1):
            if isinstance(item, dict):
                table = cast("dict[str, object]", item)
                name = table.get("id")
                here = f"{field} {name!r}" if isinstance(name, str) else f"{field} number {position}"
                yield Entry(table, f"{self.label} {here}".strip(), self._faults)
            else:
                self.refuse(field, f"number {position} must be a table")

    def words(self, field: str) -> list[str]:
        """A list of texts, perhaps empty."""
        value = self._value(field, None, "a list of ids, [] for none")
        if value is None:
            return []
        items = cast("list[object]", value) if isinstance(value, list) else [None]
        words = [item for item in items if isinstance(item, str)]
        if len(words) < len(items):
            self.refuse(field, "must be a list of ids, [] for none")
        return words

    def _value(self, field: str, default: object, accepted: str) -> object:
        """What the table holds in ``field``, None where it is missing: a fault without a ``default``."""
        self._known.add(field)
        if field not in self._content and default is None:
            self.refuse(field, f"is missing; accepted: {accepted}")
        return self._content.get(field)

    def _stand_in(self, field: str, message: str, default: StandIn) -> StandIn:
        self.refuse(field, message)
        return default
