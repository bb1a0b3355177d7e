"""Batches over HTTP: every line is answered for itself, in order, and no client gets more than a share."""

import asyncio
import gzip
import json
import tracemalloc
from collections.abc import AsyncIterator
from typing import Any
from unittest import mock

import httpx
import pytest
from tests.service.batch_lines import compacted
from tests.service.batches import LINES, PATH, QUOTES, Connection, answered, ask, line, lines_of, with_pauses
from tests.service.in_process import PROBLEM, Body, Service, start
from tests.service.sites import CYLINDER, own

from upstroke_service import MODEL_VERSION
from upstroke_service.api import lineups
from upstroke_service.api.app import create_app
from upstroke_service.api.arriving import READ_AHEAD
from upstroke_service.api.draining import Draining
from upstroke_service.settings import Quota, Settings

SERVICE = start()
WELL = QUOTES[0]
FAULTY = line({"well": {"depth": 1}})


def refused(found: Body) -> tuple[int, str]:
    """Number and code of a line that was refused."""
    assert found.keys() <= {"line", "client_reference", "problem"}
    return found["line"], found["problem"]["code"]


def counts(found: Body) -> tuple[int, int]:
    """How many lines were sized and refused, by the last line."""
    return found["end"]["sized"], found["end"]["refused"]


def around(bad: bytes) -> list[Body]:
    """What is said to three lines of which the second is ``bad``."""
    first, second, third, last = answered(SERVICE, line(WELL) + bad + b"\n" + line(WELL))
    assert first["result"] == third["result"]
    assert (first["line"], third["line"]) == (1, 3)
    assert counts(last) == (2, 1)
    return [second]


@pytest.mark.parametrize("system", ["us", "si"])
def test_each_line_gets_in_order_what_it_gets_alone(system: str) -> None:
    named = [{**one, "client_reference": f"well {place}"} for place, one in enumerate(QUOTES)]

    *found, last = answered(SERVICE, b"".join(map(line, named)), f"?units={system}")

    alone = [compacted(SERVICE.answer(f"/v1/sizings?units={system}", one)) for one in QUOTES]
    assert [one["result"] for one in found] == alone
    assert [one["line"] for one in found] == list(range(1, len(QUOTES) + 1))
    assert [one["client_reference"] for one in found] == [one["client_reference"] for one in named]
    assert counts(last) == (len(QUOTES), 0)
    assert last["model_version"] == MODEL_VERSION
    assert last["scope"]


def test_in_full_each_line_gets_what_a_sizing_answers() -> None:
    *found, last = answered(SERVICE, b"".join(map(line, QUOTES[:2])), "?detail=full")

    assert [one["result"] for one in found] == [SERVICE.answer("/v1/sizings", one) for one in QUOTES[:2]]
    assert counts(last) == (2, 0)


def test_faults_and_scope_are_in_the_language_that_is_asked_for() -> None:
    bad, last = lines_of(ask(SERVICE, FAULTY, accept_language="es"))

    assert bad["problem"]["errors"][0]["detail"].startswith("Campo desconocido")
    assert last["scope"].startswith("Es una estimación")


def test_defaults_fill_what_lines_leave_out_field_by_field() -> None:
    well = WELL["well"]
    defaults = {name: facts for name, facts in WELL.items() if name != "well"}
    level = {**well, "static_water_level": {"value": 31.0, "unit": "ft"}}

    first, second, last = answered(
        SERVICE,
        line({"defaults": {**defaults, "well": well}})
        + line({"well": {"static_water_level": level["static_water_level"]}})
        + line({}),
    )

    assert (first["line"], second["line"]) == (2, 3)
    assert first["result"] == compacted(SERVICE.answer("/v1/sizings", {**WELL, "well": level}))
    assert second["result"] == compacted(SERVICE.answer("/v1/sizings", WELL))
    assert counts(last) == (2, 0)


