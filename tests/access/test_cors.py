"""Sites whose pages may call the service, as the Fetch standard has it (fetch.spec.whatwg.org, section 3.2)."""

from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.access.entrances import bearer, guarded
from tests.service.in_process import Service, start
from tests.service.sites import SITE

from upstroke_service.settings import Quota

ALLOWED = "https://dealer.example"
ORIGINS = frozenset({ALLOWED, "http://localhost:3000"})
STRANGERS = [
    "https://dealer.example.net",
    "https://evil-dealer.example",
    "https://www.dealer.example",
    "http://dealer.example",
    "https://dealer.example:8443",
    "https://DEALER.example",
    "https://dealer.example/",
    "null",
    "*",
    "",
]


@pytest.fixture(scope="module")
def service() -> Service:
    return start(cors_origins=ORIGINS)


def preflight(service: Service, origin: str, path: str = "/v1/sizings") -> httpx.Response:
    """What a browser asks before it sends JSON or a key."""
    asked = {
        "Origin": origin,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "authorization,content-type",
    }
    return service.ask("OPTIONS", path, headers=asked)


def permissions(answer: httpx.Response) -> dict[str, str]:
    return {name: value for name, value in answer.headers.items() if name.startswith("access-control-")}


@pytest.mark.parametrize("origin", sorted(ORIGINS))
def test_a_page_of_an_allowed_site_may_call_and_read(origin: str, service: Service) -> None:
    asked = preflight(service, origin)
    assert (asked.status_code, asked.content) == (204, b"")
    granted = permissions(asked)
    assert granted["access-control-allow-origin"] == origin
    assert "POST" in granted["access-control-allow-methods"]
    allowed = {one.strip().lower() for one in granted["access-control-allow-headers"].split(",")}
    assert {"authorization", "content-type", "x-request-id"} <= allowed

    answer = service.post("/v1/sizings", SITE, Origin=origin)
    assert answer.status_code == 200
    assert answer.headers["access-control-allow-origin"] == origin
    readable = {one.strip().lower() for one in answer.headers["access-control-expose-headers"].split(",")}
    assert {"ratelimit", "ratelimit-policy", "retry-after", "x-request-id", "content-language"} <= readable


@pytest.mark.parametrize("origin", STRANGERS)
def test_a_page_of_any_other_site_gets_no_permission(origin: str, service: Service) -> None:
    asked = preflight(service, origin)
    if origin:
        assert asked.status_code == 204
    for answer in (asked, service.post("/v1/sizings", SITE, Origin=origin)):
        assert permissions(answer) == {}
        assert "Origin" in answer.headers["vary"].split(", ")


@pytest.mark.parametrize("headers", [{}, {"Origin": ALLOWED}, {"Origin": "https://elsewhere.example"}])
def test_caches_keep_the_answers_to_each_site_apart(headers: dict[str, str], service: Service) -> None:
    assert "Origin" in service.get("/v1/units", **headers).headers["vary"].split(", ")


def test_credentials_of_the_browser_are_never_allowed(service: Service) -> None:
    for answer in (preflight(service, ALLOWED), service.get("/v1/units", Origin=ALLOWED)):
        assert "access-control-allow-credentials" not in answer.headers


def test_two_origins_are_none(service: Service) -> None:
    answer = service.ask("GET", "/v1/units", headers=[("Origin", ALLOWED), ("Origin", ALLOWED)])
    assert permissions(answer) == {}


def test_without_allowed_sites_nothing_is_said_of_them() -> None:
    service = start()
    for answer in (preflight(service, ALLOWED), service.get("/v1/units", Origin=ALLOWED)):
        assert permissions(answer) == {}
        assert "Origin" not in answer.headers.get("vary", "")


def test_a_plain_options_request_is_no_question_of_a_browser(service: Service) -> None:
    answer = service.ask("OPTIONS", "/v1/units", headers={"Origin": ALLOWED})
    assert "GET" in answer.headers["allow"]


def test_pages_can_read_that_the_service_is_busy() -> None:
    answer = start(cors_origins=ORIGINS, most_open=0).get("/v1/units", Origin=ALLOWED)
    assert answer.status_code == 503
    assert answer.headers["access-control-allow-origin"] == ALLOWED


def test_pages_can_read_refusals_too(tmp_path: Path) -> None:
    settings: dict[str, Any] = {"cors_origins": ORIGINS, "rate_limit": Quota(1, 60)}
    service = guarded(tmp_path, **settings)
    # What a browser asks beforehand carries no key, and takes nothing from a quota.
    for _ in range(3):
        assert preflight(service, ALLOWED).headers["access-control-allow-origin"] == ALLOWED
    assert service.post("/v1/sizings", SITE, Origin=ALLOWED, **bearer("whole")).status_code == 200
    for expected, headers in ((429, bearer("whole")), (401, {}), (403, bearer("reading"))):
        answer = service.post("/v1/sizings", SITE, Origin=ALLOWED, **headers)
        assert answer.status_code == expected
        assert answer.headers["access-control-allow-origin"] == ALLOWED
