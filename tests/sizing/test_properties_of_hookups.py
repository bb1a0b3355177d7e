"""What holds of hookups at any premises: what is never advised never is, and steps come in the safe order."""

import msgspec
from hypothesis import given
from tests.sizing.hookup_cases import premises

from upstroke_service.sizing import hookups
from upstroke_service.sizing.hookup_circumstances import Premises


@given(premises())
def test_nothing_is_ever_advised_that_must_not_be(place: Premises) -> None:
    decision = hookups.decide(place)

    for way in decision.ways:
        assert place.public_main != "yes"
        assert way.outlet.vacuum_breaker != "yes"
        assert way.outlet.sanitary != "yes"
        assert place.open_tank == (way.way == "open_end")
        assert place.open_tank or (place.tank_condition != "corroded" and place.limit > place.start)
        if way.verdict == "advised":
            assert place.public_main == "no"
            assert way.way not in {"yard_hydrant", "spigot"}
            assert place.open_tank or (place.relief_valve == "yes" and place.target <= place.limit * 1.000001)
            assert place.open_tank or way.index is not None


@given(premises())
def test_with_a_public_main_nothing_is_advised_or_asked(place: Premises) -> None:
    decision = hookups.decide(msgspec.structs.replace(place, public_main="yes"))

    assert (decision.ways, decision.questions) == ((), ())
    assert decision.refused
    assert all(one.refusals[0].code == "public_main_connected" for one in decision.refused)


@given(premises())
def test_a_public_main_that_may_be_there_is_the_first_question_and_everybodys_first_condition(
    place: Premises,
) -> None:
    decision = hookups.decide(msgspec.structs.replace(place, public_main="unknown"))

    assert decision.questions[0].pointer == "/site/public_water_connection"
    assert all(way.conditions[0].code == "public_main_unknown" for way in decision.ways)
    assert all(way.verdict == "possible_with_conditions" for way in decision.ways)


@given(premises())
def test_the_pressure_to_stop_at_is_never_beyond_what_is_known_to_hold(place: Premises) -> None:
    for way in hookups.decide(place).ways:
        watched = [step for step in way.steps if step.code.startswith("watch_gauge")]
        assert len(watched) == (not place.open_tank)
        assert all(way.figures[step.value] <= place.limit for step in watched)
        held = {"relief_valve_absent", "relief_valve_unknown"} & {one.code for one in way.conditions}
        assert bool(held) == (not place.open_tank and place.relief_valve != "yes")


@given(premises())
def test_every_connection_is_judged_once_and_every_way_is_either_allowed_or_refused(place: Premises) -> None:
    decision = hookups.decide(place)
    judged = [one.index for one in (*decision.ways, *decision.refused) if one.index is not None]

    assert sorted(judged) == list(range(len(place.outlets)))
    assert all(place.outlets[way.index].kind == way.way for way in decision.ways if way.index is not None)
    assert all(way.steps and way.checks and way.parts for way in decision.ways)
    assert all(one.verdict == "not_advised" for one in decision.refused)


@given(premises())
def test_what_is_advised_comes_before_what_is_possible_and_what_is_near_before_what_is_far(
    place: Premises,
) -> None:
    ways = hookups.decide(place).ways

    order = [(way.verdict != "advised", "far" in way.circumstances) for way in ways]
    assert order == sorted(order)


@given(premises())
def test_the_numbers_that_a_rule_names_are_known_wherever_it_applies(place: Premises) -> None:
    decision = hookups.decide(place)
    for way in (*decision.ways, *decision.refused):
        points: tuple[hookups.Point, ...] = (
            *way.refusals, *way.conditions, *way.advantages, *way.drawbacks, *way.checks, *way.steps,
        )  # fmt: skip
        named = {name for point in points for name in (point.value, point.limit)}
        named |= {name for part in way.parts for name in (part.length, part.rating)}
        assert named - {""} <= way.figures.keys()


SAFE_ORDER = (
    {"breaker_off", "any_breaker_off"},
    {"gauge_at_zero"},
    {"join_hose", "join_pipe"},
    {"bleed_air"},
    {"open_hydrant_fully", "open_valve"},
    {"stay_clear"},
    {"watch_gauge", "watch_gauge_and_usual_stop"},
    {"close_hydrant", "close_valve"},
    {"bleed_pressure"},
    {"drain_hose", "drain_pipe"},
    {"frost_hose", "frost_hydrant", "frost_pipe"},
    {"breaker_on", "any_breaker_on"},
)
"""What every hookup into pressure needs, in the one order that is safe."""

UNDONE_BY = {
    "breaker_off": "breaker_on",
    "any_breaker_off": "any_breaker_on",
    "electric_heater_off": "electric_heater_on",
    "gas_heater_off": "gas_heater_on",
    "heater_off": "heater_on",
    "taps_shut": "taps_back",
    "way_open": "valves_back",
}


@given(premises())
def test_the_steps_of_a_hookup_into_pressure_come_in_the_one_order_that_is_safe(place: Premises) -> None:
    for way in hookups.decide(msgspec.structs.replace(place, open_tank=False)).ways:
        codes = [step.code for step in way.steps]
        places = [[codes.index(code) for code in codes if code in wanted] for wanted in SAFE_ORDER]

        assert all(len(found) == 1 for found in places)
        assert places == sorted(places)
        assert places[0] == [0]
        assert places[-1] == [len(codes) - 1]
        assert ("open_hydrant_fully" in codes) == (way.way == "yard_hydrant")
        assert ("protect_outlet" in codes) == (way.way in {"yard_hydrant", "spigot"})


@given(premises())
def test_what_was_prepared_is_undone_in_reverse(place: Premises) -> None:
    for way in hookups.decide(place).ways:
        codes = [step.code for step in way.steps]
        prepared = [UNDONE_BY[code] for code in codes if code in UNDONE_BY]

        assert [code for code in codes if code in UNDONE_BY.values()] == prepared[::-1]


@given(premises())
def test_an_open_end_is_fixed_left_open_watched_and_drained(place: Premises) -> None:
    for way in hookups.decide(msgspec.structs.replace(place, open_tank=True)).ways:
        codes = [step.code for step in way.steps]
        wanted = [
            "flush",
            "place_end",
            "leave_end_open",
            "stay_clear",
            "watch_level",
            "drain_hose",
            "frost_hose",
        ]

        assert [code for code in codes if code in wanted] == wanted
        assert way.figures["air_gap"] >= max(0.0254, 2.0 * (place.bore or 0.0))
        assert (codes[0] in {"breaker_off", "any_breaker_off"}) == (place.electric_pump != "no")
