"""Matches the headers of a table to the columns of the contract."""

import difflib
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, cast

from upstroke._units import unit_name

from ._columns import LISTED, Column, columns

_UNIT: Final = re.compile(r"(.*?)\s*[\[(]([^\[\]()]*(?:\([^()]*\))?[^\[\]()]*)[\])]\s*", re.DOTALL)
_SEPARATORS: Final = re.compile(r"[\s_\-/.:*]+")
_NUMBER: Final = re.compile(r"(?<= )[0-9]{1,3}(?= |$)")
# How much a header must look like a field's name before it counts as a misspelling of it.
_CLOSE: Final = 0.86


class TableError(Exception):
    """A table, a mapping or an option that can't be used as it is; the message says what to change."""


@dataclass(frozen=True)
class Match:
    """What the column of a table holds.

    Attributes:
        column: the field.
        position: of the item in a list, counted from 1; 1 where there is no list.
        unit: what the header says, or empty: then the cells have to say it.
    """

    column: Column
    position: int
    unit: str

    @property
    def pointer(self) -> str:
        """JSON Pointer of the field, as if every item in front of it were given."""
        return self.column.at(self.position)


def read_mapping(file: Path) -> dict[str, str]:
    """The mapping of a TOML file: header of the table to a header as this package names it.

    Raises:
        TableError: where the file can't be read or holds something else.
    """
    try:
        content = tomllib.loads(file.read_text("utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise TableError(f"{file}: {error}") from error
    mapping: object = content.get("columns")
    if set(content) != {"columns"} or not isinstance(mapping, dict):
        raise TableError(
            f'{file}: needs one table [columns] with lines such as "Depth (m)" = "Static water level [m]"'
        )
    pairs = cast("dict[str, object]", mapping)
    if wrong := [key for key, value in pairs.items() if not isinstance(value, str)]:
        raise TableError(f"{file}: {wrong[0]!r} needs text, or empty text where the column holds no fact")
    return {_tidy(key): str(value) for key, value in pairs.items()}


def match_headers(headers: Sequence[str], mapping: Mapping[str, str]) -> list[Match | None]:
    """What each column of a table holds; None for one that only goes along.

    Raises:
        TableError: where a header looks like a field but is none, names a unit that does not fit, or names a
            field a second time, and where no header names a field.
    """
    if unused := set(mapping) - {_tidy(header) for header in headers}:
        raise TableError(f"the mapping names a column that the table does not have: {min(unused)!r}")
    matches: list[Match | None] = []
    taken: dict[str, str] = {}
    for header in headers:
        mapped = mapping.get(_tidy(header))
        match = (
            None
            if mapped == ""
            else match_header(header if mapped is None else mapped, required=mapped is not None)
        )
        if match:
            if match.pointer in taken:
                raise TableError(
                    f"{taken[match.pointer]!r} and {header!r} both name {match.column.header(match.position)!r}"
                )
            taken[match.pointer] = header
        matches.append(match)
    if not taken:
        raise TableError("no header names a fact; --template writes a workbook that shows the headers")
    return matches


def match_header(header: str, *, required: bool = False) -> Match | None:
    """What a column with this header holds; None for one that only goes along.

    Args:
        header: such as ``Static water level [ft]``.
        required: whether it has to name a field.

    Raises:
        TableError: as match_headers.
    """
    name, unit = _split(header)
    numbers = _NUMBER.findall(name)
    column = _by_name().get(_NUMBER.sub(LISTED, name))
    if column and numbers and int(numbers[0]) < 1:
        column = None
    # One word, such as "Start", may mean anything: a unit behind it shows that the field is meant.
    if column and " " not in name and not unit and len(column.names) > 1:
        column = None
    if column is None:
        if complaint := _complaint(name, required=required or unit_name(unit or "") is not None):
            raise TableError(f"{header!r} names no field{complaint}; a mapping file can say what it holds")
        return None
    return Match(column, int(numbers[0]) if numbers else 1, _unit(header, column, unit))


def _split(header: str) -> tuple[str, str | None]:
    """The name of a field in lower case, and what stands in brackets behind it."""
    text = " ".join(header.split())
    found = _UNIT.fullmatch(text)
    if found and ("[" in text or unit_name(found[2])):
        return _SEPARATORS.sub(" ", found[1]).strip().casefold(), found[2].strip()
    return _SEPARATORS.sub(" ", text).strip().casefold(), None


def _unit(header: str, column: Column, written: str | None) -> str:
    if not written:
        return ""
    unit = unit_name(written)
    if column.kind != "quantity":
        raise TableError(f"{header!r}: this field has no unit")
    if unit not in column.units:
        raise TableError(f"{header!r}: {written!r} does not fit; accepted units: {', '.join(column.units)}")
    return unit


def _by_name() -> dict[str, Column]:
    return {name: column for column in columns() for name in column.names}


def _complaint(name: str, *, required: bool) -> str:
    """What is wrong with a header that names no field; empty where it need not name one."""
    pattern = _NUMBER.sub(LISTED, name)
    several = [
        column.label.replace(LISTED, "1") for column in columns() if f" {pattern}" in column.label.casefold()
    ]
    if required and several:
        return f" by itself; did you mean one of: {', '.join(several[:8])}?"
    close = difflib.get_close_matches(pattern, list(_by_name()), n=1, cutoff=0.6 if required else _CLOSE)
    if close and close[0] != pattern:
        return f"; did you mean {_by_name()[close[0]].label.replace(LISTED, '1')!r}?"
    return " of a request" if required else ""


def _tidy(header: str) -> str:
    return " ".join(header.split()).casefold()
