"""Registers of invented wells to measure with, and what all their wells share.

    .venv/bin/python -m tests.benchmarks.registers 1000 wells.parquet
    .venv/bin/python -m tests.benchmarks.registers 1000 wells.jsonl "8 candidates"    as a batch

Four facts differ from well to well. The others are stated in full, so that a program of a few formulas can be
given the same facts and must find the same numbers.
"""

import json
import sys
from pathlib import Path
from typing import Any, Final

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from upstroke_service.physics.real import Array

VARIED: Final = {
    "/well/static_water_level": ("ft", 20.0, 180.0),
    "/conduit/runs/0/length": ("ft", 20.0, 150.0),
    "/tank/total_volume": ("gal", 20.0, 80.0),
    "/pressures/target": ("psi", 40.0, 60.0),
}
"""Unit, least and greatest value of the facts that differ."""

ONE, EIGHT, THIRTY_TWO = "1 candidate", "8 candidates", "32 candidates"
DEMANDING: Final = "8 with weep holes, people tire"
BORE: Final = 1.5
RATED: Final = 600.0
CYLINDER: Final[dict[str, Any]] = {
    "kind": "lift",
    "stroke": {"value": 8, "unit": "in"},
    "rod": {
        "diameter": {"value": 0.375, "unit": "in"},
        "material": "stainless_steel",
        "density": {"value": 7900, "unit": "kg/m3"},
        "elastic_modulus": {"value": 193, "unit": "GPa"},
    },
    "drop_pipe": {
        "inside_diameter": {"value": 1.278, "unit": "in"},
        "outside_diameter": {"value": 1.66, "unit": "in"},
        "material": "pvc",
        "elastic_modulus": {"value": 2.758, "unit": "GPa"},
    },
    "handle_ratio": 5,
    "volumetric_efficiency": 0.92,
    "seal_drag": {"value": 50, "unit": "N"},
    "weep_hole": {"present": False},
}

SHARED: Final[dict[str, Any]] = {
    "well": {
        "well_drawdown": {"value": 0, "unit": "ft"},
        "water_temperature": {"value": 10, "unit": "degC"},
        "site_elevation": {"value": 0, "unit": "m"},
    },
    "pump": {
        "outlet_height": {"value": 0, "unit": "ft"},
        "handle_efficiency": 0.9,
        "upstroke_share": 0.5,
    },
    "conduit": {
        "runs": [
            {
                "inside_diameter": {"value": 0.75, "unit": "in"},
                "length": {"value": 50, "unit": "ft"},
                "roughness": {"value": 0.0015, "unit": "mm"},
            }
        ],
        "fittings": [{"kind": "exit", "inside_diameter": {"value": 0.75, "unit": "in"}}],
        "rise": {"value": 4, "unit": "ft"},
        "hose_pressure_rating": {"value": 150, "unit": "psi"},
        "check_valve": "yes",
        "cracking_pressure": {"value": 0.5, "unit": "psi"},
        "air_chamber": "no",
    },
    "tank": {
        "kind": "bladder",
        "precharge": {"value": 28, "unit": "psi"},
        "maximum_working_pressure": {"value": 100, "unit": "psi"},
    },
    "pressures": {"start": {"value": 28, "unit": "psi"}},
    "site": {
        "supply": {
            "kind": "pressure_switch",
            "cut_in": {"value": 40, "unit": "psi"},
            "cut_out": {"value": 60, "unit": "psi"},
        },
        "relief_valve": {"fitted": "yes", "set_pressure": {"value": 100, "unit": "psi"}},
    },
    "operator": {
        "sustained_power": {"value": 75, "unit": "W"},
        "hand_force_limit": {"value": 400, "unit": "N"},
        "cadence": {"value": 40, "unit": "1/min"},
    },
}


def cylinders(count: int) -> list[dict[str, Any]]:
    """So many cylinders, the first of them that of the comparison, the others narrower and wider."""
    bores = [BORE, *np.linspace(1.0, 3.0, count - 1)]
    return [
        CYLINDER
        | {
            "id": f"cylinder-{place}",
            "bore": {"value": float(bore), "unit": "in"},
            "rated_lift": {"value": float(RATED / bore), "unit": "ft"},
        }
        for place, bore in enumerate(bores)
    ]


def template(candidates: int) -> dict[str, Any]:
    """A request with what all wells share, for so many candidates."""
    return SHARED | {"selection": {"cylinders": cylinders(candidates)}}


def demanding(candidates: int) -> dict[str, Any]:
    """The same where most is to be calculated: drop pipes with a weep hole, and people who tire."""
    with_hole = {"weep_hole": {"present": True, "diameter": {"value": 0.04, "unit": "in"}}}
    shared = {name: facts for name, facts in SHARED.items() if name != "operator"}
    return shared | {"selection": {"cylinders": [one | with_hole for one in cylinders(candidates)]}}


TEMPLATES: Final = {
    ONE: template(1),
    EIGHT: template(8),
    THIRTY_TWO: template(32),
    DEMANDING: demanding(8),
}
"""What all wells of a register share, by what they are measured as."""


def template_file(file: Path, name: str) -> Path:
    """Where the template of this name is written, beside the register in a ``file``."""
    return file.with_name(f"{name.replace(' ', '-')}.json")


def varied(wells: int) -> dict[str, Array]:
    """The facts that differ, a column each in the units of VARIED; of any register the first wells are the same."""
    low, high = zip(*((low, high) for _, low, high in VARIED.values()), strict=True)
    rows = np.random.default_rng(20261125).uniform(low, high, (wells, len(VARIED)))
    return dict(zip(VARIED, rows.T, strict=True))


def register(wells: int) -> Any:
    """The table of so many wells."""
    columns = varied(wells)
    fields = [pa.field(name, pa.float64(), metadata={"unit": VARIED[name][0]}) for name in columns]
    return pa.Table.from_arrays([pa.array(column) for column in columns.values()], schema=pa.schema(fields))


def lines(wells: int, name: str) -> bytes:
    """The same wells as a batch: a first line with what all share by the template of this name, then a line a well."""
    text = [json.dumps({"defaults": TEMPLATES[name]})]
    (run,) = SHARED["conduit"]["runs"]
    for facts in zip(*varied(wells).values(), strict=True):
        level, hose, tank, target = (
            {"value": round(float(value), 3), "unit": unit}
            for value, (unit, _, _) in zip(facts, VARIED.values(), strict=True)
        )
        request = {
            "well": {"static_water_level": level},
            "conduit": {"runs": [run | {"length": hose}]},
            "tank": {"total_volume": tank},
            "pressures": {"target": target},
        }
        text.append(json.dumps(request))
    return "\n".join([*text, ""]).encode()


def main() -> None:
    """Write a register, and beside it requests with what all of its wells share."""
    wells, file = int(sys.argv[1]), Path(sys.argv[2])
    if file.suffix == ".jsonl":
        file.write_bytes(lines(wells, sys.argv[3]))
        return
    pq.write_table(register(wells), file, row_group_size=65_536)
    for name, shared in TEMPLATES.items():
        template_file(file, name).write_text(json.dumps(shared), encoding="utf-8")


if __name__ == "__main__":
    main()
