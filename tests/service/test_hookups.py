"""POST /v1/hookups: listed connections are judged one by one, and nothing unsafe is ever advised."""

from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.service.consistency import CONTEXT
from tests.service.in_process import start
from tests.service.sites import changed, feet, inches, psi, quantity

from upstroke_service.api.assumed import Reading
from upstroke_service.api.hookup_words import KINDS
from upstroke_service.api.hookups import MOST_QUESTIONS, advise, hookup_for_sizing
from upstroke_service.api.style import style
from upstroke_service.api.translate import read_site
from upstroke_service.contract.requests import HookupRequest
from upstroke_service.sizing.hookup_circumstances import FIGURES

SERVICE = start()
PATH = "/v1/hookups"
SAFE = {"vacuum_breaker": "no", "sanitary": "no"}
KNOWN = changed(
    {
        "/pump": {"kind": "lift"},
        "/conduit": {"check_valve": "yes"},
        "/tank/kind": "bladder",
        "/tank/condition": "sound",
        "/site/freezes": "yes",
        "/site/frost_depth": feet(4),
        "/site/well_pit": "no",
        "/site/discharge": "above_grade",
        "/site/water_heater": "gas",
        "/site/electric_pump": {"present": "yes", "drop_pipe_outside_diameter": inches(1.66)},
    }
)
"""An invented site where nothing is left open but where to connect."""


