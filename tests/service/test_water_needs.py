"""Water needs of a site: what a day asks for, what a fill covers, and what pumping it takes."""

from typing import Any

import msgspec
import pytest
from tests.service.consistency import CONTEXT
from tests.service.in_process import start
from tests.service.sites import SITE, changed, feet, psi, quantity

from upstroke_service.api import compute
from upstroke_service.api.operation import quotes
from upstroke_service.api.reserve import reserve
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.sizing.facts import OPEN_SPAN
from upstroke_service.wording import wording

SERVICE = start()
PATH = "/v1/water-needs"
WORDS = wording("en")
FAMILY: dict[str, Any] = {
    "people": 4,
    "level": "basic",
    "uses": [{"kind": "toilet_flush", "count": 10}],
    "herds": [{"kind": "beef_cow", "count": 1}],
}
GALLON = 3.785411784  # L


def needs(changes: dict[str, Any] | None = None, *, units: str = "us") -> dict[str, Any]:
    return SERVICE.answer(f"{PATH}?units={units}", changed({"/needs": FAMILY} | (changes or {})))


def codes(found: list[dict[str, Any]]) -> list[str]:
    return [one["code"] for one in found]


def test_a_day_adds_its_lines_up_to_the_total_each_with_its_sources() -> None:
    # 4 x 15 L (Sphere) + 10 x 1.6 gal (EPAct) + 14.5 gal (Kansas State) = 46.35 gal.
    day = needs()["needs"]

    assert [line["code"] for line in day["lines"]] == ["basic", "toilet_flush", "beef_cow"]
    assert day["total"]["value"] == pytest.approx(60 / GALLON + 16 + 14.5, rel=1e-5)
    for column in ("daily", "low", "high"):
        total = day["total" if column == "daily" else column]["value"]
        assert total == pytest.approx(sum(line[column]["value"] for line in day["lines"]), rel=1e-5)
    assert all(line["basis"] for line in day["lines"])
    assert {source["key"] for line in day["lines"] for source in line["basis"]} >= {
        "sphere-handbook", "epact-1992", "kstate-livestock",
    }  # fmt: skip


def test_fills_strokes_and_minutes_are_those_of_the_sizing_by_the_share_that_a_day_takes() -> None:
    answer = needs()
    sizing = SERVICE.answer("/v1/sizings", changed({}))
    fill = sizing["candidates"][0]["fill"]
    day = answer["needs"]
    fills = day["total"]["value"] / fill["water"]["value"]

    assert answer["recommended"] == sizing["recommended"]
    assert day["fills_a_day"] == pytest.approx(fills, rel=1e-5)
    assert day["strokes_a_day"] == pytest.approx(fills * fill["strokes"], rel=1e-5)
    assert day["minutes_a_day"]["value"] == pytest.approx(fills * fill["time"]["value"], rel=1e-5)
    assert answer["reserve"]["water"]["value"] == pytest.approx(fill["water"]["value"], rel=1e-5)


def test_a_sizing_with_needs_says_the_same_as_water_needs() -> None:
    answer = needs()
    sizing = SERVICE.answer("/v1/sizings", changed({"/needs": FAMILY}))

    assert sizing["needs"] == answer["needs"]
    assert sizing["reserve"] == answer["reserve"]
    assert "needs" not in SERVICE.answer("/v1/sizings", changed({}))


def test_the_next_fill_begins_where_fixtures_stop_wherever_the_first_one_began() -> None:
    # A tank of 20 gal from 28 to 45 psi: 20·(1 − 42.696/59.696) = 5.696 gal, though this fill starts at 35 psi.
    answer = needs({"/pressures/start": psi(35)})
    from_35 = SERVICE.answer("/v1/sizings", changed({"/pressures/start": psi(35)}))["candidates"][0]["fill"]

    assert answer["reserve"]["to_pressure"] == psi(28)
    assert answer["reserve"]["water"]["value"] == pytest.approx(5.696, abs=1e-3)
    assert answer["needs"]["fills_a_day"] == pytest.approx(
        answer["needs"]["total"]["value"] / answer["reserve"]["water"]["value"], rel=1e-5
    )
    assert from_35["water"]["value"] < answer["reserve"]["water"]["value"]


