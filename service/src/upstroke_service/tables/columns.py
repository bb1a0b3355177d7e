"""The columns of a table: which facts may vary by site, and what each row is answered with.

Names, units, bounds and meanings come from the structs of the contract.
"""

import functools
from typing import Any, Final, Literal, NamedTuple, cast

import pyarrow as pa
from msgspec import inspect

from upstroke_service.api.bounds import BOUNDS, Bounds
from upstroke_service.contract.batches import CompactSizing
from upstroke_service.contract.quantities import Measured, Quantity
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.units import System

Kind = Literal["quantity", "number", "integer", "word"]

_FACTS: Final = {
    "/well": (
        "static_water_level", "well_drawdown", "specific_capacity", "casing_inside_diameter", "well_depth",
        "water_temperature", "sustained_yield", "site_elevation",
    ),
    "/pump": ("outlet_height", "cylinder_depth"),
    "/conduit": (
        "runs/0/inside_diameter", "runs/0/length", "runs/0/material", "rise", "hose_pressure_rating",
        "check_valve", "cracking_pressure", "air_chamber",
    ),
    "/tank": (
        "kind", "total_volume", "count", "precharge", "precharge_temperature", "air_temperature", "air_volume",
        "air_pressure", "condition", "maximum_working_pressure", "maximum_acceptance", "gas_exponent",
    ),
    "/pressures": ("start", "target"),
    "/operator": ("profile", "people", "session", "sustained_power", "hand_force_limit", "cadence"),
    "/site": (
        "freezes", "frost_depth", "well_pit", "overhead_lines", "water_heater", "electric_pump/present",
        "electric_pump/drop_pipe_outside_diameter", "electric_pump/cable_diameter", "public_water_connection",
        "supply/kind", "supply/cut_in", "supply/cut_out", "supply/set_pressure", "relief_valve/fitted",
        "relief_valve/set_pressure",
    ),
    "/needs": ("floor_rise",),
}  # fmt: skip
"""Facts that may vary by row. What changes the candidates themselves is the template's alone."""

PROBLEM, POINTERS, ANSWER = "problem", "pointers", "answer"


class Column(NamedTuple):
    """A fact as a column, named by its JSON Pointer.

    A quantity has ``bounds`` by unit, a number one entry under the unit '1', a word the ``words`` it may be.
    """

    pointer: str
    kind: Kind
    meaning: str
    bounds: dict[str, Bounds]
    words: tuple[str, ...] = ()
    quantity: type[Quantity] | None = None


@functools.cache
def fact_columns() -> dict[str, Column]:
    """Every fact that may be a column, by its JSON Pointer."""
    pointers = [f"{block}/{field}" for block, fields in _FACTS.items() for field in fields]
    request = inspect.type_info(SizingRequest)
    return {pointer: _column(pointer, request) for pointer in pointers}


def _column(pointer: str, request: Any) -> Column:
    node, meaning = request, ""
    for step in pointer.split("/")[1:]:
        structs = [_plain(one) for one in getattr(node, "types", (node,))]
        if isinstance(node, inspect.ListType):
            node = node.item_type
            continue
        if step == structs[0].tag_field:
            return Column(
                pointer, "word", "Which kind of supply it is.", {}, tuple(one.tag for one in structs)
            )
        field = next(field for one in structs for field in one.fields if field.name == step)
        node, meaning = _plain(field.type), _meaning(field.type)
    return _leaf(pointer, node, meaning)


def _leaf(pointer: str, node: Any, meaning: str) -> Column:
    if isinstance(node, inspect.StructType):
        quantity = cast("type[Quantity]", node.cls)
        return Column(pointer, "quantity", meaning, BOUNDS[quantity], quantity=quantity)
    if isinstance(node, inspect.LiteralType):
        return Column(pointer, "word", meaning, {}, tuple(str(word) for word in node.values))
    kind: Kind = "integer" if isinstance(node, inspect.IntType) else "number"
    return Column(pointer, kind, meaning, {"1": Bounds(node.ge, node.le, 1.0, 0.0)})


def _plain(node: Any) -> Any:
    return node.type if isinstance(node, inspect.Metadata) else node


def _meaning(node: Any) -> str:
    if isinstance(node, inspect.Metadata) and node.extra_json_schema:
        return str(node.extra_json_schema["description"])
    return ""


