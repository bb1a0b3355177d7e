"""A process that is told to end says so first, answers all that it accepted, and ends in time."""

import asyncio
import time
from pathlib import Path

import httpx
from tests.operations.processes import Process, serving
from tests.service.in_process import PROBLEM, Service
from tests.service.sites import SITE

from upstroke_service.api.app import create_app
from upstroke_service.api.draining import Draining
from upstroke_service.settings import Settings

CLIENTS = 8


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
    """What all requests got that were sent over kept connections until new ones were refused."""
    answers: list[httpx.Response] = []
    told = asyncio.Event()
    unready = 0

    async def ask() -> None:
        async with httpx.AsyncClient(base_url=process.url, timeout=30.0, trust_env=False) as client:
            while True:
                try:
                    answers.append(await client.post("/v1/sizings", json=SITE))
                except httpx.ConnectError:
                    assert told.is_set()
                    return

    async def watch() -> None:
        nonlocal unready
        async with httpx.AsyncClient(base_url=process.url, timeout=30.0, trust_env=False) as client:
            while True:
                try:
                    unready += (await client.get("/readyz")).status_code == 503
                except httpx.ConnectError:
                    return
                await asyncio.sleep(0.05)

    async def tell() -> None:
        await asyncio.sleep(0.5)
        told.set()
        process.tell_to_end()

    await asyncio.gather(*(ask() for _ in range(CLIENTS)), watch(), tell())
    return answers, unready


def test_no_request_is_lost_while_a_process_under_load_ends(tmp_path: Path) -> None:
    with serving(
        tmp_path, UPSTROKE_DRAIN_SECONDS="1", UPSTROKE_LOG_LEVEL="error", UPSTROKE_LONGEST_WAIT="20"
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
        answers = [httpx.get(f"{process.url}/readyz", trust_env=False).status_code for _ in range(20)]
        assert process.end() == 0

    assert set(answers) == {503}
