"""Patience: what is repeated, how often, and how long the waits are."""

import pytest
from tests.sdk.fake_transport import FakeTransport, reply
from tests.sdk.invented_answers import problem, sizing

import upstroke
from upstroke._retry import Patience

CALL = upstroke.Call("GET", "/v1/units")
GOOD = reply(sizing())


def patient(
    *outcomes: upstroke.Reply | upstroke.TransportError,
) -> tuple[Patience, FakeTransport, list[float]]:
    transport, waits = FakeTransport(outcomes), list[float]()
    return Patience(transport, 2, waits.append), transport, waits


def test_a_busy_service_is_asked_again_after_the_time_that_it_names() -> None:
    transport, _, waits = patient(reply(b"", 429, retry_after="3"), reply(b"", 503, retry_after="0"), GOOD)

    assert transport.send(CALL) is GOOD
    assert waits == [3.0, 0.0]


def test_a_lost_connection_is_tried_again_after_growing_waits() -> None:
    transport, _, waits = patient(upstroke.TransportError(), upstroke.TransportError(), GOOD)

    assert transport.send(CALL) is GOOD
    assert len(waits) == 2
    assert 0.0 <= waits[0] <= 0.25
    assert 0.0 <= waits[1] <= 0.5


def test_patience_ends_with_the_last_outcome() -> None:
    busy, lost = reply(b"", 503, retry_after="Wed, 25 Nov 2026 10:00:00 GMT"), upstroke.TransportError("gone")

    assert patient(busy, busy, busy)[0].send(CALL) is busy
    with pytest.raises(upstroke.TransportError, match="gone"):
        patient(lost, lost, lost)[0].send(CALL)


def test_a_wait_that_is_too_long_is_left_to_the_caller() -> None:
    transport, fake, waits = patient(reply(b"", 429, retry_after="3600"))

    assert transport.send(CALL).status == 429
    assert (len(fake.calls), waits) == (1, [])


@pytest.mark.parametrize("status", [200, 400, 422, 500, 502])
def test_other_answers_are_final(status: int) -> None:
    transport, fake, _ = patient(reply(b"", status))

    assert transport.send(CALL).status == status
    assert len(fake.calls) == 1


def test_a_call_that_timed_out_is_not_repeated() -> None:
    transport, fake, _ = patient(upstroke.RequestTimeoutError())

    with pytest.raises(upstroke.RequestTimeoutError):
        transport.send(CALL)
    assert len(fake.calls) == 1


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