def connected(*connections: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """The site with these connections."""
    facts = {pointer.replace("__", "/"): value for pointer, value in changes.items()}
    return changed({"/site/connections": list(connections)} | facts, KNOWN)


def answer(body: dict[str, Any], units: str = "us") -> dict[str, Any]:
    return SERVICE.answer(f"{PATH}?units={units}", body)


def codes(entries: list[dict[str, Any]]) -> list[str]:
    return [entry["code"] for entry in entries]


def test_each_listed_connection_is_judged_by_its_index() -> None:
    found = answer(
        connected(
            {"kind": "spigot", "vacuum_breaker": "yes"},
            {"kind": "tank_drain", **SAFE, "distance": feet(60), "rise": feet(3)},
            {"kind": "yard_hydrant", "vacuum_breaker": "no", "sanitary": "yes"},
            {"kind": "yard_hydrant", **SAFE, "distance": feet(20), "rise": feet(0)},
        )
    )

    assert [(one["way"], one["connection"], one["rank"]) for one in found["ways"]] == [
        ("tank_drain", 1, 1),
        ("yard_hydrant", 3, 2),
    ]
    assert [one["verdict"] for one in found["ways"]] == ["advised", "possible_with_conditions"]
    assert [(one["connection"], codes(one["grounds"])) for one in found["refused"]] == [
        (0, ["vacuum_breaker"]),
        (2, ["sanitary_hydrant"]),
    ]
    assert found["verdict"] == "advised"
    assert found["summary"] == "Best here: the drain valve at the pressure tank."
    assert found["questions"] == []


def test_numbers_stand_in_the_sentence_and_beside_it_in_the_units_asked_for() -> None:
    body = connected({"kind": "tank_drain", **SAFE, "distance": feet(120), "rise": feet(12)})
    us, si = answer(body)["ways"][0], answer(body, "si")["ways"][0]

    far, high = us["drawbacks"][:2]
    assert (far["code"], far["value"], far["unit"]) == ("far", 120, "ft")
    assert "120 ft" in far["text"]
    assert (high["code"], high["value"], high["unit"]) == ("high", 12, "ft")
    assert "36.6 m" in si["drawbacks"][0]["text"]
    hose = next(part for part in us["parts"] if part["code"] == "hose")
    assert hose["length"] == {"value": 132, "unit": "ft"}  # a tenth more than the way
    assert hose["pressure"] == {"value": 75, "unit": "psi"}  # what the relief valve lets through
    assert "132 ft" in hose["text"]


def test_where_no_connection_is_listed_what_is_usually_there_is_judged() -> None:
    found = answer(KNOWN)

    assert [one["way"] for one in found["ways"]] == ["tank_drain", "tee", "yard_hydrant", "spigot"]
    assert all("connection" not in one for one in found["ways"])
    assert {one["verdict"] for one in found["ways"]} == {"possible_with_conditions"}
    assert found["questions"][0]["pointer"] == "/site/connections"
    assert found["summary"] == "Best here, if its conditions are met: the drain valve at the pressure tank."


@pytest.mark.parametrize("tank", [{}, {"kind": "open"}])
def test_with_a_public_main_nothing_is_advised(tank: dict[str, Any]) -> None:
    site = {"public_water_connection": "yes", "connections": [{"kind": "tank_drain", **SAFE}]}
    found = answer({"tank": tank, "site": site})

    assert found["verdict"] == "nothing_advised"
    assert (found["ways"], found["questions"]) == ([], [])
    assert "stop" not in found
    assert codes(found["refused"][0]["grounds"])[0] == "public_main_connected"
    assert "water supplier" in found["refused"][0]["grounds"][0]["who"]
    assert found["summary"].startswith("No way to join a hand pump is advised here. A public water main")


def test_where_nothing_is_known_the_public_main_is_asked_first_and_everything_hangs_on_it() -> None:
    found = answer({})

    assert found["questions"][0]["pointer"] == "/site/public_water_connection"
    assert len(found["questions"]) == MOST_QUESTIONS
    assert all(one["conditions"][0]["code"] == "public_main_unknown" for one in found["ways"])
    assert "/site/public_water_connection" in [one["pointer"] for one in found["assumptions"]]


@pytest.mark.parametrize("valve", [None, {"fitted": "no"}, {"fitted": "unknown"}, {"fitted": "yes"}])
def test_without_a_relief_valve_of_known_setting_pumping_stops_at_the_cut_out(valve: Any) -> None:
    body = connected({"kind": "tank_drain", **SAFE}, __site__relief_valve=valve, __pressures__target=psi(60))
    found = answer(body)
    (way,) = found["ways"]

    assert found["stop"] == {"value": 50, "unit": "psi"}
    conditions = {one["code"]: one for one in way["conditions"]}
    assert {"relief_valve_absent", "relief_valve_unknown"} & conditions.keys()
    below = conditions["stop_below_target"]
    assert (below["value"], below["limit"], below["unit"]) == (50, 60, "psi")
    watch = next(step for step in way["steps"] if step["code"] == "watch_gauge")
    assert "Stop at 50 psi" in watch["text"]


def test_an_unknown_cut_out_is_said_beside_the_pressure() -> None:
    supply = {"kind": "pressure_switch", "cut_in": psi(30)}
    found = answer(connected({"kind": "tee", **SAFE}, __site__supply=supply))

    steps = codes(found["ways"][0]["steps"])
    assert "watch_gauge_and_usual_stop" in steps
    assert "watch_gauge" not in steps
    assert "/site/supply" in [one["pointer"] for one in found["questions"]]


def test_a_drive_that_holds_one_pressure_sets_where_to_stop() -> None:
    supply = {"kind": "constant_pressure", "set_pressure": psi(55)}
    body = connected({"kind": "tee", **SAFE}, __site__supply=supply, __site__relief_valve=None)
    found = answer(changed({"/pressures": None}, body))

    assert found["stop"] == {"value": 55, "unit": "psi"}
    assert "watch_gauge" in codes(found["ways"][0]["steps"])


@pytest.mark.parametrize(
    ("pointer", "value", "stop"),
    [
        ("/tank/maximum_working_pressure", psi(40), 40),
        ("/conduit", {"hose_pressure_rating": psi(38), "rise": feet(0)}, 38),
        ("/site/relief_valve", {"fitted": "yes", "set_pressure": psi(45)}, 40),  # 5 psi below its setting
    ],
)
def test_the_weakest_part_sets_where_to_stop(pointer: str, value: Any, stop: float) -> None:
    body = changed({pointer: value}, connected({"kind": "tee", **SAFE}))

    assert answer(body)["stop"]["value"] == pytest.approx(stop)


def test_nothing_is_advised_where_the_tank_would_take_no_water() -> None:
    body = changed(
        {"/conduit": {"hose_pressure_rating": psi(28), "rise": feet(0)}}, connected({"kind": "tee", **SAFE})
    )
    found = answer(body)

    ground = found["refused"][0]["grounds"][0]
    assert (ground["code"], ground["value"], ground["limit"]) == ("no_pressure_room", 28, 28)


def test_an_open_tank_is_filled_through_the_air_and_through_nothing_else() -> None:
    tank = {"kind": "open", "total_volume": quantity(200, "gal")}
    runs = [
        {"inside_diameter": inches(1), "length": feet(30)},
        {"inside_diameter": inches(1.25), "length": feet(10)},
    ]
    changes = {"/tank": tank, "/pressures": None, "/conduit": {"runs": runs, "rise": feet(12)}}
    found = answer(changed(changes, connected({"kind": "spigot", **SAFE})))
    (way,) = found["ways"]

    assert (way["way"], way["verdict"]) == ("open_end", "advised")
    assert codes(found["refused"][0]["grounds"]) == ["open_tank"]
    assert "stop" not in found
    gap = next(step for step in way["steps"] if step["code"] == "place_end")
    assert (gap["value"], gap["unit"]) == (2.5, "in")  # twice 1.25 in
    hose = next(part for part in way["parts"] if part["code"] == "open_hose")
    assert hose["length"] == {"value": 40, "unit": "ft"}
    assert "check_valve_for_rise" in codes(way["parts"])
    assert not [
        one for one in found["assumptions"] if one["pointer"].startswith(("/pressures", "/site/supply"))
    ]


def test_the_hose_that_is_planned_is_the_hose_of_the_only_connection() -> None:
    runs = [
        {"inside_diameter": inches(0.75), "length": feet(45)},
        {"inside_diameter": inches(1), "length": feet(60), "material": "polyethylene"},
    ]
    hydrant = {"kind": "yard_hydrant", **SAFE}
    alone = answer(changed({"/conduit/runs": runs}, connected(hydrant)))["ways"][0]
    several = answer(changed({"/conduit/runs": runs}, connected(hydrant, hydrant)))["ways"][0]

    assert next(part for part in alone["parts"] if part["code"] == "hose")["length"]["value"] == 45
    assert "hose_to_measure" in codes(several["parts"])


def test_questions_tell_connections_of_one_kind_apart() -> None:
    unknown, known = {"kind": "spigot", **SAFE, "vacuum_breaker": "unknown"}, {"kind": "tee", **SAFE}
    texts = {one["pointer"]: one["text"] for one in answer(connected(unknown, unknown, known))["questions"]}

    assert "the outdoor spigot (number 1 in the list)" in texts["/site/connections/0/vacuum_breaker"]
    assert "the outdoor spigot (number 2 in the list)" in texts["/site/connections/1/vacuum_breaker"]
    assert "Does the outdoor spigot have" in (answer(connected(unknown, known))["questions"][0]["text"])


def test_a_casing_of_known_room_is_measured_and_one_of_unknown_is_asked_for() -> None:
    known = answer(connected({"kind": "tee", **SAFE}))["ways"][0]
    body = changed({"/site/electric_pump": {"present": "yes"}}, connected({"kind": "tee", **SAFE}))
    unknown = answer(body)
    alone = changed({"/site/electric_pump": {"present": "no"}}, body)

    room = next(check for check in known["checks"] if check["code"] == "casing_room")
    assert room["value"] == pytest.approx(6 - 1.66 - 0.25)  # casing, pipe, clearance
    assert "casing_unknown" in codes(unknown["ways"][0]["checks"])
    assert "/well/casing_inside_diameter" in [one["pointer"] for one in unknown["questions"]]
    assert not {"casing_room", "casing_unknown"} & set(codes(answer(alone)["ways"][0]["checks"]))


def test_a_suction_pump_needs_its_own_pipe_a_foot_valve_and_priming() -> None:
    way = answer(changed({"/pump/kind": "suction"}, connected({"kind": "tee", **SAFE})))["ways"][0]

    assert {"suction_line", "foot_valve", "suction_pump_drains"} <= set(codes(way["checks"]))
    assert {"suction_pipe", "foot_valve"} <= set(codes(way["parts"]))
    steps = codes(way["steps"])
    assert steps.index("prime") < steps.index("flush")


def test_steps_are_numbered_in_order() -> None:
    steps = answer(connected({"kind": "yard_hydrant", **SAFE}))["ways"][0]["steps"]

    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    assert (steps[0]["code"], steps[-1]["code"]) == ("breaker_off", "breaker_on")


def test_facts_that_contradict_each_other_are_refused_as_everywhere() -> None:
    body = changed({"/well/well_depth": feet(30)}, KNOWN)
    response = SERVICE.post(PATH, body)

    assert (response.status_code, response.json()["code"]) == (422, "contradictory-facts")


def sized(body: dict[str, Any], *, suction: bool, end: float) -> Any:
    request = msgspec.convert(body, HookupRequest)
    site = read_site(request, Reading())
    return hookup_for_sizing(request, site, CONTEXT.style, suction=suction, end=end)


def test_a_sizing_gets_the_best_way_its_steps_and_the_end_of_its_own_fill() -> None:
    body = connected({"kind": "tank_drain", **SAFE})
    found = sized(body, suction=True, end=psi_in_pa(41))

    assert found.hookup.way == "tank_drain"
    assert "suction_line" in [check.code for check in found.hookup.checks]
    watch = next(step for step in found.procedure if step.code == "watch_gauge")
    assert (watch.value, watch.unit) == (pytest.approx(41), "psi")


def test_a_sizing_gets_no_way_where_nothing_is_advised() -> None:
    body = connected({"kind": "tank_drain", **SAFE}, __site__public_water_connection="yes")

    assert sized(body, suction=False, end=psi_in_pa(41)) is None


def psi_in_pa(value: float) -> float:
    return value * 6_894.757


def test_every_number_has_a_kind() -> None:
    assert set(KINDS) == FIGURES


ANSWERS = st.sampled_from(["yes", "no", "unknown"])
CONNECTIONS = st.fixed_dictionaries(
    {"kind": st.sampled_from(["yard_hydrant", "spigot", "tank_drain", "tee"])},
    optional={
        "vacuum_breaker": ANSWERS,
        "sanitary": ANSWERS,
        "distance": st.floats(0.0, 300.0).map(feet),
        "rise": st.floats(-20.0, 20.0).map(feet),
    },
)
CUT_OUTS = (50.0, 60.0)
SUPPLIES = [
    *({"kind": "pressure_switch", "cut_in": psi(30), "cut_out": psi(cut_out)} for cut_out in CUT_OUTS),
    *({"kind": "constant_pressure", "set_pressure": psi(held)} for held in CUT_OUTS),
    {"kind": "pressure_switch", "cut_in": psi(40)},
    {"kind": "constant_pressure"},
]
RELIEF_VALVES = [
    {"fitted": "no"},
    {"fitted": "unknown"},
    {"fitted": "yes"},
    {"fitted": "yes", "set_pressure": psi(75)},
]
BODIES = st.fixed_dictionaries(
    {
        "site": st.fixed_dictionaries(
            {},
            optional={
                "public_water_connection": ANSWERS,
                "freezes": ANSWERS,
                "frost_depth": st.floats(0.0, 8.0).map(feet),
                "well_pit": ANSWERS,
                "discharge": st.sampled_from(["pitless_adapter", "above_grade", "unknown"]),
                "water_heater": st.sampled_from(["electric", "gas", "none", "unknown"]),
                "electric_pump": st.fixed_dictionaries({"present": ANSWERS}),
                "supply": st.sampled_from(SUPPLIES),
                "relief_valve": st.sampled_from(RELIEF_VALVES),
                "connections": st.lists(CONNECTIONS, max_size=4),
            },
        ),
        "tank": st.fixed_dictionaries(
            {},
            optional={
                "kind": st.sampled_from(["bladder", "air_over_water", "open"]),
                "condition": st.sampled_from(["sound", "corroded", "unknown"]),
                "maximum_working_pressure": st.sampled_from([psi(40), psi(100)]),
            },
        ),
        "conduit": st.fixed_dictionaries({}, optional={"check_valve": ANSWERS, "rise": st.just(feet(15))}),
        "pump": st.fixed_dictionaries({}, optional={"kind": st.sampled_from(["lift", "suction"])}),
    },
    optional={"pressures": st.sampled_from([45.0, 55.0, 70.0]).map(lambda target: {"target": psi(target)})},
)
"""Facts that decide how to connect, in any combination."""


@given(BODIES, st.sampled_from(["us", "si"]))
def test_whatever_is_asked_nothing_unsafe_is_advised_and_every_sentence_is_complete(
    body: dict[str, Any], units: Any
) -> None:
    site, open_tank = body["site"], body["tank"].get("kind") == "open"
    if open_tank:  # which has no pressures
        body = {name: facts for name, facts in body.items() if name != "pressures"} | {
            "tank": {"kind": "open"}
        }
    found = msgspec.to_builtins(
        advise(msgspec.convert(body, HookupRequest), CONTEXT._replace(style=style(units, "en")))
    )

    for way in found["ways"]:
        assert site.get("public_water_connection") != "yes"
        assert open_tank == (way["way"] == "open_end")
        assert open_tank or body["tank"].get("condition") != "corroded"
        assert (way["verdict"] == "advised") == (not way["conditions"])
        if "connection" in way:
            listed = site["connections"][way["connection"]]
            assert listed["kind"] == way["way"]
            assert "yes" not in {listed.get("vacuum_breaker"), listed.get("sanitary")}
        texts = [one["text"] for part in ("conditions", "checks", "parts", "steps") for one in way[part]]
        assert not [text for text in texts if "{" in text or not text.endswith(".")]
    if "stop" in found and site.get("relief_valve", {}).get("set_pressure") is None:
        supply = site.get("supply", {})
        highest = supply.get("cut_out", supply.get("set_pressure", psi(60)))
        assert found["stop"]["value"] <= highest["value"] * (6.8948 if units == "si" else 1.0)
