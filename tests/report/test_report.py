"""A sizing as a report: what was asked for, complete, readable by people and machines."""

import io
import re
from typing import Any

import html5lib
import pypdf
import pytest
from tests.service.in_process import JSON, Service
from tests.service.sites import SITE, changed

from upstroke_service.api.app import create_app
from upstroke_service.api.operation import quotes
from upstroke_service.settings import Settings

HTML = "text/html"
PDF = "application/pdf"
PATH = "/v1/sizings"
POINTS = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}
"""Width and height of a page: ANSI/ASME Y14.1 size A (8.5 in by 11 in), ISO 216 A4 (210 mm by 297 mm)."""


@pytest.fixture(scope="module")
def service() -> Service:
    return Service(create_app(Settings(log_level="error")))


def pdf_of(service: Service, body: Any, path: str = PATH, **headers: str) -> pypdf.PdfReader:
    response = service.post(path, body, accept=PDF, **headers)
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == PDF
    return pypdf.PdfReader(io.BytesIO(response.content))


def text_of(reader: pypdf.PdfReader) -> str:
    """All words in their order, broken lines joined."""
    text = " ".join(page.extract_text() for page in reader.pages)
    return " ".join(text.replace("\xad", "").split())


def squeezed(text: str) -> str:
    """Without spaces and hyphens: where a line breaks is not what is said."""
    return re.sub(r"[\s\-\u2010\u200b]+", "", text)


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        ("*/*", JSON),
        ("", JSON),
        ("application/*", JSON),
        ("text/*", HTML),
        (HTML, HTML),
        (PDF, PDF),
        ("text/html, application/json", JSON),
        ("text/html, application/json;q=0.9", HTML),
        ("application/pdf;q=0.2, text/html;q=0.1", PDF),
        ("*/*;q=0.1, application/pdf;q=0.5", PDF),
        ("application/json;q=0, */*", HTML),
        ("Application/PDF", PDF),
    ],
)
def test_the_form_is_the_one_that_is_preferred(service: Service, accept: str, expected: str) -> None:
    response = service.post(PATH, SITE, accept=accept)
    assert response.status_code == 200
    assert response.headers["content-type"].partition(";")[0] == expected


@pytest.mark.parametrize("accept", ["image/png", "application/pdf;q=0", "text/plain"])
def test_a_form_that_there_is_not_is_refused(service: Service, accept: str) -> None:
    response = service.post(PATH, SITE, accept=accept)
    assert response.status_code == 406
    assert PDF in response.json()["detail"]


@pytest.mark.parametrize("accept", [HTML, PDF])
def test_what_is_wrong_with_a_request_is_a_problem_in_every_form(service: Service, accept: str) -> None:
    response = service.post(PATH, changed({"/well/static_water_level": -1}), accept=accept)
    assert response.status_code == 422
    assert response.headers["content-type"] == "application/problem+json"


def test_other_operations_have_no_reports(service: Service) -> None:
    assert service.post("/v1/lift-budgets", SITE, accept=PDF).status_code in {406, 422}
    assert service.post("/v1/lift-budgets?paper=a4", SITE).status_code == 422


# The longest of the demo quotes, in Spanish on the shorter paper above all, and the shortest.
@pytest.mark.parametrize(
    ("name", "query", "language", "paper"),
    [
        ("small-buffer-tank", "units=us", "es", "letter"),
        ("small-buffer-tank", "units=si", "es", "a4"),
        ("small-buffer-tank", "units=us", "en", "letter"),
        ("small-buffer-tank", "paper=a4", "en", "a4"),
        ("no-water-level", "units=si", "en", "a4"),
        ("no-water-level", "units=us", "es", "letter"),
    ],
)
def test_a_quote_fits_on_a_few_pages_of_the_paper_asked_for(
    service: Service, name: str, query: str, language: str, paper: str
) -> None:
    reader = pdf_of(service, quotes()[name], f"{PATH}?{query}", accept_language=language)
    assert 2 <= len(reader.pages) <= 4
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            POINTS[paper], abs=0.5
        )


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_pdf_says_its_language_title_and_structure(service: Service, language: str) -> None:
    reader = pdf_of(service, quotes()["fits-easily"], accept_language=language)
    root: Any = reader.trailer["/Root"]

    assert root["/Lang"] == language
    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/K"]
    assert reader.metadata is not None
    assert reader.metadata.title
    assert [entry.title for entry in reader.outline if not isinstance(entry, list)]
    for number, page in enumerate(reader.pages, start=1):
        assert f"{number} / {len(reader.pages)}" in page.extract_text()


