"""Ways to connect: each rule applies where it should and nowhere else, and what is never advised never is."""

import itertools
from typing import Any

import msgspec
import pytest
from tests.sizing.hookup_cases import (
    DRAIN,
    FOOT,
    HARMLESS,
    HYDRANT,
    OPEN,
    PLURALS,
    PSI,
    SPIGOT,
    TEE,
    Case,
)

from upstroke_service.reference.sources import SOURCES
from upstroke_service.sizing import hookup_circumstances, hookups
from upstroke_service.sizing.hookup_circumstances import Outlet

NO_TEE, NO_DRAIN, NO_HYDRANT, NO_SPIGOT = (
    Case(one.way, listed=False) for one in (TEE, DRAIN, HYDRANT, SPIGOT)
)

RULES: list[tuple[str, str, Case, Case]] = [
    ("refusal", "public_main_connected", TEE.but(public_main="yes"), TEE.but(public_main="unknown")),
    ("refusal", "public_main_connected", OPEN.but(public_main="yes"), OPEN),
    ("refusal", "vacuum_breaker", SPIGOT.but(vacuum_breaker="yes"), SPIGOT.but(vacuum_breaker="unknown")),
    ("refusal", "vacuum_breaker", DRAIN.but(vacuum_breaker="yes"), DRAIN),
    ("refusal", "sanitary_hydrant", HYDRANT.but(sanitary="yes"), HYDRANT.but(sanitary="unknown")),
    ("refusal", "tank_corroded", DRAIN.but(tank_condition="corroded"), DRAIN.but(tank_condition="unknown")),
    ("refusal", "no_pressure_room", TEE.but(limit=28 * PSI), TEE.but(limit=29 * PSI)),
    ("refusal", "open_tank", SPIGOT.but(open_tank=True), SPIGOT),
    ("condition", "public_main_unknown", TEE.but(public_main="unknown"), TEE),
    ("condition", "only_if_there", NO_SPIGOT, SPIGOT),
    ("condition", "plumber_makes_it", NO_TEE, TEE),
    ("condition", "vacuum_breaker_unknown", SPIGOT.but(vacuum_breaker="unknown"), SPIGOT),
    ("condition", "vacuum_breaker_unknown", NO_HYDRANT, TEE.but(vacuum_breaker="unknown")),
    ("condition", "sanitary_unknown", HYDRANT.but(sanitary="unknown"), SPIGOT.but(sanitary="unknown")),
    ("condition", "code_allows_hydrant", HYDRANT, SPIGOT),
    ("condition", "code_allows_spigot", SPIGOT, HYDRANT),
    ("condition", "relief_valve_absent", TEE.but(relief_valve="no"), TEE),
    ("condition", "relief_valve_unknown", TEE.but(relief_valve="unknown"), OPEN.but(relief_valve="unknown")),
    ("condition", "stop_below_target", DRAIN.but(limit=49 * PSI, stop=49 * PSI), DRAIN.but(limit=50 * PSI)),
    ("condition", "check_valve_absent", DRAIN.but(check_valve="no"), DRAIN.but(check_valve="unknown")),
    ("condition", "casing_full", DRAIN.but(casing_room=0.038), DRAIN.but(casing_room=0.039)),
    ("condition", "pit_at_tank", DRAIN.but(well_pit="yes"), HYDRANT.but(well_pit="yes")),
    ("advantage", "air_gap", OPEN, TEE),
    ("advantage", "made_for_it", TEE, DRAIN),
    ("advantage", "at_the_tank", DRAIN, TEE),
    ("advantage", "drains_itself", HYDRANT.but(freezes="unknown"), HYDRANT.but(freezes="no")),
    ("advantage", "outdoors", SPIGOT, DRAIN),
    ("advantage", "near", DRAIN.but(distance=99.9 * FOOT), DRAIN.but(distance=None)),
    ("drawback", "far", DRAIN.but(distance=100.1 * FOOT), DRAIN.but(distance=99.9 * FOOT)),
    ("drawback", "high", DRAIN.but(rise=10.1 * FOOT), DRAIN.but(rise=9.9 * FOOT)),
    ("drawback", "no_pressure", OPEN, SPIGOT),
    ("drawback", "plumbers_work", NO_TEE, TEE),
    ("drawback", "hose_indoors", DRAIN, SPIGOT),
    ("drawback", "drain_in_the_soil", HYDRANT, SPIGOT),
    ("drawback", "once_only", HYDRANT, TEE),
    ("drawback", "meant_for_draining", DRAIN, TEE),
    ("drawback", "spigot_freezes", SPIGOT, SPIGOT.but(freezes="no")),
    ("check", "well_pit", HYDRANT.but(well_pit="yes"), HYDRANT),
    ("check", "well_pit_unknown", HYDRANT.but(well_pit="unknown"), HYDRANT.but(well_pit="yes")),
    ("check", "vacuum_breaker_look", DRAIN.but(vacuum_breaker="unknown"), SPIGOT.but(vacuum_breaker="unknown")),
    ("check", "nonpotable_sign", HYDRANT, DRAIN),
    ("check", "way_to_the_tank", SPIGOT, DRAIN),
    ("check", "hydrant_seals", HYDRANT, SPIGOT),
    ("check", "drain_valve_sound", DRAIN, TEE),
    ("check", "tank_label", TEE.but(tank_rating_known=False), OPEN.but(tank_rating_known=False)),
    ("check", "tank_sound", TEE.but(tank_condition="unknown"), TEE),
    ("check", "relief_valve_free", TEE, TEE.but(relief_valve="unknown", relief_setting=None)),
    ("check", "gauge_works", DRAIN, OPEN),
    ("check", "pump_can_push", DRAIN, OPEN),
    ("check", "check_valve", DRAIN.but(check_valve="unknown"), DRAIN.but(check_valve="no")),
    ("check", "check_valve_for_rise", OPEN.but(rise=10.1 * FOOT), OPEN.but(rise=9.9 * FOOT)),
    ("check", "clean_tank", OPEN, DRAIN),
    ("check", "joined_to_nothing", OPEN, DRAIN),
    ("check", "pitless_adapter", DRAIN, DRAIN.but(electric_pump="no")),
    ("check", "above_grade", OPEN.but(discharge="above_grade"), OPEN),
    ("check", "discharge_unknown", DRAIN.but(discharge="unknown"), DRAIN),
    ("check", "casing_room", DRAIN, DRAIN.but(casing_room=0.01)),
    ("check", "casing_unknown", DRAIN.but(casing_room=None), DRAIN.but(casing_room=None, electric_pump="no")),
    ("check", "weep_hole_below_frost", DRAIN, DRAIN.but(pump="suction")),
    ("check", "weep_hole_frost_depth_unknown", DRAIN.but(frost_depth=None), DRAIN.but(freezes="no")),
    ("check", "suction_pump_drains", DRAIN.but(pump="suction"), DRAIN.but(pump="suction", freezes="no")),
    ("check", "tee_pipe_frost", TEE, TEE.but(freezes="no")),
    ("check", "pump_kind", DRAIN.but(pump="unknown"), DRAIN),
    ("check", "suction_line", OPEN.but(pump="suction"), OPEN),
    ("check", "foot_valve", DRAIN.but(pump="suction"), DRAIN.but(pump="unknown")),
    ("part", "hose", DRAIN, DRAIN.but(distance=None)),
    ("part", "hose", DRAIN.but(distance=None, hose_length=15.0), TEE),
    ("part", "hose_to_measure", DRAIN.but(distance=None), DRAIN.but(distance=None, hose_length=15.0)),
    ("part", "open_hose", OPEN.but(hose_length=15.0), OPEN),
    ("part", "open_hose_to_measure", OPEN, OPEN.but(hose_length=15.0)),
    ("part", "pipe", TEE, TEE.but(distance=None)),
    ("part", "pipe_to_measure", TEE.but(distance=None), DRAIN.but(distance=None)),
    ("part", "tee_fitting", NO_TEE, TEE),
    ("part", "check_valve", DRAIN, OPEN),
    ("part", "check_valve_for_rise", OPEN.but(rise=10.1 * FOOT), TEE.but(rise=10.1 * FOOT)),
    ("part", "gauge", DRAIN, OPEN),
    ("part", "ball_valve", DRAIN, OPEN),
    ("part", "bleed_valve", TEE, OPEN),
    ("part", "hose_ends", OPEN, TEE),
    ("part", "restraint", SPIGOT, OPEN),
    ("part", "bracket", OPEN, SPIGOT),
    ("part", "lock_and_tag", DRAIN.but(electric_pump="no"), OPEN.but(electric_pump="no")),
    ("part", "relief_valve", DRAIN.but(relief_valve="no"), DRAIN.but(relief_valve="unknown")),
    ("part", "vacuum_breaker", HYDRANT, DRAIN),
    ("part", "well_seal", OPEN.but(electric_pump="unknown"), OPEN.but(electric_pump="no")),
    ("part", "suction_pipe", DRAIN.but(pump="suction"), DRAIN),
    ("part", "foot_valve", DRAIN.but(pump="suction"), DRAIN),
    ("step", "breaker_off", OPEN, DRAIN.but(electric_pump="unknown")),
    ("step", "any_breaker_off", DRAIN.but(electric_pump="no"), OPEN.but(electric_pump="no")),
    ("step", "any_breaker_off", OPEN.but(electric_pump="unknown"), OPEN),
    ("step", "breaker_proved", DRAIN, OPEN),
    ("step", "electric_heater_off", DRAIN, DRAIN.but(water_heater="none")),
    ("step", "gas_heater_off", DRAIN.but(water_heater="gas"), DRAIN),
    ("step", "heater_off", DRAIN.but(water_heater="unknown"), OPEN.but(water_heater="unknown")),
    ("step", "taps_shut", DRAIN, OPEN),
    ("step", "way_open", DRAIN, OPEN),
    ("step", "prime", OPEN.but(pump="suction"), OPEN),
    ("step", "gauge_at_zero", TEE, OPEN),
    ("step", "join_hose", HYDRANT, TEE),
    ("step", "join_pipe", TEE, HYDRANT),
    ("step", "place_end", OPEN, HYDRANT),
    ("step", "leave_end_open", OPEN, HYDRANT),
    ("step", "tie_down", DRAIN, TEE),
    ("step", "bleed_air", DRAIN, OPEN),
    ("step", "open_hydrant_fully", HYDRANT, SPIGOT),
    ("step", "open_valve", SPIGOT, HYDRANT),
    ("step", "watch_gauge", DRAIN, DRAIN.but(supply_known=False)),
    ("step", "watch_gauge_and_usual_stop", DRAIN.but(supply_known=False), OPEN.but(supply_known=False)),
    ("step", "watch_level", OPEN, DRAIN),
    ("step", "try_for_leaks", DRAIN, OPEN),
    ("step", "close_hydrant", HYDRANT, SPIGOT),
    ("step", "close_valve", TEE, HYDRANT),
    ("step", "bleed_pressure", TEE, OPEN),
    ("step", "drain_hose", OPEN, TEE),
    ("step", "drain_pipe", TEE, OPEN),
    ("step", "frost_hose", OPEN, HYDRANT),
    ("step", "frost_hydrant", HYDRANT, SPIGOT),
    ("step", "frost_pipe", TEE, DRAIN),
    ("step", "protect_outlet", SPIGOT, DRAIN),
    ("step", "valves_back", DRAIN, OPEN),
    ("step", "taps_back", DRAIN, OPEN),
    ("step", "electric_heater_on", DRAIN, DRAIN.but(water_heater="none")),
    ("step", "gas_heater_on", DRAIN.but(water_heater="gas"), DRAIN),
    ("step", "heater_on", DRAIN.but(water_heater="unknown"), OPEN.but(water_heater="unknown")),
    ("step", "breaker_on", OPEN, DRAIN.but(electric_pump="unknown")),
    ("step", "any_breaker_on", DRAIN.but(electric_pump="no"), OPEN.but(electric_pump="no")),
]  # fmt: skip
"""Table, code, a case that the rule applies to, and one that only looks like it."""

