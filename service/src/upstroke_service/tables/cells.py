"""Reading the cells of a column: numbers become SI once, words become places in their list."""

from typing import Any, NamedTuple

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from upstroke_service.contract.quantities import Quantity
from upstroke_service.physics.real import Array, Indices
from upstroke_service.sizing.facts import Flags

from .columns import Column

_NUMBER = r"^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?$"


class UnusableColumn(Exception):
    """A column that no row of the table can be read from."""


class Cells(NamedTuple):
    """A column read: SI values or places of words, which cells are ``given``, and which of those are ``faulty``.

    Cells that are empty or faulty have the least value that is accepted, so that nothing stumbles over them.
    """

    values: Array | Indices
    given: Flags
    faulty: Flags


def unit_of(field: pa.Field, column: Column) -> str:
    """The unit of a column, by its metadata. Raises UnusableColumn where it has none or an unknown one."""
    stated = (field.metadata or {}).get(b"unit", b"").decode()
    if column.kind == "quantity" and stated not in column.bounds:
        units = ", ".join(column.bounds)
        raise UnusableColumn(f"{column.pointer}: needs one of the units {units}; has {stated or 'none'}")
    if column.kind != "quantity" and stated not in {"", "1"}:
        raise UnusableColumn(f"{column.pointer}: has no unit, so it can't be in {stated}")
    return stated or "1"


def read_cells(cells: pa.Array, field: pa.Field, column: Column) -> Cells:
    """The ``cells`` of a column. Raises UnusableColumn."""
    if pa.types.is_dictionary(cells.type):
        cells = cells.dictionary_decode()
    if column.kind == "word":
        return _words(cells, column)
    bounds = column.bounds[unit_of(field, column)]
    stated, unreadable = _numbers(cells, column)
    given = ~_flags(stated.is_null()) | unreadable
    numbers = stated.fill_null(0.0).to_numpy(zero_copy_only=False)
    usable = (numbers >= bounds.lowest) & (numbers <= bounds.highest)
    if column.kind == "integer":
        usable &= numbers == np.rint(numbers)
    faulty = given & (unreadable | ~usable)
    values = np.where(given & ~faulty, numbers, bounds.lowest) * bounds.scale + bounds.offset
    if column.quantity is not None:
        values = within(values, column.quantity)
    return Cells(values, given, faulty)


def within(values: Any, kind: type[Quantity]) -> Any:
    """SI ``values`` kept from going beyond the bounds of their kind by rounding, as those of a request are."""
    return np.minimum(np.maximum(values, kind.lowest), kind.highest)


def _flags(cells: pa.Array) -> Flags:
    flags: Flags = cells.to_numpy(zero_copy_only=False).astype(np.bool_)
    return flags


def _is_text(cells: pa.Array) -> bool:
    return bool(pa.types.is_string(cells.type) or pa.types.is_large_string(cells.type))


def _numbers(cells: pa.Array, column: Column) -> tuple[pa.Array, Flags]:
    """The cells as numbers, and which of them can't be read as such."""
    if pa.types.is_decimal(cells.type):
        cells = cells.cast(pa.string())  # straight to a float it may be off by the last bit
    if pa.types.is_null(cells.type) or pa.types.is_integer(cells.type) or pa.types.is_floating(cells.type):
        return cells.cast(pa.float64(), safe=False), np.zeros(len(cells), dtype=np.bool_)
    if not _is_text(cells):
        raise UnusableColumn(f"{column.pointer}: must hold numbers, not {cells.type}")
    trimmed = pc.utf8_trim_whitespace(cells)
    empty = pc.equal(trimmed, "").fill_null(fill_value=True)
    readable = pc.match_substring_regex(trimmed, _NUMBER).fill_null(fill_value=False)
    numbers = pc.if_else(readable, trimmed, pa.scalar(None, trimmed.type)).cast(pa.float64())
    return numbers, ~_flags(readable) & ~_flags(empty)


def _words(cells: pa.Array, column: Column) -> Cells:
    if pa.types.is_null(cells.type):
        cells = cells.cast(pa.string())
    if not _is_text(cells):
        raise UnusableColumn(f"{column.pointer}: must hold words, not {cells.type}")
    trimmed = pc.utf8_trim_whitespace(cells.cast(pa.string()))
    given = ~_flags(pc.equal(trimmed, "").fill_null(fill_value=True))
    found = pc.index_in(trimmed, value_set=pa.array(column.words, pa.string()))
    places: Indices = found.fill_null(-1).to_numpy(zero_copy_only=False).astype(np.int64)
    faulty = given & (places < 0)
    return Cells(np.maximum(places, 0), given, faulty)
