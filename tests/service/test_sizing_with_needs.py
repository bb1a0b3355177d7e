"""A sizing that is asked for a day's water: needs, fills, strokes, reserve and sessions, from end to end."""

import math
from typing import Any

import pytest
from tests.service.in_process import start
from tests.service.sites import changed, feet, psi, quantity

from upstroke_service.api.operation import quotes

SERVICE = start()
PATH = "/v1/sizings"
ATMOSPHERE = 14.6959
GALLON = 3.785411784  # L
FAMILY: dict[str, Any] = {
    "people": 4,
    "level": "basic",
    "uses": [{"kind": "toilet_flush", "count": 10}],
    "herds": [{"kind": "beef_cow", "count": 1}],
}
FAMILY_DAY = 4 * 15 / GALLON + 10 * 1.6 + 14.5
"""Gallons: Sphere 15 L a person, EPAct 1.6 gal a flush, Kansas State 14.5 gal a nursing beef cow."""
OPEN_TANK = {"/tank": {"kind": "open", "total_volume": quantity(50, "gal")}, "/pressures": None}


def sized(changes: dict[str, Any] | None = None, *, units: str = "us") -> dict[str, Any]:
    return SERVICE.answer(f"{PATH}?units={units}", changed({"/needs": FAMILY} | (changes or {})))


def fill(answer: dict[str, Any]) -> dict[str, Any]:
    """The fill of the recommended cylinder."""
    (chosen,) = (one for one in answer["candidates"] if one["cylinder"]["id"] == answer["recommended"])
    found: dict[str, Any] = chosen["fill"]
    return found


def codes(found: list[dict[str, Any]]) -> list[str]:
    return [one["code"] for one in found]


def test_fills_and_strokes_of_a_day_follow_from_published_needs_and_boyles_law() -> None:
    # 20 gal from 28 to 45 psi: 20·(1 − 42.696/59.696) = 5.696 gal a fill, 46.35 gal a day: 8.14 fills.
    answer = sized()
    usable = 20.0 * (1.0 - (28.0 + ATMOSPHERE) / (45.0 + ATMOSPHERE))
    fills = FAMILY_DAY / usable
    day, one = answer["needs"], fill(answer)

    assert day["total"]["value"] == pytest.approx(FAMILY_DAY, rel=1e-5)
    assert one["water"]["value"] == answer["reserve"]["water"]["value"] == pytest.approx(usable, rel=1e-4)
    assert fills == pytest.approx(8.138, abs=1e-3)
    assert day["fills_a_day"] == pytest.approx(fills, rel=1e-4)
    assert day["strokes_a_day"] == pytest.approx(fills * one["strokes"], rel=1e-4)
    assert day["minutes_a_day"]["value"] == pytest.approx(fills * one["time"]["value"], rel=1e-4)
    assert day["summary"].startswith(
        "About 46 gal a day is needed, between 30 gal a day and 55 gal a day: more in hot weather and with animals "
        "nursing or in milk. One fill gives 5.7 gal that can be used: 8.1 fills a day, which take about "
    )


def test_a_litre_is_a_litre_in_both_systems() -> None:
    us, si = sized(), sized(units="si")

    assert si["needs"]["total"] == quantity(pytest.approx(FAMILY_DAY * GALLON, rel=1e-5), "L/d")  # type: ignore[arg-type]
    assert si["needs"]["fills_a_day"] == us["needs"]["fills_a_day"]
    assert si["needs"]["strokes_a_day"] == us["needs"]["strokes_a_day"]
    assert si["reserve"]["water"]["value"] == pytest.approx(
        us["reserve"]["water"]["value"] * GALLON, rel=1e-5
    )


def test_what_changes_with_weather_or_milk_is_said_of_people_and_animals_and_not_of_uses() -> None:
    people, flushes, cow = sized()["needs"]["lines"]

    assert (
        people["varies"]
        == "From 7.9 gal a day at the least to 21 gal a day where water is fetched from nearby."
    )
    assert "varies" not in flushes
    assert cow["varies"] == "From 6.0 gal a day pregnant in winter to 18 gal a day nursing in hot weather."


def test_animals_are_told_apart_as_what_could_drink_without_pressure() -> None:
    with_cow, without = sized(), sized({"/needs": {"people": 2}})
    (found,) = (one for one in with_cow["needs"]["findings"] if one["code"] == "animals_without_pressure")

    assert found["value"] == 14.5
    assert "animals_without_pressure" not in codes(without["needs"]["findings"])
    assert "depending on habits" in without["needs"]["summary"]


