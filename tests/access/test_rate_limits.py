"""Quotas in one process: what is counted, for whom, what the answers say, and what happens beyond."""

import asyncio
import re
from ipaddress import ip_network
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.access.entrances import bearer, guarded
from tests.service.in_process import PROBLEM, Service, start
from tests.service.sites import SITE

from upstroke_service.api.counting import MemoryCounter
from upstroke_service.api.rate_limits import require_one_count
from upstroke_service.settings import Quota, Settings, SettingsError


def limited(requests: int, **settings: Any) -> Service:
    return start(rate_limit=Quota(requests, 60), **settings)


def statuses(service: Service, times: int, **headers: str) -> list[int]:
    return [service.get("/v1/units", **headers).status_code for _ in range(times)]


def rest(answer: httpx.Response) -> tuple[str, int, int]:
    """Policy, remaining requests and seconds of an answer."""
    found = re.fullmatch(r'"(\w+)";r=(\d+);t=(\d+)', answer.headers["ratelimit"])
    assert found, answer.headers["ratelimit"]
    return found[1], int(found[2]), int(found[3])


def test_without_a_quota_nothing_is_counted() -> None:
    answer = start().get("/v1/units")
    assert "ratelimit" not in answer.headers
    assert "ratelimit-policy" not in answer.headers


def test_every_answer_says_what_is_left() -> None:
    service = limited(3)
    for left in (2, 1, 0):
        answer = service.get("/v1/units")
        assert answer.status_code == 200
        assert answer.headers["ratelimit-policy"] == '"default";q=3;w=60'
        assert rest(answer) == ("default", left, 60)


def test_beyond_the_quota_a_problem_says_when_to_come_again() -> None:
    service = limited(1)
    service.get("/v1/units")
    answer = service.post("/v1/sizings", SITE)

    assert (answer.status_code, answer.json()["code"]) == (429, "too-many-requests")
    assert answer.headers["content-type"] == PROBLEM
    assert rest(answer) == ("default", 0, 60)
    assert answer.headers["retry-after"] == "60"
    assert answer.headers["x-request-id"] == answer.json()["request_id"]


def test_what_is_refused_for_other_reasons_counts_too() -> None:
    service = limited(3)
    assert service.post("/v1/sizings", b"{").status_code == 400
    assert service.get("/nothing").status_code == 404
    assert rest(service.ask("OPTIONS", "/v1/units"))[1] == 0
    assert service.get("/v1/units").status_code == 429


def test_probes_are_never_refused_and_count_for_nothing() -> None:
    service = limited(1)
    for path in ("/livez", "/readyz") * 3:
        answer = service.get(path)
        assert answer.status_code == 200
        assert "ratelimit" not in answer.headers
    assert service.get("/v1/units").status_code == 200


def test_all_keys_of_a_client_share_its_quota_and_others_have_their_own(tmp_path: Path) -> None:
    service = guarded(tmp_path, rate_limit=Quota(2, 60))
    assert statuses(service, 1, **bearer("whole")) == [200]
    assert statuses(service, 2, **bearer("second")) == [200, 429]
    assert statuses(service, 3, **bearer("reading")) == [200, 200, 429]
    # A wrong key is refused before anything is counted, and takes nothing from anyone.
    assert statuses(service, 3, **bearer("revoked")) == [401, 401, 401]


def test_who_shows_no_key_has_another_quota(tmp_path: Path) -> None:
    service = guarded(
        tmp_path,
        keyless_scopes=frozenset({"read"}),
        rate_limit=Quota(5, 60),
        keyless_rate_limit=Quota(1, 30),
    )
    answer = service.get("/v1/units")
    assert answer.headers["ratelimit-policy"] == '"keyless";q=1;w=30'
    assert statuses(service, 1) == [429]
    assert statuses(service, 6, **bearer("whole")) == [200] * 5 + [429]


def test_formulas_without_a_key_have_the_low_quota(tmp_path: Path) -> None:
    service = guarded(tmp_path, keyless_scopes=frozenset({"formulas"}), keyless_rate_limit=Quota(2, 60))
    address = "/v1/formulas/recommended-cylinders"
    assert [service.get(address).status_code for _ in range(3)] == [200, 200, 429]
    answer = service.get(address)
    assert answer.headers["ratelimit-policy"] == '"keyless";q=2;w=60'
    assert int(answer.headers["retry-after"]) >= 1


def test_the_quota_of_those_without_a_key_alone_leaves_others_unlimited(tmp_path: Path) -> None:
    service = guarded(tmp_path, keyless_scopes=frozenset({"read"}), keyless_rate_limit=Quota(1, 30))
    assert statuses(service, 3, **bearer("whole")) == [200, 200, 200]
    assert statuses(service, 2) == [200, 429]


def test_addresses_behind_a_trusted_proxy_are_told_apart() -> None:
    service = limited(1, trusted_proxies=(ip_network("127.0.0.1"),))
    assert statuses(service, 2, X_Forwarded_For="198.51.100.7") == [200, 429]
    assert statuses(service, 2, X_Forwarded_For="198.51.100.8") == [200, 429]
    # Made up by the sender, before what the proxy wrote.
    assert statuses(service, 1, X_Forwarded_For="192.0.2.1, 198.51.100.8") == [429]


def test_without_a_trusted_proxy_an_address_can_not_be_made_up() -> None:
    service = limited(1)
    assert statuses(service, 1, X_Forwarded_For="198.51.100.7") == [200]
    assert statuses(service, 1, X_Forwarded_For="198.51.100.8") == [429]


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000.0

    def __call__(self) -> float:
        return self.now


def test_a_window_begins_with_the_first_request_and_is_not_prolonged() -> None:
    clock = Clock()
    counter = MemoryCounter(clock)

    def count() -> tuple[int, float]:
        return tuple(asyncio.run(counter.count("somebody", 60)))  # type: ignore[return-value]

    assert count() == (1, 60.0)
    clock.now += 59.0
    assert count() == (2, 1.0)
    clock.now += 0.999
    assert count()[0] == 3
    clock.now += 0.001
    assert count() == (1, 60.0)


def test_memory_holds_so_many_clients_and_no_more() -> None:
    clock = Clock()
    counter = MemoryCounter(clock, most=100)

    async def counted() -> int:
        for number in range(1_000):
            await counter.count(f"client {number}", 60)
        return (await counter.count("client 999", 60)).used

    assert asyncio.run(counted()) == 2
    assert len(counter) == 100

    clock.now += 60.0
    assert asyncio.run(counter.count("one more", 60)).used == 1
    assert len(counter) == 1


def test_several_processes_do_not_count_alone() -> None:
    require_one_count(1, Settings(rate_limit=Quota(1, 1)))
    require_one_count(2, Settings())
    require_one_count(2, Settings(rate_limit=Quota(1, 1), rate_store="redis://127.0.0.1"))
    for settings in (Settings(rate_limit=Quota(1, 1)), Settings(keyless_rate_limit=Quota(1, 1))):
        with pytest.raises(SettingsError, match="UPSTROKE_RATE_STORE"):
            require_one_count(2, settings)