def test_lines_that_share_cylinders_get_what_each_gets_alone() -> None:
    defaults = own(CYLINDER, CYLINDER | {"id": "b", "seal_drag": {"value": 60, "unit": "N"}})
    lines: list[Body] = [
        {},
        {"well": {"static_water_level": {"value": 31.0, "unit": "ft"}}},
        {"pump": {"kind": "suction"}},
        {"pressures": {"start": {"value": 60, "unit": "psi"}, "target": {"value": 50, "unit": "psi"}}},
        {"pump": {"upstroke_share": 0.4}},
        {"selection": {"catalogue": "demo"}},
        {},
    ]

    *found, last = answered(SERVICE, line({"defaults": defaults}) + b"".join(map(line, lines)))

    for said, facts in zip(found, lines, strict=True):
        together = {name: {**defaults.get(name, {}), **facts.get(name, {})} for name in {**defaults, **facts}}
        alone = SERVICE.post("/v1/sizings", together)
        if alone.status_code == 200:
            assert said["result"] == compacted(alone.json())
        else:
            assert said["problem"]["errors"] == alone.json()["errors"]
    assert counts(last)[0] + counts(last)[1] == len(lines)
    assert min(counts(last)) > 1


def test_what_lines_share_is_selected_once() -> None:
    defaults = own(CYLINDER)
    with mock.patch.object(lineups, "select", wraps=lineups.select) as selecting:
        *_, last = answered(SERVICE, line({"defaults": defaults}) + 3 * line({}) + line({"pump": {}}))

    assert counts(last) == (4, 0)
    assert selecting.call_count == 1


@pytest.mark.parametrize(
    ("first", "pointer"),
    [
        ({"defaults": {"well": {"depth": 1}}}, "/defaults/well/depth"),
        ({"defaults": 1}, "/defaults"),
        ({"defaults": {}, "well": {}}, None),
    ],
)
def test_wrong_defaults_are_one_problem_for_all(first: object, pointer: str | None) -> None:
    response = ask(SERVICE, line(first) + line(WELL) * 3)

    assert (response.status_code, response.headers["content-type"]) == (422, PROBLEM)
    problem = response.json()
    assert problem["code"] == "invalid-field"
    assert [one["pointer"] for one in problem.get("errors", [])] == ([pointer] if pointer else [])


@pytest.mark.parametrize(
    ("first", "status", "said"),
    [
        (b'{"defaults": {"operator": {"people": 2},}}\n', 400, "In the defaults"),
        (line({"defaults": {"client_reference": "x" * 1_000_000}}), 413, "at most"),
    ],
    ids=["unreadable", "too long"],
)
def test_where_defaults_cannot_be_read_no_line_is_sized_without_them(
    first: bytes, status: int, said: str
) -> None:
    response = ask(SERVICE, first + line(WELL))

    assert (response.status_code, response.headers["content-type"]) == (status, PROBLEM)
    assert said in response.json()["detail"]


def test_a_mark_of_the_byte_order_is_no_part_of_the_first_line() -> None:
    people = {"operator": {"people": 2}}
    marked, last = answered(SERVICE, b"\xef\xbb\xbf" + line({"defaults": people}) + line(WELL))

    assert marked["result"] == compacted(SERVICE.answer("/v1/sizings", WELL | people))
    assert counts(last) == (1, 0)


@pytest.mark.parametrize(
    ("content", "numbers"),
    [
        (b"", []),
        (b"\n \r\n\t\n", []),
        (b"\n" + line(WELL) + b"  \n\r\n" + line(WELL), [2, 5]),
        (line(WELL).replace(b"\n", b"\r\n") * 2, [1, 2]),
        ((line(WELL) * 2).rstrip(b"\n"), [1, 2]),
        (line({"defaults": WELL}), []),
    ],
    ids=["empty", "blank", "blank between", "CRLF", "no final newline", "defaults alone"],
)
def test_line_ends_and_blank_lines_are_no_matter(content: bytes, numbers: list[int]) -> None:
    *found, last = answered(SERVICE, content)

    assert [one["line"] for one in found if "result" in one] == numbers
    assert counts(last) == (len(numbers), 0)


def test_a_line_that_arrives_byte_by_byte_is_one_line() -> None:
    async def bytewise() -> AsyncIterator[bytes]:
        for one in line(WELL) + line(WELL).rstrip():
            yield bytes([one])

    first, second, last = answered(SERVICE, bytewise())

    assert first["result"] == second["result"]
    assert counts(last) == (2, 0)


