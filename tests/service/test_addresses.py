"""Addresses, methods, query parameters, caching, and what every response carries."""

import pytest
from tests.service.in_process import CALCULATIONS, JSON, PROBLEM, start
from tests.service.sites import SITE

from upstroke_service.api.problems import STATUSES

SERVICE = start()
POSTED = [f"/v1/{name}" for name in CALCULATIONS]
TAGGED = [
    "/v1/catalogues",
    "/v1/catalogues/demo",
    "/v1/units",
    "/v1/defaults",
    "/v1/operators",
    "/v1/water-uses",
    "/openapi.json",
]
READ = [*TAGGED, "/livez", "/readyz"]


@pytest.mark.parametrize(
    "path", ["/nope", "/v1", "/v1/sizings/1", "/v2/sizings", "/v1/catalogues/nope", "/problems/nope"]
)
def test_an_unknown_address_is_a_404_problem(path: str) -> None:
    response = SERVICE.get(path)

    assert response.status_code == 404
    assert response.headers["Content-Type"] == PROBLEM
    assert response.json()["code"] == "not-found"


@pytest.mark.parametrize("path", POSTED)
@pytest.mark.parametrize("method", ["GET", "PUT", "PATCH", "DELETE", "TRACE"])
def test_a_calculation_takes_post_alone_and_says_so(path: str, method: str) -> None:
    response = SERVICE.ask(method, path)

    assert response.status_code == 405
    assert response.headers["Content-Type"] == PROBLEM
    assert {"POST", "OPTIONS"} == set(response.headers["Allow"].replace(" ", "").split(","))


@pytest.mark.parametrize("path", READ)
def test_what_can_be_read_can_not_be_posted_to(path: str) -> None:
    response = SERVICE.post(path, {})

    assert response.status_code == 405
    assert {"GET", "HEAD", "OPTIONS"} == set(response.headers["Allow"].replace(" ", "").split(","))


@pytest.mark.parametrize("path", READ)
def test_head_answers_as_get_does_without_the_content(path: str) -> None:
    head, get = SERVICE.ask("HEAD", path), SERVICE.get(path)

    assert head.status_code == get.status_code == 200
    assert head.content == b""
    for name in ("Content-Type", "Content-Length", "Cache-Control", "ETag"):
        assert head.headers.get(name) == get.headers.get(name)


def test_head_of_a_calculation_is_refused_without_content() -> None:
    response = SERVICE.ask("HEAD", "/v1/sizings")

    assert response.status_code == 405
    assert response.content == b""


@pytest.mark.parametrize("path", [*POSTED, *READ])
def test_options_lists_the_methods(path: str) -> None:
    response = SERVICE.ask("OPTIONS", path)

    assert response.status_code == 204
    assert ("POST" if path in POSTED else "HEAD") in response.headers["Allow"]


BAD_QUERIES = {
    "misspelled name": "?unit=si",
    "name in capitals": "?Units=si",
    "unknown word": "?units=metric",
    "word in capitals": "?units=SI",
    "empty word": "?units=",
    "given twice": "?units=si&units=si",
    "given twice in disagreement": "?units=si&units=us",
    "one known and one not": "?units=si&language=en",
}


@pytest.mark.parametrize("query", BAD_QUERIES.values(), ids=BAD_QUERIES)
@pytest.mark.parametrize("path", [*POSTED, "/v1/defaults", "/v1/operators", "/v1/catalogues/demo"])
def test_a_query_that_is_not_as_the_contract_says_is_a_422(path: str, query: str) -> None:
    response = SERVICE.post(path + query, SITE) if path in POSTED else SERVICE.get(path + query)

    assert response.status_code == 422
    assert response.json()["code"] == "invalid-field"
    assert "uery parameter" in response.json()["detail"]


def test_a_query_full_of_faults_is_answered_with_the_first_few_and_no_long_word() -> None:
    query = "&".join(f"{'x' * 50}{number}=1" for number in range(100))
    detail = SERVICE.get(f"/v1/units?{query}").json()["detail"]

    assert detail.count("Unknown query parameter") == 5
    assert "x" * 50 not in detail


@pytest.mark.parametrize(
    "path", ["/livez", "/v1/units", "/v1/catalogues", "/openapi.json", "/problems/not-found"]
)
def test_what_takes_no_query_refuses_one(path: str) -> None:
    response = SERVICE.get(f"{path}?units=si")

    assert response.status_code == 422
    assert "takes: none" in response.json()["detail"]


