"""What nobody sends by mistake: it is refused with the right status, and the service goes on."""

import json
import re
import time
from collections.abc import Iterator

import pytest
from tests.contract.documents import SCHEMAS
from tests.service.in_process import CALCULATIONS, JSON, PROBLEM, start
from tests.service.sites import SITE

from upstroke_service.api.bodies import LONGEST_LIST

SERVICE = start()
PATH = "/v1/sizings"
EVERY_CALCULATION = pytest.mark.parametrize("path", [f"/v1/{name}" for name in CALCULATIONS])
DIGITS = b"9" * 400


@pytest.fixture(autouse=True)
def _works_afterwards() -> Iterator[None]:
    """Whatever a test sent, the next request is answered as ever."""
    yield
    assert SERVICE.post("/v1/cautions", {}).status_code == 200


UNREADABLE = {
    "NaN in the place of a number": b'{"tank": {"total_volume": {"value": NaN, "unit": "gal"}}}',
    "infinity in the place of a number": b'{"tank": {"total_volume": {"value": -Infinity, "unit": "gal"}}}',
    "a number beyond all floats": b'{"tank": {"total_volume": {"value": 1e999, "unit": "gal"}}}',
    "a number with 400 digits and a point": b'{"points": ' + DIGITS + b".5}",
    "a whole number with 5000 digits": b'{"points": ' + b"9" * 5000 + b"}",
    "a byte order mark": b"\xef\xbb\xbf{}",
    "a byte that UTF-8 has no use for": b'{"client_reference": "\xc0\x80"}',
    "half of a pair of surrogates, encoded": b'{"client_reference": "\xed\xa0\x80"}',
    "half of a pair of surrogates, escaped": b'{"client_reference": "\\ud800"}',
    "a control character in text": b'{"client_reference": "a\x00b"}',
    "a leading zero": b'{"points": 05}',
    "a comma too many": b'{"points": 5,}',
    "a hexadecimal number": b'{"points": 0x5}',
    "900 lists in one another": b"[" * 900 + b"]" * 900,
    "900 objects in one another": b'{"a":' * 900 + b"1" + b"}" * 900,
    "a page": b"<html></html>",
    "a form": b"points=5&tank=20",
    "a compressed body": b"\x1f\x8b\x08\x00",
}


@EVERY_CALCULATION
@pytest.mark.parametrize("body", UNREADABLE.values(), ids=UNREADABLE)
def test_what_is_no_json_is_refused(path: str, body: bytes) -> None:
    response = SERVICE.post(path, body)

    assert (response.status_code, response.headers["Content-Type"]) == (400, PROBLEM)
    assert response.json()["code"] == "unreadable-body"


AGAINST_SCHEMA = {
    "400 digits": (b'{"points": ' + DIGITS + b"}", "/points"),
    "minus 400 digits": (b'{"points": -' + DIGITS + b"}", "/points"),
    "a large float": (b'{"points": 1e308}', "/points"),
    "a number that is nearly none": (b'{"points": 5e-324}', "/points"),
    "a number as text": (b'{"points": "5"}', "/points"),
    "null": (b'{"points": null}', "/points"),
    "a name with slashes and tildes": (b'{"a/b~c": 1}', "/a~1b~0c"),
    "an empty name": (b'{"": 1}', "/"),
    "a name of Python's": (b'{"__class__": {}}', "/__class__"),
    "a name of JavaScript's": (b'{"__proto__": {"admin": true}}', "/__proto__"),
    "100 000 numbers": (b'{"points": [' + b"1," * 99_999 + b"1]}", "/points"),
    "60 000 characters": (b'{"client_reference": "' + b"a" * 60_000 + b'"}', "/client_reference"),
    "no object": (b"[]", ""),
    "null alone": (b"null", ""),
}


