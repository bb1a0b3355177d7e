"""The table of defaults: every row loads, is plausible by its own range, and says what it rests on."""

import tomllib
from importlib import resources

import pytest

from upstroke_service.reference.operators import PROFILES
from upstroke_service.reference.sources import SOURCES
from upstroke_service.sizing import defaults
from upstroke_service.sizing.defaults import Default, Stated

ROWS = pytest.mark.parametrize("row", defaults.table().values(), ids=defaults.table().keys())


def si(value: Stated | float | str | None) -> float | None:
    """The number in SI, where it is one."""
    if isinstance(value, Stated):
        return value.si
    return float(value) if isinstance(value, (int, float)) else None


def test_no_fact_has_two_defaults() -> None:
    text = resources.files("upstroke_service.sizing").joinpath("defaults.toml").read_text("utf-8")
    fields = [row["field"] for row in tomllib.loads(text)["default"]]
    assert sorted(defaults.table()) == sorted(fields)


@ROWS
def test_a_row_is_a_pointer_with_a_known_source_and_a_weight_for_its_question(row: Default) -> None:
    assert row.field.startswith("/")
    assert row.source in SOURCES
    assert 0 <= row.ask <= 9


@ROWS
def test_a_number_lies_within_its_plausible_range(row: Default) -> None:
    value, low, high = si(row.value), si(row.low), si(row.high)
    if low is None or high is None:
        assert low is None
        assert high is None
    else:
        assert low < high
        assert value is None or low <= value <= high


@ROWS
def test_a_number_is_given_in_si_and_a_word_is_not_a_number(row: Default) -> None:
    expected = si(row.value)
    if expected is None:
        with pytest.raises(TypeError, match=row.field):
            defaults.number(row.field)
    else:
        assert defaults.number(row.field) == expected


@pytest.mark.parametrize(
    ("field", "expected"),
    [
        ("/well/water_temperature", 285.15),
        ("/tank/total_volume", 20 * 231 * 0.0254**3),  # a US gallon is 231 cubic inches
        ("/conduit/cracking_pressure", 0.5 * 0.45359237 * 9.80665 / 0.0254**2),
        ("/operator/people", 1.0),
        ("/tank/gas_exponent", 1.0),
        ("/conduit/rise", 5 * 0.3048),
    ],
)
def test_defaults_are_what_they_say_in_si(field: str, expected: float) -> None:
    assert expected == pytest.approx(defaults.number(field), rel=1e-12)


@pytest.mark.parametrize(
    "field",
    [
        "/well/static_water_level",
        "/tank/maximum_working_pressure",
        "/site/relief_valve",
        "/pressures/target",
        "/well/sustained_yield",
    ],
)
def test_what_must_never_be_assumed_has_no_value(field: str) -> None:
    row = defaults.table().get(field)
    assert row is None or row.value is None


def test_the_assumed_operator_is_one_of_the_profiles_and_sets_the_figures_of_the_operator() -> None:
    assert defaults.table()["/operator/profile"].value in PROFILES
    for field in ("sustained_power", "hand_force_limit", "cadence", "session"):
        assert defaults.table()[f"/operator/{field}"].value is None


def test_a_fact_without_a_row_is_an_error() -> None:
    with pytest.raises(KeyError):
        defaults.number("/well/colour")
