"""Facts that break the schema: every fault of a body at once, each with its place and what would do."""

from typing import Any

import pytest
from tests.service.in_process import CALCULATIONS, start
from tests.service.sites import CYLINDER, SITE, changed, feet, own, psi, quantity

SERVICE = start()


def faults_of(body: object, path: str = "/v1/sizings") -> dict[str, str]:
    """What is wrong with a body that breaks the schema, by JSON Pointer."""
    response = SERVICE.post(path, body)
    problem = response.json()
    assert response.status_code == 422, response.text
    assert problem["code"] == "invalid-field"
    return {fault["pointer"]: fault["detail"] for fault in problem["errors"]}


ONE_FAULT: dict[str, tuple[dict[str, Any], str, str]] = {
    "a misspelled fact": (
        {"/well/static_water_levle": feet(40)},
        "/well/static_water_levle",
        "Unknown field",
    ),
    "a misspelled block": ({"/wel": {}}, "/wel", "Unknown field"),
    "a length where a pressure belongs": (
        {"/tank/precharge": feet(40)},
        "/tank/precharge/unit",
        "Must be one of psi, kPa, bar; not 'ft'",
    ),
    "a pressure where a length belongs": (
        {"/well/static_water_level": psi(40)},
        "/well/static_water_level/unit",
        "Must be one of ft, in, m, cm, mm; not 'psi'",
    ),
    "a negative water level": (
        {"/well/static_water_level": feet(-1)},
        "/well/static_water_level/value",
        "Must be at least 0 ft",
    ),
    "a water level too deep to believe": (
        {"/well/static_water_level": quantity(601, "m")},
        "/well/static_water_level/value",
        "Must be at most 600 m",
    ),
    "ice for water": (
        {"/well/water_temperature": quantity(31, "degF")},
        "/well/water_temperature/value",
        "Must be at least 32 degF",
    ),
    "a number as text": (
        {"/well/static_water_level": {"value": "40", "unit": "ft"}},
        "/well/static_water_level/value",
        "Must be of JSON type number",
    ),
    "a number without a unit": (
        {"/well/static_water_level": 40},
        "/well/static_water_level",
        "Must be an object such as",
    ),
    "a quantity as text": (
        {"/well/static_water_level": "40 ft"},
        "/well/static_water_level",
        "Must be an object such as",
    ),
    "a quantity without its unit": (
        {"/well/static_water_level/unit": None},
        "/well/static_water_level/unit",
        "This field is needed here",
    ),
    "a quantity with a note": (
        {"/well/static_water_level/datum": "casing"},
        "/well/static_water_level/datum",
        "Unknown field",
    ),
    "an unknown kind of tank": (
        {"/tank/kind": "balloon"},
        "/tank/kind",
        "Must be one of air_over_water, bladder, diaphragm",
    ),
    "a share beyond its bound": (
        {"/tank/maximum_acceptance": 0.99},
        "/tank/maximum_acceptance",
        "Must be at most 0.95",
    ),
    "a cadence by the second": (
        {"/operator": {"cadence": quantity(1, "1/s")}},
        "/operator/cadence/unit",
        "Must be 1/min",
    ),
    "an unknown kind of supply": (
        {"/site/supply/kind": "windmill"},
        "/site/supply/kind",
        "Must be one of pressure_switch, constant_pressure",
    ),
    "a fact of the other kind of supply": (
        {"/site/supply/set_pressure": psi(50)},
        "/site/supply/set_pressure",
        "Unknown field",
    ),
    "a relief valve that is neither fitted nor not": (
        {"/site/relief_valve/fitted": None},
        "/site/relief_valve/fitted",
        "This field is needed here",
    ),
    "a long reference": (
        {"/client_reference": "x" * 65},
        "/client_reference",
        "Must have at most 64 characters",
    ),
    "too many runs": ({"/conduit": {"runs": [{}] * 13}}, "/conduit/runs", "Must have at most 12 entries"),
    "an empty choice": ({"/selection": {"ids": []}}, "/selection/ids", "Must have at least 1 entries"),
    "a name that no catalogue can have": (
        {"/selection": {"catalogue": "Demo"}},
        "/selection/catalogue",
        "Must match",
    ),
    "a rod without a diameter": (
        {"/pump": {"rod": {"material": "steel"}}},
        "/pump/rod/diameter",
        "This field is needed here",
    ),
    "a list where a block belongs": ({"/well": []}, "/well", "Must be of JSON type object"),
}


@pytest.mark.parametrize(("changes", "pointer", "detail"), ONE_FAULT.values(), ids=ONE_FAULT)
def test_a_fault_is_pointed_at_and_told_what_would_do(
    changes: dict[str, Any], pointer: str, detail: str
) -> None:
    found = faults_of(changed(changes))

    assert found[pointer].startswith(detail)


