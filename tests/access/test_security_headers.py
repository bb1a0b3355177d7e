"""Headers that keep browsers from doing with an answer what it is not meant for."""

import re
from pathlib import Path

import pytest
from litestar.types import Receive, Scope, Send
from tests.access.entrances import guarded
from tests.service.in_process import Service, start
from tests.service.sites import SITE

from upstroke_service.api.security_headers import secure
from upstroke_service.report.render import style_source
from upstroke_service.settings import Quota

ANSWERS = {
    "a calculation": ("POST", "/v1/sizings", 200),
    "a list": ("GET", "/v1/units", 200),
    "a probe": ("GET", "/livez", 200),
    "the contract": ("GET", "/openapi.json", 200),
    "an explanation": ("GET", "/problems/forbidden", 200),
    "nothing there": ("GET", "/nothing", 404),
    "another method": ("PUT", "/v1/units", 405),
}


@pytest.fixture(scope="module")
def service() -> Service:
    return start()


def assert_secured(headers: dict[str, str]) -> None:
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["content-security-policy"].startswith("default-src 'none'")
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert not re.search(r"https?:|\*|data:", headers["content-security-policy"])


@pytest.mark.parametrize(("method", "path", "status"), ANSWERS.values(), ids=ANSWERS)
def test_every_answer_has_them(method: str, path: str, status: int, service: Service) -> None:
    answer = service.post(path, SITE) if method == "POST" else service.ask(method, path)
    assert answer.status_code == status
    assert_secured(dict(answer.headers))


def test_refusals_have_them_too(tmp_path: Path) -> None:
    service = guarded(tmp_path, keyless_scopes=frozenset({"read"}), rate_limit=Quota(1, 60))
    for status in (200, 429):
        answer = service.get("/v1/units")
        assert answer.status_code == status
        assert_secured(dict(answer.headers))
    assert_secured(dict(service.post("/v1/sizings", SITE).headers))


async def page(_scope: Scope, _receive: Receive, send: Send) -> None:
    """A page, as an application answers it."""
    headers = [(b"Content-Type", b"text/html; charset=utf-8")]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": b"<!doctype html>", "more_body": False})


def test_a_page_may_load_what_the_service_serves_and_nothing_else() -> None:
    headers = dict(Service(secure(page, 0)).get("/docs").headers)
    assert_secured(headers)
    policy = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))
    allowed = {
        name: policy.pop(name) for name in ("script-src", "style-src", "img-src", "font-src", "connect-src")
    }
    # Of styles also the one that reports have inside.
    assert set(allowed.values()) == {"'self'", f"'self' {style_source()}"}
    assert allowed["script-src"] == "'self'"
    assert set(policy) == {"default-src", "base-uri", "form-action", "frame-ancestors"}
    assert set(policy.values()) == {"'none'"}


def test_https_is_asked_for_only_where_stated(service: Service) -> None:
    assert "strict-transport-security" not in service.get("/livez").headers
    answer = start(only_https_for=31_536_000).get("/livez")
    assert answer.headers["strict-transport-security"] == "max-age=31536000"