def test_the_reserve_in_a_sentence_counts_whole_uses_as_the_figures_do() -> None:
    reserve = sized()["reserve"]
    whole = [math.floor(use["count"]) for use in reserve["covers"]]

    # 5.696 gal: 3 x 1.6 gal, 28 x 0.2 gal, 2 x 2.5 gal, 1 x 5 gal, 1 x 15 L.
    assert whole == [3, 28, 2, 1, 1]
    assert reserve["summary"] == (
        "One fill gives 5.7 gal that can be used, enough for 3 toilet flushes, 28 hand washes, 2 sinks of dishes, "
        "1 shower of two minutes or 1 day of basic water for one person: one or the other, not all of them."
    )


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"/tank/total_volume": quantity(1, "gal")}, "enough for 1 hand wash."),
        ({"/tank/total_volume": quantity(0.5, "gal")}, "not enough for a hand wash."),
        ({"/needs/floor_rise": feet(100)}, "One fill gives no water that can be used."),
    ],
)
def test_a_small_reserve_is_called_small(changes: dict[str, Any], expected: str) -> None:
    assert sized(changes)["reserve"]["summary"].endswith(expected)


def test_a_reserve_that_does_not_cover_a_flush_counts_less_than_one() -> None:
    # 1.6 gal/(1 − 42.696/59.696) = 5.618 gal hold a flush; of 5.6 gal it is 0.997 of one, and not one.
    reserve = sized({"/tank/total_volume": quantity(5.6, "gal")})["reserve"]
    served = sized({"/tank/total_volume": reserve["serving_tank"]})["reserve"]

    assert reserve["covers"][0]["count"] == 0.9
    assert codes(reserve["findings"]) == ["tank_too_small"]
    assert reserve["serving_tank"]["value"] == pytest.approx(5.618, abs=1e-3)
    assert served["covers"][0]["count"] == 1.0
    assert served["findings"] == []


def test_a_tank_that_would_have_to_be_a_thousand_times_a_flush_is_not_named() -> None:
    # From 28 to 28.02 psi: 1 − 42.696/42.716, less than a two-thousandth of the tank.
    reserve = sized({"/pressures/target": psi(28.02)})["reserve"]

    assert codes(reserve["findings"]) == ["flush_needs_more_pressure"]
    assert "no tank of a sensible size" in reserve["findings"][0]["text"]
    assert "serving_tank" not in reserve


@pytest.mark.parametrize(
    "changes",
    [{"/well": {"static_water_level": feet(1900)}}, {"/well/static_water_level": None}],
    ids=["nothing fits", "level unknown"],
)
def test_where_no_pump_is_recommended_the_needs_stand_without_strokes(changes: dict[str, Any]) -> None:
    answer = sized(changes)
    asked = SERVICE.answer("/v1/water-needs", changed({"/needs": FAMILY} | changes))

    assert "recommended" not in answer
    assert answer["needs"] == asked["needs"]
    assert answer["needs"]["fills_a_day"] > 0.0
    assert {"strokes_a_day", "minutes_a_day"}.isdisjoint(answer["needs"])
    assert "would give" in answer["needs"]["summary"]


def test_without_needs_no_needs_are_answered_or_assumed() -> None:
    for changes in ({}, {"/well/static_water_level": None}, {"/well": {"static_water_level": feet(1900)}}):
        answer = SERVICE.answer(PATH, changed(changes))

        assert "needs" not in answer
        assert {"/needs/people", "/needs/level"}.isdisjoint(one["pointer"] for one in answer["assumptions"])


def test_empty_needs_count_people_and_say_so() -> None:
    answer = sized({"/needs": {}})
    assumed = {
        one["pointer"]: one.get("value")
        for one in answer["assumptions"]
        if one["pointer"].startswith("/needs")
    }

    assert [line["code"] for line in answer["needs"]["lines"]] == ["basic"]
    assert assumed["/needs/people"] == answer["needs"]["lines"][0]["count"] == 2.0


def test_an_open_tank_is_filled_as_often_as_a_day_asks_for() -> None:
    answer = sized(OPEN_TANK)
    day, reserve = answer["needs"], answer["reserve"]

    assert reserve["water"] == quantity(50.0, "gal")
    assert reserve["findings"] == []
    assert day["fills_a_day"] == pytest.approx(FAMILY_DAY / 50.0, rel=1e-5)
    assert day["strokes_a_day"] == pytest.approx(FAMILY_DAY / 50.0 * fill(answer)["strokes"], rel=1e-5)
    assert "animals_without_pressure" not in codes(day["findings"])
    assert day["strokes_a_day"] < sized()["needs"]["strokes_a_day"]


