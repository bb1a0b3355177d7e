"""What the form is made of, as it is served: to any site, small, kept by caches, and nothing else."""

import gzip
import json
import re
from pathlib import Path

import html5lib
import pytest
from tests.access.entrances import guarded
from tests.service.in_process import Service, start

from upstroke_service.api import quote_pages
from upstroke_service.api.bounds import BOUNDS
from upstroke_service.contract.quantities import Depth, GaugePressure
from upstroke_service.settings import Quota

FILES = {f"/quote/{name}": one for name, one in quote_pages.files().items()}
MOST_BYTES = 150_000


@pytest.fixture(scope="module")
def service() -> Service:
    return start(cors_origins=frozenset({"https://dealer.example"}))


@pytest.mark.parametrize("path", FILES)
def test_any_site_may_load_it(path: str, service: Service) -> None:
    for origin in ("https://dealer.example", "https://other.example"):
        answer = service.get(path, Origin=origin, Accept_Encoding="identity")
        assert answer.status_code == 200
        assert answer.content == FILES[path].plain
        assert answer.headers.get_list("access-control-allow-origin") == ["*"]
        assert answer.headers.get_list("cross-origin-resource-policy") == ["cross-origin"]
        assert answer.headers["content-type"].startswith(FILES[path].media_type)
        assert answer.headers["x-content-type-options"] == "nosniff"


def test_it_is_compressed_for_those_who_take_that(service: Service) -> None:
    small = service.get("/quote/quote.js", Accept_Encoding="br, gzip")
    plain = service.get("/quote/quote.js", Accept_Encoding="identity")
    assert small.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in plain.headers
    assert small.content == plain.content
    assert small.headers["etag"] != plain.headers["etag"]
    assert "Accept-Encoding" in small.headers["vary"]


def test_all_of_it_together_is_small() -> None:
    assert sum(len(one.packed) for one in FILES.values()) < MOST_BYTES
    assert all(gzip.decompress(one.packed) == one.plain for one in FILES.values())


def test_who_has_it_gets_it_no_second_time(service: Service) -> None:
    tag = service.get("/quote/form.js").headers["etag"]
    again = service.get("/quote/form.js", If_None_Match=tag)
    assert (again.status_code, again.content) == (304, b"")
    assert again.headers["cache-control"] == "public, max-age=300"


@pytest.mark.parametrize(
    "path",
    [
        "/quote/",
        "/quote/none.js",
        "/quote/../api/app.py",
        "/quote/%2e%2e/settings.py",
        "/quote/languages/fr.js",
    ],
)
def test_nothing_else_is_served(path: str, service: Service) -> None:
    answer = service.get(path)
    assert answer.status_code == 404
    assert answer.json()["code"] == "not-found"


def test_it_needs_no_key_and_uses_up_no_quota(tmp_path: Path) -> None:
    service = guarded(tmp_path, rate_limit=Quota(1, 60))
    assert [service.get(path).status_code for path in FILES] == [200] * len(FILES)
    assert service.get("/").status_code == 200


def test_the_page_is_valid_and_keeps_to_its_content_policy(service: Service) -> None:
    answer = service.get("/")
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(answer.text)
    assert page.get("lang") == "en"
    assert len(list(page.iter("h1"))) == 1
    assert "unsafe" not in answer.headers["content-security-policy"]
    for element in page.iter():
        assert not [name for name in element.attrib if name == "style" or name.startswith("on")]
        for name in ("src", "href"):
            if address := element.get(name):
                assert service.get(address).status_code == 200


def test_no_file_names_a_host() -> None:
    """But the namespace of SVG, which nothing is loaded from."""
    for path, one in FILES.items():
        found = set(re.findall(r"(?:https?:)?//[\w-]+\.[\w.-]+[/\w]*", one.plain.decode()))
        assert found <= {"http://www.w3.org/2000/svg"}, path


def test_limits_are_those_that_judge_a_request(service: Service) -> None:
    told = json.loads(FILES["/quote/fields.json"].plain)
    fields = told["fields"]
    assert fields["/well/static_water_level"]["units"] == {
        unit: [bounds.lowest, bounds.highest] for unit, bounds in BOUNDS[Depth].items()
    }
    assert fields["/site/supply/kind"]["words"] == ["constant_pressure", "pressure_switch"]
    assert fields["/operator/people"] == {"least": 1, "most": 12, "whole": True, "assumed": True}

    highest = BOUNDS[GaugePressure]["psi"].highest
    for value, status in ((highest, 200), (highest + 0.1, 422)):
        body = {"tank": {"maximum_working_pressure": {"value": value, "unit": "psi"}}}
        assert service.post("/v1/sizings", body).status_code == status
