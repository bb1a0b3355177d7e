"""Tanks over HTTP: what they store, what temperature, altitude and missing air do, and the inverse questions.

Expected values are Boyle's and Gay-Lussac's laws by hand: 14.69595 psi is the standard atmosphere.
"""

from typing import Any

import pytest
from tests.service.in_process import PROBLEM, start
from tests.service.sites import SITE, changed, feet, psi, quantity

SERVICE = start()
PATH = "/v1/tank-curves"
GALLON = 3.785411784  # L
AIR = 14.69595
TANK = {name: SITE[name] for name in ("tank", "pressures", "site")}
"""20 gal, precharge 28 psi, filled to 45 psi."""


def gallons(value: float) -> dict[str, Any]:
    return quantity(value, "gal")


def fahrenheit(value: float) -> dict[str, Any]:
    return quantity(value, "degF")


def curve(changes: dict[str, Any] | None = None, *, units: str = "us") -> dict[str, Any]:
    return SERVICE.answer(f"{PATH}?units={units}", changed(changes or {}, TANK))


def refused(changes: dict[str, Any], path: str = PATH) -> tuple[str, set[str]]:
    """The code of the problem that some facts lead to, and what it points at."""
    response = SERVICE.post(path, changed(changes, TANK))
    assert response.status_code == 422, response.text
    assert response.headers["content-type"].startswith(PROBLEM)
    problem = response.json()
    assert all(fault["detail"] for fault in problem["errors"])
    return problem["code"], {fault["pointer"] for fault in problem["errors"]}


def finding(answer: dict[str, Any], code: str) -> dict[str, Any]:
    (found,) = (one for one in answer["findings"] if one["code"] == code)
    return dict(found)


def test_a_tank_stores_what_boyle_s_law_says() -> None:
    # 20 gal·(1 − 42.696/59.696), and between 30 and 50 psi 20·(42.696/44.696 − 42.696/64.696).
    assert curve()["usable_drawdown"]["value"] == pytest.approx(5.6955, abs=1e-3)
    usual = curve({"/pressures/start": psi(30), "/pressures/target": psi(50)})
    assert usual["usable_drawdown"]["value"] == pytest.approx(20 * 0.295305, abs=1e-3)
    assert usual["curve"]["stored_water"]["values"][0] == pytest.approx(20 * (1 - 42.696 / 44.696), abs=1e-3)


def test_several_equal_tanks_hold_as_much_as_one_of_their_total_volume() -> None:
    three, large = curve({"/tank/count": 3}), curve({"/tank/total_volume": gallons(60)})

    assert three["usable_drawdown"]["value"] == pytest.approx(3 * 5.6955, abs=3e-3)
    assert three["total_volume"] == large["total_volume"] == gallons(60.0)
    assert three["curve"] == large["curve"]
    assert "/tank/count" in {one["pointer"] for one in large["assumptions"]}
    assert "/tank/count" not in {one["pointer"] for one in three["assumptions"]}


def test_thinner_air_makes_a_tank_store_a_little_more() -> None:
    # U.S. Standard Atmosphere, 1976: 12.2277 psi at 5 000 ft; 40.2277/42.2277 − 40.2277/62.2277 = 0.306178.
    high = curve({
        "/well": {"site_elevation": feet(5000)}, "/pressures/start": psi(30), "/pressures/target": psi(50)
    })  # fmt: skip

    assert high["atmospheric_pressure"]["value"] == pytest.approx(12.2277, abs=1e-3)
    assert high["curve"]["drawdown_factor"]["values"][-1] == pytest.approx(0.306178, abs=1e-5)