@EVERY_CALCULATION
@pytest.mark.parametrize(("body", "pointer"), AGAINST_SCHEMA.values(), ids=AGAINST_SCHEMA)
def test_what_breaks_the_schema_is_pointed_at(path: str, body: bytes, pointer: str) -> None:
    response = SERVICE.post(path, body)

    assert (response.status_code, response.headers["Content-Type"]) == (422, PROBLEM)
    assert pointer in {fault["pointer"] for fault in response.json()["errors"]}
    assert len(response.content) < 20_000


def test_a_body_full_of_unknown_fields_is_answered_with_some_of_them() -> None:
    body = b"{" + b",".join(b'"%d":1' % number for number in range(20_000)) + b"}"
    response = SERVICE.post(PATH, body)

    assert response.status_code == 422
    assert len(response.json()["errors"]) == 50


def test_thousands_of_faulty_entries_take_little_more_than_a_few() -> None:
    taken = []
    for entries in (60, 60, 6_000):
        body = {"selection": {"cylinders": [{"bore": {"value": -1, "unit": "x"}}] * entries}}
        began = time.process_time()
        response = SERVICE.post(PATH, body)
        taken.append(time.process_time() - began)

        assert response.status_code == 422
        assert len(response.json()["errors"]) == 50
    _, few, many = taken  # the first finds nothing prepared
    assert many < 20.0 * few  # a hundred times as many faults, were they all looked at


def test_no_list_may_be_longer_than_what_is_looked_at() -> None:
    longest = max(int(found) for found in re.findall(r'"maxItems": (\d+)', json.dumps(SCHEMAS)))

    assert longest < LONGEST_LIST


REPEATED = {
    "the same value": (b'{"points": 5, "points": 5}', ["/points"]),
    "another value": (b'{"points": 3, "points": 5}', ["/points"]),
    "a faulty value": (b'{"points": "x", "points": 5}', ["/points"]),
    "three times": (b'{"points": 3, "points": 4, "points": 5}', ["/points", "/points"]),
    "written in another way": (b'{"points": 3, "poi\\u006ets": 5}', ["/points"]),
    "within": (b'{"tank": {"precharge": {"value": 9, "unit": "m", "value": 40}}}', ["/tank/precharge/value"]),
    "in a list": (b'{"conduit": {"runs": [{}, {"length": 1, "length": 2}]}}', ["/conduit/runs/1/length"]),
    "in what is given twice": (b'{"a": {"b": 1, "b": 2}, "a": 3}', ["/a", "/a/b"]),
    "with a slash": (b'{"a/b": 1, "a/b": 2}', ["/a~1b"]),
    "beside huge numbers": (b'{"points": ' + DIGITS + b', "points": 1}', ["/points"]),
}  # fmt: skip


@EVERY_CALCULATION
@pytest.mark.parametrize(("body", "pointers"), REPEATED.values(), ids=REPEATED)
def test_a_field_given_twice_is_refused_and_pointed_at(path: str, body: bytes, pointers: list[str]) -> None:
    response = SERVICE.post(path, body)

    assert (response.status_code, response.json()["code"]) == (400, "unreadable-body")
    assert sorted(fault["pointer"] for fault in response.json()["errors"]) == pointers


def test_fields_of_the_same_name_in_different_places_are_none_given_twice() -> None:
    assert SERVICE.post(PATH, {**SITE, "well": {}, "pressures": {}}).status_code == 200


OTHER_MEDIA = {
    "UTF-16": ({"Content-Type": "application/json; charset=utf-16"}, '{"points": 5}'.encode("utf-16")),
    "UTF-32": ({"Content-Type": "application/json;charset=UTF-32"}, b"{}"),
    "Latin-1": ({"Content-Type": 'application/json; charset="iso-8859-1"'}, b"{}"),
    "a charset after others": ({"Content-Type": "application/json; a=b; charset=utf-7"}, b"{}"),
    "gzip": ({"Content-Type": JSON, "Content-Encoding": "gzip"}, b"\x1f\x8b\x08"),
    "br": ({"Content-Type": JSON, "Content-Encoding": "br"}, b"{}"),
    "zstd": ({"Content-Type": JSON, "Content-Encoding": "zstd"}, b"{}"),
    "deflate": ({"Content-Type": JSON, "Content-Encoding": "deflate"}, b"{}"),
    "gzip in gzip": ({"Content-Type": JSON, "Content-Encoding": "gzip, gzip"}, b"{}"),
    "identity and gzip": ({"Content-Type": JSON, "Content-Encoding": "identity, gzip"}, b"{}"),
    "a form": ({"Content-Type": "multipart/form-data; boundary=x"}, b"--x--"),
    "XML": ({"Content-Type": "application/xml"}, b"<a/>"),
    "two types": ({"Content-Type": "application/json, text/plain"}, b"{}"),
    "no type": ({"Content-Type": ";charset=utf-8"}, b"{}"),
}  # fmt: skip


