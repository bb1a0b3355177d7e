"""The physics against published, library and worked values: one case per value, named by its quantity."""

import collections
import operator as operators

import pytest
from tests.physics.computed import COMPUTED, computed
from tests.physics.public_functions import public_functions
from tests.physics.published_values import COMPARISONS, KINDS, PublishedValue, all_values, comparison, sources

VALUES = all_values()
NUMERICS = ("fill.basis", "fill.panel_weights", "fill.panels", "pulsation.half_sine_nodes")
"""Quadrature: it has no value of its own in nature, and is held to exact integrals instead."""


def case_name(value: PublishedValue) -> str:
    """Name a case by the quantity and the value."""
    return f"{value.quantity}: {value.id}"


@pytest.mark.parametrize("value", VALUES, ids=case_name)
def test_the_physics_agrees_with_a_check_value(value: PublishedValue) -> None:
    actual = computed(value)
    wanted = f"{value.expected:g} ± {value.tolerance:g}"
    assert value.allows(actual), (
        f"{value.quantity}: expected {wanted}, got {actual:g} ({value.source.title}, {value.locator})"
    )


def test_every_quantity_is_computed_and_nothing_is_computed_without_a_check_value() -> None:
    assert sorted({value.quantity for value in VALUES}) == sorted(COMPUTED)


def test_a_quantity_is_named_by_the_function_that_it_checks() -> None:
    functions = public_functions()
    assert [name for name in COMPUTED if ".".join(name.split(".")[:2]) not in functions] == []


def test_every_formula_of_the_physics_has_check_values() -> None:
    checked = {".".join(name.split(".")[:2]) for name in COMPUTED}
    assert sorted(set(public_functions()) - checked) == sorted(NUMERICS)


def test_at_least_three_hundred_values_are_checked() -> None:
    assert len(VALUES) >= 300


def test_most_values_come_from_outside_this_project() -> None:
    outside = [value for value in VALUES if value.kind in ("published", "library")]
    assert len(outside) > 0.5 * len(VALUES)


@pytest.mark.parametrize("value", VALUES, ids=operators.attrgetter("id"))
def test_a_value_says_where_it_comes_from_and_why_its_tolerance(value: PublishedValue) -> None:
    assert value.kind in KINDS
    assert value.source.author
    assert value.source.title
    assert value.source.edition
    assert value.locator
    assert value.why_tolerance
    assert value.tolerance > 0.0
    assert value.derivation or value.kind not in ("worked", "library")
    assert value.kind != "memory" or "from memory" in value.source.edition


def test_every_id_is_used_once() -> None:
    counted = collections.Counter(value.id for value in VALUES)
    assert [identifier for identifier, times in counted.items() if times > 1] == []


def test_every_source_is_used() -> None:
    known = sources()
    compared = {known[comparison(name)["source"]] for name in COMPARISONS}
    assert set(known.values()) == {value.source for value in VALUES} | compared