ALWAYS = {
    ("check", "well_disinfected"),
    ("part", "union"),
    ("part", "caps"),
    ("step", "flush"),
    ("step", "stay_clear"),
}
"""What every way calls for."""


def rows() -> set[tuple[str, str]]:
    return {(table, row.code) for table in PLURALS for row in getattr(hookups.book(), table)}


def test_every_rule_is_covered() -> None:
    assert {(table, code) for table, code, _, _ in RULES} | ALWAYS == rows()


@pytest.mark.parametrize(
    ("table", "code", "case", "other"),
    RULES,
    ids=[f"{number}-{one[0]}-{one[1]}" for number, one in enumerate(RULES)],
)
def test_a_rule_applies_where_it_should_and_not_to_what_only_looks_like_it(
    table: str, code: str, case: Case, other: Case
) -> None:
    assert code in case.codes(table)
    assert code not in other.codes(table)


@pytest.mark.parametrize("case", [TEE, DRAIN, HYDRANT, SPIGOT, OPEN], ids=lambda case: case.way)
def test_every_way_calls_for_what_every_way_calls_for(case: Case) -> None:
    assert {(table, code) for table, code in ALWAYS if code in case.codes(table)} == ALWAYS


def test_the_air_gap_is_twice_the_hose_and_an_inch_at_least() -> None:
    narrow, wide = OPEN.but(bore=0.0127), OPEN.but(bore=0.032)

    assert narrow.judged().figures["air_gap"] == pytest.approx(0.0254)
    assert wide.judged().figures["air_gap"] == pytest.approx(0.064)


