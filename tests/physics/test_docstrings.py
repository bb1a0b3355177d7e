"""Every public function of the physics says what it takes, in which unit, and on whose authority."""

import inspect
import re
from collections.abc import Callable
from typing import Any

import pytest
from tests.physics.public_functions import public_functions

FUNCTIONS = public_functions()
EVERY_FUNCTION = pytest.mark.parametrize("function", FUNCTIONS.values(), ids=FUNCTIONS)
UNIT = re.compile(
    r"(?<![\w·])(m³/Pa|m³/s|m³|m²|kg/m³|N/m³|Pa·s|Pa|1/s|J·s|N|J|W|K|m|s|dimensionless|unit)(?![\w²³])"
)


def documentation(function: Callable[..., Any]) -> str:
    return inspect.getdoc(function) or ""


def test_the_physics_has_public_functions() -> None:
    assert len(FUNCTIONS) >= 35


@EVERY_FUNCTION
def test_a_docstring_names_every_argument(function: Callable[..., Any]) -> None:
    text = documentation(function)
    arguments = inspect.signature(function).parameters
    assert [name for name in arguments if not re.search(rf"(?<!\w){name}(?!\w)", text)] == []


@EVERY_FUNCTION
def test_a_docstring_gives_a_unit(function: Callable[..., Any]) -> None:
    assert UNIT.search(documentation(function))


@EVERY_FUNCTION
def test_a_docstring_names_its_source(function: Callable[..., Any]) -> None:
    stated = [line for line in documentation(function).splitlines() if line.startswith("Source: ")]
    assert len(stated) == 1
    assert len(stated[0]) > len("Source: ") + 3


@EVERY_FUNCTION
def test_a_docstring_begins_with_a_sentence(function: Callable[..., Any]) -> None:
    first = documentation(function).split("\n\n")[0]
    assert first[0].isupper()
    assert first.rstrip()[-1] in ".;:"


@EVERY_FUNCTION
def test_a_public_function_is_fully_annotated(function: Callable[..., Any]) -> None:
    signature = inspect.signature(function)
    annotations = [parameter.annotation for parameter in signature.parameters.values()]
    assert inspect.Signature.empty not in [*annotations, signature.return_annotation]
