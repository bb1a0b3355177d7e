"""The profiles of operators against the figures that they are drawn from, and against each other."""

import pytest

from upstroke_service.physics.operator import krendel_power
from upstroke_service.reference.operators import PROFILES, OperatorProfile, profile
from upstroke_service.reference.table import InvalidTable, decode
from upstroke_service.sizing import defaults
from upstroke_service.sizing.defaults import Stated

EVERY_PROFILE = pytest.mark.parametrize("one", PROFILES.values(), ids=PROFILES)
ORDINARY = profile("ordinary_adult")


def row(**changes: str) -> str:
    """A profile as a table has it."""
    figures = {name: '{ value = 1, sources = ["common-practice"] }' for name, _ in ORDINARY.figures()}
    return "[giant]\n" + "\n".join(f"{name} = {value}" for name, value in {**figures, **changes}.items())


def test_an_ordinary_adult_is_what_the_trade_plans_on() -> None:
    # Common practice: 75 W, 150 N for short work, 100 N again and again, 40 strokes a minute.
    assert ORDINARY.power_at_fifteen_minutes.value == 75.0
    assert ORDINARY.hand_force_limit.value == 150.0
    assert ORDINARY.repeated_hand_force.value == 100.0
    assert ORDINARY.cadence == pytest.approx(40.0 / 60.0)
    assert ORDINARY.longest_session.value == 1800.0


def test_strong_arms_give_what_is_left_of_legs() -> None:
    # Franklin 1983, abstract: greatest load of arms 675 kpm/min, of legs 1 230; Krendel: trained men.
    expected = 675.0 / 1230.0 * krendel_power(900.0)
    assert profile("strong_adult").power_at_fifteen_minutes.value == pytest.approx(expected, rel=0.03)


def test_an_older_adult_has_lost_a_fifth_by_60_and_an_eighth_in_the_decade_after() -> None:
    # 'Man as a power source': about 20 % less at 60 than at 35; Hurley 1995: 12 to 15 % per decade.
    expected = 75.0 * 0.80 * 0.87
    assert profile("older_adult").power_at_fifteen_minutes.value == pytest.approx(expected, rel=0.05)


def test_a_youth_has_power_and_force_by_body_mass() -> None:
    # CDC growth charts (from memory): a median of about 50 kg at 14; an adult of 75 kg.
    youth = profile("youth")
    assert youth.power_at_fifteen_minutes.value == pytest.approx(50.0 / 75.0 * 75.0)
    assert youth.hand_force_limit.value == pytest.approx(50.0 / 75.0 * 150.0)


@pytest.mark.parametrize(
    ("name", "figure", "newtons"),
    # HSE, guideline figures for pushing and pulling, men and women: 200 and 150 N to start or stop a
    # load, 100 and 70 N to keep it in motion.
    [
        ("strong_adult", "hand_force_limit", 200.0),
        ("ordinary_adult", "hand_force_limit", 150.0),
        ("ordinary_adult", "repeated_hand_force", 100.0),
        ("older_adult", "repeated_hand_force", 70.0),
        ("youth", "repeated_hand_force", 70.0),
    ],
)
def test_hand_forces_are_guideline_figures(name: str, figure: str, newtons: float) -> None:
    assert dict(profile(name).figures())[figure].value == newtons


def test_whoever_is_not_at_work_pulls_no_more_than_the_whole_population_can() -> None:
    # EN 1005-3 (from memory): 96 N for pulling while standing, domestic use.
    for name in ("older_adult", "youth"):
        assert profile(name).hand_force_limit.value == pytest.approx(96.0, rel=0.05)


@EVERY_PROFILE
def test_force_again_and_again_is_less_than_for_short_work(one: OperatorProfile) -> None:
    assert 0.5 <= one.repeated_hand_force.value / one.hand_force_limit.value < 0.75


@EVERY_PROFILE
def test_nobody_is_stronger_than_trained_men_with_their_legs(one: OperatorProfile) -> None:
    assert one.power_at_fifteen_minutes.value < krendel_power(900.0)


@EVERY_PROFILE
def test_a_profile_lies_within_what_a_caller_would_plausibly_state(one: OperatorProfile) -> None:
    figures = {
        "sustained_power": one.power_at_fifteen_minutes.value,
        "hand_force_limit": one.hand_force_limit.value,
        "cadence": one.cadence,
        "session": one.longest_session.value,
    }
    for field, value in figures.items():
        default = defaults.table()[f"/operator/{field}"]
        assert isinstance(default.low, Stated)
        assert isinstance(default.high, Stated)
        assert default.low.si <= value <= default.high.si


def test_people_stand_in_the_order_of_their_strength() -> None:
    strong, older, youth = (profile(name) for name in ("strong_adult", "older_adult", "youth"))
    for figure in ("power_at_fifteen_minutes", "hand_force_limit", "repeated_hand_force", "longest_session"):
        powers = [dict(one.figures())[figure].value for one in (strong, ORDINARY, older)]
        assert powers == sorted(powers, reverse=True)
        assert dict(youth.figures())[figure].value < dict(ORDINARY.figures())[figure].value


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (row(cadence="{ value = 1, sources = ['common-practice'] }"), "unknown field `cadence`"),
        (row(hand_force_limit="{ value = 0, sources = ['common-practice'] }"), "> 0.0"),
        (row(longest_session="{ value = 60, sources = [] }"), "length >= 1"),
        (row(longest_session="{ value = 60 }"), "missing required field `sources`"),
    ],
    ids=["unknown-field", "not-positive", "no-source", "sources-missing"],
)
def test_a_faulty_profile_is_refused(text: str, message: str) -> None:
    assert decode(row(), "operators.toml", dict[str, OperatorProfile])["giant"].cadence == 1.0 / 60.0
    with pytest.raises(InvalidTable, match=r"^operators\.toml: ") as refusal:
        decode(text, "operators.toml", dict[str, OperatorProfile])
    assert message in str(refusal.value)