def test_a_tank_without_precharge_is_of_use_down_to_the_pressure_that_a_faucet_needs() -> None:
    # Air over water: 8 + 3 psi + 11 ft of water at 12 °C (4.766 psi) = 15.77 psi.
    answer = needs({"/tank/kind": "air_over_water", "/tank/precharge": None})
    covers = {use["code"]: use for use in answer["reserve"]["covers"]}

    assert answer["reserve"]["to_pressure"]["value"] == pytest.approx(15.77, abs=0.01)
    assert covers["hand_wash"]["to_pressure"] == answer["reserve"]["to_pressure"]
    assert covers["toilet_flush"]["to_pressure"]["value"] == pytest.approx(26.68, abs=0.01)
    assert covers["toilet_flush"]["count"] * 1.6 < covers["hand_wash"]["count"] * 0.2


def test_what_one_fill_covers_is_its_water_over_that_of_one_use() -> None:
    reserve = needs()["reserve"]
    water = reserve["water"]["value"]
    # EPAct 1.6 gal; IPC 0.8 gpm for 15 s; Penn State 2.5 gal; EPAct 2.5 gpm for 2 min; Sphere 15 L.
    each = {
        "toilet_flush": 1.6, "hand_wash": 0.2, "dishes": 2.5, "short_shower": 5.0, "person_day": 15 / GALLON,
    }  # fmt: skip

    assert {use["code"]: use["count"] for use in reserve["covers"]} == {
        code: pytest.approx(water / volume - 0.05, abs=0.0501) for code, volume in each.items()
    }
    assert reserve["findings"] == []
    assert "serving_tank" not in reserve


@pytest.mark.parametrize(
    ("language", "one", "several"),
    [("en", "shower of two minutes", "showers of two minutes"), ("es", "ducha de", "duchas de")],
)
def test_one_use_is_named_as_one(language: str, one: str, several: str) -> None:
    named = set()
    for gallons in (10, 20, 40, 60, 80):
        body = changed({"/tank/total_volume": quantity(gallons, "gal")})
        covers = SERVICE.post(PATH, body, accept_language=language).json()["reserve"]["covers"]
        shower = next(use for use in covers if use["code"] == "short_shower")
        expected = one if 1 <= shower["count"] < 2 else several
        assert shower["text"].startswith(expected), shower["count"]
        named.add(expected)
    assert named == {one, several}


def test_a_fixtures_flow_falls_as_the_tank_empties() -> None:
    for use in needs()["reserve"]["covers"]:
        if use["code"] != "person_day":
            assert use["flow"]["value"] > use["last_flow"]["value"] > 0.0


def test_an_open_stock_tank_is_all_reserve_and_asks_for_no_pressure() -> None:
    request = msgspec.convert(changed({"/tank/total_volume": quantity(100, "gal")}), SizingRequest)
    closed = compute.read(request, CONTEXT).site
    site = msgspec.structs.replace(closed, open=True, precharge=0.0, start=0.0, target=OPEN_SPAN)
    kept = msgspec.to_builtins(reserve(site, OPEN_SPAN, 0.0, CONTEXT.style))
    covers = {use["code"]: use for use in kept["covers"]}

    assert kept["water"] == quantity(100.0, "gal")
    assert kept["from_pressure"] == kept["to_pressure"] == psi(0.0)
    assert kept["findings"] == []
    assert covers["toilet_flush"]["count"] == 62.5
    assert all({"flow", "last_flow", "to_pressure"}.isdisjoint(use) for use in kept["covers"])


def test_a_higher_floor_never_covers_more() -> None:
    ground, attic = (needs({"/needs/floor_rise": feet(rise)})["reserve"] for rise in (8, 35))

    assert attic["water"]["value"] <= ground["water"]["value"]
    for low, high in zip(ground["covers"], attic["covers"], strict=True):
        assert high["count"] <= low["count"]
        assert "flow" not in low or high["flow"]["value"] < low["flow"]["value"]


def test_a_buffer_tank_that_holds_no_flush_is_called_out_with_the_tank_that_would() -> None:
    # 1.6 gal/(1 − (35 + 14.696)/(50 + 14.696)) = 6.901 gal, of which 4.5 hold 1.043 gal.
    quote = quotes()["small-buffer-tank"]
    reserve = SERVICE.answer(PATH, quote)["reserve"]
    served = SERVICE.answer(PATH, changed({"/tank/total_volume": reserve["serving_tank"]}, quote))["reserve"]

    assert codes(reserve["findings"]) == ["tank_too_small"]
    assert reserve["serving_tank"]["value"] == pytest.approx(6.901, abs=1e-3)
    assert reserve["findings"][0]["value"] == pytest.approx(1.0433, abs=1e-3)
    assert reserve["findings"][0]["limit"] == 1.6
    assert "6.9 gal" in reserve["findings"][0]["text"]
    assert served["covers"][0]["count"] == 1.0
    assert served["water"]["value"] == pytest.approx(1.6, rel=1e-4)
    assert reserve == SERVICE.answer("/v1/sizings", quote)["reserve"]


