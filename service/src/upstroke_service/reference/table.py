"""Reading the tables of this package: TOML into frozen structs."""

from importlib import resources
from typing import Annotated, TypeVar

import msgspec

Table = TypeVar("Table")

Positive = Annotated[float, msgspec.Meta(gt=0.0)]
Text = Annotated[str, msgspec.Meta(min_length=1)]


class InvalidTable(ValueError):
    """A table of published values is faulty; the message names the file and the fault."""


class Row(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A row of a table."""


def decode(text: str, file_name: str, kind: type[Table]) -> Table:
    """The table of ``kind`` that ``text`` holds; raises InvalidTable, naming ``file_name``."""
    try:
        return msgspec.toml.decode(text, type=kind)
    except msgspec.DecodeError as fault:
        raise InvalidTable(f"{file_name}: {fault}") from fault


def read(file_name: str, kind: type[Table]) -> Table:
    """The table of ``kind`` in the data file ``file_name`` of this package; raises InvalidTable."""
    text = resources.files("upstroke_service.reference").joinpath(file_name).read_text(encoding="utf-8")
    return decode(text, file_name, kind)
