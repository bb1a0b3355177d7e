"""Tables of random sites, and what the service says of each of their rows as a request of its own."""

import json
import random
from typing import Any

import msgspec
import pyarrow as pa
from tests.service.batch_lines import compacted
from tests.service.consistency import CONTEXT

from upstroke_service.api import bodies
from upstroke_service.api.bounds import BOUNDS
from upstroke_service.api.compute import Context
from upstroke_service.api.problems import RequestProblem
from upstroke_service.api.sizings import size
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.tables.columns import Column, fact_columns
from upstroke_service.tables.facts import request_of_row

Body = dict[str, Any]

USUAL: dict[str, tuple[float, float, str]] = {
    "/well/static_water_level": (5, 250, "ft"),
    "/well/well_drawdown": (0, 15, "ft"),
    "/well/specific_capacity": (0.1, 5, "gpm/ft"),
    "/well/casing_inside_diameter": (4, 8, "in"),
    "/well/well_depth": (150, 500, "ft"),
    "/well/water_temperature": (4, 25, "degC"),
    "/well/sustained_yield": (0.3, 20, "gpm"),
    "/well/site_elevation": (0, 8000, "ft"),
    "/pump/outlet_height": (0, 4, "ft"),
    "/pump/cylinder_depth": (50, 320, "ft"),
    "/conduit/runs/0/inside_diameter": (0.5, 1.5, "in"),
    "/conduit/runs/0/length": (10, 200, "ft"),
    "/conduit/rise": (-10, 30, "ft"),
    "/conduit/hose_pressure_rating": (20, 150, "psi"),
    "/conduit/cracking_pressure": (0.1, 2, "psi"),
    "/tank/total_volume": (5, 120, "gal"),
    "/tank/precharge": (10, 40, "psi"),
    "/tank/precharge_temperature": (40, 90, "degF"),
    "/tank/air_temperature": (40, 90, "degF"),
    "/tank/air_volume": (2, 10, "gal"),
    "/tank/air_pressure": (0, 20, "psi"),
    "/tank/maximum_working_pressure": (35, 150, "psi"),
    "/pressures/start": (0, 40, "psi"),
    "/pressures/target": (30, 90, "psi"),
    "/operator/session": (10, 120, "min"),
    "/operator/sustained_power": (40, 120, "W"),
    "/operator/hand_force_limit": (90, 250, "N"),
    "/operator/cadence": (25, 50, "1/min"),
    "/site/frost_depth": (0, 6, "ft"),
    "/site/electric_pump/drop_pipe_outside_diameter": (1, 2, "in"),
    "/site/electric_pump/cable_diameter": (0.3, 0.8, "in"),
    "/site/supply/cut_in": (20, 45, "psi"),
    "/site/supply/cut_out": (40, 70, "psi"),
    "/site/supply/set_pressure": (40, 75, "psi"),
    "/site/relief_valve/set_pressure": (50, 125, "psi"),
    "/needs/floor_rise": (0, 20, "ft"),
}
"""What registers state of quantities, so that most rows can be sized."""


def table(
    seed: int, rows: int, density: float, pointers: list[str] | None = None, faulty: float = 0.0
) -> Any:
    """A batch of random sites: about ``density`` of the cells filled, a few of them ``faulty``."""
    choice = random.Random(seed)  # noqa: S311 - to vary
    fields: list[pa.Field] = [pa.field("well", pa.string())]
    arrays: list[pa.Array] = [pa.array([f"W-{row}" for row in range(rows)])]
    for pointer in pointers or list(fact_columns()):
        column = fact_columns()[pointer]
        share = 0.95 if pointer == "/well/static_water_level" else density
        cells = [_cell(choice, column, faulty) if choice.random() < share else None for _ in range(rows)]
        unit = {"unit": USUAL[pointer][2]} if column.kind == "quantity" else None
        fields.append(pa.field(pointer, _TYPES[column.kind], metadata=unit))
        arrays.append(pa.array(cells, _TYPES[column.kind]))
    return pa.RecordBatch.from_arrays(arrays, schema=pa.schema(fields))


_TYPES = {
    "word": pa.string(),
    "integer": pa.int64(),
    "number": pa.float64(),
    "quantity": pa.float64(),
}


def _cell(choice: random.Random, column: Column, faulty: float) -> Any:
    wrong = choice.random() < faulty
    if column.kind == "word":
        return "perhaps" if wrong else choice.choice(column.words)
    if column.kind == "integer":
        return 0 if wrong else choice.randint(1, 4)
    if column.kind == "number":
        bounds = column.bounds["1"]
        return 7.5 if wrong else choice.uniform(bounds.lowest, bounds.highest)
    low, high, unit = USUAL[column.pointer]
    assert column.quantity is not None
    return BOUNDS[column.quantity][unit].highest * 1.01 if wrong else choice.uniform(low, high)


def alone(batch: pa.RecordBatch, row: int, template: Body, context: Context = CONTEXT) -> Body:
    """What the service answers to a row's facts sent as a request, as a row of results."""
    document = request_of_row(batch, row, template)
    try:
        answer = size(bodies.decode(msgspec.json.encode(document), SizingRequest), context)
    except RequestProblem as problem:
        return {
            "problem": problem.code,
            "pointers": {error.pointer.removesuffix("/value") for error in problem.errors or ()},
        }
    return compacted(json.loads(msgspec.json.encode(answer)))


def plain(row: Body) -> Body:
    """A row of results without the columns that are empty, figures as in a single answer without their units."""
    found = {name: value for name, value in row.items() if value is not None and name != "well"}
    return found | {"pointers": set(found["pointers"])} if "pointers" in found else found


def without_units(compact: Body) -> Body:
    """A compact answer whose figures are numbers alone."""
    return {name: value["value"] if isinstance(value, dict) else value for name, value in compact.items()}
