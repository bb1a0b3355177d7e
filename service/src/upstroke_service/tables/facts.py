"""The facts of many sites: each row's own, and for what it leaves out those of the template."""

import copy
from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any, Final, NamedTuple

import numpy as np
import pyarrow as pa

from upstroke_service.physics.real import Real
from upstroke_service.sizing.facts import Flags

from .cells import Cells, UnusableColumn, read_cells, within
from .columns import Column, at, fact_columns, put

SUPPLY: Final = "/site/supply"
_SWITCH, _CONSTANT = "pressure_switch", "constant_pressure"
_RUN: Final = "/conduit/runs/0"
_NEEDED: Final = {
    f"{_RUN}/inside_diameter": (f"{_RUN}/length", f"{_RUN}/material"),
    f"{_RUN}/length": (f"{_RUN}/inside_diameter", f"{_RUN}/material"),
    "/site/electric_pump/present": (
        "/site/electric_pump/drop_pipe_outside_diameter",
        "/site/electric_pump/cable_diameter",
    ),
    "/site/relief_valve/fitted": ("/site/relief_valve/set_pressure",),
}
"""Facts that a block can't do without, with those that make it a block."""

_MEMBERS: Final = {
    f"{SUPPLY}/cut_in": _SWITCH,
    f"{SUPPLY}/cut_out": _SWITCH,
    f"{SUPPLY}/set_pressure": _CONSTANT,
}
"""Facts of a supply, with the kind that has them."""


class Fact(NamedTuple):
    """A fact of every row, one value where all are the same: SI or the place of a word, 0 where not ``known``."""

    value: Real
    known: Flags


UNKNOWN: Final = Fact(0.0, np.asarray(False))  # noqa: FBT003 - the flag of what nobody knows


def either(flags: Flags, one: Real, other: Real) -> Real:
    """``one`` where the flags hold, else ``other``; a single value stays one, so that it stays cheap."""
    if flags.ndim == 0:
        return one if flags else other
    return np.where(flags, one, other)


def _require_other_name(name: str, columns: Collection[str]) -> None:
    """Refuse a column that would be carried over and looks as if a fact was meant. Raises UnusableColumn."""
    meant = "/" + name.partition(" [")[0].strip().replace(".", "/")
    if meant in columns:
        raise UnusableColumn(f"{name}: name it {meant} to have it read, or otherwise to have it carried over")


class Facts:
    """The facts of the rows of a batch."""

    def __init__(self, batch: pa.RecordBatch, template: dict[str, Any]) -> None:
        """Read the columns of ``batch`` and what they leave out of the request ``template``.

        Raises UnusableColumn.
        """
        self.count = batch.num_rows
        self.faults: dict[str, Flags] = {}
        """Rows whose facts are not as the schema requires, by pointer."""
        cells = self._cells(batch)
        self._facts = {
            pointer: _merged(column, cells.get(pointer), at(template, pointer))
            for pointer, column in fact_columns().items()
        }
        self.supply = self._settle_supply(cells, template)
        """Where anything is known of the supply."""
        self._require_whole_blocks()

    def __getitem__(self, pointer: str) -> Fact:
        """The fact of every row at a ``pointer``."""
        return self._facts[pointer]

    def known(self, pointer: str) -> Flags:
        """Where the fact at a ``pointer`` is known."""
        return self._facts[pointer].known

    def is_word(self, pointer: str, *words: str) -> Flags:
        """Where the fact at ``pointer`` is known to be one of these ``words``."""
        fact, known = self._facts[pointer], fact_columns()[pointer].words
        places = np.asarray(fact.value)
        found = np.asarray(False)  # noqa: FBT003 - none yet
        for word in words:
            found = found | (places == known.index(word))
        return np.asarray(fact.known & found)

    def is_unknown(self, pointer: str) -> Flags:
        """Where a fact that may be 'unknown' is, or is left out."""
        return ~self._facts[pointer].known | self.is_word(pointer, "unknown")

    def _cells(self, batch: pa.RecordBatch) -> dict[str, Cells]:
        columns, found = fact_columns(), {}
        for place, field in enumerate(batch.schema):
            if not field.name.startswith("/"):
                _require_other_name(field.name, columns)
                continue
            if field.name not in columns:
                raise UnusableColumn(f"{field.name}: no fact that may vary by row; see --columns")
            if field.name in found:
                raise UnusableColumn(f"{field.name}: is there twice")
            cells = read_cells(batch.column(place), field, columns[field.name])
            found[field.name] = cells
            self._fault(field.name, cells.faulty)
        return found

    def _fault(self, pointer: str, where: Flags) -> None:
        if where.any():
            self.faults[pointer] = self.faults.get(pointer, np.asarray(False)) | where  # noqa: FBT003 - none

    def _settle_supply(self, cells: Mapping[str, Cells], template: dict[str, Any]) -> Flags:
        """Settle which kind of supply each row has, and leave out what the template says of another kind."""
        pointer = f"{SUPPLY}/kind"
        kind, stated = self._facts[pointer], at(template, pointer)
        if stated is not None and pointer in cells:
            own = cells[pointer]
            changed = own.given & (own.values != fact_columns()[pointer].words.index(stated))
            for member in _MEMBERS:
                known = self._facts[member].known & ~(changed & ~_given(cells, member))
                self._facts[member] = self._facts[member]._replace(known=np.asarray(known))
        members = {member: self._facts[member].known for member in _MEMBERS}
        anything = np.asarray(kind.known | np.logical_or.reduce(np.broadcast_arrays(*members.values())))
        constant = self.is_word(pointer, _CONSTANT) | (~kind.known & members[f"{SUPPLY}/set_pressure"])
        places = fact_columns()[pointer].words
        self._facts[pointer] = Fact(
            either(constant, places.index(_CONSTANT), places.index(_SWITCH)), anything
        )
        readable = ~self.faults.get(pointer, np.asarray(False))  # noqa: FBT003 - none
        for member, of_kind in _MEMBERS.items():
            another = constant if of_kind == _SWITCH else ~constant
            self._fault(member, np.asarray(members[member] & another & readable))
        return anything

    def _require_whole_blocks(self) -> None:
        for needed, others in _NEEDED.items():
            begun = np.logical_or.reduce(np.broadcast_arrays(*(self._facts[one].known for one in others)))
            self._fault(needed, np.asarray(begun & ~self._facts[needed].known))


