"""A process that is told to end says so first, answers all that it accepted, and ends in time."""

import asyncio
import contextlib
import time
from collections.abc import Awaitable
from pathlib import Path

import httpx
from tests.operations.processes import Process, serving
from tests.service.in_process import PROBLEM, Service
from tests.service.sites import SITE

from upstroke_service.api.app import create_app
from upstroke_service.api.draining import Draining
from upstroke_service.settings import Settings

CLIENTS = 8
DRAIN_SECONDS = 4.0
LAST_MOMENT = 0.75  # s in which a client sends, and a connection waits in the queue of the socket


def test_a_process_about_to_end_is_not_ready_but_lives_and_answers() -> None:
    draining = Draining()
    service = Service(create_app(Settings(log_level="error"), draining=draining))
    before = service.get("/readyz")
    draining.begin()
    after = service.get("/readyz")

    assert before.status_code == 200
    assert after.status_code == 503
    assert after.headers["content-type"] == PROBLEM
    assert after.json()["code"] == "shutting-down"
    assert service.get("/livez").status_code == 200
    assert service.answer("/v1/sizings", SITE)["verdict"]


def test_its_connections_end_with_the_next_answer() -> None:
    draining = Draining()
    service = Service(create_app(Settings(log_level="error"), draining=draining))
    before = service.get("/livez")
    draining.begin()

    assert "connection" not in before.headers
    assert service.get("/livez").headers["connection"] == "close"


async def _load(process: Process) -> tuple[list[httpx.Response], int]:
    """What all requests got that were sent over kept connections until new ones were refused.

    A request that is begun after the time of draining, or in its last moment, may reach a socket that is being
    closed: nobody accepted it. On a busy machine that moment lasts as long as the slowest answer has taken. Any
    other that is cut off fails the test.
    """
    answers: list[httpx.Response] = []
    slowest = 0.0
    stops_accepting = float("inf")
    unready = 0

    async def answered(request: Awaitable[httpx.Response]) -> httpx.Response | None:
        nonlocal slowest
        begun = time.monotonic()
        try:
            response = await request
        except httpx.ConnectError:
            assert stops_accepting < float("inf")
        except (httpx.RemoteProtocolError, httpx.ReadError):
            assert begun >= stops_accepting - min(max(LAST_MOMENT, slowest), 0.5 * DRAIN_SECONDS)
        else:
            slowest = max(slowest, time.monotonic() - begun)
            return response
        return None

    async def ask() -> None:
        async with httpx.AsyncClient(base_url=process.url, timeout=30.0, trust_env=False) as client:
            while (response := await answered(client.post("/v1/sizings", json=SITE))) is not None:
                answers.append(response)

    async def watch() -> None:
        nonlocal unready
        async with httpx.AsyncClient(base_url=process.url, timeout=30.0, trust_env=False) as client:
            while (response := await answered(client.get("/readyz"))) is not None:
                unready += response.status_code == 503
                await asyncio.sleep(0.05)

    async def tell() -> None:
        nonlocal stops_accepting
        await asyncio.sleep(0.5)
        stops_accepting = time.monotonic() + DRAIN_SECONDS
        process.tell_to_end()

    await asyncio.gather(*(ask() for _ in range(CLIENTS)), watch(), tell())
    return answers, unready


def test_no_request_is_lost_while_a_process_under_load_ends(tmp_path: Path) -> None:
    with serving(
        tmp_path,
        UPSTROKE_DRAIN_SECONDS=f"{DRAIN_SECONDS:g}",
        UPSTROKE_LOG_LEVEL="error",
        UPSTROKE_LONGEST_WAIT="20",
    ) as process:
        answers, unready = asyncio.run(_load(process))
        assert process.end() == 0

    assert len(answers) > CLIENTS
    assert {response.status_code for response in answers} == {200}
    assert len({response.json()["calculation_id"] for response in answers}) == 1
    assert unready > 1


def test_a_second_signal_ends_it_without_waiting(tmp_path: Path) -> None:
    with serving(tmp_path, UPSTROKE_DRAIN_SECONDS="300") as process:
        process.tell_to_end()
        time.sleep(0.5)
        assert process.inner.poll() is None
        process.tell_to_end()

        assert process.end() == 0


def test_every_worker_is_told(tmp_path: Path) -> None:
    with serving(tmp_path, "--workers", "2", UPSTROKE_DRAIN_SECONDS="4") as process:
        process.tell_to_end()
        time.sleep(0.5)
        answers = []
        with contextlib.suppress(
            httpx.ConnectError
        ):  # where a busy machine takes longer for all than the drain
            for _ in range(20):
                answers.append(httpx.get(f"{process.url}/readyz", trust_env=False).status_code)  # noqa: PERF401
        assert process.end() == 0

    assert set(answers) == {503}
    assert len(answers) >= 5
