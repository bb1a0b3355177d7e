"""Patience: what is repeated, how often, and how long the waits are."""

import asyncio
import time
from email.utils import formatdate

import pytest
from tests.sdk.fake_transport import Answering, FakeTransport, reply
from tests.sdk.invented_answers import problem, sizing

import upstroke
from upstroke._retry import Attempts

GOOD = reply(sizing())
BUSY = [408, 429, 502, 503, 504]


def waits(*outcomes: upstroke.Reply | upstroke.TransportError, retries: int = 2) -> list[float | None]:
    attempts = Attempts(retries)
    return [attempts.wait_after(outcome) for outcome in outcomes]


@pytest.mark.parametrize("status", BUSY)
def test_a_busy_service_is_asked_again_but_not_before_the_time_that_it_names(status: int) -> None:
    first, second, last = waits(*[reply(b"", status, retry_after="3")] * 3)

    assert first is not None
    assert second is not None
    assert 3.0 <= first <= 3.25
    assert 3.0 <= second <= 3.5
    assert last is None


def test_the_time_that_it_names_may_be_a_date() -> None:
    (wait,) = waits(reply(b"", 503, retry_after=formatdate(time.time() + 20.0, usegmt=True)), retries=1)
    (past,) = waits(reply(b"", 503, retry_after="Wed, 25 Nov 2020 10:00:00 GMT"), retries=1)

    assert wait is not None
    assert 18.0 <= wait <= 20.25  # a date has whole seconds
    assert past is not None
    assert past <= 0.25


@pytest.mark.parametrize("odd", ["soon", "-5", "1e3", "٣", "", "Wed, 99 Foo 2020"])
def test_what_is_no_time_is_not_waited_for(odd: str) -> None:
    (wait,) = waits(reply(b"", 503, retry_after=odd), retries=1)

    assert wait is not None
    assert wait <= 0.25


def test_waits_after_lost_connections_grow_at_random_up_to_a_bound() -> None:
    lost = upstroke.TransportError()
    drawn = [waits(*[lost] * 12, retries=12) for _ in range(200)]

    for place, bound in enumerate([0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0]):
        column = [each[place] or 0.0 for each in drawn]
        assert max(column) <= bound
        # Spread over the whole range: 200 even draws miss a fifth at either end once in 10¹⁹ runs.
        assert min(column) < 0.2 * bound
        assert max(column) > 0.8 * bound


@pytest.mark.parametrize("asked", ["31", "3600", "9" * 400])
def test_a_wait_that_is_too_long_is_left_to_the_caller(asked: str) -> None:
    assert waits(reply(b"", 429, retry_after=asked)) == [None]


@pytest.mark.parametrize("status", [200, 301, 400, 401, 404, 422, 500, 501])
def test_other_answers_are_final(status: int) -> None:
    assert waits(reply(b"", status)) == [None]


def test_a_call_that_timed_out_is_not_repeated() -> None:
    assert waits(upstroke.RequestTimeoutError()) == [None]


@pytest.mark.parametrize("retries", [0, 1, 3])
def test_patience_ends_with_the_last_outcome(retries: int) -> None:
    fake = FakeTransport([upstroke.TransportError("first")] * retries + [upstroke.TransportError("last")])
    with pytest.raises(upstroke.TransportError, match="last"):
        upstroke.Client(transport=fake, retries=retries).size()

    assert len(fake.calls) == retries + 1


def test_all_attempts_of_a_call_have_one_id_and_each_call_its_own() -> None:
    lost = upstroke.TransportError("gone")
    fake = FakeTransport([lost, lost, GOOD, lost, lost, upstroke.TransportError("gone for good")])
    client = upstroke.Client(transport=fake, retries=2)
    client.size()
    with pytest.raises(upstroke.TransportError) as caught:
        client.size()
    ids = [call.headers["x-request-id"] for call in fake.calls]

    assert ids == [ids[0]] * 3 + [ids[3]] * 3
    assert ids[0] != ids[3]
    assert caught.value.request_id == ids[3]


def test_health_is_asked_once() -> None:
    fake = FakeTransport([reply(problem(503), 503, retry_after="0"), GOOD])
    client = upstroke.Client(transport=fake, retries=5)

    with pytest.raises(upstroke.ServiceUnavailableError):
        client.ready()
    assert len(fake.calls) == 1


def test_a_client_is_patient_by_default_and_closes_its_transport() -> None:
    fake = FakeTransport([reply(problem(503), 503, retry_after="0"), GOOD])
    with upstroke.Client(transport=fake) as client:
        assert client.size().verdict == "fits"

    assert fake.closed


def test_the_asynchronous_client_is_just_as_patient() -> None:
    busy, lost = reply(problem(503), 503, retry_after="0"), upstroke.TransportError("gone")

    async def asked() -> tuple[upstroke.Sizing, list[upstroke.Call]]:
        fake = FakeTransport([lost, busy, GOOD])
        async with upstroke.AsyncClient(transport=Answering(fake)) as client:
            sizing = await client.size()
        assert fake.closed
        return sizing, fake.calls

    answered, calls = asyncio.run(asked())
    assert answered.verdict == "fits"
    assert len(calls) == 3
