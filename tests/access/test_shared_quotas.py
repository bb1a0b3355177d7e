"""Quotas that several processes count in one store, a real one, and what happens while it does not answer."""

import asyncio
import re
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import httpx
import pytest
from prometheus_client import REGISTRY
from tests.access import stores
from tests.access.entrances import bearer, key_file
from tests.access.said import said_by
from tests.access.stores import Store
from tests.docs.served import free_port, running

from upstroke_service.api import shared_counting
from upstroke_service.api.shared_counting import SECONDS_LEFT_ALONE, SharedCounter

pytestmark = pytest.mark.skipif(stores.PROGRAM is None, reason=stores.NEEDED)

QUOTA = 100
PATIENCE = 0.25
PATIENT = 30.0
"""Where it is the counts that matter, on a machine that may be busy."""


@pytest.fixture
def store() -> Iterator[Store]:
    started = Store()
    started.start()
    yield started
    started.stop()


def test_a_quota_holds_exactly_across_processes(store: Store, tmp_path: Path) -> None:
    """Two services, one of them with two workers, asked by eight threads at once for two clients."""
    settings = {
        "UPSTROKE_RATE_LIMIT": f"{QUOTA}/600",
        "UPSTROKE_RATE_STORE": store.url,
        "UPSTROKE_RATE_STORE_PATIENCE": "10000",
        "UPSTROKE_KEYS": str(key_file(tmp_path)),
        "UPSTROKE_LOG_LEVEL": "error",
    }
    with ExitStack() as stack:
        urls = []
        for workers in (1, 2):
            port = free_port()
            urls.append(f"http://127.0.0.1:{port}")
            command = f"exec '{sys.executable}' -m upstroke_service --port {port} --workers {workers}"
            stack.enter_context(running(command, urls[-1], tmp_path, **settings))
        # Both keys of one client count together; the other client has a quota of its own.
        asked = [
            (url, bearer(key)) for _ in range(60) for url in urls for key in ("whole", "second", "reading")
        ]
        client = stack.enter_context(httpx.Client(trust_env=False, timeout=30.0))

        def status(url: str, headers: dict[str, str]) -> int:
            return client.get(f"{url}/v1/units", headers=headers).status_code

        threads = stack.enter_context(ThreadPoolExecutor(8))
        answered = list(threads.map(lambda one: status(*one), asked))

    found = Counter(zip((headers["Authorization"] for _, headers in asked), answered, strict=True))
    both = [bearer(key)["Authorization"] for key in ("whole", "second")]
    other = bearer("reading")["Authorization"]
    assert sum(found[key, 200] for key in both) == QUOTA
    assert sum(found[key, 429] for key in both) == 240 - QUOTA
    assert (found[other, 200], found[other, 429]) == (QUOTA, 120 - QUOTA)


def unshared_counts() -> float:
    """The metric of requests that one process counted alone."""
    return REGISTRY.get_sample_value("upstroke_unshared_counts_total") or 0.0


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000.0

    def __call__(self) -> float:
        return self.now


def test_counters_of_two_processes_are_one_and_end_with_their_window(store: Store) -> None:
    async def counted() -> tuple[list[int], float, int]:
        one, other = SharedCounter(store.url, PATIENT), SharedCounter(store.url, PATIENT)
        used = sorted(
            count.used for count in await asyncio.gather(*(each.count("a", 1) for each in [one, other] * 20))
        )
        left = (await one.count("a", 1)).left
        await asyncio.sleep(1.1)
        again = (await other.count("a", 1)).used
        await one.close()
        await other.close()
        return used, left, again

    used, left, again = asyncio.run(counted())
    assert used == list(range(1, 41))
    assert 0.0 < left <= 1.0
    assert again == 1


def test_the_store_holds_neither_names_nor_addresses_and_nothing_for_ever(store: Store) -> None:
    from redis import Redis  # noqa: PLC0415

    async def counted() -> None:
        counter = SharedCounter(store.url, PATIENT)
        await counter.count("address:192.0.2.1", 60)
        await counter.count("token:somebody", 60)
        await counter.close()

    asyncio.run(counted())
    with Redis.from_url(store.url, decode_responses=True) as opened:
        names = opened.keys()
        assert len(names) == 2
        assert all(re.fullmatch(r"upstroke:requests:[0-9a-f]{32}", name) for name in names)
        assert all(0 < opened.ttl(name) <= 60 for name in names)


def test_while_the_store_is_down_requests_are_counted_here_and_answered_quickly(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = Clock()
    said = said_by(shared_counting, monkeypatch)
    before = unshared_counts()

    async def counted() -> tuple[list[int], float]:
        counter = SharedCounter(store.url, PATIENT, clock)
        used = [(await counter.count("a", 60)).used for _ in range(3)]
        store.stop()
        began = time.perf_counter()
        used += [(await counter.count("a", 60)).used for _ in range(100)]
        took = time.perf_counter() - began

        # It is asked again after a while, and all goes on as before.
        clock.now += SECONDS_LEFT_ALONE
        used.append((await counter.count("a", 60)).used)
        store.start()
        used.append((await counter.count("a", 60)).used)
        clock.now += SECONDS_LEFT_ALONE
        used += [(await counter.count("a", 60)).used for _ in range(2)]
        await counter.close()
        return used, took

    used, took = asyncio.run(counted())
    assert used == [1, 2, 3, *range(1, 101), 101, 102, 1, 2]
    assert took < 2.0
    assert said.events == ["rate_store_does_not_answer", "rate_store_answers_again"]
    assert said.fields == [{"reason": "ConnectionError"}, {}]
    assert unshared_counts() - before == 102


def test_a_store_that_hangs_holds_up_nobody_for_long(store: Store) -> None:
    async def counted() -> tuple[float, float]:
        counter = SharedCounter(store.url, PATIENCE)
        await counter.count("a", 60)
        with store.halted():
            began = time.perf_counter()
            await asyncio.gather(*(counter.count("a", 60) for _ in range(100)))
            first = time.perf_counter() - began
            began = time.perf_counter()
            await asyncio.gather(*(counter.count("a", 60) for _ in range(20)))
            second = time.perf_counter() - began
        await counter.close()
        return first, second

    first, second = asyncio.run(counted())
    assert first < 50 * PATIENCE  # one after the other they would take twice as long
    assert second < PATIENCE


def test_one_request_at_a_time_finds_out_whether_the_store_is_back(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = 0

    async def hanging(*_: object) -> None:
        nonlocal tried
        tried += 1
        await asyncio.sleep(10.0)

    monkeypatch.setattr(SharedCounter, "_stored", hanging)
    clock = Clock()

    async def counted() -> None:
        counter = SharedCounter("redis://127.0.0.1:9", 0.01, clock)
        await counter.count("a", 60)
        clock.now += SECONDS_LEFT_ALONE
        await asyncio.gather(*(counter.count("a", 60) for _ in range(20)))
        await counter.close()

    asyncio.run(counted())
    assert tried == 2
