"""Which headers are understood."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.docs.markdown import ROOT

from upstroke.sheets._columns import LISTED, columns, meanings
from upstroke.sheets._headers import Match, TableError, match_header, match_headers, read_mapping

SCHEMAS = json.loads((ROOT / "openapi/openapi.json").read_text("utf-8"))["components"]["schemas"]


def fields(schema: dict[str, Any], path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The path of every field that a request can hold, by the OpenAPI document."""
    if "$ref" in schema:
        schema = SCHEMAS[schema["$ref"].rpartition("/")[2]]
    properties = schema.get("properties", {})
    if set(properties) == {"value", "unit"} or any(
        set(one.get("properties", {})) == {"value", "unit"} for one in schema.get("anyOf", [])
    ):
        yield path
    elif properties:
        for name, field in properties.items():
            yield from fields(field, (*path, name))
    elif "discriminator" in schema:
        for one in schema.get("oneOf") or schema["anyOf"]:
            yield from fields(one, path)
    elif schema.get("type") == "array" and "$ref" in schema["items"]:
        yield from fields(schema["items"], (*path, LISTED))
    else:
        yield path


def matched(header: str) -> Match:
    match = match_header(header)
    assert match is not None, header
    return match


def test_every_field_of_the_contract_is_a_column() -> None:
    assert {column.path for column in columns()} == set(fields(SCHEMAS["SizingRequest"]))


def test_every_label_leads_back_to_its_own_field() -> None:
    for column in columns():
        match = matched(column.header(2, column.units[0] if column.units else ""))

        assert match.column == column
        assert match.position == (2 if LISTED in column.path else 1)
        assert match.unit == (column.units[0] if column.units else "")


def test_every_column_is_explained_by_the_contract() -> None:
    tags = {("site", "supply", "kind")}

    assert {column.path for column in columns() if not meanings().get(column.path)} == tags


@pytest.mark.parametrize(
    ("header", "pointer", "unit"),
    [
        ("Static water level [ft]", "/well/static_water_level", "ft"),
        ("  STATIC   water\nlevel [ Feet ] ", "/well/static_water_level", "ft"),
        ("static_water_level (m)", "/well/static_water_level", "m"),
        ("well.static_water_level[m]", "/well/static_water_level", "m"),
        ("Static water level", "/well/static_water_level", ""),
        ("Rise [ft]", "/conduit/rise", "ft"),
        ("Supply cut-in [psi]", "/site/supply/cut_in", "psi"),
        ("Target pressure [bar]", "/pressures/target", "bar"),
        ("Precharge [psi]", "/tank/precharge", "psi"),
        ("Tank count", "/tank/count", ""),
        ("Run 2 length [ft]", "/conduit/runs/1/length", "ft"),
        ("Conduit run 2 length [ft]", "/conduit/runs/1/length", "ft"),
        ("Specific capacity [gpm/ft]", "/well/specific_capacity", "gpm/ft"),
        ("Water temperature [°F]", "/well/water_temperature", "degF"),
        ("Customer", None, None),
        ("Start", None, None),
        ("Notes (from the survey)", None, None),
    ],
)
def test_a_header_is_understood_by_plain_words(header: str, pointer: str | None, unit: str | None) -> None:
    match = match_header(header)

    assert (match and match.pointer, match and match.unit) == (pointer, unit)


@pytest.mark.parametrize(
    ("headers", "message"),
    [
        (["Static water levl [ft]"], "did you mean 'Static water level'"),
        (["Static water levell"], "did you mean 'Static water level'"),
        (["Static water level [psi]"], "accepted units: ft, in, m, cm, mm"),
        (["Static water level [cubit]"], "'cubit' does not fit"),
        (["Tank kind [ft]"], "has no unit"),
        (["Diameter [in]"], "by itself; did you mean one of: Casing inside diameter, Rod diameter"),
        (["Cut-in [psi]"], "Supply cut in"),
        (["Run 0 length [ft]"], "names no field"),
        (["Zyzzyva [ft]"], "names no field of a request"),
        (["Static water level [ft]", "Well static water level [m]"], "both name 'Static water level'"),
        (["Customer", "Phone"], "no header names a fact"),
        ([], "no header names a fact"),
    ],
)
def test_a_header_that_may_mean_a_fact_but_does_not_stops_the_command(
    headers: list[str], message: str
) -> None:
    with pytest.raises(TableError) as error:
        match_headers(headers, {})

    assert message in str(error.value)


def test_a_mapping_says_what_headers_of_ones_own_mean(tmp_path: Path) -> None:
    file = tmp_path / "mapping.toml"
    file.write_text('[columns]\n"Tiefe zum Wasser" = "Static water level [m]"\n"Tank kind" = ""\n', "utf-8")
    level, kind, name = match_headers(["tiefe zum  wasser", "Tank kind", "Name"], read_mapping(file))

    assert level is not None
    assert (level.pointer, level.unit) == ("/well/static_water_level", "m")
    assert (kind, name) == (None, None)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (None, "No such file"),
        ("columns", "mapping.toml"),
        ("[other]", "needs one table [columns]"),
        ("[columns]\nDepth = 3", "'Depth' needs text"),
        ('[columns]\nDepth = "Static water level [ft]"', "a column that the table does not have: 'depth'"),
        ('[columns]\nName = "Static level [ft]"', "'Static level [ft]' names no field"),
        ('[columns]\nName = "Frobnication"', "'Frobnication' names no field"),
    ],
)
def test_a_mapping_that_can_not_be_used_stops_the_command(
    text: str | None, message: str, tmp_path: Path
) -> None:
    file = tmp_path / "mapping.toml"
    if text is not None:
        file.write_text(text)
    with pytest.raises(TableError) as error:
        match_headers(["Name", "Static water level [ft]"], read_mapping(file))

    assert message in str(error.value)