@EVERY_CALCULATION
@pytest.mark.parametrize(("headers", "body"), OTHER_MEDIA.values(), ids=OTHER_MEDIA)
def test_what_is_not_sent_as_plain_json_in_utf_8_is_never_decoded(
    path: str, headers: dict[str, str], body: bytes
) -> None:
    response = SERVICE.ask("POST", path, content=body, headers=headers)

    assert (response.status_code, response.json()["code"]) == (415, "unsupported-media-type")
    assert response.headers["Accept"] == JSON
    assert response.headers["Accept-Encoding"] == "identity"


@pytest.mark.parametrize(
    "media_type", ["application/json; charset=UTF-8", 'application/json;charset="utf-8"']
)
def test_utf_8_may_be_named(media_type: str) -> None:
    assert SERVICE.post(PATH, {}, Content_Type=media_type).status_code == 200


LONG = {
    "a path": "/v1/" + "a" * 8_000,
    "a path of many parts": "/a" * 4_001,
    "a query": "/v1/units?" + "a=1&" * 2_000,
    "an escaped path": "/v1/catalogues/" + "%20" * 3_000,
}


@pytest.mark.parametrize("path", LONG.values(), ids=LONG)
@pytest.mark.parametrize("method", ["GET", "POST", "BREW"])
def test_a_very_long_address_is_a_414(method: str, path: str) -> None:
    response = SERVICE.ask(method, path)

    assert (response.status_code, response.headers["Content-Type"]) == (414, PROBLEM)
    assert response.json()["code"] == "uri-too-long"


def test_an_address_at_the_limit_is_looked_up() -> None:
    assert SERVICE.get("/" + "a" * 7_999).status_code == 404


FLOODS = {
    "one large field": {"X-Large": "a" * 33_000},
    "a large name": {"x" * 33_000: "a"},
    "many fields": {f"X-{number}": "a" * 500 for number in range(90)},
    "a cookie jar": {"Cookie": "; ".join(f"c{number}={'x' * 100}" for number in range(400))},
}


@pytest.mark.parametrize("headers", FLOODS.values(), ids=FLOODS)
def test_header_fields_without_measure_are_a_431(headers: dict[str, str]) -> None:
    response = SERVICE.ask("GET", "/v1/units", headers=headers)

    assert (response.status_code, response.headers["Content-Type"]) == (431, PROBLEM)
    assert response.json()["code"] == "headers-too-large"


ODD_PATHS = {
    "escapes that are none": "/v1/catalogues/%zz",
    "a cut escape": "/v1/catalogues/%e",
    "bytes that are no UTF-8": "/v1/catalogues/%ff%fe",
    "an escaped null": "/v1/catalogues/%00",
    "an escape escaped": "/v1/catalogues/%2564emo",
    "the folder above": "/v1/../../etc/passwd",
    "the folder above, escaped": "/v1/catalogues/%2e%2e%2f%2e%2e",
    "a line break": "/v1/catalogues/a%0d%0aSet-Cookie:%20x=1",
    "markup": "/v1/catalogues/<script>alert(1)</script>",
    "a template": "/v1/catalogues/{{7*7}}${7*7}",
    "two slashes": "//v1//units",
    "text that runs from right to left": "/v1/catalogues/%E2%80%AEdemo",
}


