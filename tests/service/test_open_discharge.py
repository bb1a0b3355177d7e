"""An open cistern, stock tank or trough: water lifted and pushed along a pipe, and no pressure at its end.

Expected values are worked by hand from the geometry, with water of 12 °C at 999.50 kg/m³.
"""

import json
import math
import re
from typing import Any

import pytest
from fluids.friction import friction_factor
from tests.service.in_process import CALCULATIONS, PROBLEM, start
from tests.service.sites import CYLINDER, SITE, changed, feet, inches, psi, quantity

SERVICE = start()
GAMMA = 999.50 * 9.80665
VISCOSITY = 1.2346e-3
FOOT, INCH = 0.3048, 0.0254
GALLON = 3.785411784e-3
PSI = 6_894.757

STIFF: dict[str, Any] = CYLINDER | {
    "drop_pipe": {"inside_diameter": inches(1.38), "material": "steel"},
    "volumetric_efficiency": 0.9,
    "weep_hole": {"present": False},
}
"""Nothing of it stretches or leaks much: bore 1 3/4 in, stroke 9 in."""

STOCK_TANK: dict[str, Any] = {
    "well": {
        "static_water_level": feet(60),
        "well_drawdown": feet(0),
        "well_depth": feet(160),
        "casing_inside_diameter": inches(6),
    },
    "pump": {"outlet_height": feet(2)},
    "conduit": {
        "runs": [
            {"inside_diameter": inches(1), "length": feet(100), "material": "polyethylene", "roughness": inches(0)}
        ],
        "fittings": [],
        "rise": feet(15),
        "check_valve": "yes",
        "cracking_pressure": psi(0.5),
    },
    "tank": {"kind": "open", "total_volume": quantity(100, "gal")},
    "operator": {
        "cadence": quantity(30, "1/min"),
        "sustained_power": quantity(300, "W"),
        "hand_force_limit": quantity(500, "N"),
    },
    "site": {"public_water_connection": "no", "freezes": "no"},
    "selection": {"cylinders": [STIFF]},
}  # fmt: skip
"""100 gal from a well of 60 ft, 17 ft above ground, by 100 ft of smooth 1 in pipe."""

DISPLACEMENT = math.pi / 4 * (1.75 * INCH) ** 2 * 9 * INCH
TAKES: dict[str, set[str]] = {
    "lift-budgets": {"selection"},
    "stroke-estimates": {"selection"},
    "cautions": set(),
    "hookups": set(),
    "water-needs": {"selection"},
    "sizings": {"selection"},
}
"""The calculations that an open tank has, with what they take beyond the facts of a site."""


def facts_for(name: str, changes: dict[str, Any] | None = None) -> dict[str, Any]:
    facts = changed(changes or {}, STOCK_TANK)
    return {
        block: value for block, value in facts.items() if block != "selection" or "selection" in TAKES[name]
    }


def asked(name: str, changes: dict[str, Any] | None = None, *, units: str = "us") -> dict[str, Any]:
    return SERVICE.answer(f"/v1/{name}?units={units}", facts_for(name, changes))


def estimate(changes: dict[str, Any] | None = None, *, units: str = "us") -> dict[str, Any]:
    (one,) = asked("stroke-estimates", changes, units=units)["stroke_estimates"]
    return dict(one)


def texts(node: object) -> list[str]:
    """Every sentence of an answer."""
    if isinstance(node, dict):
        own = [
            node[key] for key in ("text", "why", "summary", "consequence") if isinstance(node.get(key), str)
        ]
        return own + [text for value in node.values() for text in texts(value)]
    return [text for item in node for text in texts(item)] if isinstance(node, list) else []


def friction_by_the_stroke() -> float:
    """Head in m that the pipe takes, averaged by work over the upstroke of a half sine, Darcy's law."""
    rod_area = math.pi / 4 * (0.375 * INCH) ** 2
    area = math.pi / 4 * INCH**2
    # 30 strokes a minute, half of a cycle up: 1 s; the rod takes its share of the plunger's water.
    volume = 0.9 * (math.pi / 4 * (1.75 * INCH) ** 2 - rod_area) * 9 * INCH
    peak, steps = math.pi / 2 * volume / 1.0, 2000
    work = water = 0.0
    for step in range(steps):
        flow = peak * math.sin(math.pi * (step + 0.5) / steps)
        velocity = flow / area
        factor = friction_factor(Re=velocity * INCH * 999.5 / VISCOSITY, eD=0.0)
        work += flow * factor * 100 * FOOT / INCH * velocity**2 / (2 * 9.80665)
        water += flow
    return work / water


