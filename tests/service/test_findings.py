"""What is possible but won't work is an answer that says so, not an error."""

from typing import Any

import pytest
from tests.service.in_process import start
from tests.service.sites import changed, feet, inches, own, psi, quantity

SERVICE = start()
LIFT_ONLY = {"/pump/kind": "lift"}


def sized(changes: dict[str, Any]) -> dict[str, Any]:
    return SERVICE.answer("/v1/sizings", changed(changes))


def codes(found: list[dict[str, Any]]) -> list[str]:
    return [one["code"] for one in found]


def text_of(found: list[dict[str, Any]], code: str) -> str:
    text: str = next(one["text"] for one in found if one["code"] == code)
    return text


def test_a_site_without_a_water_level_gets_questions_and_a_table_by_depth_instead_of_a_recommendation() -> (
    None
):
    answer = sized({"/well/static_water_level": None})
    table = answer["depth_table"]

    assert answer["verdict"] == "needs_facts"
    assert answer["candidates"] == []
    assert {"recommended", "curve", "reserve", "parts"}.isdisjoint(answer)
    assert answer["questions"][0]["pointer"] == "/well/static_water_level"
    assert (
        len(
            {len(table["best"]), *(len(column["values"]) for name, column in table.items() if name != "best")}
        )
        == 1
    )


def test_the_table_by_depth_agrees_with_the_sizing_of_each_depth() -> None:
    table = sized({"/well": None})["depth_table"]
    rows = zip(
        table["static_water_level"]["values"],
        table["best"],
        table["fitting"]["values"],
        table["hand_force"]["values"],
        table["time"]["values"],
        strict=True,
    )

    for level, best, fitting, force, time in rows:
        answer = sized({"/well": {"static_water_level": feet(level)}})
        fits = [one for one in answer["candidates"] if one["outcome"] != "does_not_fit"]
        assert answer.get("recommended", "") == best
        assert len(fits) == fitting
        if fits:
            assert fits[0]["effort"]["hand_force"]["value"] == pytest.approx(force, rel=1e-5)
            assert fits[0]["fill"]["time"]["value"] == pytest.approx(time, rel=1e-5)


def test_nothing_that_fits_is_a_verdict_with_the_reason_of_the_closest() -> None:
    answer = sized({"/well": {"static_water_level": feet(1900)}})

    assert answer["verdict"] == "nothing_fits"
    assert "recommended" not in answer
    assert answer["candidates"]
    assert {one["outcome"] for one in answer["candidates"]} == {"does_not_fit"}
    assert answer["candidates"][0]["reasons"][0]["text"] in answer["summary"]


RATINGS: dict[str, tuple[dict[str, Any], str]] = {
    "the tank's rating": ({"/tank/maximum_working_pressure": psi(38)}, "tank_rating"),
    "the relief valve's setting": ({"/site/relief_valve/set_pressure": psi(43)}, "relief_valve"),
    "the hose's rating": ({"/conduit": {"hose_pressure_rating": psi(38), "rise": feet(0)}}, "hose_rating"),
}
ABOVE_A_RATING = pytest.mark.parametrize(("changes", "code"), RATINGS.values(), ids=RATINGS)


@ABOVE_A_RATING
def test_a_fill_stops_at_a_rating_below_the_target_and_says_why(changes: dict[str, Any], code: str) -> None:
    answer = sized(changes)
    best = answer["candidates"][0]

    assert answer["verdict"] == "fits_with_limits"
    assert best["governed_by"] == code
    assert best["fill"]["end"] == psi(38)
    assert best["fill"]["reaches_target"] is False
    assert answer["curve"]["pressure"]["values"][-1] == pytest.approx(38.0)
    assert "38 psi, short of 45 psi" in text_of(best["reasons"], "stops_early")


@ABOVE_A_RATING
def test_a_target_above_a_rating_is_the_first_warning(changes: dict[str, Any], code: str) -> None:
    for cautions in (
        sized(changes)["cautions"],
        SERVICE.answer("/v1/cautions", changed(changes))["cautions"],
    ):
        first = next(one for one in cautions if one["signal"] == "warning")
        assert first["code"] == "target_above_safe_pressure", code


