"""The log: one line of JSON for each request, that says what happened and nothing about anybody."""

import json
from typing import Any

import pytest
from tests.service.in_process import Service, start
from tests.service.sites import SITE, changed

from upstroke_service.api import listings

TRACE = "0af7651916cd43dd8448eb211c80319c"
PARENT = f"00-{TRACE}-b7ad6b7169203331-01"


@pytest.fixture
def service() -> Service:
    return start(log_level="info")


def logged(capfd: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    return [json.loads(line) for line in capfd.readouterr().out.splitlines()]


def test_a_line_says_what_was_asked_what_came_of_it_and_how_long_it_took(
    service: Service, capfd: pytest.CaptureFixture[str]
) -> None:
    service.get("/v1/catalogues/demo", X_Request_Id="order-7", traceparent=PARENT)
    (line,) = logged(capfd)

    assert line.pop("milliseconds") > 0.0
    assert line.pop("timestamp").endswith("Z")
    assert line == {
        "event": "request",
        "level": "info",
        "method": "GET",
        "route": "/v1/catalogues/{name}",
        "status": 200,
        "outcome": "answered",
        "request_id": "order-7",
        "trace_id": TRACE,
    }


@pytest.mark.parametrize(
    ("method", "path", "content", "route", "outcome"),
    [
        ("POST", "/v1/sizings", b"{", "/v1/sizings", "unreadable-body"),
        ("GET", "/nowhere", None, "none", "not-found"),
        ("HEAD", "/v1/units", None, "/v1/units", "answered"),
        ("GET", "/v1/units?" + "x" * 9_000, None, "none", "uri-too-long"),
    ],
)
def test_the_outcome_is_the_code_of_the_problem(
    service: Service,
    capfd: pytest.CaptureFixture[str],
    method: str,
    path: str,
    content: bytes | None,
    route: str,
    outcome: str,
) -> None:
    service.ask(method, path, content=content, headers={"Content-Type": "application/json"})
    (line,) = logged(capfd)

    assert (line["method"], line["route"], line["outcome"]) == (method, route, outcome)


def test_nothing_that_a_customer_said_or_is_known_by_is_logged(
    service: Service, capfd: pytest.CaptureFixture[str]
) -> None:
    private = "Jane-Doe-4711"
    body = changed({"/client_reference": private})
    headers = {
        "Content-Type": "application/json",
        "Authorization": f"Bearer {private}",
        "Cookie": private,
        "X-Forwarded-For": "203.0.113.9",
        "User-Agent": private,
        "Referer": f"https://www.example.org/{private}",
    }
    for path in ("/v1/sizings", f"/v1/sizings?name={private}", f"/v1/catalogues/{private}", f"/{private}"):
        service.ask("POST", path, content=json.dumps(body).encode(), headers=headers)
    written = capfd.readouterr().out

    assert len(written.splitlines()) == 4
    assert private not in written
    assert "203.0.113.9" not in written
    assert "127.0.0.1" not in written


@pytest.mark.parametrize("forged", ['x"\n{"event": "forged"}', "a\tb", "a b", "x" * 65, ""])
def test_lines_cannot_be_forged_through_ids(
    service: Service, capfd: pytest.CaptureFixture[str], forged: str
) -> None:
    service.ask("GET", "/livez", headers=[("X-Request-Id", forged), ("traceparent", forged)])
    (line,) = logged(capfd)

    assert line["event"] == "request"
    assert len(line["request_id"]) == 16
    assert len(line["trace_id"]) == 32


@pytest.mark.parametrize(
    "parent",
    [
        "",
        f"ff-{TRACE}-b7ad6b7169203331-01",
        f"00-{'0' * 32}-b7ad6b7169203331-01",
        f"00-{TRACE}-{'0' * 16}-01",
        f"00-{TRACE.upper()}-b7ad6b7169203331-01",
        f"00-{TRACE}",
    ],
)
def test_a_faulty_trace_is_replaced_by_a_new_one(
    service: Service, capfd: pytest.CaptureFixture[str], parent: str
) -> None:
    """W3C Trace Context, 3.2.2: which values of traceparent are invalid."""
    service.get("/livez", traceparent=parent)
    service.get("/livez", traceparent=parent)
    first, second = (line["trace_id"] for line in logged(capfd))

    assert first != second
    assert TRACE not in {first, second}


def test_a_later_version_of_the_trace_header_is_read_by_what_is_known_of_it(
    service: Service, capfd: pytest.CaptureFixture[str]
) -> None:
    """W3C Trace Context, 3.2.4: versions up to fe begin like version 00."""
    service.get("/livez", traceparent=f"cc-{TRACE}-b7ad6b7169203331-01-what-comes-later")

    assert logged(capfd)[0]["trace_id"] == TRACE


def test_a_defect_is_logged_with_its_place_and_without_its_text(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("Jane Doe")

    monkeypatch.setattr(listings, "unit_list", fail)
    service = start(log_level="info")
    response = service.get("/v1/units", X_Request_Id="order-8")
    defect, request = logged(capfd)

    assert response.status_code == 500
    assert (defect["level"], defect["error"], defect["request_id"]) == (
        "error",
        "ZeroDivisionError",
        "order-8",
    )
    assert "test_logs.py" in defect["places"][-1]
    assert request["outcome"] == "internal-error"
    assert "Jane" not in json.dumps([defect, request])
    assert "Jane" not in response.text


def test_the_level_decides_what_is_logged(capfd: pytest.CaptureFixture[str]) -> None:
    start(log_level="warning").answer("/v1/sizings", SITE)

    assert capfd.readouterr().out == ""
