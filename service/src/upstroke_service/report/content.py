"""What a report is made of: blocks of text, tables, figures, steps and notes, whatever draws them."""

from msgspec import Struct


class Figure(Struct, frozen=True, tag="figure"):
    """A drawing as SVG, with what it shows in words; in print it takes that ``share`` of the width, %."""

    svg: str
    alt: str
    share: int


class Text(Struct, frozen=True, tag="text"):
    """A paragraph."""

    text: str


class Table(Struct, frozen=True, tag="table"):
    """A table; ``numeric`` says of each column whether it is aligned to the right."""

    columns: list[str]
    numeric: list[bool]
    rows: list[list[str]]


class Item(Struct, frozen=True):
    """An entry of a list: in front of it a ``label``, below it further lines."""

    text: str
    label: str = ""
    details: list[str] = []


class Items(Struct, frozen=True, tag="items"):
    """A list; numbered from ``first`` on where the order matters."""

    items: list[Item]
    title: str = ""
    first: int = 0


class Record(Struct, frozen=True, tag="record"):
    """Text to be kept to the letter."""

    text: str


Block = Figure | Text | Table | Items | Record


class Section(Struct, frozen=True):
    """A heading, to be found by ``name``, and what stands below; what is to look up is ``small`` in print."""

    name: str
    title: str
    blocks: list[Block]
    small: bool = False


class Fact(Struct, frozen=True):
    """A figure that a reader looks for first."""

    label: str
    value: str


class Report(Struct, frozen=True, kw_only=True):
    """All of it. ``paper`` is 'a4' or 'us-letter'; ``lines`` say which answer this is."""

    language: str
    paper: str
    title: str
    verdict: str
    summary: str
    notice: str
    facts: list[Fact]
    sections: list[Section]
    contents: str
    page: str
    lines: list[str]