@pytest.mark.parametrize("path", ODD_PATHS.values(), ids=ODD_PATHS)
def test_an_odd_path_leads_nowhere(path: str) -> None:
    response = SERVICE.get(path)

    assert (response.status_code, response.headers["Content-Type"]) == (404, PROBLEM)
    assert "Set-Cookie" not in response.headers
    assert "script" not in response.text


@pytest.mark.parametrize(
    "query", ["%ff=%fe", "units=%zz", "units=si%00", "units[]=si", "=", "%", "units=us&%75nits=us"]
)
def test_an_odd_query_is_a_422(query: str) -> None:
    response = SERVICE.get(f"/v1/defaults?{query}")

    assert (response.status_code, response.json()["code"]) == (422, "invalid-field")


@pytest.mark.parametrize("name", ["X-HTTP-Method-Override", "X-HTTP-Method", "X-Method-Override"])
def test_a_method_can_not_be_smuggled_in(name: str) -> None:
    headers = {"Content-Type": JSON, name: "POST"}

    assert SERVICE.ask("GET", PATH, content=b"{}", headers=headers).status_code == 405
    assert SERVICE.ask("POST", "/v1/units", headers={**headers, name: "GET"}).status_code == 405


@pytest.mark.parametrize("method", ["BREW", "PROPFIND", "PRI", "CONNECT", "X" * 1000])
def test_an_unknown_method_is_a_405(method: str) -> None:
    response = SERVICE.ask(method, PATH)

    assert (response.status_code, response.headers["Content-Type"]) == (405, PROBLEM)


@pytest.mark.parametrize("host", ["evil.example", "[::1", "x:99999", "localhost:80", "a" * 5_000, ""])
def test_another_host_changes_nothing_and_is_not_repeated(host: str) -> None:
    response = SERVICE.get("/v1/catalogues/nope", Host=host)

    assert response.status_code == 404
    assert not host or host not in response.text + str(response.headers)


@pytest.mark.parametrize("host", [b"<script>", b"a b", b"\xff"])
def test_a_host_that_is_none_is_a_400(host: bytes) -> None:
    response = SERVICE.ask("GET", "/v1/units", headers=[(b"Host", host)])

    assert (response.status_code, response.json()["code"]) == (400, "unreadable-header")


def test_two_hosts_are_a_400() -> None:
    response = SERVICE.ask("GET", "/v1/units", headers=[("Host", "a.example"), ("Host", "b.example")])

    assert (response.status_code, response.json()["code"]) == (400, "unreadable-header")


ODD_FIELDS = {
    "bytes that are no ASCII": [(b"Accept-Language", b"\xff"), (b"Authorization", b"\xff"), (b"Cookie", b"\xff=")],
    "an entity tag without end": [(b"If-None-Match", b'"' * 20_000)],
    "preferences without end": [(b"Accept", b"*/*;q=0.1," * 3_000)],
    "numbers that are none": [(b"Content-Length", b"-5"), (b"Max-Forwards", b"x"), (b"Range", b"bytes=9-1")],
    "traces that are none": [(b"Traceparent", b"00-zz-zz-01"), (b"Tracestate", b"=" * 2_000), (b"Baggage", b"%%%")],
    "addresses that are none": [(b"X-Forwarded-For", b"'; drop table"), (b"Forwarded", b"for=unknown;" * 100)],
    "a site that is none": [(b"Origin", b"null"), (b"Referer", b"javascript:alert(1)")],
    "the same again and again": [(b"X-Request-Id", b"a")] * 90,
}  # fmt: skip


@pytest.mark.parametrize("headers", ODD_FIELDS.values(), ids=ODD_FIELDS)
def test_odd_header_fields_do_no_harm(headers: list[tuple[bytes, bytes]]) -> None:
    for path in ("/v1/units", "/v1/catalogues/demo", "/livez", "/nope"):
        response = SERVICE.ask("GET", path, headers=headers)
        assert response.status_code in {200, 404}