def test_a_toilet_that_gets_too_little_pressure_is_not_blamed_on_the_tank() -> None:
    # 40 ft of floor: the toilet needs 20 + 3 + 17.5 = 40.5 psi, a basin 29.6; the fill ends at 35 psi.
    reserve = needs({"/needs/floor_rise": feet(40), "/pressures/target": psi(35)})["reserve"]

    assert codes(reserve["findings"]) == ["flush_needs_pressure"]
    assert "serving_tank" not in reserve
    assert reserve["water"]["value"] > 0.0
    assert reserve["covers"][0]["count"] == 0.0


def test_a_fill_below_what_any_fixture_needs_counts_no_fills() -> None:
    answer = needs({"/needs/floor_rise": feet(70), "/pressures/target": psi(35)})

    assert codes(answer["reserve"]["findings"]) == ["nothing_usable"]
    assert answer["reserve"]["water"]["value"] == 0.0
    assert {"fills_a_day", "strokes_a_day", "minutes_a_day"}.isdisjoint(answer["needs"])
    assert answer["needs"]["summary"] == WORDS.say(
        "daily", "needed_with_animals", total="46 gal a day", low="30 gal a day", high="55 gal a day"
    )


def test_without_a_water_level_there_are_needs_and_fills_but_no_strokes() -> None:
    answer = needs({"/well/static_water_level": None})

    assert codes(answer["findings"]) == ["no_level_no_strokes"]
    assert answer["questions"][0]["pointer"] == "/well/static_water_level"
    assert answer["questions"][0]["effect"] == "verdict"
    assert "recommended" not in answer
    assert {"strokes_a_day", "minutes_a_day"}.isdisjoint(answer["needs"])
    assert answer["needs"]["fills_a_day"] == pytest.approx(needs()["needs"]["fills_a_day"])


def test_where_no_pump_fits_there_are_fills_but_no_strokes() -> None:
    answer = needs({"/well": {"static_water_level": feet(1900)}})

    assert codes(answer["findings"]) == ["no_pump_fits"]
    assert "recommended" not in answer
    assert "strokes_a_day" not in answer["needs"]
    assert answer["needs"]["fills_a_day"] > 0.0


def test_nothing_stated_counts_two_people_at_the_basic_level_and_asks() -> None:
    answer = SERVICE.answer(PATH, SITE)
    assumed = {one["pointer"]: one for one in answer["assumptions"]}

    assert [(line["code"], line["count"]) for line in answer["needs"]["lines"]] == [("basic", 2.0)]
    assert assumed["/needs/people"]["value"] == 2.0
    assert {"/needs/level", "/needs/floor_rise"} <= set(assumed)
    assert [one["pointer"] for one in answer["questions"]] == ["/needs/people", "/needs/level"]


def test_animals_alone_are_counted_alone_and_that_is_said() -> None:
    answer = needs({"/needs": {"herds": [{"kind": "goat", "count": 3}]}})
    assumed = {one["pointer"]: one for one in answer["assumptions"]}

    assert [line["text"] for line in answer["needs"]["lines"]] == ["3 goats: 6.0 gal a day"]
    assert assumed["/needs/people"]["value"] == 0.0
    assert "/needs/level" not in assumed


def test_nobody_needs_nothing() -> None:
    day = needs({"/needs": {"people": 0}})["needs"]

    assert day["lines"] == []
    assert day["total"]["value"] == day["fills_a_day"] == 0.0
    assert day["summary"] == WORDS.say("daily", "nothing")


@pytest.mark.parametrize(
    ("herd", "expected"),
    [
        (0, []),
        (12, ["animals_without_pressure", "sessions_a_day"]),
        (400, ["animals_without_pressure", "day_too_long"]),
    ],
)
def test_a_day_beyond_a_session_is_divided_and_one_beyond_four_is_called_too_long(
    herd: int, expected: list[str]
) -> None:
    wanted: dict[str, Any] = {"people": 2}
    if herd:
        wanted["herds"] = [{"kind": "sheep", "count": herd}, {"kind": "pig", "count": 10}]
    day = needs({"/needs": wanted})["needs"]

    assert codes(day["findings"]) == expected


