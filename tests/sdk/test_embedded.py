"""The service inside the client's process: the answers of a served one, for every operation."""

import asyncio
import logging
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.sdk.contract_document import ROOT, contract
from tests.sdk.test_operations import METHODS, awaiting, example, taken
from tests.service.running import HOST, running

import upstroke
from upstroke import _embedded

DEMO = ROOT / "service/src/upstroke_service/demo/catalogue.toml"
POSTED = {
    operation["operationId"]: [
        example["value"]
        for example in next(iter(operation["requestBody"]["content"].values()))["examples"].values()
    ]
    for methods in contract()["paths"].values()
    for operation in methods.values()
    if "requestBody" in operation
}
ASKED = {
    operation["operationId"]: example(operation)
    for methods in contract()["paths"].values()
    for operation in methods.values()
    if operation["operationId"].startswith("get_") and operation["operationId"] != "get_catalogue"
}
QUESTIONS: list[tuple[str, list[Any], dict[str, Any]]] = [
    (METHODS[operation], [[facts] if operation == "size_pumps" else facts], {})
    for operation, examples in POSTED.items()
    for facts in examples
] + [
    (method, ["demo"] if operation == "get_catalogue" else [], ASKED.get(operation, {}))
    for operation, method in METHODS.items()
    if operation not in POSTED
]


@pytest.fixture(scope="module")
def served() -> Iterator[upstroke.Client]:
    with running() as server, upstroke.Client(f"http://{HOST}:{server.port}") as client:
        yield client


@pytest.fixture(scope="module")
def embedded() -> Iterator[upstroke.Client]:
    with upstroke.Client.embedded() as client:
        yield client


def test_every_operation_answers_as_a_served_one_does(
    served: upstroke.Client, embedded: upstroke.Client
) -> None:
    async def awaited() -> list[Any]:
        async with upstroke.AsyncClient.embedded() as client:
            return [
                await awaiting(getattr(client, method)(*arguments, **facts))
                for method, arguments, facts in QUESTIONS
            ]

    expected = [taken(getattr(served, method)(*arguments, **facts)) for method, arguments, facts in QUESTIONS]

    assert {method for method, _, _ in QUESTIONS} == set(METHODS.values())
    assert [
        taken(getattr(embedded, method)(*arguments, **facts)) for method, arguments, facts in QUESTIONS
    ] == expected
    assert asyncio.run(awaited()) == expected


def test_so_do_other_units(served: upstroke.Client, embedded: upstroke.Client) -> None:
    request = POSTED["size_pump"][0]

    assert embedded.size(request, units="si") == served.size(request, units="si")
    assert embedded.catalogue("demo", units="si") == served.catalogue("demo", units="si")


@pytest.mark.parametrize(
    ("method", "arguments"),
    [
        ("catalogue", ["nowhere"]),
        ("catalogue", ["a/b c?ü"]),
        ("size", [{"well": {"well_depth": "1 mm", "colour": "blue"}, "points": 1}]),
        ("size", [{"client_reference": "x" * 300_000}]),
        ("tank_curve", [{"pressures": {"start": "50 psi", "target": "40 psi"}}]),
    ],
)
def test_it_refuses_what_a_served_one_refuses(
    served: upstroke.Client, embedded: upstroke.Client, method: str, arguments: list[Any]
) -> None:
    with pytest.raises(upstroke.ApiError) as expected:
        getattr(served, method)(*arguments)
    with pytest.raises(upstroke.ApiError) as refused:
        getattr(embedded, method)(*arguments)

    def said(error: upstroke.ApiError) -> tuple[object, ...]:
        problem = error.problem
        assert problem is not None
        return type(error), error.status, problem.code, problem.detail, problem.errors

    assert said(refused.value) == said(expected.value)
    assert refused.value.request_id


def test_it_answers_many_at_a_time_and_inside_a_running_event_loop(embedded: upstroke.Client) -> None:
    request = POSTED["compute_tank_curve"][0]
    expected = embedded.tank_curve(request)

    async def asked() -> list[upstroke.TankCurve]:
        async with upstroke.AsyncClient.embedded() as client:
            waiting = [client.tank_curve(request) for _ in range(40)]
            # The other client in the same thread, as in a notebook, whose cells run inside a loop.
            assert embedded.tank_curve(request) == expected
            return await asyncio.gather(*waiting)

    assert asyncio.run(asked()) == [expected] * 40


def test_a_catalogue_of_ones_own_takes_the_place_of_the_demo(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(DEMO.read_text().replace('name = "demo"', 'name = "mine"', 1))
    with upstroke.Client.embedded(catalogues=[mine, DEMO]) as client:
        names = {entry.name: entry.default for entry in client.catalogues().catalogues}

    assert names == {"mine": True, "demo": False}


def test_a_catalogue_that_can_not_be_used_is_said_at_once(tmp_path: Path) -> None:
    faulty = tmp_path / "faulty.toml"
    faulty.write_text("invented = 3")
    for path in (faulty, tmp_path / "missing.toml"):
        with pytest.raises(upstroke.UpstrokeError, match=f"can't start: [^$]*{path.name}"):
            upstroke.Client.embedded(catalogues=[path])


def test_where_the_service_is_not_installed_the_message_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(_embedded, "GROUP", "upstroke.none")
    for client in (upstroke.Client, upstroke.AsyncClient):
        with pytest.raises(upstroke.UpstrokeError, match="add the package upstroke-service"):
            client.embedded()


def test_a_key_of_the_environment_is_not_its_business(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("UPSTROKE_API_KEY", "not a key")
    monkeypatch.setenv("UPSTROKE_URL", "nowhere")
    with upstroke.Client.embedded(units="si") as client:
        assert client.catalogue("demo").cylinders[0].bore.unit == "mm"


def threads() -> int:
    return sum(thread.name == "upstroke-service" for thread in threading.enumerate())


def test_closing_ends_its_thread() -> None:
    before = threads()
    client = upstroke.Client.embedded()
    assert client.live().status == "ok"
    assert threads() == before + 1
    client.close()
    client.close()

    assert threads() == before
    with pytest.raises(RuntimeError, match="closed"):
        client.live()


def test_it_leaves_the_logging_of_its_program_alone() -> None:
    root = logging.getLogger()
    before = (root.handlers.copy(), root.level)
    with upstroke.Client.embedded() as client:
        client.live()

    assert (root.handlers, root.level) == before