def test_a_target_within_every_rating_is_no_cause_for_a_warning() -> None:
    assert "target_above_safe_pressure" not in codes(sized({})["cautions"])


def test_a_tank_curve_stops_at_a_rating_and_says_so() -> None:
    answer = SERVICE.answer("/v1/tank-curves", changed({"/tank/maximum_working_pressure": psi(38)}))

    assert answer["end"] == psi(38)
    assert answer["curve"]["pressure"]["values"][-1] == 38.0
    assert "tank's maximum working pressure" in text_of(answer["findings"], "curve_stops")


def test_a_tank_curve_stops_where_the_tank_may_take_no_more_water() -> None:
    answer = SERVICE.answer("/v1/tank-curves", changed({"/tank/maximum_acceptance": 0.1}))

    assert answer["curve"]["drawdown_factor"]["values"][-1] == pytest.approx(0.1)
    assert codes(answer["findings"]) == ["curve_stops"]


def test_a_tank_curve_that_reaches_its_target_has_nothing_to_find() -> None:
    answer = SERVICE.answer("/v1/tank-curves", changed({}))

    assert answer["end"] == psi(45)
    assert answer["findings"] == []


def test_a_hole_so_large_that_the_pump_stalls_is_found_with_the_pressure_it_allows() -> None:
    hole = {"/pump/weep_hole": {"present": True, "diameter": inches(0.5), "depth_below_outlet": feet(4)}}
    answer = sized(LIFT_ONLY | hole)

    assert answer["verdict"] == "nothing_fits"
    for candidate in answer["candidates"]:
        assert "weep_hole_stall" in codes(candidate["reasons"])


def test_every_part_of_a_fill_that_stores_nothing_is_zero() -> None:
    answer = sized({"/well": {"static_water_level": feet(1900)}})

    for candidate in answer["candidates"]:
        fill = candidate["fill"]
        assert {fill["strokes"], fill["water"]["value"], fill["time"]["value"], fill["work"]["value"]} == {
            0.0
        }
        assert {"stops_before_storing", "lift_exceeded_at_rest", "suction_too_deep"} & set(
            codes(candidate["reasons"])
        )


def test_a_casing_that_is_too_narrow_rules_lift_cylinders_out() -> None:
    answer = sized(LIFT_ONLY | {"/well/casing_inside_diameter": inches(1)})

    assert answer["verdict"] == "nothing_fits"
    assert {one["governed_by"] for one in answer["candidates"]} == {"casing"}
    assert all(codes(one["reasons"])[0] == "too_wide" for one in answer["candidates"])


def test_water_too_deep_for_the_atmosphere_rules_suction_pumps_out() -> None:
    answer = sized({"/pump/kind": "suction"})

    assert answer["verdict"] == "nothing_fits"
    assert {one["governed_by"] for one in answer["candidates"]} == {"suction_lift"}
    assert all(codes(one["reasons"])[0] == "suction_too_deep" for one in answer["candidates"])


def test_too_much_head_names_the_excess_and_the_pressure_that_is_left() -> None:
    answer = SERVICE.answer("/v1/lift-budgets", own(rated_lift=feet(120)))
    entry = answer["lift_budgets"][0]
    text = text_of(entry["findings"], "lift_exceeded")
    estimate = SERVICE.answer("/v1/stroke-estimates", own(rated_lift=feet(120)))["stroke_estimates"][0]
    limits = {one["code"]: one["pressure"]["value"] for one in estimate["ceiling"]["limits"]}
    limit = limits["rated_lift"]

    assert entry["lift_budget"]["margin"]["value"] < 0.0
    assert "against a rated lift of 120 ft" in text
    assert f"reaches {limit:.0f} psi here" in text
    # The room is that at the cadence kept at the target; at less pressure the operator pumps faster.
    assert limit == pytest.approx(entry["lift_budget"]["pressure_room"]["value"], abs=1.0)


def test_the_lines_of_a_lift_budget_add_up_to_its_total() -> None:
    for entry in SERVICE.answer("/v1/lift-budgets", changed({}))["lift_budgets"]:
        lines = entry["lift_budget"]
        total = sum(
            lines[name]["value"]
            for name in (
                "static_water_level", "well_drawdown", "outlet_height", "rise", "pressure_head",
                "drop_pipe_friction", "conduit_friction", "fitting_losses", "check_valve",
            )
        )  # fmt: skip
        assert lines["total_head"]["value"] == pytest.approx(total, abs=2e-3)
        assert lines["margin"]["value"] == pytest.approx(lines["rated_lift"]["value"] - total, abs=2e-3)


