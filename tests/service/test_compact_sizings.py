"""A compact sizing, computed with many others at a time, says what the full one of the same facts says alone."""

import json
import random
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.service.batch_lines import compacted
from tests.service.consistency import CONTEXT
from tests.service.random_facts import requests

from upstroke_service.api import bodies
from upstroke_service.api.compact import size_compactly
from upstroke_service.api.compute import Context
from upstroke_service.api.operation import examples
from upstroke_service.api.problems import RequestProblem
from upstroke_service.api.sizings import size
from upstroke_service.api.style import style
from upstroke_service.contract.requests import SizingRequest

SETTINGS = settings(
    max_examples=8,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example],
)
SI = Context(CONTEXT.catalogues, style("si", "en"))
QUOTES = list(examples(SizingRequest).values())


def decoded(facts: object) -> SizingRequest:
    return bodies.decode(msgspec.json.encode(facts), SizingRequest)


def compact(facts: list[Any], context: Context = CONTEXT) -> list[Any]:
    return [
        one.code if isinstance(one, RequestProblem) else json.loads(msgspec.json.encode(one))
        for one in size_compactly([decoded(one) for one in facts], context)
    ]


def alone(facts: Any, context: Context = CONTEXT) -> Any:
    try:
        answer = size(decoded(facts), context)
    except RequestProblem as problem:
        return problem.code
    return compacted(json.loads(msgspec.json.encode(answer)))


@pytest.mark.parametrize("context", [CONTEXT, SI], ids=["us", "si"])
def test_the_demo_quotes_get_the_same_figures_as_alone(context: Context) -> None:
    shuffled = random.Random(7).sample(QUOTES * 3, k=3 * len(QUOTES))  # noqa: S311 - to vary

    assert compact(shuffled, context) == [alone(one, context) for one in shuffled]


@SETTINGS
@given(
    facts=st.lists(requests(SizingRequest), min_size=2, max_size=6), choice=st.randoms(use_true_random=False)
)
def test_random_sites_get_the_same_figures_as_alone(facts: list[Any], choice: random.Random) -> None:
    mixed = [*facts, choice.choice(QUOTES)]
    choice.shuffle(mixed)

    assert compact(mixed) == [alone(one) for one in mixed]