def test_a_cold_day_takes_precharge_away_and_a_hot_one_adds_to_it() -> None:
    # (28 + 14.696)·(20 + 459.67)/(70 + 459.67) − 14.696 = 23.970; at 110 °F 31.224.
    set_at = {"/tank/precharge_temperature": fahrenheit(70)}
    cold, hot = (curve(set_at | {"/tank/air_temperature": fahrenheit(now)}) for now in (20, 110))

    assert cold["precharge"]["value"] == pytest.approx(23.970, abs=1e-3)
    assert hot["precharge"]["value"] == pytest.approx(31.224, abs=1e-3)
    # 20 gal·(1 − 38.666/59.696)
    assert cold["usable_drawdown"]["value"] == pytest.approx(7.0458, abs=2e-3)
    found = finding(cold, "precharge_by_temperature")
    assert (found["value"], found["limit"]) == (cold["precharge"]["value"], 28.0)
    assert all(text in found["text"] for text in ("28 psi", "70 °F", "20 °F", "24 psi"))


@pytest.mark.parametrize(
    ("given", "assumed"),
    [
        ({}, {"/tank/air_temperature"}),
        ({"/tank/precharge_temperature": fahrenheit(70)}, {"/tank/air_temperature"}),
        ({"/tank/air_temperature": fahrenheit(20)}, {"/tank/precharge_temperature"}),
        (
            {"/tank/precharge_temperature": fahrenheit(70), "/tank/air_temperature": fahrenheit(70)},
            set(),
        ),
    ],
)
def test_a_temperature_that_nobody_states_is_assumed_to_be_the_other_one(
    given: dict[str, Any], assumed: set[str]
) -> None:
    answer = curve(given)

    assert answer["precharge"] == psi(28.0)
    assert answer["findings"] == []
    assert {
        one["pointer"] for one in answer["assumptions"] if one["pointer"].endswith("temperature")
    } == assumed


def test_a_plain_tank_full_of_air_has_no_precharge() -> None:
    # 14.696/34.696 − 14.696/54.696
    plain = {"/tank/kind": "air_over_water", "/tank/precharge": None}
    answer = curve(plain | {"/pressures": {"start": psi(20), "target": psi(40)}})

    assert answer["precharge"] == psi(0.0)
    assert answer["curve"]["drawdown_factor"]["values"][-1] == pytest.approx(0.154880, abs=1e-5)
    assert {"/tank/air_volume", "/tank/air_pressure"} <= {one["pointer"] for one in answer["assumptions"]}


def test_air_found_in_a_tank_is_worth_the_precharge_that_boyle_s_law_gives_it() -> None:
    # What a precharge of 28 psi leaves at 45 psi: 20·42.69595/59.69595 = 14.30447 gal.
    found = {"/tank/precharge": None, "/tank/air_volume": gallons(14.30447), "/tank/air_pressure": psi(45)}
    answer = curve(found)

    assert answer["precharge"]["value"] == pytest.approx(28.0, abs=1e-4)
    assert answer["usable_drawdown"]["value"] == pytest.approx(5.6955, abs=1e-3)
    assert {"/tank/kind", "/tank/precharge"}.isdisjoint({one["pointer"] for one in answer["assumptions"]})


def test_too_little_air_leaves_water_in_the_tank_that_no_tap_gets_out() -> None:
    # 4 gal at 20 psi: 34.696·0.2 − 14.696 = −7.757 psi; without pressure 20·(1 − 6.939/14.696) = 10.556 gal stay.
    answer = curve({"/tank/precharge": None, "/tank/air_volume": gallons(4), "/tank/air_pressure": psi(20)})

    assert answer["precharge"]["value"] == pytest.approx(-7.757, abs=1e-3)
    assert answer["start"] == psi(0.0)
    assert finding(answer, "air_short")["value"] == pytest.approx(10.556, abs=2e-3)
    assert answer["curve"]["stored_water"]["values"][0] == pytest.approx(10.556, abs=2e-3)
    # 20·(6.939/14.696 − 6.939/59.696)
    assert answer["usable_drawdown"]["value"] == pytest.approx(7.1188, abs=2e-3)