def test_what_was_given_is_not_assumed_and_what_was_not_given_is() -> None:
    assumed = {one["pointer"] for one in sized({})["assumptions"]}
    wanted = {"/well/specific_capacity", "/conduit/runs", "/operator/sustained_power", "/pressures/start"}

    assert wanted <= assumed
    assert {"/well/static_water_level", "/tank/precharge", "/pressures/target", "/site/supply"}.isdisjoint(
        assumed
    )


def test_an_assumption_of_an_own_cylinder_names_its_place_in_the_list() -> None:
    assumed = {one["pointer"] for one in SERVICE.answer("/v1/sizings", own())["assumptions"]}

    assert "/selection/cylinders/0/seal_drag" in assumed


def test_questions_ask_for_nothing_that_was_given() -> None:
    asked = {one["pointer"] for one in sized({})["questions"]}

    assert asked
    assert {"/well/static_water_level", "/tank/total_volume", "/site/relief_valve"}.isdisjoint(asked)


def test_an_answer_names_its_scope_and_the_licensed_trades() -> None:
    assert "licensed" in sized({})["scope"]


def test_curves_have_as_many_points_as_asked_for_in_every_column() -> None:
    body = changed({"/points": 7})
    curves = [SERVICE.answer(path, body)["curve"] for path in ("/v1/sizings", "/v1/tank-curves")]
    curves += [one["curve"] for one in SERVICE.answer("/v1/stroke-estimates", body)["stroke_estimates"]]

    assert {len(column["values"]) for curve in curves for column in curve.values()} == {7}


def test_the_callers_own_cylinders_are_a_catalogue_that_is_not_invented() -> None:
    answer = SERVICE.answer("/v1/sizings", own())

    assert answer["catalogue"]["name"] == "request"
    assert answer["catalogue"]["invented"] is False
    assert "invented_catalogue" not in codes(answer["cautions"])
    assert "parts" not in answer


def test_an_answer_from_the_demo_catalogue_says_that_it_is_invented() -> None:
    answer = sized({})

    assert answer["catalogue"]["invented"] is True
    assert "invented_catalogue" in codes(answer["cautions"])


def test_parts_pass_the_catalogues_numbers_and_prices_through() -> None:
    parts = sized(LIFT_ONLY)["parts"]

    assert parts
    assert all(part["sku"].startswith("DEMO-") and part["quantity"] >= 1 for part in parts)
    assert all(part["price"] > 0.0 and part["currency"] == "USD" for part in parts if "price" in part)


def test_a_choice_of_ids_is_all_that_is_assessed() -> None:
    answer = sized({"/selection": {"ids": ["lift-2-150", "lift-1-1-2-200"]}})

    assert {one["cylinder"]["id"] for one in answer["candidates"]} == {"lift-2-150", "lift-1-1-2-200"}


def test_a_volume_needs_its_unit_to_be_compared() -> None:
    in_gallons = sized({"/tank/total_volume": quantity(20, "gal")})
    in_litres = sized({"/tank/total_volume": quantity(75.708, "L")})

    assert in_gallons["reserve"]["water"]["value"] == pytest.approx(
        in_litres["reserve"]["water"]["value"], rel=1e-4
    )


def test_a_hose_bears_the_column_of_water_up_to_the_tank_too() -> None:
    def limit(rise: float) -> float:
        facts = changed({"/conduit": {"hose_pressure_rating": psi(45), "rise": feet(rise)}})
        candidate = SERVICE.answer("/v1/sizings", facts)["candidates"][0]
        limits = {one["code"]: one["pressure"]["value"] for one in candidate["ceiling"]["limits"]}
        return float(limits["hose_rating"])

    # 2.31 ft of water to 1 psi: common practice, no source.
    assert limit(0.0) == limit(-10.0) == pytest.approx(45.0)
    assert limit(23.1) == pytest.approx(35.0, abs=0.05)
