"""Many requests at a time: in order, in parts, each with a result or a problem of its own."""

import asyncio
import json
from collections.abc import Iterator
from typing import Any

import msgspec
import pytest
from tests.sdk.fake_transport import Answering, FakeTransport, client_that_gets, reply

import upstroke
from upstroke._batches import LARGEST_BODY, MOST_LINES

WELL: dict[str, Any] = {
    "well": {"static_water_level": "90 ft"},
    "tank": {"kind": "bladder", "total_volume": "44 gal", "precharge": "28 psi"},
    "pressures": {"target": "50 psi"},
}
END = {"end": {"sized": 0, "refused": 0}, "model_version": "1", "scope": "for a test"}
COMPACT = {"verdict": "needs_facts", "assumed": [], "findings": [], "cautions": []}


def problem(status: int = 422, code: str = "invalid-field") -> dict[str, Any]:
    return {
        "type": f"/problems/{code}",
        "title": "No",
        "status": status,
        "code": code,
        "detail": "As said.",
        "request_id": "1",
    }


def sized(number: int) -> dict[str, Any]:
    return {"line": number, "result": COMPACT}


def refused(number: int, status: int = 422, code: str = "invalid-field") -> dict[str, Any]:
    return {"line": number, "problem": problem(status, code)}


def in_lines(*lines: dict[str, Any]) -> upstroke.Reply:
    return reply(b"".join(json.dumps(one).encode() + b"\n" for one in lines))


def whole(count: int) -> upstroke.Reply:
    return in_lines(*(sized(number) for number in range(1, count + 1)), END)


def sent_lines(call: upstroke.Call) -> list[Any]:
    assert call.body is not None
    return [msgspec.json.decode(line) for line in call.body.splitlines()]


def test_each_request_gets_what_the_service_says_of_it_alone(client: upstroke.Client) -> None:
    faulty = {"client_reference": "second", "points": 1}
    first, second, third = client.size_many([{**WELL, "client_reference": "first"}, faulty, WELL])

    alone = client.size(WELL)
    assert isinstance(first, upstroke.SizedLine)
    assert isinstance(third, upstroke.SizedLine)
    assert first.result == third.result
    assert (first.result.verdict, first.result.recommended) == (alone.verdict, alone.recommended)
    assert first.result.lift_margin == alone.candidates[0].lift_budget.margin
    assert isinstance(second, upstroke.RefusedLine)
    assert [one.pointer for one in second.problem.errors or ()] == ["/points"]
    assert [one.line for one in (first, second, third)] == [1, 2, 3]
    assert [one.client_reference for one in (first, second, third)] == ["first", "second", None]


def test_in_full_each_request_gets_its_sizing(client: upstroke.Client) -> None:
    (line,) = client.size_many([WELL], detail="full", units="si")

    assert isinstance(line, upstroke.SizedLineInFull)
    assert line.result == client.size(WELL, units="si")


def test_defaults_hold_where_a_request_leaves_a_fact_out(client: upstroke.Client) -> None:
    deeper: dict[str, Any] = {"well": {"static_water_level": "110 ft"}}

    same, other = client.size_many([{}, deeper], defaults=WELL)

    plain = [*client.size_many([WELL, WELL | deeper])]
    assert [same, other] == plain
    assert plain[0] != msgspec.structs.replace(plain[1], line=1)


def test_the_other_client_says_the_same(service: upstroke.Transport, client: upstroke.Client) -> None:
    async def asked() -> list[upstroke.BatchLine]:
        awaited = upstroke.AsyncClient(transport=Answering(service))
        return [line async for line in awaited.size_many([WELL, {"points": 9}], defaults=WELL)]

    first, second = asyncio.run(asked())
    assert [first, second] == [*client.size_many([WELL, {"points": 9}], defaults=WELL)]
    assert isinstance(second, upstroke.SizedLine)


def test_a_request_that_can_not_be_read_is_refused_alone_and_not_sent() -> None:
    client, transport = client_that_gets(whole(2))
    mistaken = {"client_reference": "wrong", "well": {"static_water_level": "90 psi"}}

    first, second, third = client.size_many([WELL, mistaken, WELL])

    assert [first.line, second.line, third.line] == [1, 2, 3]
    assert isinstance(second, upstroke.RefusedLine)
    assert second.client_reference == "wrong"
    assert (second.problem.code, second.problem.request_id) == ("invalid-field", "")
    assert [one.pointer for one in second.problem.errors or ()] == ["/well/static_water_level"]
    assert len(sent_lines(transport.calls[0])) == 2