def test_strokes_are_the_volume_over_what_a_stroke_delivers() -> None:
    # Steel rod and pipe of 77 ft stretch by some hundredths of an inch, which the answer names.
    answer = estimate()
    stroke = answer["stretch"]["effective_stroke"]["value"] * INCH
    delivered = 0.9 * math.pi / 4 * (1.75 * INCH) ** 2 * stroke

    assert 8.8 * INCH < stroke < 9.0 * INCH
    assert answer["fill"]["water"] == quantity(100.0, "gal")
    assert answer["fill"]["strokes"] == pytest.approx(100 * GALLON / delivered, rel=1e-4)
    assert answer["fill"]["strokes"] == pytest.approx(100 * GALLON / (0.9 * DISPLACEMENT), rel=0.01)
    assert answer["fill"]["reaches_target"] is True
    assert answer["effort"]["net_per_stroke"]["value"] * GALLON / 128 == pytest.approx(delivered, rel=1e-4)


def test_time_is_strokes_at_the_cadence_that_the_people_keep() -> None:
    answer = estimate()

    assert (
        answer["effort"]["cadence_at_start"] == answer["effort"]["cadence_at_end"] == quantity(30.0, "1/min")
    )
    assert answer["fill"]["time"]["value"] == pytest.approx(answer["fill"]["strokes"] / 30.0, rel=1e-5)


def test_the_head_is_lift_and_rise_and_friction_and_nothing_for_pressure() -> None:
    (entry,) = asked("lift-budgets")["lift_budgets"]
    budget = entry["lift_budget"]
    losses = (budget["drop_pipe_friction"]["value"], budget["conduit_friction"]["value"])

    assert (
        budget["pressure_head"]["value"]
        == budget["target"]["value"]
        == budget["fitting_losses"]["value"]
        == 0.0
    )
    assert losses[1] == pytest.approx(friction_by_the_stroke() / FOOT, rel=0.05)
    # 0.5 psi of the check valve is 1.154 ft.
    assert budget["total_head"]["value"] == pytest.approx(60 + 2 + 15 + 1.1539 + sum(losses), abs=2e-3)
    assert budget["margin"]["value"] == pytest.approx(250 - budget["total_head"]["value"], abs=1e-3)


def test_the_handle_bears_the_column_up_to_the_tank_and_no_more() -> None:
    # Rod and inertia set apart: F = (γ·lift·A_p + (γ·rise + crack)·(A_p − A_r) + seals + buoyant rod)/(ratio·0.9).
    plunger, rod = math.pi / 4 * (1.75 * INCH) ** 2, math.pi / 4 * (0.375 * INCH) ** 2
    level, low = estimate(), estimate({"/conduit/rise": feet(0)})
    (before, after) = (one["effort"]["hand_force"]["value"] * 4.4482216 for one in (low, level))

    assert after - before == pytest.approx(GAMMA * 15 * FOOT * (plunger - rod) / (4.5 * 0.9), rel=0.01)


def test_work_is_at_least_what_lifting_the_water_takes() -> None:
    answer = estimate(units="si")
    lifted = GAMMA * 100 * GALLON * 77 * FOOT

    assert lifted < answer["fill"]["work"]["value"] * 1e3 * UNIT_OF_WORK[answer["fill"]["work"]["unit"]]
    assert 0.3 < answer["effort"]["efficiency"] < 0.85


UNIT_OF_WORK = {"kJ": 1.0, "kcal": 4.184}


@pytest.mark.parametrize("volume", [1.0, 55.0, 1500.0])
def test_strokes_time_and_work_go_with_the_volume(volume: float) -> None:
    whole, some = estimate(), estimate({"/tank/total_volume": quantity(volume, "gal")})

    for name in ("strokes", "time", "work"):
        values = [answer["fill"][name] for answer in (whole, some)]
        full, part = (value["value"] if isinstance(value, dict) else value for value in values)
        assert part == pytest.approx(full * volume / 100, rel=1e-4)
    assert some["effort"]["hand_force"] == whole["effort"]["hand_force"]


def test_several_open_tanks_take_their_volume_each() -> None:
    assert estimate({"/tank/count": 3})["fill"]["water"] == quantity(300.0, "gal")