def test_slow_and_fast_fills_bound_the_water_and_the_pressure() -> None:
    # 20·(1 − (42.696/59.696)^(1/1.4)) = 4.258 gal; 42.696/(1 − 0.284776)^1.4 − 14.696 = 53.564 psi.
    band = curve()["gas_band"]

    assert band["slow_drawdown"] == curve()["usable_drawdown"]
    assert band["slow_pressure"] == psi(45.0)
    assert band["fast_drawdown"]["value"] == pytest.approx(4.258, abs=1e-3)
    assert band["fast_pressure"]["value"] == pytest.approx(53.564, abs=2e-3)
    assert all(text in band["text"] for text in ("5.7 gal", "4.3 gal", "45 psi", "54 psi"))


def test_the_band_is_the_same_whichever_exponent_the_rest_counts_with() -> None:
    slow, some, fast = (curve({"/tank/gas_exponent": exponent}) for exponent in (1.0, 1.2, 1.4))

    for answer in (some, fast):
        for drawdown in ("slow_drawdown", "fast_drawdown"):
            assert answer["gas_band"][drawdown] == slow["gas_band"][drawdown]
    assert fast["usable_drawdown"] == fast["gas_band"]["fast_drawdown"]
    assert fast["gas_band"]["fast_pressure"]["value"] == pytest.approx(45.0)
    # The fast fill's water, settled: 42.696/(1 − 4.258/20) − 14.696.
    assert fast["gas_band"]["slow_pressure"]["value"] == pytest.approx(39.549, abs=2e-3)
    assert (
        fast["usable_drawdown"]["value"] < some["usable_drawdown"]["value"] < slow["usable_drawdown"]["value"]
    )


def test_a_tank_stops_at_the_water_that_it_may_take() -> None:
    # 1 − 42.696/(p + 14.696) = 0.2 at p = 38.674 psi.
    answer = curve({"/tank/maximum_acceptance": 0.2})

    assert answer["end"]["value"] == pytest.approx(38.674, abs=1e-3)
    assert answer["usable_drawdown"]["value"] == pytest.approx(4.0, abs=1e-4)
    assert "most water" in finding(answer, "curve_stops")["text"]


def test_the_pressure_at_a_stored_volume_is_told() -> None:
    # 42.696/(1 − 3/20) − 14.696; and of three tanks with 9 gal the same.
    one = curve({"/stored_volume": gallons(3)})
    three = curve({"/stored_volume": gallons(9), "/tank/count": 3})

    assert one["pressure_at_stored_volume"]["value"] == pytest.approx(35.534, abs=1e-3)
    assert three["pressure_at_stored_volume"] == one["pressure_at_stored_volume"]
    assert one["findings"] == []
    assert "pressure_at_stored_volume" not in curve()


def test_what_the_tank_holds_at_a_pressure_and_the_pressure_of_that_water_agree() -> None:
    for exponent in (1.0, 1.3):
        stored = curve({"/tank/gas_exponent": exponent})["usable_drawdown"]
        back = curve({"/tank/gas_exponent": exponent, "/stored_volume": stored})
        assert back["pressure_at_stored_volume"]["value"] == pytest.approx(45.0, abs=1e-3)


def test_the_tank_for_a_drawdown_is_told_and_gives_it() -> None:
    # 10/0.284776 = 35.115 gal, or two of 20 gal.
    answer = curve({"/wanted_drawdown": gallons(10)})
    total = answer["total_volume_for_drawdown"]

    assert total["value"] == pytest.approx(35.115, abs=2e-3)
    assert answer["tanks_for_drawdown"] == 2
    found = finding(answer, "drawdown_short")
    assert (found["value"], found["limit"]) == (answer["usable_drawdown"]["value"], 10.0)
    larger = curve({"/tank/total_volume": total, "/wanted_drawdown": gallons(10)})
    assert larger["usable_drawdown"]["value"] == pytest.approx(10.0, rel=1e-5)
    two = curve({"/tank/count": 2, "/wanted_drawdown": gallons(10)})
    assert two["findings"] == []
    assert two["total_volume_for_drawdown"] == total
    assert two["tanks_for_drawdown"] == 2