@pytest.mark.parametrize(
    ("bad", "code"),
    [
        (b"{", "unreadable-body"),
        (b"well", "unreadable-body"),
        (b'{"client_reference": "\xff"}', "unreadable-body"),
        (b'{"well": {}, "well": {}}', "unreadable-body"),
        (b'{"well": {"static_water_level": {"value": NaN, "unit": "ft"}}}', "unreadable-body"),
        (b'{"well": {"static_water_level": {"value": 1e999, "unit": "ft"}}}', "unreadable-body"),
        (b"[" * 10_000, "unreadable-body"),
        (b"null", "invalid-field"),
        (b"[]", "invalid-field"),
        (b'{"wel": {}}', "invalid-field"),
        (b'{"defaults": {}}', "invalid-field"),
        (b'{"selection": {"catalogue": "none-such"}}', "unknown-reference"),
        (b'{"client_reference": "' + b"x" * 300_000 + b'"}', "body-too-large"),
    ],
    ids=[
        *("cut", "word", "UTF-8", "twice", "NaN", "infinite", "nested", "null", "list", "misspelled"),
        *("late defaults", "catalogue", "huge"),
    ],
)
def test_a_bad_line_gets_a_problem_and_the_others_their_answers(bad: bytes, code: str) -> None:
    (found,) = around(bad)

    assert refused(found) == (2, code)


def test_a_refused_line_says_what_is_wrong_where_and_whose_it_is() -> None:
    (found,) = around(line({"client_reference": "well 7", "well": {"depth": 1}}).strip())

    alone = SERVICE.post("/v1/sizings", {"well": {"depth": 1}}).json()
    assert found["client_reference"] == "well 7"
    assert found["problem"]["errors"] == alone["errors"]
    assert found["problem"]["type"] == alone["type"]


@pytest.mark.parametrize("media_type", [LINES, "application/jsonl"])
def test_both_names_of_the_format_are_taken_and_given(media_type: str) -> None:
    response = ask(SERVICE, line(WELL), content_type=media_type, accept=media_type)

    assert response.headers["content-type"] == media_type
    assert response.headers["cache-control"] == "no-store"
    assert counts(lines_of(response)[-1]) == (1, 0)


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Content-Type": "application/json"}, 415),
        ({"Content-Type": LINES, "Content-Encoding": "gzip"}, 415),
        ({"Content-Type": f"{LINES}; charset=latin-1"}, 415),
        ({"Content-Type": LINES, "Accept": "text/html"}, 406),
    ],
)
def test_what_is_sent_or_wanted_in_another_form_is_refused(headers: dict[str, str], status: int) -> None:
    content = gzip.compress(line(WELL)) if "Content-Encoding" in headers else line(WELL)

    assert SERVICE.ask("POST", PATH, content=content, headers=headers).status_code == status


@pytest.mark.parametrize("query", ["?detail=some", "?unit=si", "?detail=full&detail=full"])
def test_a_faulty_query_is_refused_before_any_line(query: str) -> None:
    assert ask(SERVICE, line(WELL), query).status_code == 422