def test_a_curve_of_an_open_tank_rises_evenly_without_pressure() -> None:
    columns = estimate({"/points": 5})["curve"]

    assert columns["pressure"]["values"] == [0.0] * 5
    assert columns["water"]["values"] == pytest.approx([0.0, 25.0, 50.0, 75.0, 100.0], rel=1e-5)
    assert columns["strokes"]["values"] == pytest.approx(
        [share * columns["strokes"]["values"][-1] / 4 for share in range(5)], rel=1e-4
    )
    assert len(set(columns["hand_force"]["values"])) == 1


def test_a_pressure_tank_next_to_no_pressure_takes_the_strokes_of_an_open_one() -> None:
    # 1 000 gal without precharge take 1 000·(1 − 14.696/14.796) = 6.759 gal up to 0.1 psi, 0.23 ft of water.
    closed = estimate({
        "/tank": {"kind": "air_over_water", "total_volume": quantity(1000, "gal"), "precharge": psi(0)},
        "/pressures": {"start": psi(0), "target": psi(0.1)},
    })  # fmt: skip
    opened = estimate({"/tank/total_volume": closed["fill"]["water"]})

    assert closed["fill"]["water"]["value"] == pytest.approx(6.759, abs=2e-3)
    for name in ("strokes", "reaches_target"):
        assert closed["fill"][name] == pytest.approx(opened["fill"][name], rel=1e-3)
    for name in ("hand_force", "net_per_stroke", "return_force"):
        assert closed["effort"][name]["value"] == pytest.approx(opened["effort"][name]["value"], rel=0.01)


@pytest.mark.parametrize("name", TAKES)
def test_every_calculation_speaks_of_an_open_tank_without_pressure(name: str) -> None:
    hard = {
        "/conduit/cracking_pressure": None,
        "/conduit/check_valve": None,
        "/conduit/runs": None,
        "/conduit/fittings": None,
        "/conduit/rise": None,
        "/well/well_drawdown": None,
        "/operator": None,
    }
    for changes in ({}, hard):
        answer = asked(name, changes)
        # The steps of a hookup speak of the house's electric pump too, but name no figure either.
        steps = [answer.pop(part) for part in ("hookup", "procedure", "ways") if part in answer]
        for text in texts(answer):
            assert text.startswith("The check valve opens at") or not re.search("psi|kPa|pressure", text), (
                text
            )
        for text in texts(steps):
            assert not re.search("psi|kPa", text), text


ALWAYS = re.compile(r"^/(pressures|site/supply|site/relief_valve|tank/(?!count|total_volume))")


@pytest.mark.parametrize("name", TAKES)
def test_nothing_about_pressure_is_assumed_or_asked_for(name: str) -> None:
    answer = asked(name)
    pointers = [one["pointer"] for key in ("assumptions", "questions") for one in answer.get(key, [])]

    assert [pointer for pointer in pointers if ALWAYS.match(pointer)] == []


UNDER_PRESSURE = {
    "no_relief_valve", "relief_valve_unknown", "relief_set_too_high", "pressure_limits_unknown",
    "tank_rating_unknown", "target_above_safe_pressure", "house_pressure_high", "acceptance_unknown",
    "air_logged_tank", "water_heater", "water_heater_electric", "pump_by_gauge", "power_restored",
    "hose_under_pressure", "hose_rating_unknown", "vacuum_breaker", "hydrant_cross_connection", "bare_spigot",
}  # fmt: skip


@pytest.mark.parametrize("name", ["cautions", "sizings"])
def test_an_open_tank_is_warned_of_for_what_it_is_and_not_for_pressure(name: str) -> None:
    codes = {one["code"] for one in asked(name)["cautions"]}

    assert codes & UNDER_PRESSURE == set()
    assert {"open_tank_air_gap", "disinfection"} <= codes


PRESSURISED: dict[str, Any] = {
    "/tank/precharge": psi(28),
    "/tank/precharge_temperature": quantity(70, "degF"),
    "/tank/air_temperature": quantity(40, "degF"),
    "/tank/air_volume": quantity(5, "gal"),
    "/tank/air_pressure": psi(20),
    "/tank/maximum_working_pressure": psi(100),
    "/tank/maximum_acceptance": 0.5,
    "/tank/gas_exponent": 1.2,
    "/pressures/start": psi(5),
    "/pressures/target": psi(30),
}


