"""More work than can be done in time is refused at once, and the rest goes on."""

import asyncio
import threading
import time
from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any

import httpx
import msgspec
import pytest
from litestar import Response, post
from tests.service.in_process import JSON, PROBLEM, start
from tests.service.sites import SITE

from upstroke_service.api.app import create_app
from upstroke_service.api.problems import RequestProblem
from upstroke_service.api.shedding import Work
from upstroke_service.api.web import AnyRequest
from upstroke_service.settings import Settings

FOREVER = 30.0


class Kettle:
    """A calculation that goes on until it is told to end."""

    def __init__(self) -> None:
        self.begun = 0
        self.end = threading.Event()

    def boil(self) -> str:
        self.begun += 1
        assert self.end.wait(FOREVER)
        return "boiled"


async def _settle() -> None:
    """Let every task that can go on do so."""
    for _ in range(10):
        await asyncio.sleep(0)


def test_what_finds_no_place_to_wait_is_refused_at_once_and_the_others_are_done() -> None:
    kettle = Kettle()

    async def busy() -> tuple[list[str], RequestProblem, float]:
        work = Work(at_once=2, most_waiting=1, longest_wait=FOREVER)
        accepted = [asyncio.create_task(work.run(kettle.boil)) for _ in range(3)]
        await _settle()
        began = time.monotonic()
        with pytest.raises(RequestProblem) as refused:
            await work.run(kettle.boil)
        taken = time.monotonic() - began
        kettle.end.set()
        return await asyncio.gather(*accepted), refused.value, taken

    answers, refused, taken = asyncio.run(busy())

    assert answers == ["boiled"] * 3
    assert refused.code == "overloaded"
    assert refused.headers["Retry-After"] == "1"
    assert taken < 0.1


def test_what_waits_too_long_is_refused_and_never_begins() -> None:
    kettle = Kettle()

    async def busy() -> RequestProblem:
        work = Work(at_once=1, most_waiting=5, longest_wait=0.05)
        first = asyncio.create_task(work.run(kettle.boil))
        await _settle()
        with pytest.raises(RequestProblem) as refused:
            await work.run(kettle.boil)
        kettle.end.set()
        await first
        return refused.value

    assert asyncio.run(busy()).code == "overloaded"
    assert kettle.begun == 1


def test_a_place_is_free_again_after_a_calculation_that_failed_or_a_wait_that_was_given_up() -> None:
    async def often() -> tuple[int, int]:
        work = Work(at_once=1, most_waiting=1, longest_wait=FOREVER)
        for _ in range(20):
            with pytest.raises(ZeroDivisionError):
                await work.run(lambda: 1 // 0)
            kettle = Kettle()
            running = asyncio.create_task(work.run(kettle.boil))
            await _settle()
            waiting = asyncio.create_task(work.run(kettle.boil))
            await _settle()
            waiting.cancel()
            kettle.end.set()
            await running
        first, second = await asyncio.gather(work.run(lambda: 1), work.run(lambda: 2))
        return first, second

    assert asyncio.run(often()) == (1, 2)


Asking = Callable[[httpx.AsyncClient], Awaitable[Any]]


def _meanwhile(asking: Asking, **settings: int) -> tuple[Any, httpx.Response]:
    """What ``asking`` gets while the only calculation that may run goes on, and the answer to that one."""
    kettle = Kettle()

    @post("/kettle", status_code=200)
    async def boil(request: AnyRequest) -> Response[str]:
        return Response(await request.app.state.work.run(kettle.boil))

    async def asked() -> tuple[Any, httpx.Response]:
        app = create_app(msgspec.structs.replace(Settings(log_level="error"), **settings), beside=[boil])
        transport = httpx.ASGITransport(app)  # type: ignore[arg-type] # each names ASGI's types its way
        async with httpx.AsyncClient(transport=transport, base_url="http://service.test") as client:
            boiling = asyncio.create_task(client.post("/kettle"))
            while not kettle.begun:  # noqa: ASYNC110 - an event of asyncio can't be set by another thread
                await asyncio.sleep(0.01)
            found = await asking(client)
            kettle.end.set()
            return found, await boiling

    return asyncio.run(asked())


def test_under_overload_calculations_get_a_503_and_everything_else_an_answer() -> None:
    async def asking(client: httpx.AsyncClient) -> list[httpx.Response]:
        return [
            await client.post("/v1/sizings", json=SITE),
            await client.get("/livez"),
            await client.get("/v1/units"),
        ]

    (shed, live, units), boiled = _meanwhile(asking, most_waiting=0)

    assert (shed.status_code, shed.headers["Content-Type"]) == (503, PROBLEM)
    assert shed.json()["code"] == "overloaded"
    assert shed.headers["Retry-After"] == "1"
    assert shed.headers["Cache-Control"] == "no-store"
    assert (live.status_code, units.status_code, boiled.status_code) == (200, 200, 200)


def test_beyond_the_requests_that_may_be_open_all_but_the_probes_get_a_503() -> None:
    async def asking(client: httpx.AsyncClient) -> list[httpx.Response]:
        return [await client.get(path) for path in ("/v1/units", "/nope", "/livez", "/readyz")]

    answers, _ = _meanwhile(asking, most_open=1)

    assert [one.status_code for one in answers] == [503, 503, 200, 200]
    assert answers[0].json()["code"] == "overloaded"
    assert answers[0].headers["Retry-After"] == "1"


def test_a_body_that_does_not_come_is_a_408() -> None:
    async def pieces() -> AsyncIterator[bytes]:
        yield b"{"
        await asyncio.sleep(FOREVER)

    service = start(slowest_body=1)
    response = service.ask("POST", "/v1/sizings", content=pieces(), headers={"Content-Type": JSON})

    assert (response.status_code, response.headers["Content-Type"]) == (408, PROBLEM)
    assert response.json()["code"] == "slow-body"
    assert response.headers["Connection"] == "close"
