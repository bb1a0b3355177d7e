"""Formulas: one figure of a calculation by an address alone, the same figure as the calculation gives."""

import csv
import io
from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

import pytest
from tests.service.in_process import PROBLEM, start

from upstroke_service.api.formula_queries import documented
from upstroke_service.api.formulas import COLUMNS, FORMULAS, Formula, example

SERVICE = start()
NAMES = [formula.name for formula in FORMULAS]
EVERY_FORMULA = pytest.mark.parametrize("formula", FORMULAS, ids=NAMES)

LEVEL = {"static_water_level": "60", "static_water_level_unit": "ft"}
TARGET = {"target": "50", "target_unit": "psi"}
VOLUME = {"total_volume": "20", "total_volume_unit": "gal"}
CYLINDER = {"cylinder": "lift-1-1-4-300"}
HEAD = {**LEVEL, **TARGET, **CYLINDER}
FILL = {**HEAD, **VOLUME}
HOSE = {
    "hose_length": "25",
    "hose_length_unit": "m",
    "hose_inside_diameter": "19",
    "hose_inside_diameter_unit": "mm",
}
SUPPLY = {"cut_in": "40", "cut_in_unit": "psi", "cut_out": "4.2", "cut_out_unit": "bar"}

WELL = {"static_water_level": {"value": 60, "unit": "ft"}}
PRESSURES = {"target": {"value": 50, "unit": "psi"}}
SELECTION = {"ids": ["lift-1-1-4-300"]}
TANK = {"total_volume": {"value": 20, "unit": "gal"}}
RUN = {"length": {"value": 25, "unit": "m"}, "inside_diameter": {"value": 19, "unit": "mm"}}
SWITCH = {
    "kind": "pressure_switch",
    "cut_in": {"value": 40, "unit": "psi"},
    "cut_out": {"value": 4.2, "unit": "bar"},
}
LIFT = {"well": WELL, "pressures": PRESSURES, "selection": SELECTION}
WHOLE = {**LIFT, "tank": TANK}

Pick = Callable[[Any], Any]
SAME: dict[str, tuple[str, dict[str, str], str, dict[str, Any], Pick]] = {
    "total head": (
        "total-heads",
        HEAD,
        "lift-budgets",
        LIFT,
        lambda answer: answer["lift_budgets"][0]["lift_budget"]["total_head"]["value"],
    ),
    "total head through a hose": (
        "total-heads",
        {**HEAD, **HOSE},
        "lift-budgets",
        {**LIFT, "conduit": {"runs": [RUN]}},
        lambda answer: answer["lift_budgets"][0]["lift_budget"]["total_head"]["value"],
    ),
    "lift margin": (
        "lift-margins",
        {**HEAD, "catalogue": "demo"},
        "lift-budgets",
        {**LIFT, "selection": {**SELECTION, "catalogue": "demo"}},
        lambda answer: answer["lift_budgets"][0]["lift_budget"]["margin"]["value"],
    ),
    "strokes": (
        "strokes",
        FILL,
        "stroke-estimates",
        WHOLE,
        lambda answer: answer["stroke_estimates"][0]["fill"]["strokes"],
    ),
    "pumping time of two older adults": (
        "pumping-times",
        {**FILL, "profile": "older_adult", "people": "2"},
        "stroke-estimates",
        {**WHOLE, "operator": {"profile": "older_adult", "people": 2}},
        lambda answer: answer["stroke_estimates"][0]["fill"]["time"]["value"],
    ),
    "hand force": (
        "hand-forces",
        FILL,
        "stroke-estimates",
        WHOLE,
        lambda answer: answer["stroke_estimates"][0]["effort"]["hand_force"]["value"],
    ),
    "tank drawdown": (
        "tank-drawdowns",
        {**VOLUME, **TARGET, "start": "30", "start_unit": "psi", **SUPPLY},
        "tank-curves",
        {
            "tank": TANK,
            "pressures": {**PRESSURES, "start": {"value": 30, "unit": "psi"}},
            "site": {"supply": SWITCH},
        },
        lambda answer: answer["usable_drawdown"]["value"],
    ),
    "pressure at a stored volume": (
        "stored-pressures",
        {**VOLUME, "stored_volume": "5", "stored_volume_unit": "gal"},
        "tank-curves",
        {"tank": TANK, "stored_volume": {"value": 5, "unit": "gal"}},
        lambda answer: answer["pressure_at_stored_volume"]["value"],
    ),
}


def address(name: str, query: dict[str, str] | list[tuple[str, str]]) -> str:
    return f"/v1/formulas/{name}?{urlencode(query)}"


def rows(name: str, query: dict[str, str]) -> list[dict[str, str]]:
    """The lines of the CSV form."""
    response = SERVICE.get(address(name, {**query, "format": "csv"}))
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == "text/csv; charset=utf-8"
    found = list(csv.DictReader(io.StringIO(response.text, newline="")))
    assert found
    assert tuple(found[0]) == COLUMNS
    return found