@pytest.mark.parametrize("path", TAGGED)
def test_an_answer_that_a_client_has_already_is_a_304(path: str) -> None:
    first = SERVICE.get(path)
    tag = first.headers["ETag"]

    for known in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        again = SERVICE.get(path, If_None_Match=known)
        assert again.status_code == 304
        assert again.content == b""
        assert again.headers["ETag"] == tag
    assert SERVICE.get(path, If_None_Match='"other"').content == first.content


def test_each_system_of_units_has_an_entity_tag_of_its_own() -> None:
    for path in ("/v1/defaults", "/v1/operators", "/v1/catalogues/demo"):
        assert (
            SERVICE.get(f"{path}?units=us").headers["ETag"] != SERVICE.get(f"{path}?units=si").headers["ETag"]
        )


@pytest.mark.parametrize("path", [*TAGGED, "/problems/not-found"])
def test_what_depends_on_the_deployment_alone_may_be_kept(path: str) -> None:
    assert SERVICE.get(path).headers["Cache-Control"] == "public, max-age=300"


@pytest.mark.parametrize("path", POSTED)
def test_no_calculation_is_kept_anywhere(path: str) -> None:
    assert SERVICE.post(path, SITE).headers["Cache-Control"] == "no-store"
    assert SERVICE.post(path, b"").headers["Cache-Control"] == "no-store"


def test_health_is_never_kept() -> None:
    for path in ("/livez", "/readyz"):
        assert SERVICE.get(path).headers["Cache-Control"] == "no-store"
        assert SERVICE.get(path).json()["status"] == "ok"


@pytest.mark.parametrize("path", POSTED)
def test_a_calculation_names_the_language_of_its_sentences(path: str) -> None:
    assert SERVICE.post(path, SITE).headers["Content-Language"] == "en"


@pytest.mark.parametrize("path", TAGGED)
def test_what_can_be_read_comes_as_json_only(path: str) -> None:
    assert SERVICE.get(path).headers["Content-Type"] == JSON
    assert SERVICE.get(path, Accept="text/html").status_code == 406


@pytest.mark.parametrize("code", STATUSES)
def test_the_type_of_every_problem_is_a_page_that_explains_it(code: str) -> None:
    response = SERVICE.get(f"/problems/{code}")

    assert response.status_code == 200
    assert response.headers["Content-Type"].startswith("text/html")
    assert code in response.text
    assert str(STATUSES[code]) in response.text


def test_the_openapi_document_that_is_served_is_the_committed_one() -> None:
    assert SERVICE.get("/openapi.json").json()["paths"].keys() >= set(POSTED)


REQUEST_IDS = {"given": "order-4711.a_b", "longest": "x" * 64}
HOSTILE_IDS = {
    "too long": "x" * 65,
    "with a space": "a b",
    "markup": "<script>",
    "empty": "",
    "quoted": '"id"',
}


@pytest.mark.parametrize("request_id", REQUEST_IDS.values(), ids=REQUEST_IDS)
def test_a_request_id_is_answered_as_it_came(request_id: str) -> None:
    for response in (
        SERVICE.post("/v1/sizings", SITE, X_Request_Id=request_id),
        SERVICE.get("/nope", X_Request_Id=request_id),
        SERVICE.ask("HEAD", "/livez", headers={"X-Request-Id": request_id}),
    ):
        assert response.headers["X-Request-Id"] == request_id


def test_a_problem_repeats_the_request_id() -> None:
    assert SERVICE.get("/nope", X_Request_Id="order-1").json()["request_id"] == "order-1"


@pytest.mark.parametrize("request_id", HOSTILE_IDS.values(), ids=HOSTILE_IDS)
def test_a_request_id_that_could_harm_a_log_is_replaced(request_id: str) -> None:
    answered = SERVICE.get("/livez", X_Request_Id=request_id).headers["X-Request-Id"]

    assert answered != request_id
    assert len(answered) == 16


def test_a_request_without_an_id_gets_one_of_its_own() -> None:
    first, second = SERVICE.get("/livez"), SERVICE.get("/livez")

    assert first.headers["X-Request-Id"] != second.headers["X-Request-Id"]
