"""What every answer is made of: the base of its parts, columns, sources, assumptions and findings."""

from typing import Annotated

from msgspec import UNSET, Struct, UnsetType

from .description import about


class Answered(Struct, frozen=True, kw_only=True, omit_defaults=True, gc=False):
    """Part of an answer."""


class Series(Answered, frozen=True, kw_only=True):
    """A column of numbers with one unit."""

    unit: Annotated[str, about("Unit of every value; '1' where the numbers are counts.")]
    values: Annotated[list[float], about("Values in order, to 6 significant digits.")]


class Source(Answered, frozen=True, kw_only=True):
    """What a number or a rule rests on."""

    key: Annotated[str, about("Stable key.")]
    citation: Annotated[str, about("Author, title, edition and table; or 'common practice, no source'.")]


class Assumption(Answered, frozen=True, kw_only=True):
    """A fact that the caller did not give, and what was used instead."""

    pointer: Annotated[str, about("JSON Pointer of the missing fact in the request.")]
    text: Annotated[str, about("The assumption in words, with its value.")]
    basis: Annotated[str, about("How it was chosen, and its source.")]
    value: Annotated[float, about("The number used, where it is one.")] | UnsetType = UNSET
    unit: Annotated[str, about("Unit of the value.")] | UnsetType = UNSET


class Finding(Answered, frozen=True, kw_only=True):
    """A reason in a sentence that can be forwarded, with its numbers beside it."""

    code: Annotated[str, about("Stable code; more may come.")]
    text: Annotated[str, about("The sentence.")]
    value: Annotated[float, about("The number found.")] | UnsetType = UNSET
    limit: Annotated[float, about("What it is held against.")] | UnsetType = UNSET
    unit: Annotated[str, about("Unit of both.")] | UnsetType = UNSET
