"""Facts that can't all be true, and names of things that do not exist."""

from typing import Any

import pytest
from tests.service.in_process import CALCULATIONS, start
from tests.service.sites import CYLINDER, SITE, changed, feet, inches, own, psi

SERVICE = start()
SIZINGS = "/v1/sizings"


def problem_of(body: object, path: str = SIZINGS) -> dict[str, Any]:
    response = SERVICE.post(path, body)
    problem: dict[str, Any] = response.json()
    assert response.status_code == 422, response.text
    return problem


def pointers(problem: dict[str, Any]) -> list[str]:
    return sorted(fault["pointer"] for fault in problem["errors"])


LEVEL, DEPTH, HUNG = "/well/static_water_level", "/well/well_depth", "/pump/cylinder_depth"
CONTRADICTIONS: dict[str, tuple[dict[str, Any], list[str]]] = {
    "precharge above target": ({"/tank/precharge": psi(46)}, ["/pressures/target", "/tank/precharge"]),
    "precharge at target": ({"/tank/precharge": psi(45)}, ["/pressures/target", "/tank/precharge"]),
    "start above target": ({"/pressures/start": psi(50)}, ["/pressures/start", "/pressures/target"]),
    "precharge above the tank's rating": (
        {"/tank/maximum_working_pressure": psi(20)},
        ["/tank/maximum_working_pressure", "/tank/precharge"],
    ),
    "cut-in above cut-out": (
        {"/site/supply/cut_in": psi(60)},
        ["/site/supply/cut_in", "/site/supply/cut_out"],
    ),
    "set pressure of an absent relief valve": (
        {"/site/relief_valve/fitted": "no"},
        ["/site/relief_valve/fitted", "/site/relief_valve/set_pressure"],
    ),
    "well shallower than its water level": ({DEPTH: feet(30)}, [LEVEL, DEPTH]),
    "pumping level below the well's bottom": (
        {"/well/well_drawdown": feet(130)},
        ["/well/well_drawdown", DEPTH],
    ),
    "cylinder below the well's bottom": ({HUNG: feet(170)}, [HUNG, DEPTH]),
    "cylinder above the water": ({HUNG: feet(30)}, [HUNG, LEVEL]),
    "cracking pressure of an absent check valve": (
        {"/conduit/check_valve": "no", "/conduit/cracking_pressure": psi(1)},
        ["/conduit/check_valve", "/conduit/cracking_pressure"],
    ),
    "size of an absent weep hole": (
        {"/pump/weep_hole": {"present": False, "diameter": inches(0.0625)}},
        ["/pump/weep_hole/diameter", "/pump/weep_hole/present"],
    ),
    "rod wider than every bore": (
        {"/pump/rod": {"diameter": inches(4), "material": "steel"}},
        ["/pump/rod/diameter"],
    ),
    "drop pipe narrower than the rods": (
        {"/pump/drop_pipe": {"inside_diameter": inches(0.2), "material": "pvc"}},
        ["/pump/drop_pipe/inside_diameter"],
    ),
    "own cylinders and a catalogue": (
        {"/selection": {"catalogue": "demo", "cylinders": [CYLINDER]}},
        ["/selection/catalogue", "/selection/cylinders"],
    ),
    "own cylinders and ids": (
        {"/selection": {"ids": ["lift-2-150"], "cylinders": [CYLINDER]}},
        ["/selection/cylinders", "/selection/ids"],
    ),
    "no cylinder of the kind": (
        {"/pump/kind": "suction", "/selection": {"cylinders": [CYLINDER]}},
        ["/pump/kind", "/selection"],
    ),
}


@pytest.mark.parametrize(("changes", "expected"), CONTRADICTIONS.values(), ids=CONTRADICTIONS)
def test_a_contradiction_points_at_each_of_its_facts(changes: dict[str, Any], expected: list[str]) -> None:
    problem = problem_of(changed(changes))

    assert problem["code"] == "contradictory-facts"
    assert sorted(set(pointers(problem))) == sorted(expected)


@pytest.mark.parametrize("changes", [changes for changes, _ in CONTRADICTIONS.values()], ids=CONTRADICTIONS)
def test_a_fault_is_told_once(changes: dict[str, Any]) -> None:
    faults = [(fault["pointer"], fault["detail"]) for fault in problem_of(changed(changes))["errors"]]

    assert len(faults) == len(set(faults))


