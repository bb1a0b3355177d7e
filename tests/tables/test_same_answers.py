"""A row of a table gets what the same facts get as a request of their own."""

from decimal import Decimal
from typing import Any

import msgspec
import numpy as np
import pyarrow as pa
import pytest
from tests.service.consistency import CONTEXT
from tests.tables.rows import alone, plain, table, without_units

from upstroke_service.api import bodies
from upstroke_service.api.compute import Context, read
from upstroke_service.api.operation import quotes
from upstroke_service.api.style import style
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.sizing import assessment, ranking
from upstroke_service.tables import sizing
from upstroke_service.tables.columns import fact_columns
from upstroke_service.tables.facts import request_of_row
from upstroke_service.tables.sizing import TableSizer

SI = Context(CONTEXT.catalogues, style("si", "en"))
TWO_RUNS: dict[str, Any] = {
    "conduit": {
        "runs": [
            {
                "inside_diameter": {"value": 1, "unit": "in"},
                "length": {"value": 10, "unit": "m"},
                "roughness": {"value": 0.1, "unit": "mm"},
            },
            {
                "inside_diameter": {"value": 0.75, "unit": "in"},
                "length": {"value": 20, "unit": "ft"},
                "material": "copper",
            },
        ],
        "fittings": [
            {"kind": "elbow_90", "count": 2},
            {"kind": "exit", "inside_diameter": {"value": 0.5, "unit": "in"}},
        ],
    },
    "needs": {"people": 3},
    "site": {"supply": {"kind": "constant_pressure", "set_pressure": {"value": 55, "unit": "psi"}}},
    "selection": {"catalogue": "demo", "ids": ["lift-1-1-4-300", "lift-1-350"]},
}


def require_same(batch: pa.RecordBatch, template: Any, context: Context = CONTEXT) -> None:
    results = TableSizer(template, context).size(batch).to_pylist()
    for row, result in enumerate(results):
        expected = without_units(alone(batch, row, template, context))
        assert plain(result) == expected, f"row {row}"


@pytest.mark.parametrize("context", [CONTEXT, SI], ids=["us", "si"])
@pytest.mark.parametrize("quote", sorted(quotes()))
def test_a_row_without_facts_gets_what_the_template_gets(quote: str, context: Context) -> None:
    batch = pa.RecordBatch.from_pydict({"well": ["one", "two"]})

    require_same(batch, quotes()[quote], context)


@pytest.mark.parametrize("quote", sorted(quotes()))
def test_rows_on_top_of_a_quote(quote: str) -> None:
    pointers = ["/well/static_water_level", "/conduit/rise", "/operator/profile", "/site/freezes"]

    require_same(table(1, 4, 0.6, pointers), quotes()[quote])


@pytest.mark.parametrize("density", [0.1, 0.3, 0.6])
def test_rows_of_random_facts(density: float) -> None:
    require_same(table(int(100 * density), 24, density), {})


@pytest.mark.parametrize("seed", range(2))
def test_rows_of_random_facts_that_agree(seed: int) -> None:
    pointers = [
        one for one in fact_columns() if "supply" not in one and "relief" not in one and "air" not in one
    ]

    require_same(table(seed, 24, 0.35, pointers), {}, SI)


def test_rows_on_top_of_runs_fittings_needs_and_a_selection() -> None:
    require_same(table(11, 24, 0.25), TWO_RUNS)
    require_same(table(12, 10, 0.2), {"conduit": {"runs": []}})


def test_figures_before_rounding_are_those_of_the_site_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sizing, "significant", lambda values: values)
    pointers = [one for one in fact_columns() if one.startswith(("/well", "/conduit", "/operator", "/pump"))]
    batch = table(31, 140, 0.3, pointers)
    results = [row for row in enumerate(TableSizer({}, SI).size(batch).to_pylist()) if row[1]["recommended"]]

    assert len(results) > 20
    for row, result in results:
        document = request_of_row(batch, row, {})
        facts = read(bodies.decode(msgspec.json.encode(document), SizingRequest), SI)
        found = assessment.assess(facts.site, facts.chosen.lineup)
        best = ranking.order(found).reshape(-1)[0]
        alone_in_si = {
            "lift_margin": found.budget.margin,
            "strokes": found.fill.strokes,
            "time": found.fill.seconds / 60.0,
            "hand_force": found.at_end.hand_force,
            "water": found.fill.volume * 1e3,
            "end": found.fill.end / 1e3,
        }
        expected = {
            name: np.broadcast_to(values, found.outcome.shape).reshape(-1)[best]
            for name, values in alone_in_si.items()
        }
        assert {name: result[name] for name in expected} == pytest.approx(expected, rel=1e-12)


def test_decimals_and_whole_numbers_are_numbers_too() -> None:
    fields = [
        pa.field("/well/static_water_level", pa.decimal128(12, 4), metadata={"unit": "ft"}),
        pa.field("/conduit/rise", pa.int16(), metadata={"unit": "m"}),
    ]
    depths = [Decimal("61.3337"), Decimal("118.1003"), None]
    require_same(
        pa.RecordBatch.from_arrays(
            [pa.array(depths, fields[0].type), pa.array([3, None, 2], pa.int16())], schema=pa.schema(fields)
        ),
        {},
    )


def test_faulty_cells_are_told_by_row() -> None:
    require_same(table(21, 24, 0.2, faulty=0.1), {})