def test_a_drawdown_is_counted_up_to_the_pressure_where_the_fill_has_to_stop() -> None:
    # The acceptance of 0.2 is all that is stored from the precharge up.
    answer = curve({"/wanted_drawdown": gallons(10), "/tank/maximum_acceptance": 0.2})

    assert answer["total_volume_for_drawdown"]["value"] == pytest.approx(50.0, rel=1e-5)
    assert answer["tanks_for_drawdown"] == 3


def test_a_drawdown_between_pressures_that_store_nothing_has_no_tank() -> None:
    answer = curve({"/pressures/start": psi(44.99), "/wanted_drawdown": gallons(10)})

    assert {"total_volume_for_drawdown", "tanks_for_drawdown"}.isdisjoint(answer)
    assert finding(answer, "no_tank_serves")["limit"] == 10.0


def test_more_water_than_the_tank_may_take_is_found_with_its_pressure() -> None:
    answer = curve({"/tank/maximum_acceptance": 0.2, "/stored_volume": gallons(6)})
    found = finding(answer, "above_acceptance")

    assert (found["value"], found["limit"], found["unit"]) == (6.0, 4.0, "gal")
    assert answer["pressure_at_stored_volume"]["value"] == pytest.approx(42.69595 / 0.7 - AIR, abs=1e-3)


def test_water_that_takes_more_pressure_than_is_safe_is_found_with_what_sets_it() -> None:
    # 42.696/(1 − 12/20) − 14.696 = 92.04 psi; the relief valve at 75 psi leaves 67.5.
    found = finding(curve({"/stored_volume": gallons(12)}), "volume_above_limit")

    assert found["value"] == pytest.approx(92.044, abs=1e-3)
    assert found["limit"] == 67.5
    assert "relief valve" in found["text"]


@pytest.mark.parametrize("volume", [20, 25])
def test_more_water_than_the_tank_is_large_is_refused(volume: float) -> None:
    assert refused({"/stored_volume": gallons(volume)}) == (
        "contradictory-facts", {"/stored_volume", "/tank/total_volume"},
    )  # fmt: skip
    assert curve({"/stored_volume": gallons(volume), "/tank/count": 2})["pressure_at_stored_volume"]


def test_more_water_than_an_assumed_tank_is_large_is_no_contradiction_but_a_finding() -> None:
    answer = curve({"/tank/total_volume": None, "/stored_volume": gallons(25)})
    found = finding(answer, "volume_above_tank")

    assert (found["value"], found["limit"]) == (25.0, 20.0)
    assert "pressure_at_stored_volume" not in answer


NONSENSE: dict[str, tuple[dict[str, Any], set[str]]] = {
    "air measured behind a bladder": (
        {"/tank/kind": "bladder", "/tank/precharge": None, "/tank/air_volume": gallons(5)},
        {"/tank/kind", "/tank/air_volume"},
    ),
    "air stated twice": (
        {"/tank/kind": "air_over_water", "/tank/air_pressure": psi(20)},
        {"/tank/precharge", "/tank/air_pressure"},
    ),
    "more air than the tank is large": (
        {"/tank/precharge": None, "/tank/air_volume": gallons(21)},
        {"/tank/air_volume", "/tank/total_volume"},
    ),
    "an open tank": (
        {"/tank": {"kind": "open", "total_volume": gallons(100)}, "/pressures": None},
        {"/tank/kind"},
    ),
}


@pytest.mark.parametrize(("changes", "pointers"), NONSENSE.values(), ids=NONSENSE)
def test_what_no_tank_can_be_is_refused_at_each_of_its_facts(
    changes: dict[str, Any], pointers: set[str]
) -> None:
    assert refused(changes) == ("contradictory-facts", pointers)


