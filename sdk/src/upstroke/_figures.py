"""What a formula answers: one figure, and what it rests on."""

from typing import Final

import msgspec
from msgspec import Struct

from ._quantity import Quantity

_COLUMNS: Final = ("kind", "name", "value", "unit", "text", "basis")


class FigureLine(Struct, frozen=True, kw_only=True):
    """Something beside a figure: a note, a caution, an assumption, the catalogue, the scope."""

    kind: str
    """'note', 'caution', 'assumption', 'catalogue' or 'scope'; more may come."""
    name: str
    """Its stable code; of an assumption the JSON Pointer of the fact."""
    value: float | str | None
    """Its number or word, if it has one."""
    unit: str
    """Unit of the number; empty for a count or a word."""
    text: str
    """The sentence."""
    basis: str
    """What it rests on."""


class Figure(Struct, frozen=True, kw_only=True):
    """One figure of a calculation."""

    name: str
    """The formula."""
    value: float | str | None
    """The number or the word; None where none answers the question, as ``text`` then says."""
    unit: str
    """Unit of the number; empty for a count or a word."""
    text: str
    """What it is, or why there is none."""
    model_version: str
    """Version of the models and their coefficients."""
    beside: tuple[FigureLine, ...]
    """Notes, cautions, assumptions and scope: whoever shows the figure should show these too."""

    @property
    def quantity(self) -> Quantity | None:
        """The figure with its unit; None where it has no number or no unit."""
        return Quantity(self.value, self.unit) if isinstance(self.value, float) and self.unit else None

    def lines(self, kind: str) -> tuple[FigureLine, ...]:
        """The lines of one kind, such as ``"assumption"``."""
        return tuple(line for line in self.beside if line.kind == kind)


def read_figure(body: bytes, *, word: bool = False) -> Figure:
    """The figure of a formula's CSV form; ``word`` tells that it is a word, even if it looks like a number.

    Raises:
        ValueError: where it is something else.
    """
    # Imported here because few need it.
    import csv  # noqa: PLC0415
    import io  # noqa: PLC0415

    rows = csv.DictReader(io.StringIO(body.decode(), newline=""), strict=True)
    try:
        lines = [_line(row, word=word) for row in rows]
    except (msgspec.ValidationError, KeyError, csv.Error) as error:
        raise ValueError(f"it is not a table with the columns {', '.join(_COLUMNS)}") from error
    answers = [line for line in lines if line.kind == "answer"]
    if len(answers) != 1:
        raise ValueError(f"it has {len(answers)} figures in place of one")
    (figure,) = answers
    return Figure(
        name=figure.name,
        value=figure.value,
        unit=figure.unit,
        text=figure.text,
        model_version=figure.basis.removeprefix("model version "),
        beside=tuple(line for line in lines if line is not figure),
    )


def _line(row: dict[str, str], *, word: bool) -> FigureLine:
    text = {name: row[name] for name in _COLUMNS}
    # A row that is too short lacks its last texts: conversion tells.
    return msgspec.convert(
        text | {"value": _value(row["value"], word=word and row["kind"] == "answer")}, FigureLine
    )


def _value(text: str, *, word: bool) -> float | str | None:
    if word or not text:
        return text or None
    try:
        return float(text)
    except ValueError:
        return text