def test_hose_and_gauge_are_chosen_for_the_pressures_here() -> None:
    figures = DRAIN.judged().figures

    assert figures["hose_length"] == pytest.approx(1.1 * 12.0)
    assert figures["hose_rating"] == pytest.approx(75 * PSI)  # the relief valve's 75 psi and 1.5 times 50 psi
    assert figures["gauge_range"] == pytest.approx(100 * PSI)
    assert DRAIN.but(relief_setting=100 * PSI).judged().figures["hose_rating"] == pytest.approx(100 * PSI)
    unknown = DRAIN.but(relief_valve="unknown", relief_setting=None).judged()
    assert unknown.figures["hose_rating"] == pytest.approx(1.5 * 50 * PSI)


def ranked(*outlets: Outlet, **changes: Any) -> list[str]:
    """The ways that harmless premises with these connections allow, best first."""
    place = msgspec.structs.replace(HARMLESS, outlets=outlets, **changes)
    return [way.way for way in hookups.decide(place).ways]


SAFE: dict[str, Any] = {"vacuum_breaker": "no", "sanitary": "no"}
EVERYTHING = tuple(Outlet(kind=kind, **SAFE) for kind in ("spigot", "yard_hydrant", "tank_drain", "tee"))


def test_a_tee_comes_first_and_a_hydrant_before_a_spigot_in_frost_only() -> None:
    assert ranked(*EVERYTHING) == ["tee", "tank_drain", "yard_hydrant", "spigot"]
    assert ranked(*EVERYTHING, freezes="no") == ["tee", "tank_drain", "spigot", "yard_hydrant"]