def test_an_open_tank_smaller_than_a_flush_is_called_small_without_a_word_of_pressure() -> None:
    small = OPEN_TANK | {"/tank": {"kind": "open", "total_volume": quantity(1, "gal")}}
    reserve = sized(small)["reserve"]

    assert codes(reserve["findings"]) == ["tank_too_small"]
    assert reserve["serving_tank"] == quantity(1.6, "gal")
    assert reserve["findings"][0]["text"] == "The tank takes 1.0 gal, less than a toilet flush of 1.6 gal."


COLUMNS = {"strokes": "strokes", "time": "time", "water": "water", "body_energy": "body_energy"}


def whole(one: dict[str, Any], name: str) -> float:
    value = one[name]
    return float(value if name == "strokes" else value["value"])


@pytest.mark.parametrize(
    ("people", "session", "expected"),
    [(1, 28_800, []), (1, 120, ["sessions"]), (3, 120, ["sessions_in_turns"])],
)
def test_the_sessions_of_a_plan_add_up_to_the_fill(people: int, session: float, expected: list[str]) -> None:
    answer = sized({"/operator": {"people": people, "session": quantity(session, "s")}})
    plan, one = answer["sessions"], fill(answer)
    columns = plan["sessions"]

    assert plan["count"] == max(math.ceil(one["time"]["value"] * 60.0 / session), 1)
    assert plan["people"] == people
    assert codes(plan["findings"]) == expected
    assert columns["pressure"]["values"][-1] == one["end"]["value"]
    assert columns["pressure"]["values"] == sorted(columns["pressure"]["values"])
    for name, column in COLUMNS.items():
        assert len(columns[column]["values"]) == plan["count"]
        assert sum(columns[column]["values"]) == pytest.approx(whole(one, name), rel=1e-4)
    assert max(columns["time"]["values"]) <= session / 60.0 * (1.0 + 1e-5)


def test_turns_are_shares_of_a_session() -> None:
    answer = sized({"/operator": {"people": 3, "session": quantity(180, "s")}})
    (found,) = answer["sessions"]["findings"]

    assert "3 people in turns" in found["text"]
    assert found["limit"] == 3.0
    assert found["value"] == pytest.approx(max(answer["sessions"]["sessions"]["time"]["values"]), rel=1e-5)


def test_a_well_that_runs_dry_sets_the_sessions_and_the_time_to_wait() -> None:
    # 20 ft of water in a 4 in casing, 0.6528 gal a foot, and what flows in while it lasts: 13.056·Q/(Q − 0.05) gal.
    slow = {
        "/well": {
            "static_water_level": feet(40),
            "well_depth": feet(160),
            "casing_inside_diameter": quantity(4, "in"),
            "sustained_yield": quantity(0.05, "gpm"),
        },
        "/pump": {"cylinder_depth": feet(60)},
        "/tank/total_volume": quantity(80, "gal"),
    }
    answer = sized(slow)
    plan = answer["sessions"]
    columns = plan["sessions"]

    flow = plan["flow"]["value"]

    assert codes(plan["findings"]) == ["sessions_by_well"]
    assert flow == pytest.approx(fill(answer)["water"]["value"] / fill(answer)["time"]["value"], rel=1e-5)
    assert plan["well_volume"]["value"] == pytest.approx(13.056 * flow / (flow - 0.05), rel=1e-3)
    assert plan["count"] == 2
    assert max(columns["water"]["values"]) <= plan["well_volume"]["value"] * (1.0 + 1e-5)
    waits = [
        water / 0.05 - minutes
        for water, minutes in zip(columns["water"]["values"], columns["time"]["values"], strict=True)
    ]
    assert plan["well_recovery"]["value"] == pytest.approx(max(waits), rel=1e-4)
    assert "well_gives_less" in codes(sized(slow | {"/needs": FAMILY | {"people": 12}})["needs"]["findings"])


def test_the_farm_of_the_demo_is_answered_whole() -> None:
    answer = SERVICE.answer(PATH, quotes()["farm-with-stock"])
    day = answer["needs"]

    # 85 gal from 28 to 50 psi: 85·(1 − 42.696/64.696) = 28.904 gal; 132.44 gal a day.
    usable = 85.0 * (1.0 - (28.0 + ATMOSPHERE) / (50.0 + ATMOSPHERE))
    assert usable == pytest.approx(28.904, abs=1e-3)
    assert day["fills_a_day"] == pytest.approx(132.442 / usable, rel=1e-4)
    assert day["strokes_a_day"] == pytest.approx(132.442 / usable * fill(answer)["strokes"], rel=1e-4)
    assert codes(day["findings"]) == ["animals_without_pressure", "sessions_a_day"]
