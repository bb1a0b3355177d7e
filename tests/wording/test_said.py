"""There are sites for which each sentence is said, with all its numbers."""

import itertools
from typing import Any

import pytest
from tests.service.in_process import start
from tests.service.sites import CYLINDER, SITE, changed, feet, inches, own, psi, quantity

from upstroke_service.api.operation import quotes
from upstroke_service.sizing import cautions, defaults
from upstroke_service.wording import LANGUAGES, wording

SERVICE = start()

STARTS: tuple[dict[str, Any], ...] = (
    {},
    # What matters for these alone: thin air, a casing that a wide cylinder does not pass, a large weep hole.
    {"pump": {"kind": "suction"}, "well": {"static_water_level": feet(17)}},
    {
        "well": {"static_water_level": feet(30)},
        "selection": {"cylinders": [CYLINDER | {"outside_diameter": inches(4.5), "handle_ratio": 8}]},
    },
    {
        "well": {"static_water_level": feet(30)},
        "selection": {
            "cylinders": [
                CYLINDER | {"bore": inches(1.25), "weep_hole": {"present": True, "diameter": inches(0.125)}}
            ]
        },
    },
)
SUCTION = {**CYLINDER, "id": "shallow", "kind": "suction"}
BIG_HOLE = {"present": True, "diameter": inches(0.3), "depth_below_outlet": feet(4)}
CONNECTIONS = [
    {"kind": "yard_hydrant", "sanitary": "yes", "vacuum_breaker": "no"},
    {"kind": "yard_hydrant", "sanitary": "no", "vacuum_breaker": "yes"},
]

STOCK_TANK = {"/tank": {"kind": "open", "total_volume": quantity(100, "gal")}, "/pressures": None}
SOFT_PIPE = {"inside_diameter": inches(1.278), "material": "pvc", "elastic_modulus": quantity(0.2, "GPa")}

SITES: dict[str, dict[str, Any]] = {
    **quotes(),
    "as it is": SITE,
    "nothing known": {},
    "little known but the depth": {"well": {"static_water_level": feet(60)}},
    "constant pressure": changed({"/site/supply": {"kind": "constant_pressure"}}),
    "far too deep": changed({"/well": {"static_water_level": feet(1500)}}),
    "a little too deep": own(rated_lift=feet(120)),
    "heavy at the handle": own(handle_ratio=3.0, rated_lift=feet(500)),
    "hard but possible": own(handle_ratio=4.0) | {"operator": {"hand_force_limit": quantity(500, "N")}},
    "long strokes": own(stroke=inches(30), handle_ratio=6.0, bore=inches(1)),
    "weak operator": changed({"/operator": {"sustained_power": quantity(10, "W")}}),
    "large hole": own(weep_hole=BIG_HOLE),
    "moderate hole": own(weep_hole={"present": True}),
    "hole of the catalogue's pumps": changed({"/pump/weep_hole": {"present": True}}),
    "narrow casing": changed({"/well/casing_inside_diameter": inches(1)}),
    "shallow well": changed({"/well": {"static_water_level": feet(10)}, "/selection": {"cylinders": [SUCTION]}}),
    "less shallow well": changed({"/well": {"static_water_level": feet(22)}, "/selection": {"cylinders": [SUCTION]}}),
    "too deep for suction": changed({"/selection": {"cylinders": [SUCTION]}}),
    "weak tank": changed({"/tank/maximum_working_pressure": psi(38)}),
    "tank that takes little": changed({"/tank/maximum_acceptance": 0.2}),
    "weak hose": changed({"/conduit": {"hose_pressure_rating": psi(38)}}),
    "relief valve below the start": changed({"/site/relief_valve/set_pressure": psi(20)}),
    "relief valve near the start": changed({"/site/relief_valve/set_pressure": psi(40)}),
    "no relief valve": changed({"/site/relief_valve": {"fitted": "no"}}),
    "public main": changed({"/site/public_water_connection": "yes", "/site/connections": CONNECTIONS}),
    "no check valve": changed({"/conduit": {"check_valve": "no"}}),
    "air over water": changed({"/tank/kind": "air_over_water", "/tank/precharge": None}),
    "air that was measured": changed({
        "/tank/precharge": None,
        "/tank/air_pressure": psi(20),
        "/tank/air_temperature": quantity(40, "degF"),
    }),
    "target below the precharge": changed({"/tank/precharge": None, "/pressures/target": psi(25)}),
    "much too long strokes": own(stroke=inches(30), handle_ratio=9.0, bore=inches(1)),
    "pipe of unknown outside": own(stroke=inches(10)) | {"pump": {"drop_pipe": {
        "inside_diameter": inches(1.278), "material": "pvc"}}},
    "well that runs dry": changed({
        "/well/sustained_yield": quantity(0.05, "gpm"),
        "/tank/total_volume": quantity(120, "gal"),
        "/pump/cylinder_depth": feet(50),
    }),
    "stock tank, hard work": changed(
        STOCK_TANK | {"/well": {"static_water_level": feet(200)}}, own(handle_ratio=3.0, rated_lift=feet(500))
    ),
    "stock tank, far too deep": changed(STOCK_TANK | {"/well": {"static_water_level": feet(1500)}}),
    "full tank": changed({"/tank/precharge": psi(5)}),
    "frost": changed({"/site/freezes": "yes", "/site/electric_pump": {"present": "yes"}}),
    "cylinder near the water": changed({"/pump/cylinder_depth": feet(42)}),
    "rusty tank in a pit below lines": changed({
        "/tank/condition": "corroded", "/site/well_pit": "yes", "/site/overhead_lines": "yes",
        "/site/water_heater": "electric", "/site/connections": [{"kind": "spigot", "vacuum_breaker": "no"}],
    }),
    "lines not looked for": changed({"/site/well_pit": "no", "/tank/maximum_working_pressure": None}),
    "pit not looked for": changed({"/site/overhead_lines": "no", "/site/relief_valve/set_pressure": psi(120)}),
    "stock tank": changed(STOCK_TANK),
    "much pressure": changed({"/pressures/target": psi(85), "/tank/maximum_working_pressure": psi(125)}),
    "deep frost": changed({"/site/freezes": "yes", "/site/frost_depth": feet(6), "/pump/weep_hole": {"present": True}}),
    "frost and no weep hole": changed({"/site/freezes": "yes", "/pump/weep_hole": {"present": False}}),
    "well that gives little": changed({"/well/sustained_yield": quantity(0.2, "gpm")}),
    "soft drop pipe": own(drop_pipe=SOFT_PIPE, bore=inches(1.25)),
    "thick rod": own(rod={"diameter": inches(0.9), "material": "fibreglass"}, bore=inches(1.25)),
}  # fmt: skip


