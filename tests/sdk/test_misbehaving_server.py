"""Both clients against a real server that misbehaves on purpose."""

import asyncio
import json
import time
from collections.abc import Callable, Iterator
from threading import Event
from typing import Any, TypeAlias

import pytest
from tests.sdk.invented_answers import problem
from tests.sdk.misbehaving import Act, hangs_up, keeps_silent, misbehaving, resets, says, sends, stalls

import upstroke

Ask: TypeAlias = Callable[..., upstroke.CatalogueList]

GOOD = says(200, b'{"catalogues": []}', "Content-Type: application/json")
BUSY = says(503, json.dumps(problem(503)).encode(), "Retry-After: 0")


def _ask(url: str, **options: Any) -> upstroke.CatalogueList:
    with upstroke.Client(url, **options) as client:
        return client.catalogues()


def _await(url: str, **options: Any) -> upstroke.CatalogueList:
    async def asked() -> upstroke.CatalogueList:
        async with upstroke.AsyncClient(url, **options) as client:
            return await client.catalogues()

    return asyncio.run(asked())


@pytest.fixture(params=[_ask, _await], ids=["Client", "AsyncClient"])
def ask(request: pytest.FixtureRequest) -> Ask:
    asking: Ask = request.param
    return asking


@pytest.fixture
def over() -> Iterator[Event]:
    event = Event()
    yield event
    event.set()


@pytest.mark.parametrize("status", [408, 429, 502, 503, 504])
def test_a_busy_service_is_asked_again(ask: Ask, status: int) -> None:
    with misbehaving(says(status, b"busy"), GOOD) as server:
        assert ask(server.url).catalogues == ()
        assert len(server.requests) == 2


def test_it_comes_back_no_sooner_than_the_service_says(ask: Ask) -> None:
    started = time.monotonic()
    with misbehaving(says(429, b"busy", "Retry-After: 1"), GOOD) as server:
        assert ask(server.url).catalogues == ()

    assert time.monotonic() - started >= 1.0


@pytest.mark.parametrize(
    "broken",
    [
        hangs_up,
        resets,
        sends(b"HTTP/1.1 200 OK\r\nContent-Length: 1000\r\n\r\n{"),
        sends(b"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\nffff\r\n{"),
        sends(b"220 mail.invalid ESMTP\r\n"),
    ],
    ids=["hangs up", "resets", "cut in the body", "cut in a chunk", "not HTTP"],
)
def test_a_broken_connection_is_tried_again_and_then_said(ask: Ask, broken: Act) -> None:
    with misbehaving(broken, broken, GOOD) as server:
        assert ask(server.url).catalogues == ()
        assert len(server.requests) == 3
    with misbehaving(broken, broken) as server:
        with pytest.raises(upstroke.TransportError, match=f"no answer from {server.url}: .+") as caught:
            ask(server.url, retries=1)
        assert f"x-request-id: {caught.value.request_id}" in server.requests[1].lower()
    assert not isinstance(caught.value, upstroke.RequestTimeoutError)


def test_a_service_that_stays_busy_is_said_with_its_problem(ask: Ask) -> None:
    with misbehaving(BUSY, BUSY, BUSY, GOOD) as server:
        with pytest.raises(upstroke.ServiceUnavailableError) as caught:
            ask(server.url)
        assert len(server.requests) == 3

    assert (caught.value.status, caught.value.retry_after, caught.value.request_id) == (503, 0.0, "r-1")
    assert caught.value.problem is not None


def test_a_quota_that_is_used_up_for_long_is_said_at_once(ask: Ask) -> None:
    started = time.monotonic()
    with misbehaving(says(429, b"later", "Retry-After: 600"), GOOD) as server:
        with pytest.raises(upstroke.RateLimitedError) as caught:
            ask(server.url)
        assert len(server.requests) == 1

    assert caught.value.retry_after == 600.0
    assert time.monotonic() - started < 5.0


@pytest.mark.parametrize("slow", [keeps_silent, stalls])
def test_silence_ends_with_the_timeout_and_is_not_tried_again(
    ask: Ask, slow: Callable[[Event], Act], over: Event
) -> None:
    started = time.monotonic()
    with misbehaving(slow(over), GOOD) as server:
        with pytest.raises(upstroke.RequestTimeoutError, match="in time") as caught:
            ask(server.url, timeout=0.2)
        over.set()
        assert len(server.requests) == 1

    assert caught.value.request_id
    assert time.monotonic() - started < 5.0


@pytest.mark.parametrize(
    ("status", "body", "fields", "kind"),
    [
        (200, b"<!doctype html><title>Log in</title>", (), upstroke.UnexpectedResponseError),
        (200, b"", (), upstroke.UnexpectedResponseError),
        (200, b'{"catalogues": [', (), upstroke.UnexpectedResponseError),
        (200, b'{"catalogues": 7}', (), upstroke.UnexpectedResponseError),
        (200, b'{"catalogues": ["\xff"]}', (), upstroke.UnexpectedResponseError),
        (200, b"[" * 100_000, (), upstroke.UnexpectedResponseError),
        (204, b"", (), upstroke.UnexpectedResponseError),
        (302, b"", ("Location: http://127.0.0.1:9/",), upstroke.UnexpectedResponseError),
        (401, b"<html>", (), upstroke.UnauthenticatedError),
        (404, b"no such page", (), upstroke.NotFoundError),
        (500, b'{"error": "oops"}', (), upstroke.UnexpectedResponseError),
    ],
)
def test_what_is_not_of_the_agreed_form_is_said_and_not_tried_again(
    ask: Ask, status: int, body: bytes, fields: tuple[str, ...], kind: type[upstroke.ApiError]
) -> None:
    with misbehaving(says(status, body, "X-Request-Id: r-9", *fields), GOOD) as server:
        with pytest.raises(kind, match=f"status {status}: the answer is not a") as caught:
            ask(server.url)
        assert len(server.requests) == 1

    assert (caught.value.status, caught.value.request_id, caught.value.problem) == (status, "r-9", None)


def test_an_answer_that_can_not_be_unpacked_is_a_transport_error(ask: Ask) -> None:
    with (
        misbehaving(says(200, b"not gzip", "Content-Encoding: gzip")) as server,
        pytest.raises(upstroke.TransportError),
    ):
        ask(server.url, retries=0)


def test_a_key_is_shown_to_the_server_and_in_no_error(ask: Ask) -> None:
    with misbehaving(says(401, b"invented-key is wrong")) as server:
        with pytest.raises(upstroke.UnauthenticatedError) as caught:
            ask(server.url, api_key="invented-key")
        assert "authorization: Bearer invented-key" in server.requests[0]

    assert "invented-key" not in str(caught.value)


def test_a_call_can_be_given_up_while_it_waits(over: Event) -> None:
    async def asked(url: str) -> None:
        async with upstroke.AsyncClient(url) as client, asyncio.timeout(0.2):
            await client.catalogues()

    with misbehaving(keeps_silent(over)) as server:
        with pytest.raises(TimeoutError):
            asyncio.run(asked(server.url))
        over.set()
