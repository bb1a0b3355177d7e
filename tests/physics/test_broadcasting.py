"""Scalars, arrays and grids give the same numbers, and ordinary values give ordinary results."""

import inspect
import itertools
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from tests.physics.public_functions import elementwise_functions, examples

from upstroke_service.physics import fill, friction, pulsation
from upstroke_service.physics.real import Array

FUNCTIONS = elementwise_functions()
EVERY_FUNCTION = pytest.mark.parametrize(("name", "function"), FUNCTIONS.items(), ids=FUNCTIONS)


def as_array(result: Any) -> Array:
    # Of several results, one may not depend on every argument.
    parts = np.broadcast_arrays(*result) if isinstance(result, tuple) else result
    return np.asarray(parts, dtype=np.float64)


@EVERY_FUNCTION
def test_an_array_gives_what_its_elements_give(name: str, function: Callable[..., Any]) -> None:
    given = examples(name, function)
    arrays = {argument: np.array(values) for argument, values in given.items()}
    together = as_array(function(**arrays))
    for index in range(3):
        alone = as_array(function(**{argument: values[index] for argument, values in given.items()}))
        assert alone == pytest.approx(together[..., index], rel=1e-14, abs=0.0)


@EVERY_FUNCTION
def test_each_argument_broadcasts_against_the_others(name: str, function: Callable[..., Any]) -> None:
    given = examples(name, function)
    for column in given:
        grid = {
            argument: np.array(values)[:, np.newaxis] if argument == column else np.array(values)
            for argument, values in given.items()
        }
        together = as_array(function(**grid))
        for row, index in itertools.product(range(3), range(3)):
            picked = {
                argument: values[row if argument == column else index] for argument, values in given.items()
            }
            expected = as_array(function(**picked))
            # A function of one argument has no second axis to broadcast against.
            actual = together[..., row, 0 if len(given) == 1 else index]
            assert expected == pytest.approx(actual, rel=1e-14, abs=0.0)


@EVERY_FUNCTION
def test_every_combination_of_ordinary_values_gives_a_finite_result(
    name: str, function: Callable[..., Any]
) -> None:
    given = examples(name, function)
    # Each argument varies along its own axis, but for the last of the long lists, which vary together.
    axes = min(len(given), 6)
    grid = {
        argument: np.array(values).reshape(
            [-1 if axis == min(number, axes - 1) else 1 for axis in range(axes)]
        )
        for number, (argument, values) in enumerate(given.items())
    }
    assert np.all(np.isfinite(as_array(function(**grid))))


@EVERY_FUNCTION
def test_a_result_is_double_precision(name: str, function: Callable[..., Any]) -> None:
    result = function(**{argument: np.array(values) for argument, values in examples(name, function).items()})
    for part in result if isinstance(result, tuple) else (result,):
        assert part.dtype == np.float64


@EVERY_FUNCTION
def test_arguments_are_left_as_they_were(name: str, function: Callable[..., Any]) -> None:
    given = examples(name, function)
    arrays = {argument: np.array(values) for argument, values in given.items()}
    function(**arrays)
    assert given == {argument: tuple(values) for argument, values in arrays.items()}


def test_default_arguments_are_the_isothermal_and_quiet_ones() -> None:
    defaults = {
        parameter.name: parameter.default
        for function in FUNCTIONS.values()
        for parameter in inspect.signature(function).parameters.values()
        if parameter.default is not inspect.Parameter.empty
    }
    assert defaults == {
        "gas_exponent": 1.0,
        "static_pressure": 0.0,
        "acceleration_head": 0.0,
        "water_bulk_modulus": 2.2e9,
        "taken": 0.0,
        "rest": 0.0,
    }


def test_work_weighted_losses_broadcast() -> None:
    peaks = np.array([[1e-4], [5e-4]])
    diameters = np.array([0.0209, 0.0266, 0.0351])

    def loss_in(diameter: Any) -> Callable[[Any], Any]:
        return lambda flow: friction.head_loss(
            flow, friction.circular_area(diameter), diameter, 30.0, 1.5e-6, 999.1, 1.14e-3
        )

    together = as_array(pulsation.work_weighted(loss_in(diameters[:, np.newaxis]), peaks))
    for row, index in itertools.product(range(2), range(3)):
        alone = pulsation.work_weighted(loss_in(diameters[index]), peaks[row, 0])
        assert alone == pytest.approx(together[row, index], rel=1e-14)


def test_panels_broadcast_over_leading_axes() -> None:
    edges = np.array([[0.0, 1.0, 3.0], [2.0, 2.0, 5.0]])
    nodes, weights = fill.panels(edges, 4)
    for row in range(2):
        alone_nodes, alone_weights = fill.panels(edges[row], 4)
        assert alone_nodes == pytest.approx(nodes[row], rel=1e-15)
        assert alone_weights == pytest.approx(weights[row], rel=1e-15)


def test_the_basis_interpolates_and_integrates_polynomials_exactly() -> None:
    shares = np.linspace(0.0, 1.0, 7).reshape(1, 7)
    nodes, _ = fill.panels(np.array([0.0, 1.0]), 8)
    values, integrals = fill.basis(shares, 8)
    for power in range(8):
        assert values @ nodes**power == pytest.approx(shares**power, abs=1e-11)
        assert integrals @ nodes**power == pytest.approx(shares ** (power + 1) / (power + 1), abs=1e-11)


def test_the_basis_integrates_a_whole_panel_by_its_weights() -> None:
    _, integrals = fill.basis(1.0, 8)
    assert integrals == pytest.approx(fill.panel_weights(8), abs=1e-11)