def test_a_tee_that_has_yet_to_be_made_comes_after_the_tanks_own_drain() -> None:
    assert ranked() == ["tank_drain", "tee", "yard_hydrant", "spigot"]


def test_what_may_lie_in_a_pit_comes_last() -> None:
    assert ranked(*EVERYTHING, well_pit="yes") == ["yard_hydrant", "spigot", "tank_drain", "tee"]


def test_what_has_yet_to_be_looked_at_comes_after_what_is_known() -> None:
    unknown = Outlet(kind="yard_hydrant", vacuum_breaker="unknown", sanitary="no")

    assert ranked(unknown, Outlet(kind="spigot", **SAFE)) == ["spigot", "yard_hydrant"]


def test_of_equals_the_nearest_comes_first_and_then_the_lowest() -> None:
    places = [(20.0, 1.0), (5.0, 2.0), (5.0, 1.0), (None, 0.0)]
    outlets = [Outlet(kind="tank_drain", distance=far, rise=up, **SAFE) for far, up in places]
    decision = hookups.decide(msgspec.structs.replace(HARMLESS, outlets=tuple(outlets)))

    assert [way.index for way in decision.ways] == [2, 1, 0, 3]


def test_where_no_listed_connection_will_do_what_is_usually_there_is_offered() -> None:
    decision = SPIGOT.but(vacuum_breaker="yes").decide()

    assert [(one.way, one.index) for one in decision.refused] == [("spigot", 0)]
    assert [(one.way, one.index) for one in decision.ways][:2] == [("tank_drain", None), ("tee", None)]
    assert "spigot" not in [one.way for one in decision.ways]


def test_where_one_listed_connection_will_do_nothing_else_is_offered() -> None:
    assert [one.way for one in DRAIN.decide().ways] == ["tank_drain"]


def test_a_harmless_place_at_the_tank_is_advised_without_conditions() -> None:
    assert DRAIN.judged().verdict == "advised"
    assert TEE.judged().verdict == "advised"
    assert OPEN.judged().verdict == "advised"


