"""Who pumps: the profiles that the service lists, and what it reads from a request about people."""

from typing import Any

import msgspec
import pytest
from msgspec import UNSET

from upstroke_service.api import listings
from upstroke_service.api.assumed import Reading
from upstroke_service.api.compute import Context
from upstroke_service.api.lineups import load_catalogues
from upstroke_service.api.operators import OperatorFacts, read_operator
from upstroke_service.api.style import style
from upstroke_service.contract.premises import Operator
from upstroke_service.reference.operators import PROFILES
from upstroke_service.settings import Settings
from upstroke_service.units import System

ORDINARY = OperatorFacts(
    power=75.0,
    hand_force_limit=150.0,
    repeated_hand_force=100.0,
    cadence=40.0 / 60.0,
    people=1,
    session=1800.0,
)
FIGURES = {"sustained_power", "hand_force_limit", "cadence", "session"}
POUND_FORCE = 4.4482216152605


def read(**facts: Any) -> tuple[OperatorFacts, Reading]:
    reading = Reading()
    return read_operator(msgspec.convert(facts, Operator), reading), reading


def listed(system: System) -> dict[str, dict[str, Any]]:
    context = Context(load_catalogues(Settings()), style(system, "en"))
    answer = msgspec.to_builtins(listings.operator_list(context))
    return {one["profile"]: one for one in answer["operators"]}


def test_of_whom_nothing_is_said_is_an_ordinary_adult_alone() -> None:
    assert read()[0] == ORDINARY
    assert read_operator(UNSET, Reading()) == ORDINARY


def test_whatever_is_not_said_of_people_is_noted_as_assumed() -> None:
    assumed = read()[1].assumed
    assert set(assumed) == {f"/operator/{name}" for name in FIGURES | {"profile", "people"}}
    assert assumed["/operator/sustained_power"].value == 75.0
    assert assumed["/operator/session"].value == 1800.0


def test_a_profile_sets_what_is_not_stated() -> None:
    facts, reading = read(profile="older_adult", people=2)
    assert facts == OperatorFacts(
        power=50.0, hand_force_limit=100.0, repeated_hand_force=70.0, cadence=0.5, people=2, session=1200.0
    )
    assert set(reading.assumed) == {f"/operator/{name}" for name in FIGURES}
    assert reading.assumed["/operator/hand_force_limit"].value == 100.0


def test_what_is_stated_takes_the_place_of_the_profiles_figures() -> None:
    facts, reading = read(
        profile="youth",
        people=3,
        session={"value": 1, "unit": "h"},
        sustained_power={"value": 60, "unit": "W"},
        hand_force_limit={"value": 200, "unit": "N"},
        cadence={"value": 30, "unit": "1/min"},
    )
    stated = OperatorFacts(
        power=60.0, hand_force_limit=200.0, repeated_hand_force=70.0, cadence=0.5, people=3, session=3600.0
    )
    assert facts == pytest.approx(stated, rel=1e-12)
    assert reading.assumed == {}


def test_a_limit_below_what_is_comfortable_makes_less_comfortable() -> None:
    facts, _ = read(hand_force_limit={"value": 60, "unit": "N"})
    assert facts.repeated_hand_force == facts.hand_force_limit == 60.0


def test_every_profile_is_listed_and_one_of_them_is_the_default() -> None:
    entries = listed("us")
    assert list(entries) == list(PROFILES)
    assert [name for name, one in entries.items() if one["default"]] == ["ordinary_adult"]


@pytest.mark.parametrize("name", PROFILES)
def test_a_listed_profile_reads_back_as_it_is_listed(name: str) -> None:
    entry = listed("us")[name]
    stated = {field: entry[field] for field in FIGURES}
    facts, _ = read(profile="youth" if name != "youth" else "strong_adult", **stated)
    by_profile, _ = read(profile=name)
    # The listing has 6 significant digits.
    for field in ("power", "hand_force_limit", "cadence", "session"):
        assert getattr(facts, field) == pytest.approx(getattr(by_profile, field), rel=1e-5)


def test_figures_come_in_the_units_that_were_asked_for() -> None:
    us, si = listed("us")["strong_adult"], listed("si")["strong_adult"]
    assert us["hand_force_limit"] == {"value": pytest.approx(200.0 / POUND_FORCE, rel=1e-5), "unit": "lbf"}
    assert si["hand_force_limit"] == {"value": 200.0, "unit": "N"}
    assert si["repeated_hand_force"] == {"value": 130.0, "unit": "N"}
    assert us["sustained_power"] == si["sustained_power"] == {"value": 100.0, "unit": "W"}
    assert us["cadence"] == si["cadence"] == {"value": 45.0, "unit": "1/min"}
    assert us["session"] == si["session"] == {"value": 60.0, "unit": "min"}


@pytest.mark.parametrize("name", PROFILES)
def test_every_figure_of_a_profile_says_what_it_rests_on(name: str) -> None:
    basis = listed("si")[name]["basis"]
    assert {one["figure"] for one in basis} == FIGURES | {"repeated_hand_force"}
    assert all(one["text"].endswith(".") and one["sources"] for one in basis)
    assert all(source["citation"] for one in basis for source in one["sources"])
