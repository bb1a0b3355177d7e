"""From rows of cells to requests, with every cell that could not be read."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, time, timedelta
from typing import IO, TypeAlias, cast

import msgspec
from msgspec import Struct

from upstroke._models import ConstantPressure, PressureSwitch

from ._cells import Cell, CellError, Decimal, is_blank, plain_number, read_cell, refuse_damaged
from ._columns import LISTED
from ._headers import Match
from ._reading import NumberedRow

Written: TypeAlias = str | float | bool | None
"""What the workbook shows of a cell."""


class Fault(Struct, frozen=True):
    """A cell that could not be read, or that the service refused.

    Attributes:
        cell: its name in the table, such as ``C7``; empty where it is not about a cell.
        header: of its column.
        content: what stands in it.
        message: why, and what would be read.
        column: its place in the row, counted from 0; None where it is not about a cell.
    """

    cell: str
    header: str
    content: str
    message: str
    column: int | None = None


class Row(Struct, frozen=True):
    """A row of the table.

    Attributes:
        number: as a spreadsheet shows it.
        site: what to call it.
        cells: to show beside the results.
        request: what to send; None where a fact could not be read, for it would be replaced by an assumption.
        places: the column of each fact, by its JSON Pointer.
        faults: what could not be read.
        key: of the request, for the journal; empty where there is none.
    """

    number: int
    site: str
    cells: list[Written]
    request: dict[str, object] | None
    places: dict[str, int]
    faults: list[Fault]
    key: str = ""


class Table:
    """The columns of a table, and how its rows become requests."""

    def __init__(
        self, headers: Sequence[str], matches: Sequence[Match | None], decimal: Decimal, units: str
    ) -> None:
        """Keep what each column holds and how its numbers are written; ``units`` is part of a row's key."""
        self.headers = headers
        self._matches = matches
        self._decimal: Decimal = decimal
        self._units = units

    def row(self, number: int, cells: Sequence[Cell]) -> Row:
        """What a row says."""
        faults: list[Fault] = []
        facts: list[tuple[Match, object, int]] = []
        readable = True
        for index, cell in enumerate(cells):
            match = self._matches[index] if index < len(self._matches) else None
            # A cell too many may mean that all of them are shifted.
            stray = index >= len(self.headers) or not self.headers[index].strip()
            try:
                if is_blank(cell):
                    continue
                if stray:
                    readable = False
                    faults.append(self._fault(number, index, cell, "a cell without a header"))
                elif match:
                    facts.append((match, read_cell(cell, match.column, match.unit, self._decimal), index))
                else:
                    refuse_damaged(cell)
            except CellError as error:
                readable = readable and match is None
                faults.append(self._fault(number, index, cell, str(error)))
        request, places = _request(facts)
        if readable and not facts:
            readable = False
            faults.append(Fault("", "", "", "the row states no fact"))
        site = str(request.get("client_reference", f"Row {number}"))
        shown = [self._shown(index, cell) for index, cell in enumerate(cells)]
        if not readable:
            return Row(number, site, shown, None, places, faults)
        return Row(number, site, shown, request, places, faults, self._key(request))

    def refusals(self, row: Row, refused: Iterable[tuple[str, str]]) -> list[Fault]:
        """What the service refused in a row, by JSON Pointers, as faults of its cells."""
        faults: list[Fault] = []
        for pointer, message in refused:
            index = row.places.get(pointer.removesuffix("/value").removesuffix("/unit"))
            if index is None:
                faults.append(Fault("", pointer, "", message))
            else:
                faults.append(self._fault(row.number, index, row.cells[index], message))
        return faults

    def _fault(self, number: int, index: int, cell: Cell, message: str) -> Fault:
        header = self.headers[index] if index < len(self.headers) else ""
        return Fault(f"{letters(index)}{number}", header, str(_written(cell) or ""), message, index)

    def _shown(self, index: int, cell: Cell) -> Written:
        match = self._matches[index] if index < len(self._matches) else None
        numeric = match is not None and match.column.kind in {"quantity", "number", "integer"}
        number = plain_number(cell, self._decimal) if numeric else None
        return _written(cell) if number is None else number

    def _key(self, request: dict[str, object]) -> str:
        text = msgspec.json.encode([self._units, request], order="deterministic")
        return hashlib.sha256(text).hexdigest()


def spool(table: Table, rows: Iterable[NumberedRow], file: IO[bytes]) -> tuple[int, int]:
    """Write what the rows say to a file, so that a table of any length is read once and never held whole.

    Returns:
        How many rows there are, and how many of them can't be sized.
    """
    count = unreadable = 0
    encoder = msgspec.json.Encoder()
    for number, cells in rows:
        row = table.row(number, cells)
        count += 1
        unreadable += row.request is None
        file.write(encoder.encode(row) + b"\n")
    return count, unreadable


def spooled(file: IO[bytes]) -> Iterator[Row]:
    """The rows that were written to a file."""
    decoder = msgspec.json.Decoder(Row)
    file.seek(0)
    for line in file:
        yield decoder.decode(line)


def letters(index: int) -> str:
    """The letters of a column, counted from 0: ``letters(27)`` is ``"AB"``."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def _written(cell: Cell) -> Written:
    if isinstance(cell, date | time):
        return cell.isoformat()
    if isinstance(cell, timedelta):
        return str(cell)
    return float(cell) if isinstance(cell, int) and not isinstance(cell, bool) else cell


def _request(facts: Iterable[tuple[Match, object, int]]) -> tuple[dict[str, object], dict[str, int]]:
    """The request of a row, and the column of each fact by its JSON Pointer.

    Items of lists close ranks: where only "Run 2" is filled, it is the first run.
    """
    facts = list(facts)
    used: dict[tuple[str, ...], list[int]] = {}
    for match, *_ in facts:
        if LISTED in match.column.path:
            block = match.column.path[: match.column.path.index(LISTED)]
            used[block] = sorted({*used.get(block, []), match.position})
    request: dict[str, object] = {}
    places: dict[str, int] = {}
    for match, value, index in facts:
        path = match.column.path
        node, position = request, 1
        for depth, part in enumerate(path[:-1]):
            if part == LISTED:
                continue
            if path[depth + 1] == LISTED:
                positions = used[path[: depth + 1]]
                position = positions.index(match.position) + 1
                listed = cast("list[dict[str, object]]", node.setdefault(part, [{} for _ in positions]))
                node = listed[position - 1]
            else:
                node = cast("dict[str, object]", node.setdefault(part, {}))
        node[path[-1]] = value
        places[match.column.at(position)] = index
    _name_supply(request)
    return request, places


def _name_supply(request: dict[str, object]) -> None:
    """Say which supply is meant where its pressures leave no doubt."""
    site = cast("dict[str, dict[str, object]]", request.get("site", {}))
    supply = site.get("supply", {})
    if supply and "kind" not in supply:
        for member in (PressureSwitch, ConstantPressure):
            if set(supply) <= set(member.__struct_fields__):
                supply["kind"] = member.__struct_config__.tag