def test_defaults_that_can_not_be_read_are_an_error_before_anything_is_sent() -> None:
    client, transport = client_that_gets()

    with pytest.raises(upstroke.FactError, match="/well/static_water_level"):
        next(client.size_many([WELL], defaults={"well": {"static_water_level": "90 psi"}}))
    assert transport.calls == []


def test_requests_are_taken_and_sent_in_parts_only_as_answers_are_asked_for() -> None:
    most = MOST_LINES["compact"]
    taken: list[int] = []
    answered: list[int] = []

    def requests() -> Iterator[dict[str, Any]]:
        for number in range(most + 3):
            taken.append(number)
            yield {"client_reference": str(number)}

    client, transport = client_that_gets(whole(most), whole(3))
    lines = client.size_many(requests(), progress=answered.append)
    assert taken == []
    assert next(lines).line == 1
    assert len(taken) == most
    rest = [one.line for one in lines]

    assert rest == list(range(2, most + 4))
    assert [len(sent_lines(call)) for call in transport.calls] == [most, 3]
    assert answered == [most, most + 3]


def test_no_body_is_larger_than_a_part_may_be_but_for_a_single_request() -> None:
    long = {"client_reference": "x" * (LARGEST_BODY // 3)}
    longest = {"client_reference": "x" * (2 * LARGEST_BODY)}
    client, transport = client_that_gets(whole(2), whole(2), whole(1), whole(1))

    lines = [*client.size_many([*[long] * 4, longest, {}])]

    assert [one.line for one in lines] == [1, 2, 3, 4, 5, 6]
    assert [len(sent_lines(call)) for call in transport.calls] == [2, 2, 1, 1]


def test_a_later_run_goes_on_after_the_answers_of_a_former_one() -> None:
    # The line with defaults counts in the body, and not among the requests.
    client, transport = client_that_gets(in_lines(sized(2), sized(3), END))
    requests = [{"client_reference": name} for name in "abcd"]

    lines = [*client.size_many(requests, start_after=2, defaults=WELL)]

    assert [one["client_reference"] for one in sent_lines(transport.calls[0])[1:]] == ["c", "d"]
    assert [one.line for one in lines] == [3, 4]


def test_what_a_cut_answer_lacks_is_asked_again() -> None:
    client, transport = client_that_gets(
        in_lines(sized(1), refused(2), refused(3, 503, "shutting-down")), in_lines(sized(1), sized(2), END)
    )

    lines = [*client.size_many([{"client_reference": name} for name in "abcd"])]

    assert [type(one) for one in lines] == [
        upstroke.SizedLine,
        upstroke.RefusedLine,
        upstroke.SizedLine,
        upstroke.SizedLine,
    ]
    assert [one.line for one in lines] == [1, 2, 3, 4]
    assert [one["client_reference"] for one in sent_lines(transport.calls[1])] == ["c", "d"]


@pytest.mark.parametrize(
    ("answer", "error"),
    [
        (in_lines(refused(1, 503, "shutting-down")), upstroke.ServiceUnavailableError),
        (in_lines(refused(1, 429, "too-many-requests")), upstroke.RateLimitedError),
        (in_lines(END), upstroke.UnexpectedResponseError),
        (reply(b""), upstroke.UnexpectedResponseError),
        (reply(b"no lines"), upstroke.UnexpectedResponseError),
        (reply(problem(401, "unauthenticated"), 401), upstroke.UnauthenticatedError),
        (upstroke.TransportError("cut"), upstroke.TransportError),
    ],
    ids=["ending", "quota", "end alone", "nothing", "no lines", "key", "connection"],
)
def test_without_any_answer_it_is_an_error_and_not_tried_for_ever(
    answer: upstroke.Reply | upstroke.TransportError, error: type[Exception]
) -> None:
    client, transport = client_that_gets(answer)

    with pytest.raises(error):
        next(client.size_many([WELL]))
    assert len(transport.calls) == 1


def test_a_part_whose_connection_broke_is_sent_again() -> None:
    transport = FakeTransport([upstroke.TransportError("broke"), whole(1)])

    lines = [*upstroke.Client(transport=transport, retries=1).size_many([WELL])]

    assert [one.line for one in lines] == [1]
    assert transport.calls[0].body == transport.calls[1].body


def test_without_requests_nothing_is_sent() -> None:
    client, transport = client_that_gets()

    assert [*client.size_many([])] == []
    assert transport.calls == []