def _given(cells: Mapping[str, Cells], pointer: str) -> Flags:
    return cells[pointer].given if pointer in cells else np.asarray(False)  # noqa: FBT003 - no column


def _merged(column: Column, cells: Cells | None, shared: Any) -> Fact:
    """What the row says, or what the template says."""
    general = UNKNOWN if shared is None else Fact(_shared(column, shared), np.asarray(True))  # noqa: FBT003
    if cells is None or not cells.given.any():
        return general
    known = cells.given | general.known
    return Fact(np.where(cells.given, cells.values, general.value), known)


def _shared(column: Column, stated: Any) -> float:
    """SI value of a fact as the template states it, or the place of its word."""
    if column.kind == "word":
        return column.words.index(stated)
    if column.quantity is None:
        return float(stated)
    bounds = column.bounds[stated["unit"]]
    return float(within(stated["value"] * bounds.scale + bounds.offset, column.quantity))


def request_of_row(batch: pa.RecordBatch, row: int, template: dict[str, Any]) -> dict[str, Any]:
    """The facts of one row as the request that a single sizing takes."""
    document = copy.deepcopy(template)
    own: dict[str, Any] = {}
    for place, field in enumerate(batch.schema):
        column = fact_columns().get(field.name)
        value = None if column is None else _plain(batch.column(place)[row].as_py(), column)
        if column is not None and value is not None:
            unit = (field.metadata or {}).get(b"unit", b"").decode()
            own[field.name] = {"value": value, "unit": unit} if column.kind == "quantity" else value
    kind = own.get(f"{SUPPLY}/kind")
    if kind is not None and kind != at(document, f"{SUPPLY}/kind"):
        document.get("site", {}).pop("supply", None)
    elif kind is None and at(document, f"{SUPPLY}/kind") is None and _MEMBERS.keys() & own:
        own[f"{SUPPLY}/kind"] = _CONSTANT if f"{SUPPLY}/set_pressure" in own else _SWITCH
    for pointer, fact in own.items():
        put(document, pointer, fact)
    return document


def _plain(value: Any, column: Column) -> Any:
    """A cell's value as JSON has it; None where it is empty."""
    if not isinstance(value, str | Decimal):
        return value
    text = str(value).strip()
    if not text or column.kind == "word":
        return text or None
    try:
        number = float(text)
    except ValueError:
        return text
    return int(number) if column.kind == "integer" and number.is_integer() else number