def faults(name: str, query: dict[str, str] | list[tuple[str, str]]) -> dict[str, str]:
    """What a refused query is told of each parameter."""
    response = SERVICE.get(address(name, query))
    assert response.status_code == 422, response.text
    assert response.headers["content-type"] == PROBLEM
    return {fault["pointer"]: fault["detail"] for fault in response.json()["errors"]}


def full(formula: Formula) -> dict[str, str]:
    """A query with every parameter of a formula."""
    described = [one for fact in formula.parameters for one in documented(fact, formula.request)]
    return {one["name"]: str(one["example"]) for one in described}


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("case", SAME)
def test_a_formula_gives_the_figure_of_its_calculation(case: str, units: str) -> None:
    name, query, resource, body, pick = SAME[case]
    figure = pick(SERVICE.answer(f"/v1/{resource}?units={units}", body))
    response = SERVICE.get(address(name, {**query, "units": units}))

    assert response.headers["content-type"] == "text/plain; charset=utf-8"
    assert float(response.text) == figure
    assert float(rows(name, {**query, "units": units})[0]["value"]) == figure


def test_every_formula_is_held_against_its_calculation() -> None:
    assert {name for name, *_ in SAME.values()} | {"recommended-cylinders"} == set(NAMES)


def test_the_recommended_cylinder_is_that_of_the_sizing_with_its_cautions() -> None:
    sizing = SERVICE.answer("/v1/sizings", {"well": WELL, "tank": TANK})
    lines = rows("recommended-cylinders", {**LEVEL, **VOLUME})

    assert SERVICE.get(address("recommended-cylinders", {**LEVEL, **VOLUME})).text == sizing["recommended"]
    assert [line["name"] for line in lines if line["kind"] == "caution"] == [
        one["code"] for one in sizing["cautions"]
    ]


@EVERY_FORMULA
def test_what_is_given_is_not_assumed_and_all_else_is_named_with_its_basis(formula: Formula) -> None:
    response = SERVICE.get(address(formula.name, full(formula)))
    assert response.status_code == 200, response.text
    assumed = response.headers["upstroke-assumed"].split(", ")
    given = {"/" + "/".join(map(str, fact.path)) for fact in formula.parameters}
    lines = rows(formula.name, full(formula))

    assert not given & set(assumed)
    assert [line["name"] for line in lines if line["kind"] == "assumption"] == assumed
    assert all(line["text"] and line["basis"] for line in lines if line["kind"] == "assumption")
    assert "Local codes" in lines[-1]["text"]


@EVERY_FORMULA
def test_the_needed_parameters_are_enough(formula: Formula) -> None:
    query = {name: values[0] for name, values in example(formula).items()}
    response = SERVICE.get(address(formula.name, query))

    assert response.status_code == 200
    assert response.text
    needed = {f"/{fact.name}" for fact in formula.parameters if fact.required}
    if needed:
        assert faults(formula.name, {}).keys() == needed


def test_the_csv_form_says_what_the_number_is_and_that_the_catalogue_is_invented() -> None:
    lines = rows("total-heads", HEAD)

    assert (lines[0]["kind"], lines[0]["name"], lines[0]["unit"]) == ("answer", "total_head", "ft")
    assert lines[0]["basis"].startswith("model version ")
    assert {line["kind"] for line in lines} == {"answer", "note", "assumption", "catalogue", "scope"}
    assert "no dealer sells" in next(line["text"] for line in lines if line["kind"] == "catalogue")


@pytest.mark.parametrize(
    ("name", "query", "said"),
    [
        ("strokes", {**FILL, "static_water_level": "280"}, "ft too much"),
        ("pumping-times", {**FILL, "static_water_level": "280"}, "ft too much"),
        ("hand-forces", {**FILL, "static_water_level": "280"}, "ft too much"),
        (
            "strokes",
            {**FILL, "target": "60"},
            "The fill stops at 50 psi, short of 60 psi",
        ),
        ("tank-drawdowns", {**VOLUME, **TARGET, "target": "90"}, "The curve stops at 68 psi"),
        ("stored-pressures", {**VOLUME, "stored_volume": "18", "stored_volume_unit": "gal"}, "18.0 gal"),
        ("recommended-cylinders", {}, "No recommendation yet"),
        ("recommended-cylinders", {**LEVEL, "static_water_level": "900"}, "None of these cylinders"),
    ],
)
def test_where_no_number_answers_a_sentence_says_why(name: str, query: dict[str, str], said: str) -> None:
    text = SERVICE.get(address(name, query)).text
    figure = rows(name, query)[0]

    assert said in text
    assert (figure["value"], figure["unit"], figure["text"]) == ("", "", text)


