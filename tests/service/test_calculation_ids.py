"""The same facts give the same answer under the same id, in whatever order they come."""

import itertools
from typing import Any

import pytest
from tests.service.in_process import CALCULATIONS, start
from tests.service.sites import CYLINDER, SITE, changed, feet, inches, own, psi

from upstroke_service.contract.requests import SizingRequest

SERVICE = start()
PATHS = [f"/v1/{name}" for name in CALCULATIONS]


def id_of(path: str, body: object) -> str:
    calculation_id: str = SERVICE.answer(path, body)["calculation_id"]
    return calculation_id


def without_id(answer: dict[str, Any]) -> dict[str, Any]:
    return {field: value for field, value in answer.items() if field != "calculation_id"}


def backwards(facts: Any) -> Any:
    """The same facts with the fields of every object in the opposite order."""
    if isinstance(facts, dict):
        return {field: backwards(value) for field, value in reversed(facts.items())}
    return [backwards(item) for item in facts] if isinstance(facts, list) else facts


@pytest.mark.parametrize("path", PATHS)
def test_asking_twice_gives_the_same_answer(path: str) -> None:
    assert SERVICE.answer(path, SITE) == SERVICE.answer(path, SITE)
    assert start().answer(path, SITE) == SERVICE.answer(path, SITE)


@pytest.mark.parametrize("path", PATHS)
def test_the_order_of_fields_changes_nothing(path: str) -> None:
    assert SERVICE.answer(path, backwards(SITE)) == SERVICE.answer(path, SITE)


@pytest.mark.parametrize("path", PATHS)
def test_the_callers_reference_is_echoed_and_not_part_of_the_calculation(path: str) -> None:
    named = SERVICE.answer(path, {**SITE, "client_reference": "quote 12"})
    unnamed = SERVICE.answer(path, SITE)

    assert named.pop("client_reference") == "quote 12"
    assert "client_reference" not in unnamed
    assert named == unnamed


@pytest.mark.parametrize("path", PATHS)
def test_another_fact_another_unit_system_or_another_question_is_another_calculation(path: str) -> None:
    ids = [
        id_of(path, SITE),
        id_of(f"{path}?units=si", SITE),
        id_of(path, changed({"/well/static_water_level": feet(41)})),
        id_of(path, changed({"/tank/precharge": psi(27)})),
    ]

    assert len(set(ids)) == len(ids)


def test_each_calculation_of_the_same_facts_has_an_id_of_its_own() -> None:
    ids = [id_of(path, SITE) for path in PATHS]

    assert len(set(ids)) == len(ids)


def test_the_system_of_units_is_us_unless_asked_otherwise() -> None:
    assert SERVICE.answer("/v1/sizings", SITE) == SERVICE.answer("/v1/sizings?units=us", SITE)


OWN = (
    CYLINDER,
    {**CYLINDER, "id": "wider", "bore": inches(2.5), "rated_lift": feet(110)},
    {**CYLINDER, "id": "narrower", "bore": inches(1.25), "rated_lift": feet(350)},
)


@pytest.mark.parametrize("path", ["/v1/lift-budgets", "/v1/stroke-estimates", "/v1/sizings"])
def test_the_order_of_own_cylinders_changes_nothing(path: str) -> None:
    answers = [without_id(SERVICE.answer(path, own(*order))) for order in itertools.permutations(OWN)]

    for answer in answers:
        # An assumption about an own cylinder names its place in the list.
        answer["assumptions"] = sorted(one["text"] for one in answer["assumptions"])
    assert all(answer == answers[0] for answer in answers)


def test_the_order_of_chosen_ids_changes_nothing() -> None:
    ids = ["lift-2-150", "suction-3-70", "lift-1-350"]
    answers = [
        without_id(SERVICE.answer("/v1/sizings", changed({"/selection": {"ids": list(order)}})))
        for order in itertools.permutations(ids)
    ]

    assert all(answer == answers[0] for answer in answers)


def test_every_answer_names_the_version_of_its_models() -> None:
    versions = {SERVICE.answer(path, SITE)["model_version"] for path in PATHS}

    assert versions == {SERVICE.get("/livez").json()["model_version"]}


def test_a_number_is_the_same_however_it_is_written() -> None:
    spellings = (b"40", b"40.0", b"4e1", b"4.0E+1")
    bodies = [
        b'{"well": {"static_water_level": {"value": %s, "unit": "ft"}}}' % spelling for spelling in spellings
    ]

    assert len({id_of("/v1/sizings", body) for body in bodies}) == 1


def test_what_the_contract_would_fill_in_may_be_said_without_changing_the_calculation() -> None:
    said = changed(
        {"/points": SizingRequest().points, "/conduit": {"fittings": [{"kind": "elbow_90", "count": 1}]}}
    )
    unsaid = changed({"/conduit": {"fittings": [{"kind": "elbow_90"}]}})

    assert SERVICE.answer("/v1/sizings", said) == SERVICE.answer("/v1/sizings", unsaid)
