"""Answers: what is absent is None, what is new is ignored, what is broken is an error."""

import msgspec
import pytest
from tests.sdk.fake_transport import client_that_gets, reply
from tests.sdk.invented_answers import candidate, sizing

import upstroke


def test_an_answer_reads_as_structs_with_quantities() -> None:
    client, _ = client_that_gets(reply(sizing()))
    answer = client.size()

    assert answer.candidates[0].lift_budget.total_head == upstroke.Quantity(162, "ft")
    assert answer.curve is not None
    assert answer.curve.pressure.values[0] == 28.0


def test_what_is_absent_reads_as_none() -> None:
    body = sizing(verdict="needs_facts", candidates=[])
    del body["recommended"], body["curve"], body["reserve"], body["parts"]
    client, _ = client_that_gets(reply(body))
    answer = client.size()

    assert (answer.recommended, answer.curve, answer.reserve, answer.parts) == (None, None, None, None)
    assert answer.suction is None
    assert answer.needs is not None
    assert [line.varies for line in answer.needs.lines] == ["More where it is hot.", None]


def test_fields_and_words_that_are_new_are_accepted() -> None:
    body = sizing(verdict="fits_on_sundays", moon_phase={"phase": "new"})
    body["candidates"][0]["ceiling"]["governed_by"] = "moon"
    body["cautions"][0]["signal"] = "whisper"
    client, _ = client_that_gets(reply(body))
    answer = client.size()

    assert answer.verdict == "fits_on_sundays"
    assert answer.candidates[0].ceiling.governed_by == "moon"
    assert answer.cautions[0].signal == "whisper"


def test_an_answer_encodes_as_it_came() -> None:
    body = sizing(candidates=[candidate()])
    client, _ = client_that_gets(reply(body))

    assert msgspec.json.decode(msgspec.json.encode(client.size())) == body


@pytest.mark.parametrize("body", [b"", b"<html>", b"\xff", b"[]", b'{"verdict": "fits"}', b"[" * 100_000])
def test_an_answer_of_another_form_is_unexpected(body: bytes) -> None:
    client, _ = client_that_gets(reply(body, x_request_id="r-9"))

    with pytest.raises(upstroke.UnexpectedResponseError, match="not a Sizing") as caught:
        client.size()
    assert caught.value.status == 200
    assert caught.value.request_id == "r-9"