def test_a_hand_force_beyond_the_limit_is_still_told() -> None:
    query = {**FILL, "static_water_level": "60", "cylinder": "lift-1-1-2-220", "profile": "youth"}
    (estimate,) = SERVICE.answer(
        "/v1/stroke-estimates",
        {
            **WHOLE,
            "well": {"static_water_level": {"value": 60, "unit": "ft"}},
            "operator": {"profile": "youth"},
            "selection": {"ids": ["lift-1-1-2-220"]},
        },
    )["stroke_estimates"]

    assert "hand_force_exceeded" in {one["code"] for one in estimate["findings"]}
    assert float(SERVICE.get(address("hand-forces", query)).text) == estimate["effort"]["hand_force"]["value"]


@pytest.mark.parametrize(
    ("change", "pointer", "said"),
    [
        ({"static_water_level": "60 ft"}, "/static_water_level", "a number alone"),
        ({"static_water_level": "60,5"}, "/static_water_level", "a point before its decimals"),
        ({"static_water_level": "nan"}, "/static_water_level", "a number alone"),
        ({"static_water_level": "1e999"}, "/static_water_level", "a number alone"),
        ({"static_water_level": "9**9"}, "/static_water_level", "a number alone"),
        ({"static_water_level": "٦٠"}, "/static_water_level", "a number alone"),
        ({"static_water_level": ""}, "/static_water_level", "Empty"),
        ({"static_water_level": "9000"}, "/static_water_level", "Must be at most"),
        ({"static_water_level_unit": "psi"}, "/static_water_level_unit", "Must be one of ft"),
        ({"static_water_level_unit": ""}, "/static_water_level_unit", "Needed with static_water_level"),
        ({"rise": "3"}, "/rise_unit", "Needed with rise"),
        ({"rise_unit": "ft"}, "/rise", "Needed with rise_unit"),
        ({"hose_length": "3", "hose_length_unit": "m"}, "/hose_inside_diameter", "needed"),
        ({"cylinder": "Lift 1"}, "/cylinder", "Must match"),
        ({"cylinder": "lift-0"}, "/cylinder", "has no cylinder"),
        ({"catalogue": "none"}, "/catalogue", "There is no catalogue"),
        ({"unit": "si"}, "/unit", "Unknown parameter"),
        ({"units": "metric"}, "/units", "us, si"),
        ({"format": "json"}, "/format", "text, csv"),
        ({"well_depth": "3"}, "/well_depth", "Unknown parameter"),
    ],
)
def test_a_faulty_parameter_is_named(change: dict[str, str], pointer: str, said: str) -> None:
    found = faults("total-heads", {**HEAD, **change})

    assert found.keys() == {pointer}
    assert said in found[pointer]


def test_every_fault_is_named_at_once() -> None:
    given = [*HEAD.items(), ("target", "40"), ("rise", "x"), ("rise_unit", "kg"), ("colour", "red")]
    found = faults("total-heads", [one for one in given if one[0] != "cylinder"])

    assert found.keys() == {"/target", "/rise", "/colour", "/cylinder"}
    assert "more than once" in found["/target"]


def test_facts_that_contradict_each_other_are_named_by_their_parameters() -> None:
    query = {**VOLUME, **TARGET, "precharge": "60", "precharge_unit": "psi"}

    assert faults("tank-drawdowns", query).keys() == {"/precharge", "/target"}


def test_whole_numbers_may_have_decimals_and_parts_of_people_not() -> None:
    assert SERVICE.get(address("strokes", {**FILL, "people": "2.0"})).status_code == 200
    assert faults("strokes", {**FILL, "people": "2.5"}).keys() == {"/people"}


def test_an_answer_is_kept_and_asked_for_again_by_its_tag() -> None:
    first = SERVICE.get(address("total-heads", HEAD))
    again = SERVICE.get(address("total-heads", HEAD), If_None_Match=first.headers["etag"])
    other = SERVICE.get(address("total-heads", {**HEAD, "target": "51"}), If_None_Match=first.headers["etag"])

    assert first.headers["cache-control"] == "public, max-age=300"
    assert (again.status_code, again.content) == (304, b"")
    assert other.status_code == 200
    assert other.headers["etag"] != first.headers["etag"]


def test_a_form_that_is_not_accepted_is_not_sent() -> None:
    assert SERVICE.get(address("total-heads", HEAD), Accept="application/json").status_code == 406
    assert SERVICE.get(address("total-heads", HEAD), Accept="text/csv").status_code == 406
    assert (
        SERVICE.get(address("total-heads", {**HEAD, "format": "csv"}), Accept="text/csv").status_code == 200
    )


def test_the_head_of_a_formula_is_that_of_its_answer() -> None:
    head = SERVICE.ask("HEAD", address("total-heads", HEAD))

    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["etag"] == SERVICE.get(address("total-heads", HEAD)).headers["etag"]
