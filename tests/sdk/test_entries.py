"""Facts as a person types them."""

import pytest

from upstroke._entries import kind_of, read_entry, with_fact


def kind(pointer: str) -> str:
    return str(kind_of(pointer))


def test_the_kind_of_a_fact_says_what_may_be_typed() -> None:
    assert kind("/well/static_water_level") == "a number and its unit: ft, in, m, cm, mm"
    assert kind("/site/freezes") == "yes, no, unknown"
    assert kind("/site/supply/kind") == "pressure_switch, constant_pressure"
    assert kind("/conduit/runs/0/material").startswith("copper, ")
    assert kind("/operator/people") == "a whole number"
    assert kind("/tank/gas_exponent") == "a number"
    assert kind("/selection/ids/0") == "text"
    for pointer in ("/well", "/conduit/runs", "/well/colour", "/conduit/runs/first/length"):
        assert kind_of(pointer) is None


@pytest.mark.parametrize(
    ("pointer", "typed", "value"),
    [
        ("/well/static_water_level", " 60 feet ", {"value": 60.0, "unit": "ft"}),
        ("/site/freezes", "Y", "yes"),
        ("/site/freezes", "?", "unknown"),
        ("/operator/profile", "Older adult", "older_adult"),
        ("/operator/people", "3", 3),
        ("/tank/gas_exponent", "1.2", 1.2),
        ("/selection/catalogue", "demo", "demo"),
    ],
)
def test_what_is_typed_is_read(pointer: str, typed: str, value: object) -> None:
    found = kind_of(pointer)
    assert found is not None
    assert read_entry(typed, found) == value


@pytest.mark.parametrize(
    ("pointer", "typed"),
    [
        ("/well/static_water_level", "60"),
        ("/well/static_water_level", "psi"),
        ("/well/static_water_level", "deep"),
        ("/site/freezes", "maybe"),
        ("/operator/people", "2.5"),
        ("/tank/gas_exponent", "much"),
    ],
)
def test_what_makes_no_sense_is_refused(pointer: str, typed: str) -> None:
    found = kind_of(pointer)
    assert found is not None
    with pytest.raises(ValueError, match=typed):
        read_entry(typed, found)


def test_a_fact_is_put_in_its_place_and_nothing_else_changes() -> None:
    facts = {"conduit": {"runs": [{"length": 1}]}}

    assert with_fact(facts, "/well/well_depth", 3) == {**facts, "well": {"well_depth": 3}}
    assert with_fact(facts, "/conduit/runs/0/length", 2) == {"conduit": {"runs": [{"length": 2}]}}
    assert with_fact(facts, "/conduit/runs/1/length", 2) == {
        "conduit": {"runs": [{"length": 1}, {"length": 2}]}
    }
    assert with_fact({}, "/selection/ids/0", "a") == {"selection": {"ids": ["a"]}}
    assert with_fact({"selection": {"ids": ["a"]}}, "/selection/ids/0", "b") == {"selection": {"ids": ["b"]}}
    assert facts == {"conduit": {"runs": [{"length": 1}]}}


@pytest.mark.parametrize("pointer", ["/conduit/runs/2/length", "/conduit/runs/x/length", "/points/x"])
def test_a_place_that_is_not_there_is_refused(pointer: str) -> None:
    with pytest.raises(ValueError, match="something else"):
        with_fact({"conduit": {"runs": [{}]}, "points": 3}, pointer, 1)
