"""The client's methods and the contract's operations: none is missing, each fits."""

import asyncio
import inspect
from collections.abc import AsyncIterator, Iterator
from typing import Any, get_args, get_type_hints

import msgspec
import pytest
from tests.sdk.contract_document import contract
from tests.sdk.fake_transport import Answering, FakeTransport, reply

import upstroke
from upstroke import _models, _operations
from upstroke._operations import Calculation, Formula, InLines, Operation

KNOWN: dict[str, Operation[msgspec.Struct]] = {
    value.operation_id: value for value in vars(_operations).values() if isinstance(value, Operation)
}
METHODS = {
    "advise_hookups": "hookups",
    "compute_lift_budgets": "lift_budgets",
    "compute_tank_curve": "tank_curve",
    "estimate_strokes": "stroke_estimates",
    "estimate_water_needs": "water_needs",
    "list_cautions": "cautions",
    "size_pump": "size",
    "size_pumps": "size_many",
    "list_catalogues": "catalogues",
    "get_catalogue": "catalogue",
    "list_units": "units",
    "list_defaults": "defaults",
    "list_operators": "operators",
    "list_water_uses": "water_uses",
    "get_hand_force": "hand_force",
    "get_lift_margin": "lift_margin",
    "get_pumping_time": "pumping_time",
    "get_recommended_cylinder": "recommended_cylinder",
    "get_stored_pressure": "stored_pressure",
    "get_strokes": "strokes",
    "get_tank_drawdown": "tank_drawdown",
    "get_total_head": "total_head",
    "check_live": "live",
    "check_ready": "ready",
}
ANSWERING = {"format", "units"}
PRINTING = {"paper"}
"""Parameters of reports alone."""
DESCRIBED = {
    operation["operationId"]: (method.upper(), path, operation)
    for path, methods in contract()["paths"].items()
    for method, operation in methods.items()
}


def test_every_operation_of_the_contract_has_a_method_and_every_method_an_operation() -> None:
    assert set(DESCRIBED) == set(METHODS) == set(KNOWN)
    for client in (upstroke.Client, upstroke.AsyncClient):
        public = {name for name, _ in inspect.getmembers(client, inspect.isfunction) if name[0] != "_"}
        assert set(METHODS.values()) == public - {"close", "report"}


@pytest.mark.parametrize("operation_id", sorted(DESCRIBED))
def test_an_operation_goes_where_the_contract_says_and_takes_and_gives_what_it_says(
    operation_id: str,
) -> None:
    method, path, described = DESCRIBED[operation_id]
    known = KNOWN[operation_id]
    asked = described.get("requestBody", {}).get("content", {}).get(known.media_type, {}).get("schema")
    told = described["responses"]["200"]["content"][known.media_type]["schema"]

    assert (known.method, known.path) == (method, path)
    assert schema_name(asked) == (known.request.__name__ if isinstance(known, Calculation) else None)
    if isinstance(known, InLines):
        kinds = {kind.__name__ for kind in (*get_args(upstroke.BatchLine), _models.BatchEnd)}
        assert {schema_name(one) for one in told["anyOf"]} == kinds
    elif isinstance(known, Formula):
        facts = get_type_hints(known.query)
        assert set(facts) == {name for name in named(described) if not name.endswith("_unit")} - ANSWERING
    else:
        assert schema_name(told) == known.answer.__name__


@pytest.mark.parametrize("operation_id", sorted(DESCRIBED))
def test_a_method_sends_the_parameters_of_its_operation_and_no_others(operation_id: str) -> None:
    transport = FakeTransport([reply({"status": "the wrong answer"})] * 2)
    taken_by: dict[str, list[Any]] = {"get_catalogue": ["a b"], "size_pumps": [[{}]]}
    arguments = taken_by.get(operation_id, [])
    facts = example(DESCRIBED[operation_id][2]) if isinstance(KNOWN[operation_id], Formula) else {}
    method = getattr(upstroke.Client(transport=transport, units="si"), METHODS[operation_id])
    with pytest.raises(upstroke.UnexpectedResponseError):
        taken(method(*arguments, **facts))
    awaited = getattr(upstroke.AsyncClient(transport=Answering(transport), units="si"), METHODS[operation_id])
    with pytest.raises(upstroke.UnexpectedResponseError):
        asyncio.run(awaiting(awaited(*arguments, **facts)))

    call, other = transport.calls
    assert (call.method, call.path, call.query, call.body) == (
        other.method,
        other.path,
        other.query,
        other.body,
    )
    assert set(call.query) == named(DESCRIBED[operation_id][2]) - PRINTING
    assert call.path == DESCRIBED[operation_id][1].replace("{name}", "a%20b")


def taken(answer: Any) -> Any:
    """An answer, or all of one that comes line by line."""
    return list(answer) if isinstance(answer, Iterator) else answer


async def awaiting(answer: Any) -> Any:
    """The same where it has to be awaited."""
    return [line async for line in answer] if isinstance(answer, AsyncIterator) else await answer


def named(operation: dict[str, Any]) -> set[str]:
    """Parameters of the query."""
    return {each["name"] for each in operation.get("parameters", []) if each["in"] == "query"}


def example(operation: dict[str, Any]) -> dict[str, Any]:
    """Facts for every parameter of a formula, those with a unit as one text."""
    queried = [each for each in operation["parameters"] if each["in"] == "query"]
    values = {each["name"]: each["example"] for each in queried if "example" in each}
    return {
        name: f"{value} {values[f'{name}_unit']}" if f"{name}_unit" in values else value
        for name, value in values.items()
        if not name.endswith("_unit")
    }


def schema_name(schema: dict[str, str] | None) -> str | None:
    return schema["$ref"].rpartition("/")[2] if schema else None