@pytest.mark.parametrize(("pointer", "value"), PRESSURISED.items(), ids=PRESSURISED)
@pytest.mark.parametrize("name", TAKES)
def test_what_only_a_pressure_tank_has_contradicts_an_open_one(name: str, pointer: str, value: Any) -> None:
    response = SERVICE.post(f"/v1/{name}", facts_for(name, {pointer: value}))
    problem = response.json()

    assert response.status_code == 422
    assert response.headers["content-type"].startswith(PROBLEM)
    assert problem["code"] == "contradictory-facts"
    assert {fault["pointer"] for fault in problem["errors"]} == {"/tank/kind", pointer}


def test_a_tank_curve_of_an_open_tank_is_refused_with_what_to_ask_instead() -> None:
    response = SERVICE.post("/v1/tank-curves", {"tank": STOCK_TANK["tank"]})
    (fault,) = response.json()["errors"]

    assert response.status_code == 422
    assert fault["pointer"] == "/tank/kind"
    assert "stroke estimates" in fault["detail"]


def test_every_calculation_is_covered() -> None:
    assert set(CALCULATIONS) == {*TAKES, "tank-curves"}


def test_what_the_house_s_supply_does_is_nothing_to_an_open_tank() -> None:
    supplied = {
        "/site/supply": {"kind": "pressure_switch", "cut_in": psi(30), "cut_out": psi(50)},
        "/site/relief_valve": {"fitted": "yes", "set_pressure": psi(1)},
    }

    assert estimate(supplied) == estimate()


def test_a_sizing_recommends_for_an_open_tank_in_plain_words() -> None:
    answer = asked("sizings")
    best = answer["candidates"][0]

    assert answer["verdict"] == "fits"
    assert "brings 100.0 gal to the tank" in answer["summary"]
    assert best["fill"]["start"] == best["fill"]["end"] == psi(0.0)
    assert best["fill"]["strokes"] == estimate()["fill"]["strokes"]
    assert answer["reserve"]["water"] == quantity(100.0, "gal")
    assert answer["hookup"]["way"] == "open_end"


def test_too_much_head_for_an_open_tank_names_the_excess_alone() -> None:
    answer = asked("sizings", {"/selection": {"cylinders": [STIFF | {"rated_lift": feet(70)}]}})
    reason = answer["candidates"][0]["reasons"][0]

    assert answer["verdict"] == "nothing_fits"
    assert reason["code"] == "lift_exceeded_at_rest"
    assert reason["text"].endswith("too much.")
    assert answer["candidates"][0]["fill"]["water"]["value"] == 0.0


def test_a_handle_that_is_too_heavy_for_an_open_tank_says_so() -> None:
    answer = asked("sizings", {"/operator/hand_force_limit": quantity(60, "N")})
    codes = [reason["code"] for reason in answer["candidates"][0]["reasons"]]

    assert answer["verdict"] == "nothing_fits"
    assert codes[0] == "hand_force_exceeded_at_rest"


def test_a_pump_at_the_surface_fills_an_open_tank_from_shallow_water_only() -> None:
    shallow = {
        "/selection": {"cylinders": [STIFF | {"kind": "suction"}]},
        "/well/static_water_level": feet(10),
    }

    assert asked("sizings", shallow)["verdict"] == "fits"
    assert asked("sizings", shallow | {"/well/static_water_level": feet(40)})["verdict"] == "nothing_fits"


def test_without_a_water_level_an_open_tank_has_a_table_by_depth() -> None:
    answer = asked("sizings", {"/well/static_water_level": None, "/well/well_drawdown": None})
    table = answer["depth_table"]

    assert answer["verdict"] == "needs_facts"
    assert table["hand_force"]["values"][0] < table["hand_force"]["values"][2]
    assert table["time"]["values"][0] > 0.0


def test_water_needs_count_the_whole_of_an_open_tank_as_one_fill() -> None:
    herd = {"/needs": {"herds": [{"kind": "horse", "count": 5}]}}
    answer = asked("water-needs", herd)
    day = answer["needs"]

    # 100 gal over 5 x 10 gal.
    assert day["fills_a_day"] == pytest.approx(day["total"]["value"] / 100, rel=1e-4)
    assert day["strokes_a_day"] == pytest.approx(day["fills_a_day"] * estimate()["fill"]["strokes"], rel=1e-4)
    assert {"from_pressure", "to_pressure"} <= set(answer["reserve"])
    assert answer["reserve"]["water"] == quantity(100.0, "gal")


def test_a_pressure_tank_is_spoken_of_as_before() -> None:
    assert "45 psi" in SERVICE.answer("/v1/sizings", SITE)["summary"]
    assert "psi" in json.dumps(SERVICE.answer("/v1/sizings", SITE)["candidates"][0]["reasons"])