OWN_CYLINDER: dict[str, tuple[dict[str, Any], list[str]]] = {
    "rod as wide as the bore": ({"bore": inches(0.375)}, ["rod/diameter"]),
    "rod wider than the drop pipe": (
        {"drop_pipe": {"inside_diameter": inches(0.25), "material": "pvc"}},
        ["drop_pipe/inside_diameter", "rod/diameter"],
    ),
    "narrower outside than its bore": ({"outside_diameter": inches(1)}, ["bore", "outside_diameter"]),
    "size of an absent weep hole": (
        {"weep_hole": {"present": False, "depth_below_outlet": feet(4)}},
        ["weep_hole/depth_below_outlet", "weep_hole/present"],
    ),
}


@pytest.mark.parametrize(("changes", "expected"), OWN_CYLINDER.values(), ids=OWN_CYLINDER)
def test_a_contradiction_within_an_own_cylinder_names_its_place(
    changes: dict[str, Any], expected: list[str]
) -> None:
    problem = problem_of(own({**CYLINDER, "id": "first"}, CYLINDER | changes))

    assert problem["code"] == "contradictory-facts"
    assert pointers(problem) == [f"/selection/cylinders/1/{field}" for field in expected]


def test_two_own_cylinders_of_one_id_are_a_contradiction() -> None:
    assert pointers(problem_of(own(CYLINDER, CYLINDER, {**CYLINDER, "id": "third"}))) == [
        "/selection/cylinders/1/id"
    ]


def test_every_contradiction_of_a_body_comes_at_once() -> None:
    body = changed({
        "/tank/precharge": psi(60),
        "/site/supply/cut_in": psi(60),
        DEPTH: feet(30),
        "/selection": {"cylinders": [CYLINDER, CYLINDER]},
    })  # fmt: skip

    assert set(pointers(problem_of(body))) == {
        "/tank/precharge",
        "/pressures/target",
        "/site/supply/cut_in",
        "/site/supply/cut_out",
        LEVEL,
        DEPTH,
        "/selection/cylinders/1/id",
    }


@pytest.mark.parametrize("path", [f"/v1/{name}" for name in CALCULATIONS])
def test_every_calculation_refuses_contradictory_pressures(path: str) -> None:
    problem = problem_of(changed({"/tank/precharge": psi(60)}), path)

    assert problem["code"] == "contradictory-facts"
    assert pointers(problem) == ["/pressures/target", "/tank/precharge"]


def test_a_fact_never_contradicts_what_was_only_assumed() -> None:
    lone_facts: list[dict[str, Any]] = [
        {"tank": {"precharge": psi(280)}},
        {"pressures": {"start": psi(280)}},
        {"pressures": {"target": psi(1)}},
        {"tank": {"maximum_working_pressure": psi(1)}},
        {"site": {"supply": {"kind": "pressure_switch", "cut_in": psi(280)}}},
        {"site": {"supply": {"kind": "pressure_switch", "cut_out": psi(1)}}},
        {"site": {"supply": {"kind": "constant_pressure", "set_pressure": psi(1)}}},
        {"well": {"well_depth": feet(1)}},
        {"well": {"static_water_level": feet(1900)}},
        {"pump": {"cylinder_depth": feet(1)}},
        {"conduit": {"hose_pressure_rating": psi(1)}},
    ]

    for facts in lone_facts:
        assert SERVICE.post(SIZINGS, facts).status_code == 200, facts


def test_an_unknown_catalogue_is_pointed_at_and_told_which_there_are() -> None:
    problem = problem_of(changed({"/selection": {"catalogue": "no-such"}}))

    assert problem["code"] == "unknown-reference"
    assert pointers(problem) == ["/selection/catalogue"]
    assert "demo" in problem["detail"]


def test_every_unknown_cylinder_is_pointed_at() -> None:
    problem = problem_of(changed({"/selection": {"ids": ["no-such", "lift-2-150", "nor-this"]}}))

    assert problem["code"] == "unknown-reference"
    assert pointers(problem) == ["/selection/ids/0", "/selection/ids/2"]


def test_a_problem_has_all_that_rfc_9457_asks_for() -> None:
    problem = problem_of(changed({"/tank/precharge": psi(60)}))

    assert problem["type"] == "/problems/contradictory-facts"
    assert problem["status"] == 422
    assert problem["title"]
    assert problem["detail"]
    assert problem["request_id"]


def test_a_site_without_contradictions_is_accepted() -> None:
    assert SERVICE.post(SIZINGS, SITE).status_code == 200
    assert SERVICE.post(SIZINGS, own()).status_code == 200