def test_air_that_nobody_has_the_tank_for_makes_the_assumed_tank_as_large() -> None:
    answer = curve({"/tank": {"air_volume": gallons(45)}})

    assert answer["total_volume"] == gallons(45.0)
    assert answer["precharge"] == psi(0.0)


@pytest.mark.parametrize("asked", ["stored_volume", "wanted_drawdown"])
def test_a_question_without_a_volume_is_refused_by_the_schema(asked: str) -> None:
    assert refused({f"/{asked}": gallons(0)}) == ("invalid-field", {f"/{asked}/value"})


def test_a_target_at_which_the_tank_stores_nothing_is_found_and_never_recommended() -> None:
    # The supply's switch makes a precharge of 28 psi usual.
    below = {"/tank/precharge": None, "/pressures/target": psi(25)}
    found = finding(curve(below), "target_below_storage")
    sizing = SERVICE.answer("/v1/sizings", changed(below))

    assert (found["value"], found["limit"]) == (25.0, 28.0)
    assert sizing["verdict"] == "nothing_fits"
    assert sizing["candidates"][0]["reasons"][0]["code"] == "target_below_storage"
    assert sizing["candidates"][0]["fill"]["reaches_target"] is False


def test_air_that_warms_up_beyond_the_target_is_no_contradiction_but_stores_nothing() -> None:
    # (43 + 14.696)·559.67/489.67 − 14.696 = 51.25 psi, above the 45 psi wanted.
    warm = {
        "/tank/precharge": psi(43),
        "/tank/precharge_temperature": fahrenheit(30),
        "/tank/air_temperature": fahrenheit(100),
    }
    answer = curve(warm)

    assert answer["precharge"]["value"] == pytest.approx(51.248, abs=2e-3)
    assert finding(answer, "target_below_storage")["limit"] == answer["precharge"]["value"]
    assert answer["usable_drawdown"]["value"] == 0.0


def test_a_tank_curve_assumes_nothing_that_it_does_not_need() -> None:
    pointers = {one["pointer"] for one in curve()["assumptions"]}

    assert pointers == {
        "/pressures/start", "/tank/air_temperature", "/tank/count", "/tank/gas_exponent", "/tank/kind",
        "/well/site_elevation",
    }  # fmt: skip


def test_both_unit_systems_say_the_same_of_a_tank() -> None:
    asked = {"/stored_volume": gallons(3), "/wanted_drawdown": gallons(10)}
    us, si = curve(asked), curve(asked, units="si")

    for volume in ("usable_drawdown", "total_volume_for_drawdown"):
        assert si[volume]["unit"] == "L"
        assert si[volume]["value"] == pytest.approx(us[volume]["value"] * GALLON, rel=1e-5)
    assert si["pressure_at_stored_volume"]["value"] == pytest.approx(
        us["pressure_at_stored_volume"]["value"] * 6.894757, rel=1e-5
    )
    assert si["tanks_for_drawdown"] == us["tanks_for_drawdown"]


def test_a_sizing_counts_with_the_temperature_and_the_air_of_the_tank_as_the_curve_does() -> None:
    for changes in (
        {"/tank/precharge_temperature": fahrenheit(70), "/tank/air_temperature": fahrenheit(20)},
        {"/tank/precharge": None, "/tank/air_volume": gallons(10), "/tank/air_pressure": psi(20)},
        {"/tank/count": 2, "/well/site_elevation": feet(5000)},
        {"/tank/gas_exponent": 1.4},
    ):
        elevation = {name: value for name, value in changes.items() if not name.startswith("/well")}
        if "/well/site_elevation" in changes:
            elevation["/well"] = {"site_elevation": changes["/well/site_elevation"]}
        stored = curve(elevation)["usable_drawdown"]
        fill = SERVICE.answer("/v1/sizings", changed(changes))["candidates"][0]["fill"]
        assert fill["water"]["value"] == pytest.approx(stored["value"], rel=1e-5), changes