COWS = {"needs": {"herds": [{"kind": "dairy_cow", "count": 40}]}}
NEEDS: dict[str, dict[str, Any]] = {
    "nothing known": {},
    "far too deep": SITES["far too deep"],
    "a few animals": SITE | {"needs": {"herds": [{"kind": "horse", "count": 3}]}},
    "many animals and little water": changed({"/well/sustained_yield": quantity(0.2, "L/min")}) | COWS,
    "toilet far above": changed({"/needs": {"floor_rise": feet(55)}}),
    "fixtures far above": changed({"/needs": {"floor_rise": feet(100)}}),
    "hardly any pressure to draw on": changed({"/pressures/target": psi(28.02)}),
}


TANKS = [
    changed({"/tank/maximum_working_pressure": psi(38), "/stored_volume": quantity(10, "gal")}),
    changed({"/tank/maximum_acceptance": 0.1, "/stored_volume": quantity(10, "gal")}),
    changed({"/wanted_drawdown": quantity(50, "gal")}),
    changed({"/tank/total_volume": None, "/stored_volume": quantity(30, "gal")}),
    changed({"/pressures/start": psi(44.99), "/wanted_drawdown": quantity(5, "gal")}),
    changed(
        {"/tank/precharge_temperature": quantity(70, "degF"), "/tank/air_temperature": quantity(20, "degF")}
    ),
    changed({"/tank/precharge": None, "/tank/air_volume": quantity(4, "gal"), "/tank/air_pressure": psi(20)}),
]


def answers() -> list[dict[str, Any]]:
    """The answers to all of the sites, of every calculation that finds something."""
    found = [SERVICE.answer("/v1/sizings", site) for site in SITES.values()]
    found += [SERVICE.answer("/v1/water-needs", site) for site in NEEDS.values()]
    found += [SERVICE.answer("/v1/tank-curves", tank) for tank in TANKS]
    for site in SITES.values():
        if "static_water_level" in site.get("well", {}):
            facts = {name: block for name, block in site.items() if name != "needs"}
            found.append(SERVICE.answer("/v1/stroke-estimates", facts))
    return found