def test_every_fault_of_a_body_comes_at_once() -> None:
    body = changed({
        "/wel": {},
        "/well/static_water_level": feet(-1),
        "/tank/precharge": feet(28),
        "/tank/total_volume/unit": "gallons",
        "/tank/colour": "blue",
        "/pressures/target/value": "45",
        "/site/supply/kind": "windmill",
        "/site/relief_valve": {},
        "/conduit": {"runs": [{"inside_diameter": psi(1)}], "fittings": [{"kind": "elbow_90", "count": 0}]},
    })  # fmt: skip

    assert set(faults_of(body)) == {
        "/wel",
        "/well/static_water_level/value",
        "/tank/precharge/unit",
        "/tank/total_volume/unit",
        "/tank/colour",
        "/pressures/target/value",
        "/site/supply/kind",
        "/site/relief_valve/fitted",
        "/conduit/runs/0/inside_diameter/unit",
        "/conduit/runs/0/length",
        "/conduit/fittings/0/count",
    }


def test_a_wrong_unit_does_not_hide_what_is_wrong_in_every_unit() -> None:
    body = changed({"/tank/total_volume": {"value": "20", "unit": "gallons", "colour": "blue"}})

    assert faults_of(body) == {
        "/tank/total_volume/unit": "Must be one of gal, fl_oz, L, mL, m3; not 'gallons'.",
        "/tank/total_volume/value": "Must be of JSON type number.",
        "/tank/total_volume/colour": "Unknown field: check its spelling, or leave it out.",
    }


@pytest.mark.parametrize(
    ("field", "meant"),
    [
        ("/well/static_watr_level", "is static_water_level meant?"),
        ("/tank/volume", "is air_volume or total_volume meant?"),
        ("/presures", "is pressures meant?"),
        ("/tank/colour", "check its spelling, or leave it out."),
    ],
)
def test_a_misspelled_field_is_told_which_field_may_be_meant(field: str, meant: str) -> None:
    assert faults_of(changed({field: 1})) == {field: f"Unknown field: {meant}"}


@pytest.mark.parametrize("given", [60, "60 ft", True, [60, "ft"]])
def test_a_bare_number_or_text_is_told_how_a_quantity_is_stated(given: object) -> None:
    assert faults_of(changed({"/well/static_water_level": given})) == {
        "/well/static_water_level": 'Must be an object such as {"value": 1, "unit": "ft"}; '
        "its unit is one of ft, in, m, cm, mm."
    }


def test_where_there_are_kinds_to_choose_from_they_are_named_and_not_units() -> None:
    assert faults_of(changed({"/site/supply": "pressure switch"})) == {
        "/site/supply": 'Must be an object such as {"kind": "pressure_switch"}; '
        "its kind is one of pressure_switch, constant_pressure."
    }


def test_faults_of_a_callers_own_cylinder_name_its_place_in_the_list() -> None:
    faulty = {**CYLINDER, "id": "other", "bore": psi(1)}
    del faulty["stroke"]

    assert set(faults_of(own(CYLINDER, faulty))) == {
        "/selection/cylinders/1/bore/unit",
        "/selection/cylinders/1/stroke",
    }


@pytest.mark.parametrize("path", [f"/v1/{name}" for name in CALCULATIONS])
def test_a_fact_that_a_calculation_does_not_need_is_checked_all_the_same(path: str) -> None:
    body = changed(
        {
            "/well/site_elevation": feet(-2000),
            "/site/electric_pump": {"present": "no", "cable_diameter": feet(9)},
        }
    )
    if path.endswith("tank-curves"):
        body = {block: facts for block, facts in body.items() if block != "selection"}

    assert {"/well/site_elevation/value", "/site/electric_pump/cable_diameter/value"} == set(
        faults_of(body, path)
    )


@pytest.mark.parametrize("body", [None, [], "facts", 5, True])
def test_a_body_that_is_not_an_object_is_a_fault_of_the_whole(body: object) -> None:
    assert faults_of(body) == {"": "Must be of JSON type object."}


def test_null_is_not_another_spelling_of_absent() -> None:
    assert set(faults_of({"well": None, "client_reference": None})) == {"/well", "/client_reference"}


@pytest.mark.parametrize("path", ["/v1/lift-budgets", "/v1/stroke-estimates"])
def test_what_needs_a_water_level_points_at_it(path: str) -> None:
    assert faults_of(changed({"/well/static_water_level": None}), path) == {
        "/well/static_water_level": "This field is needed here."
    }
    assert faults_of({}, path) == {"/well": "This field is needed here."}


def test_strange_field_names_are_escaped_in_their_pointer() -> None:
    assert set(faults_of({"a/b~c": 1, "": 2})) == {"/a~1b~0c", "/"}


def test_a_body_full_of_faults_is_answered_with_the_first_fifty() -> None:
    assert len(faults_of({f"field_{number}": number for number in range(1000)})) == 50


def test_a_long_wrong_word_is_not_repeated_in_full() -> None:
    body = changed({"/tank/precharge/unit": "x" * 100_000, "/selection": {"catalogue": "Y" * 60}})

    assert all(len(detail) < 200 for detail in faults_of(body).values())


def test_a_site_without_faults_is_accepted() -> None:
    assert SERVICE.post("/v1/sizings", SITE).status_code == 200


def test_the_bounds_themselves_are_accepted() -> None:
    for kind in SERVICE.get("/v1/units").json()["inputs"]:
        if kind["name"] != "WaterTemperature":
            continue
        for bound in (kind["lowest"], kind["highest"]):
            SERVICE.answer("/v1/sizings", changed({"/well/water_temperature": quantity(bound, kind["unit"])}))