QUESTIONS: dict[str, Case] = {
    "/site/public_water_connection": DRAIN.but(public_main="unknown"),
    "/site/connections": NO_DRAIN,
    "/site/connections/*/vacuum_breaker": SPIGOT.but(vacuum_breaker="unknown"),
    "/site/connections/*/sanitary": HYDRANT.but(sanitary="unknown"),
    "/site/relief_valve": DRAIN.but(relief_valve="unknown"),
    "/site/supply": DRAIN.but(supply_known=False),
    "/tank/kind": DRAIN.but(tank_kind_known=False),
    "/tank/condition": DRAIN.but(tank_condition="unknown"),
    "/tank/maximum_working_pressure": DRAIN.but(tank_rating_known=False),
    "/site/electric_pump": DRAIN.but(electric_pump="unknown"),
    "/site/discharge": DRAIN.but(discharge="unknown"),
    "/well/casing_inside_diameter": DRAIN.but(casing_room=None),
    "/site/connections/*/distance": DRAIN.but(distance=None),
    "/site/freezes": DRAIN.but(freezes="unknown"),
    "/site/connections/*/rise": DRAIN.but(rise=None),
    "/site/well_pit": DRAIN.but(well_pit="unknown"),
    "/conduit/check_valve": DRAIN.but(check_valve="unknown"),
    "/site/frost_depth": DRAIN.but(frost_depth=None),
    "/pump/kind": DRAIN.but(pump="unknown"),
    "/site/water_heater": DRAIN.but(water_heater="unknown"),
}
"""What is not known, by the question that it raises."""


def test_every_question_is_covered() -> None:
    assert list(QUESTIONS) == [question.pointer for question in hookups.book().question]


@pytest.mark.parametrize(("pointer", "case"), QUESTIONS.items(), ids=QUESTIONS)
def test_what_is_not_known_is_asked_and_nothing_else(pointer: str, case: Case) -> None:
    asked = [(one.pointer, one.index) for one in case.decide().questions]

    assert asked == [(pointer, 0 if "*" in pointer else None)]


def test_where_everything_is_known_nothing_is_asked() -> None:
    assert [case.decide().questions for case in (TEE, DRAIN, HYDRANT, SPIGOT, OPEN)] == [()] * 5


@pytest.mark.parametrize("table", PLURALS)
def test_every_rule_rests_on_known_sources(table: str) -> None:
    rows = getattr(hookups.book(), table)

    assert all(row.basis and set(row.basis) <= set(SOURCES) for row in rows)


def test_every_circumstance_and_every_number_is_named_by_a_rule() -> None:
    book = hookups.book()
    conditions = itertools.chain.from_iterable(getattr(book, name) for name in book.__struct_fields__)
    points = itertools.chain.from_iterable(getattr(book, name) for name in PLURALS if name != "part")
    numbers = {name for point in points for name in (point.value, point.limit)}
    numbers |= {name for part in book.part for name in (part.length, part.rating)}

    assert set().union(*(one.circumstances() for one in conditions)) == hookup_circumstances.CIRCUMSTANCES
    assert numbers - {""} == hookup_circumstances.FIGURES


def faulty(table: str, **changes: Any) -> hookups.Book:
    """The rules with the first row of a table changed."""
    book = hookups.book()
    first, *rest = getattr(book, table)
    return msgspec.structs.replace(book, **{table: (msgspec.structs.replace(first, **changes), *rest)})


@pytest.mark.parametrize(
    ("table", "changes", "message"),
    [
        ("way", {"all": ("full_moon",)}, "way tee names unknown circumstances: full_moon"),
        ("place", {"any": ("not full_moon",)}, "names unknown circumstances: full_moon"),
        ("place", {"way": "bucket"}, "unknown: bucket"),
        ("place", {"way": "tee"}, "ways: unknown: open_end"),
        ("check", {"all": ("full_moon",)}, "well_pit names unknown circumstances: full_moon"),
        ("check", {"ways": ("bucket",)}, "ways of well_pit: unknown: bucket"),
        ("check", {"basis": ("hearsay",)}, "hookups.toml: not in sources.toml: hearsay"),
        ("check", {"value": "wind"}, "numbers of well_pit: unknown: wind"),
        ("check", {"code": "well_pit_unknown"}, "a code is used twice"),
        ("part", {"length": "wind"}, "numbers of hose: unknown: wind"),
        ("step", {"phase": "restore"}, "steps are not in the order of their phases"),
        ("question", {"all": ("full_moon",)}, "names unknown circumstances: full_moon"),
    ],
)  # fmt: skip
def test_a_faulty_rule_is_refused(table: str, changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        hookups.checked(faulty(table, **changes))
