"""Reads single cells as facts.

Nothing is guessed: what can be read in two ways is a fault, and its message says how to write it instead.
"""

import datetime as dt
import math
import re
from typing import Final, Literal, TypeAlias

from upstroke._quantity import Quantity, read_quantity

from ._columns import Column

Cell: TypeAlias = str | float | int | bool | dt.datetime | dt.date | dt.time | dt.timedelta | None
Decimal: TypeAlias = Literal["point", "comma"]

_PLAIN: Final = {
    "point": re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?"),
    "comma": re.compile(r"[+-]?(\d+,?\d*|,\d+)([eE][+-]?\d+)?"),
}
# Thousands count only where a decimal sign follows them: "1,234" could be either.
_GROUPED: Final = {
    "point": re.compile(r"[+-]?\d{1,3}(,\d{3})+\.\d+"),
    "comma": re.compile(r"[+-]?\d{1,3}(\.\d{3})+,\d+"),
}
_NUMERIC: Final = re.compile(r"[+-]?[\d.,]*\d[\d.,]*(?:[eE][+-]?\d+)?")
_ERROR: Final = re.compile(
    r"#(N/A|DIV/0!|REF!|NAME\?|NULL!|NUM!|VALUE!|SPILL!|CALC!|GETTING_DATA|N/A N/A)|Err:\d+"
)
_YES: Final = frozenset({"yes", "y", "true", "x"})
_NO: Final = frozenset({"no", "n", "false"})
_FLAGS: Final = {"yes", "no"}
_TRUTH: Final = {"yes": True, "no": False}

UNCALCULATED: Final = "=?"
"""What a reader puts in place of a formula whose result the file does not hold."""


class CellError(ValueError):
    """A cell that can't be read; the message says why and what would be read."""


def is_blank(cell: Cell) -> bool:
    """Whether a cell says nothing."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def read_cell(cell: Cell, column: Column, unit: str, decimal: Decimal) -> object:
    """The fact that a cell holds, as the request takes it.

    Args:
        cell: not blank.
        column: what it should hold.
        unit: of the header; empty where it names none.
        decimal: the decimal sign of numbers in text.

    Raises:
        CellError: where it can't be read.
    """
    if isinstance(cell, str):
        cell = " ".join(cell.replace("−", "-").split())
        refuse_damaged(cell)
    if isinstance(cell, dt.date | dt.time | dt.timedelta):
        raise CellError("a date or time; a spreadsheet may have turned a number into it")
    match column.kind:
        case "quantity":
            return _quantity(cell, column, unit, decimal)
        case "number":
            return _share(cell, decimal)
        case "integer":
            return _integer(cell, decimal)
        case "word" | "flag":
            return _word(cell, column)
        case "text":
            return _text(cell)
        case "texts":
            return [part for part in re.split(r"[\s,;]+", _text(cell)) if part]


def plain_number(cell: Cell, decimal: Decimal) -> float | None:
    """The number that a cell holds, or None where it holds something else."""
    if isinstance(cell, bool):
        return None
    if isinstance(cell, int | float):
        return float(cell) if math.isfinite(cell) else None
    if not isinstance(cell, str):
        return None
    text = cell.strip().replace("−", "-")
    thousands = "," if decimal == "point" else "."
    if not _PLAIN[decimal].fullmatch(text):
        if not _GROUPED[decimal].fullmatch(text):
            return None
        text = text.replace(thousands, "")
    value = float(text.replace(",", "."))
    return value if math.isfinite(value) else None


def refuse_damaged(cell: Cell) -> None:
    """Refuse what is not what somebody wrote: errors of formulas, formulas without results, lost characters.

    Raises:
        CellError: where it is one of these.
    """
    if not isinstance(cell, str):
        return
    if cell == UNCALCULATED:
        raise CellError(
            "a formula without a stored result; open the file in a spreadsheet program and save it"
        )
    if _ERROR.fullmatch(cell):
        raise CellError("an error of a formula")
    if "\ufffd" in cell:
        raise CellError("characters that can't be read; name the file's --encoding")


def _number(cell: Cell, decimal: Decimal) -> float:
    value = plain_number(cell, decimal)
    if value is None:
        raise CellError(f"not a number{_advice(cell, decimal)}")
    return value


def _advice(cell: Cell, decimal: Decimal) -> str:
    if isinstance(cell, str) and _NUMERIC.fullmatch(cell):
        if decimal == "point" and "," in cell:
            return " with a decimal point; where commas are decimal signs, say --decimal comma"
        if decimal == "comma" and "." in cell:
            return " with a decimal comma, as --decimal comma says"
    return ""


def _quantity(cell: Cell, column: Column, unit: str, decimal: Decimal) -> Quantity:
    accepted = ", ".join(column.units)
    value = plain_number(cell, decimal)
    if value is not None:
        if not unit:
            raise CellError(
                f"a number without a unit; put one in the header or behind the number: {accepted}"
            )
        return Quantity(value, unit)
    if not isinstance(cell, str):
        raise CellError(f"not a number; accepted units: {accepted}")
    number = _NUMERIC.match(cell)
    if number is None or number.end() == len(cell):
        raise CellError(f"not a number{_advice(cell, decimal)}; accepted units: {accepted}")
    try:
        return read_quantity(
            Quantity.parse(f"{_number(number[0], decimal)!r} {cell[number.end() :]}"), column.units
        )
    except CellError as error:
        raise CellError(f"{error}; accepted units: {accepted}") from error
    except ValueError:
        raise CellError(f"not a number with a unit; accepted units: {accepted}") from None


def _share(cell: Cell, decimal: Decimal) -> float:
    if isinstance(cell, str) and cell.endswith("%"):
        return _number(cell[:-1].strip(), decimal) / 100.0
    return _number(cell, decimal)


def _integer(cell: Cell, decimal: Decimal) -> int:
    value = _number(cell, decimal)
    if value != int(value):
        raise CellError("not a whole number")
    return int(value)


def _word(cell: Cell, column: Column) -> object:
    text = ("yes" if cell else "no") if isinstance(cell, bool) else str(cell)
    word = re.sub(r"[\s\-]+", "_", text.strip().casefold())
    accepted = column.words or ("yes", "no")
    if set(accepted) >= _FLAGS:
        word = "yes" if word in _YES else "no" if word in _NO else word
    if word not in accepted:
        raise CellError(f"not one of: {', '.join(accepted)}")
    return _TRUTH[word] if column.kind == "flag" else word


def _text(cell: Cell) -> str:
    if isinstance(cell, float) and cell.is_integer():
        cell = int(cell)
    return str(cell)