def test_a_batch_that_says_it_is_too_large_is_refused_and_one_that_does_not_is_cut() -> None:
    service = start(largest_batch=4_096)
    content = line(WELL) * (8_192 // len(line(WELL)) + 1)

    assert ask(service, content).status_code == 413
    *found, last = answered(service, with_pauses([line(WELL), content]))
    assert [one["line"] for one in found if "result" in one] == [1]
    assert refused(last) == (2, "body-too-large")


def test_beyond_the_quota_a_batch_is_cut_with_a_problem() -> None:
    service = start(rate_limit=Quota(2, 3_600))

    *found, last = answered(service, with_pauses([line(WELL)] * 4))

    assert [one["line"] for one in found if "result" in one] == [1, 2]
    assert refused(last) == (3, "too-many-requests")


def test_a_process_about_to_end_cuts_a_batch_with_a_problem() -> None:
    draining = Draining()
    service = Service(create_app(Settings(log_level="error"), draining=draining))

    async def until_draining() -> AsyncIterator[bytes]:
        yield line(WELL)
        await asyncio.sleep(0.3)
        draining.begin()
        yield line(WELL)

    first, last = answered(service, until_draining())

    assert first["line"] == 1
    assert refused(last) == (2, "shutting-down")


def test_a_client_that_sends_nothing_more_is_not_waited_for() -> None:
    service = start(batch_patience=1)

    async def slow() -> AsyncIterator[bytes]:
        yield line(WELL)
        await asyncio.sleep(2.0)
        yield line(WELL)

    first, last = answered(service, slow())

    assert first["line"] == 1
    assert refused(last) == (2, "slow-body")


def alone(service: Service) -> httpx.Response:
    return ask(service, line(WELL))


def test_a_client_that_goes_away_frees_its_place() -> None:
    service = start(most_batches=1)

    async def taken_and_left() -> tuple[Any, Any, Any]:
        client = Connection()
        client.send(line(WELL))
        asked = client.ask(service)
        await asyncio.wait_for(client.got.wait(), 5.0)
        meanwhile = await asyncio.to_thread(alone, service)
        client.leave()
        await asyncio.wait_for(asked, 5.0)
        return meanwhile, await asyncio.to_thread(alone, service), client.state

    meanwhile, after, state = asyncio.run(taken_and_left())

    assert state["abandoned"]
    assert (meanwhile.status_code, meanwhile.json()["code"]) == (503, "overloaded")
    assert int(meanwhile.headers["retry-after"]) > 0
    assert after.status_code == 200


def test_a_batch_that_is_cut_is_logged_with_its_problem() -> None:
    async def cut() -> dict[str, Any]:
        client = Connection()
        client.send(line(WELL))
        await asyncio.wait_for(client.ask(start(batch_patience=1)), 10.0)
        return client.state

    state = asyncio.run(cut())

    assert (state["problem"], state["abandoned"]) == ("slow-body", False)


def test_of_lines_to_be_answered_in_full_few_are_read_ahead() -> None:
    async def read_of_it() -> int:
        client = Connection()
        client.taking.clear()
        for _ in range(500):
            client.send(line(WELL))
        asked = client.ask(SERVICE, b"detail=full")
        await asyncio.sleep(1.0)
        client.leave()
        asked.cancel()
        await asyncio.wait({asked})
        return client.received // len(line(WELL))

    assert asyncio.run(read_of_it()) < 100


@pytest.mark.parametrize("one", [FAULTY, b"1\n"], ids=["lines", "tiny lines"])
def test_of_a_client_that_takes_no_answers_little_is_read(one: bytes) -> None:
    piece = one * (65_536 // len(one))

    async def read_of_it() -> int:
        client = Connection()
        client.taking.clear()
        for _ in range(100):
            client.send(piece)
        asked = client.ask(SERVICE)
        await asyncio.sleep(0.5)
        client.leave()
        asked.cancel()
        await asyncio.wait({asked})
        return client.received

    assert asyncio.run(read_of_it()) <= READ_AHEAD + 3 * len(piece)


def test_memory_does_not_grow_with_the_batch() -> None:
    async def most_memory(pieces: int) -> int:
        client = Connection()
        for _ in range(pieces):
            client.send(b"{\n" * 1_000)
        client.send(b"", more=False)
        tracemalloc.start()
        try:
            await asyncio.wait_for(client.ask(SERVICE), 60.0)
            assert client.content > pieces * 100_000
            return tracemalloc.get_traced_memory()[1]
        finally:
            tracemalloc.stop()

    few, many = asyncio.run(most_memory(4)), asyncio.run(most_memory(20))

    assert many < 1.5 * few + 2_000_000


def test_answers_come_while_lines_are_still_being_sent() -> None:
    async def first_answer() -> bool:
        client = Connection()
        client.send(line(WELL))
        asked = client.ask(SERVICE)
        await asyncio.wait_for(client.got.wait(), 5.0)
        early = not asked.done()
        client.send(json.dumps(WELL).encode(), more=False)
        await asyncio.wait_for(asked, 5.0)
        return early

    assert asyncio.run(first_answer())