@pytest.fixture(scope="module")
def everything() -> list[dict[str, Any]]:
    return answers()


def codes(node: object, *, within: str = "") -> set[tuple[str, str]]:
    """Every code of an answer with the list that it stands in, and every JSON Pointer likewise."""
    if isinstance(node, dict):
        own_codes = {
            (within, str(node[key])) for key in ("code", "pointer") if isinstance(node.get(key), str)
        }
        return own_codes.union(*(codes(value, within=key) for key, value in node.items()))
    return set().union(*(codes(item, within=within) for item in node)) if isinstance(node, list) else set()


def said(everything: list[dict[str, Any]], *lists: str) -> set[str]:
    found = itertools.chain.from_iterable(codes(answer) for answer in everything)
    return {code for within, code in found if within in lists}


def test_every_reason_is_said_somewhere(everything: list[dict[str, Any]]) -> None:
    assert said(everything, "reasons", "findings") == set(wording(LANGUAGES[0]).sections["reason"])


def test_every_verdict_is_given_somewhere(everything: list[dict[str, Any]]) -> None:
    verdicts = {answer["verdict"] for answer in everything if "verdict" in answer}

    assert verdicts == set(wording(LANGUAGES[0]).sections["verdict"])


def test_every_limit_governs_somewhere(everything: list[dict[str, Any]]) -> None:
    candidates = [candidate for answer in everything for candidate in answer.get("candidates", [])]

    assert {one["governed_by"] for one in candidates} == set(wording(LANGUAGES[0]).sections["limit"])


def test_every_caution_is_due_somewhere(everything: list[dict[str, Any]]) -> None:
    assert said(everything, "cautions") == {rule.code for rule in cautions.rules()}


def test_every_default_is_assumed_somewhere(everything: list[dict[str, Any]]) -> None:
    assumed = {
        pointer.replace("/cylinders/0/weep_hole/", "/weep_hole/")
        for pointer in said(everything, "assumptions")
    }
    assumed = {
        pointer.replace("/cylinders/0/", "/cylinders/")
        .replace("/selection/weep_hole", "/pump/weep_hole")
        .replace("/selection/cylinders/drop_pipe", "/pump/drop_pipe")
        for pointer in assumed
    }

    assert assumed == set(defaults.table())


def test_every_question_is_the_most_useful_of_those_left_somewhere() -> None:
    # Of a day's water only water needs ask.
    unasked = {
        field for field, row in defaults.table().items() if row.ask and not field.startswith("/needs/")
    }
    for site in STARTS:
        facts = site
        for _ in range(len(unasked) + 1):
            for question in SERVICE.answer("/v1/sizings", facts)["questions"]:
                unasked.discard(question["pointer"])
                facts = _answered(facts, question["pointer"])

    assert unasked == {"/site/supply/set_pressure"}
    kind = {"site": {"supply": {"kind": "constant_pressure"}}, **changed({"/site": None})}
    pointers = [one["pointer"] for one in SERVICE.answer("/v1/sizings", kind)["questions"]]
    assert "/site/supply/set_pressure" in pointers


def _answered(site: dict[str, Any], pointer: str) -> dict[str, Any]:
    """The site with an answer to a question."""
    known = {
        "/well/static_water_level": feet(40),
        "/well/specific_capacity": quantity(1, "gpm/ft"),
        "/well/site_elevation": feet(500),
        "/well/casing_inside_diameter": inches(6),
        "/conduit/runs": [],
        "/conduit/rise": feet(3),
        "/conduit/check_valve": "yes",
        "/tank/kind": "bladder",
        "/tank/total_volume": quantity(20, "gal"),
        "/tank/precharge": psi(28),
        "/tank/maximum_working_pressure": psi(100),
        "/site/supply": {"kind": "pressure_switch", "cut_in": psi(30), "cut_out": psi(50)},
        "/site/relief_valve": {"fitted": "yes", "set_pressure": psi(75)},
        "/site/public_water_connection": "no",
        "/site/freezes": "no",
        "/pressures/target": psi(45),
        "/operator/profile": "older_adult",
    }
    return changed({pointer: known[pointer]}, site)
