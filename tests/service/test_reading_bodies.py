"""Bodies that are refused before anybody looks at a fact, and bodies that are accepted though odd."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any, cast

import pytest
from tests.service.in_process import CALCULATIONS, JSON, PROBLEM, start
from tests.service.sites import SITE, changed

SERVICE = start()
PATH = "/v1/sizings"
LARGEST = 262_144
EVERY_CALCULATION = pytest.mark.parametrize("path", [f"/v1/{name}" for name in CALCULATIONS])

UNREADABLE = {
    "nothing": b"",
    "truncated JSON": b'{"well": {',
    "text that is not UTF-8": b'{"client_reference": "\xff"}',
    "UTF-16": '{"points": 5}'.encode("utf-16"),
    "more than one value": b"{} {}",
    "a comment": b"{} // metric",
    "single quotes": b"{'points': 5}",
    "not a number": b'{"points": NaN}',
    "infinity": b'{"points": Infinity}',
    "minus infinity": b'{"points": -Infinity}',
    "a number beyond all floats": b'{"points": 1e999}',
    "lists 100 000 deep": b"[" * 100_000,
    "objects 20 000 deep": b'{"well":' * 20_000 + b"1" + b"}" * 20_000,
    "lists 300 deep": b'{"well":' + b"[" * 300 + b"]" * 300 + b"}",
}


@EVERY_CALCULATION
@pytest.mark.parametrize("body", UNREADABLE.values(), ids=UNREADABLE)
def test_a_body_that_is_not_readable_json_is_a_400(path: str, body: bytes) -> None:
    response = SERVICE.post(path, body)

    assert response.status_code == 400
    assert response.headers["Content-Type"] == PROBLEM
    assert response.json()["code"] == "unreadable-body"


@EVERY_CALCULATION
@pytest.mark.parametrize(
    "media_type", ["text/plain", "application/x-www-form-urlencoded", "application/jsonp", ""]
)
def test_another_media_type_is_a_415_that_says_what_is_accepted(path: str, media_type: str) -> None:
    response = SERVICE.ask("POST", path, content=b"{}", headers={"Content-Type": media_type})

    assert response.status_code == 415
    assert response.headers["Accept"] == JSON
    assert response.json()["code"] == "unsupported-media-type"


def test_a_body_without_a_media_type_is_a_415() -> None:
    assert SERVICE.ask("POST", PATH, content=b"{}").status_code == 415


def test_a_media_type_with_a_charset_or_in_capitals_is_accepted() -> None:
    for media_type in ("application/json; charset=utf-8", "Application/JSON"):
        assert SERVICE.post(PATH, {}, Content_Type=media_type).status_code == 200


@EVERY_CALCULATION
def test_a_compressed_body_is_a_415(path: str) -> None:
    response = SERVICE.post(path, b"\x1f\x8b\x08", Content_Encoding="gzip")

    assert response.status_code == 415
    assert response.headers["Accept"] == JSON


def test_a_body_that_is_encoded_as_itself_is_accepted() -> None:
    assert SERVICE.post(PATH, {}, Content_Encoding="identity").status_code == 200


@EVERY_CALCULATION
def test_a_body_beyond_the_limit_is_a_413(path: str) -> None:
    response = SERVICE.post(path, b"{}" + b" " * LARGEST)

    assert response.status_code == 413
    assert response.json()["code"] == "body-too-large"


def test_a_body_of_unstated_length_beyond_the_limit_is_a_413() -> None:
    async def pieces() -> AsyncIterator[bytes]:
        for _ in range(40):
            yield b" " * 10_000

    assert SERVICE.ask("POST", PATH, content=pieces(), headers={"Content-Type": JSON}).status_code == 413


@pytest.mark.parametrize("length", ["abc", "-", "9" * 5000], ids=["letters", "a sign", "too many digits"])
def test_a_length_that_is_no_number_is_a_400(length: str) -> None:
    assert SERVICE.post(PATH, SITE, Content_Length=length).status_code == 400


def test_a_client_that_goes_away_in_mid_body_is_no_defect_of_the_service() -> None:
    messages = [{"type": "http.request", "body": b'{"well":', "more_body": True}, {"type": "http.disconnect"}]
    sent: list[Any] = []
    scope = {
        "type": "http",
        "method": "POST",
        "http_version": "1.1",
        "path": PATH,
        "raw_path": PATH.encode(),
        "root_path": "",
        "query_string": b"",
        "headers": [(b"host", b"service.test"), (b"content-type", JSON.encode())],
    }

    async def receive() -> Any:
        return messages.pop(0)

    async def send(message: Any) -> None:
        sent.append(message)

    async def asked() -> None:
        await SERVICE.app(cast(Any, scope), receive, send)

    asyncio.run(asked())

    assert sent[0]["status"] == 400
    assert json.loads(sent[1]["body"])["detail"] == "The connection ended before the body did."


def test_a_body_at_the_limit_is_read() -> None:
    assert SERVICE.post(PATH, b"{}" + b" " * (LARGEST - 2)).status_code == 200


def test_the_limit_is_a_setting() -> None:
    assert start(largest_body=1024).post(PATH, b"{}" + b" " * 1023).status_code == 413


@EVERY_CALCULATION
def test_a_client_that_does_not_take_json_gets_a_406(path: str) -> None:
    response = SERVICE.post(path, SITE, Accept="image/png, application/xml;q=0.9")

    assert response.status_code == 406
    assert response.json()["code"] == "not-acceptable"


def test_a_client_may_say_what_it_takes_in_several_headers_or_leave_it_open() -> None:
    for accept in ([("Accept", "text/html"), ("Accept", JSON)], [("Accept", "")]):
        assert SERVICE.ask("GET", "/v1/units", headers=accept).status_code == 200


@pytest.mark.parametrize(
    "accept", ["*/*", JSON, "application/*", "image/png, application/json;q=0.5", "image/png,*/*;q=0.1"]
)
def test_a_client_that_takes_json_among_others_gets_it(accept: str) -> None:
    response = SERVICE.post(PATH, SITE, Accept=accept)

    assert response.status_code == 200
    assert response.headers["Content-Type"] == JSON


def test_a_whole_number_may_be_written_with_a_point() -> None:
    with_point = SERVICE.answer(PATH, changed({"/points": 7.0, "/tank/count": 2.0}))

    assert with_point == SERVICE.answer(PATH, changed({"/points": 7, "/tank/count": 2}))


@pytest.mark.parametrize("value", ["5", True, 2.5, None, [], 10**30])
def test_nothing_else_passes_for_a_whole_number(value: object) -> None:
    response = SERVICE.post(PATH, {"points": value})

    assert response.status_code == 422
    assert [fault["pointer"] for fault in response.json()["errors"]] == ["/points"]


def test_text_in_any_script_is_echoed_as_it_came() -> None:
    for reference in ("Brunnen – 42 ft", "井戸", "\U0001f4a7", 'quote " and \\ backslash', ""):
        assert SERVICE.answer(PATH, {"client_reference": reference})["client_reference"] == reference