class Result(NamedTuple):
    """A column of results: of which kind its figures are, or None where they have no unit."""

    name: str
    kind: type[Measured] | None
    arrow: pa.DataType
    meaning: str

    def field(self, system: System) -> pa.Field:
        """The column in Arrow's words, with its unit and meaning in the metadata."""
        metadata = {"description": self.meaning}
        if self.kind is not None:
            metadata["unit"] = self.kind.units[0 if system == "us" else 1]
        return pa.field(self.name, self.arrow, metadata=metadata)


@functools.cache
def result_columns() -> tuple[Result, ...]:
    """What every row is answered with: the fields of the compact sizing, and what keeps a row from one."""
    struct: Any = inspect.type_info(CompactSizing)
    return (
        *(_result(field) for field in struct.fields),
        Result(PROBLEM, None, pa.string(), "Code of what keeps the row from being sized; else empty."),
        Result(POINTERS, None, pa.list_(pa.string()), "JSON Pointers of the facts that this is about."),
    )


def _result(field: inspect.Field) -> Result:
    node, meaning = _plain(field.type), _meaning(field.type)
    if isinstance(node, inspect.StructType):
        return Result(field.name, cast("type[Measured]", node.cls), pa.float64(), meaning)
    if isinstance(node, inspect.FloatType):
        return Result(field.name, None, pa.float64(), meaning)
    arrow = pa.list_(pa.string()) if isinstance(node, inspect.ListType) else pa.string()
    return Result(field.name, None, arrow, meaning)


@functools.cache
def candidate_columns() -> tuple[Result, ...]:
    """Lists with an entry for each candidate, best first, for who asks for them."""
    figures = {one.name: one for one in result_columns() if one.arrow == pa.float64()}
    words = {
        "ids": "Ids of the candidates, best first.",
        "outcomes": "What each comes to: fits, fits with limits or does not fit.",
        "governed_by": "What sets the ceiling of each or rules it out.",
    }
    names = ("lift_margin", "end", "strokes", "time", "hand_force", "water")
    return (
        *(
            Result(f"candidate_{name}", None, pa.list_(pa.string()), meaning)
            for name, meaning in words.items()
        ),
        *(
            Result(f"candidate_{name}", figures[name].kind, pa.list_(pa.float64()), figures[name].meaning)
            for name in names
        ),
    )


ANSWER_COLUMN: Final = Result(
    ANSWER, None, pa.string(), "The whole answer as JSON, as POST /v1/sizings gives it for the same facts."
)


def described() -> str:
    """The columns as a text: names, units or words, and meanings."""
    lines = ["Facts, each a column of its own; all may be left out and any cell may be empty:", ""]
    for one in fact_columns().values():
        accepted = ", ".join(one.words or (unit for unit in one.bounds if unit != "1")) or one.kind
        lines.append(f"  {one.pointer} [{accepted}]")
        lines += [f"      {one.meaning}"] if one.meaning else []
        for unit, bounds in list(one.bounds.items())[:1]:
            lines.append(
                f"      {bounds.lowest:g} to {bounds.highest:g} {'' if unit == '1' else unit}".rstrip()
            )
    lines += ["", "Results, in the units of --units us or si:", ""]
    for result in (*result_columns(), *candidate_columns(), ANSWER_COLUMN):
        unit = " [{}, {}]".format(*result.kind.units) if result.kind else ""
        lines += [f"  {result.name}{unit}", f"      {result.meaning}"]
    lines += ["", "Other columns, such as a well's number, are carried over as they are."]
    return "\n".join(lines)


def put(document: dict[str, Any], pointer: str, value: Any) -> None:
    """Set what is at ``pointer`` of a request; blocks on the way are made."""
    *way, last = pointer.split("/")[1:]
    node: Any = document
    for step, following in zip(way, [*way[1:], last], strict=True):
        empty: Any = [] if following == "0" else {}
        if isinstance(node, list):
            node.extend([{}] * (not node))
            node = node[int(step)]
        else:
            node = node.setdefault(step, empty)
    node[last] = value


def at(document: Any, pointer: str) -> Any:
    """What is at ``pointer`` of a request, or None."""
    node = document
    for step in pointer.split("/")[1:]:
        if isinstance(node, list):
            node = node[int(step)] if int(step) < len(node) else None
        else:
            node = node.get(step) if isinstance(node, dict) else None
    return node
