"""What the contract says of an operation beyond its path and method."""

import functools
import json
from collections.abc import Callable
from importlib import resources
from typing import Any, NamedTuple

import msgspec

from .compute import Context

EXAMPLE_CATALOGUE = "demo"
"""The catalogue that the examples name."""


class Operation(NamedTuple):
    """Request and answer types of an operation, and what computes its answer: from a body or without one."""

    answer: type[msgspec.Struct]
    request: type[msgspec.Struct] | None = None
    calculation: Callable[[Any, Context], msgspec.Struct] | None = None
    listing: Callable[[Context], msgspec.Struct] | None = None
    refusals: tuple[str, ...] = ()
    """Problems that only this operation has."""
    media_types: tuple[str, ...] = ("application/json",)
    """What request and answer are sent as."""
    other_lines: tuple[type[msgspec.Struct], ...] = ()
    """What a line of the answer may be instead, where request and answer come in lines."""
    reports: tuple[str, ...] = ()
    """Media types in which the answer comes as a report, too."""


@functools.cache
def quotes() -> dict[str, dict[str, Any]]:
    """The quote requests of the invented demo scenario, by name."""
    folder = resources.files("upstroke_service").joinpath("demo", "quotes")
    return {
        file.name.removesuffix(".json"): json.loads(file.read_text("utf-8"))
        for file in sorted(folder.iterdir(), key=lambda file: file.name)
        if file.name.endswith(".json")
    }


def examples(kind: type[msgspec.Struct]) -> dict[str, dict[str, Any]]:
    """Example requests of a ``kind``: of each demo quote the blocks of facts that it takes.

    A quote that lacks a fact which the kind requires is left out.
    """
    fitting: dict[str, dict[str, Any]] = {}
    for name, quote in quotes().items():
        taken = {block: facts for block, facts in quote.items() if block in kind.__struct_fields__}
        try:
            msgspec.convert(taken, kind)
        except msgspec.ValidationError:
            continue
        fitting[name] = taken
    return fitting