@pytest.mark.parametrize("name", sorted(quotes()))
def test_a_pdf_tells_all_that_the_answer_tells(service: Service, name: str) -> None:
    answer = service.answer(PATH, quotes()[name])
    text = squeezed(text_of(pdf_of(service, quotes()[name])))

    said = [answer["summary"], answer["scope"], answer["calculation_id"], answer["model_version"]]
    said += [one[key] for one in answer["cautions"] for key in ("text", "why", "who")]
    said += [one["text"] for one in answer["assumptions"]]
    said += [one["text"] for one in answer["questions"]]
    said += [one["text"] for one in answer.get("procedure", [])]
    said += [one["name"] for one in answer.get("parts", [])]
    said += [one["cylinder"]["name"] for one in answer["candidates"]]
    missing = [one for one in said if squeezed(one) not in text]
    assert missing == []


def test_a_page_tells_the_same_as_the_pdf(service: Service) -> None:
    page = html5lib.parse(
        service.post(PATH, SITE, accept=HTML).text, treebuilder="etree", namespaceHTMLElements=False
    )
    words = squeezed("".join(page.find("body").itertext()))
    printed = squeezed(text_of(pdf_of(service, SITE)))
    for caution in service.answer(PATH, SITE)["cautions"]:
        assert squeezed(caution["text"]) in words
        assert squeezed(caution["text"]) in printed


def test_a_page_is_valid_and_needs_nothing_else(service: Service) -> None:
    response = service.post(PATH, quotes()["pressure-head-decides"], accept=HTML)
    html5lib.HTMLParser(strict=True).parse(response.text)
    policy = response.headers["content-security-policy"]

    assert not re.findall(r'(?:src|href)="(?!#)', response.text)
    assert " style=" not in response.text
    assert "unsafe-inline" not in policy
    assert "'sha256-" in policy


def test_links_of_a_page_lead_to_its_sections(service: Service) -> None:
    text = service.post(PATH, SITE, accept=HTML).text
    linked = re.findall(r'href="#([^"]+)"', text)
    assert linked
    assert set(linked) == set(re.findall(r'<h2 id="([^"]+)"', text))


@pytest.mark.parametrize(
    "hostile", ["#panic()", "<b>bold</b>", "$x$ *y* @z", "</style><script>alert(1)</script>", "\\u{48}`'\""]
)
def test_what_callers_write_stays_what_they_wrote(service: Service, hostile: str) -> None:
    body = {**SITE, "client_reference": hostile}
    assert squeezed(hostile) in squeezed(text_of(pdf_of(service, body)))
    page = html5lib.parse(
        service.post(PATH, body, accept=HTML).text, treebuilder="etree", namespaceHTMLElements=False
    )
    assert hostile in "".join(page.itertext())
    assert page.find(".//script") is None


def test_words_too_long_for_a_line_are_broken_and_complete(service: Service) -> None:
    run = {"inside_diameter": {"value": 0.75, "unit": "in"}, "length": {"value": 50, "unit": "ft"}}
    body = {
        **SITE,
        "client_reference": "V" * 64,
        "conduit": {"runs": [{**run, "description": "W" * 200}], "fittings": []},
    }
    reader = pdf_of(service, body)
    lines = [line for page in reader.pages for line in page.extract_text().splitlines()]

    assert max(line.count("W") for line in lines) < 100
    assert "W" * 200 in squeezed(text_of(reader))
    assert "V" * 64 in squeezed(text_of(reader))


def test_the_same_request_gives_the_same_bytes(service: Service) -> None:
    once, again = (service.post(PATH, SITE, accept=PDF).content for _ in range(2))
    assert once == again


def test_an_open_tank_is_not_said_to_be_under_pressure(service: Service) -> None:
    body = {**SITE, "tank": {"kind": "open", "total_volume": {"value": 200, "unit": "gal"}}, "pressures": {}}
    text = text_of(pdf_of(service, body))
    assert "Open tank, 200" in text
    assert "Pressure tank" not in text
    assert "Pressure in the tank" not in text


def test_where_nothing_fits_the_nearest_cylinder_is_shown_with_what_rules_it_out(service: Service) -> None:
    deep = {"value": 900, "unit": "ft"}
    body = changed({"/well/static_water_level": deep, "/well/well_depth": {"value": 1000, "unit": "ft"}})
    answer = service.answer(PATH, body)
    assert answer["verdict"] == "nothing_fits"
    text = squeezed(text_of(pdf_of(service, body)))
    assert squeezed(f"Nearest: {answer['candidates'][0]['cylinder']['name']}") in text
    assert squeezed(answer["candidates"][0]["reasons"][0]["text"]) in text


def test_a_refusal_is_told_in_the_language_asked_for(service: Service) -> None:
    text = text_of(pdf_of(service, SITE, accept_language="es"))
    assert "Precauciones" in text
    assert "Cautions" not in text