def test_more_than_the_well_is_stated_to_give_is_found() -> None:
    slow = {"/well/sustained_yield": quantity(0.1, "L/min")}
    day = needs(slow)["needs"]
    (found,) = (one for one in day["findings"] if one["code"] == "well_gives_less")

    # 0.1 L/min is 144 L, 38.04 gal a day.
    assert found["limit"] == pytest.approx(38.04, abs=0.01)
    assert found["value"] == day["total"]["value"]
    assert "well_gives_less" not in codes(
        needs({"/well/sustained_yield": quantity(1, "gpm")})["needs"]["findings"]
    )


SUMMARIES: dict[str, dict[str, Any]] = {
    "fills_by_hand": {},
    "lasts_by_hand": {"/needs": {"people": 1, "level": "survival"}},
    "fills": {"/well/static_water_level": None},
    "lasts": {"/well/static_water_level": None, "/needs": {"people": 1, "level": "survival"}},
}


@pytest.mark.parametrize(("code", "changes"), SUMMARIES.items(), ids=SUMMARIES)
def test_the_summary_says_fills_or_days_with_strokes_where_they_are_known(
    code: str, changes: dict[str, Any]
) -> None:
    day = needs(changes)["needs"]

    assert ("enough for" in day["summary"]) == code.startswith("lasts")
    assert ("strokes" in day["summary"]) == code.endswith("by_hand")


def test_uses_alone_need_exactly_what_they_take() -> None:
    day = needs({"/needs": {"people": 0, "uses": [{"kind": "dishes", "count": 1}]}})["needs"]

    assert day["lines"][0]["text"] == "1 sink of dishes washed by hand, 2.5 gal: 2.5 gal a day"
    assert day["summary"].startswith("About 2.5 gal a day is needed. ")
    assert day["low"] == day["total"] == day["high"]


def test_both_unit_systems_say_the_same() -> None:
    us, si = needs()["needs"], needs(units="si")["needs"]

    assert si["total"]["unit"] == "L/d"
    assert si["total"]["value"] == pytest.approx(us["total"]["value"] * GALLON, rel=1e-5)
    assert si["strokes_a_day"] == us["strokes_a_day"]


def test_the_farm_of_the_demo_is_told_what_its_stock_takes() -> None:
    quote = quotes()["farm-with-stock"]
    answer = SERVICE.answer(PATH, quote)
    texts = [line["text"] for line in answer["needs"]["lines"]]

    # 5 x 15 L + 10 x 1.6 + 2 x 2.5 gal + 2 x 115 L + 3 x 23 L + 10 gal + 40 x 0.25 L.
    expected = (75 + 230 + 69 + 10) / GALLON + 16 + 5 + 10
    assert answer["needs"]["total"]["value"] == pytest.approx(expected, rel=1e-5)
    assert "2 dairy cows: 61 gal a day" in texts
    assert "1 horse: 10.0 gal a day" in texts
    assert answer["needs"]["strokes_a_day"] > 0.0


def test_the_listing_names_every_figure_with_its_source_in_both_systems() -> None:
    us, si = (SERVICE.get(f"/v1/water-uses?units={system}").json() for system in ("us", "si"))
    flush = next(use for use in us["uses"] if use["code"] == "toilet_flush")
    cow = next(row for row in us["livestock"] if row["code"] == "beef_cow")

    # EPAct 1992 1.6 gal; IPC 2018 20 psi, 3 gpm; Kansas State 6.0, 14.5 and 17.9 gal.
    assert flush["volume"] == quantity(1.6, "gal")
    assert flush["minimum_pressure"] == psi(20)
    assert flush["flow"] == quantity(3.0, "gpm")
    assert [cow[name]["volume"]["value"] for name in ("low", "usual", "high")] == [6.0, 14.5, 17.9]
    for listed in (us, si):
        for use in listed["uses"]:
            assert [one["figure"] for one in use["basis"]] == ["volume", "minimum_pressure", "height", "flow"]
            assert all(one["text"] and one["sources"][0]["citation"] for one in use["basis"])
        for row in (*listed["people"], *listed["livestock"]):
            assert row["low"]["volume"]["value"] <= row["usual"]["volume"]["value"]
            assert row["usual"]["volume"]["value"] <= row["high"]["volume"]["value"]
            assert all(row[name]["basis"]["citation"] for name in ("low", "usual", "high"))
    assert si["people"][0]["usual"]["volume"] == quantity(3.78541, "L/d")
