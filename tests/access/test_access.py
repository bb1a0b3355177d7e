"""Who may call what, with keys."""

import os
from pathlib import Path

import httpx
import pytest
from tests.access.entrances import SECRETS, bearer, guarded, key_file
from tests.access.said import said_by
from tests.service.in_process import CALCULATIONS, PROBLEM, Service, start
from tests.service.sites import SITE

from upstroke_service import watched
from upstroke_service.api.access import FORMULA_FOLDER, is_open, require_guard
from upstroke_service.api.resources import HANDLERS
from upstroke_service.settings import Settings, SettingsError

POSTED = [f"/v1/{name}" for name in CALCULATIONS]
READ = sorted(
    path.replace("{name:str}", "demo")
    for handler in HANDLERS
    for path in handler.paths
    if "GET" in handler.http_methods and path.startswith("/v1/") and not path.startswith(FORMULA_FOLDER)
)
FORMULA = f"{FORMULA_FOLDER}recommended-cylinders"
ANSWERING_EVERYONE = ["/livez", "/readyz", "/openapi.json", "/problems/unauthenticated"]


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Service:
    return guarded(tmp_path_factory.mktemp("keys"))


@pytest.fixture
def watched_always(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are looked at with every request."""
    monkeypatch.setattr(watched, "SECONDS_BETWEEN_LOOKS", 0.0)


def shown(answer: httpx.Response) -> dict[str, object]:
    """All that a caller sees of a refusal, but the id of the request."""
    problem = answer.json()
    problem.pop("request_id")
    headers = {name: value for name, value in answer.headers.items() if name != "x-request-id"}
    return {"status": answer.status_code, "headers": headers, "problem": problem}


def test_without_keys_everyone_is_answered() -> None:
    assert start().answer("/v1/sizings", SITE)["verdict"]
    assert start().get("/v1/units", Authorization="Bearer whatever").status_code == 200


def test_a_key_opens_what_its_scopes_name(service: Service) -> None:
    for path in POSTED:
        assert service.post(path, SITE, **bearer("calculating")).status_code in {200, 422}
    for path in READ:
        assert service.get(path, **bearer("reading")).status_code == 200


@pytest.mark.parametrize("path", READ)
def test_a_key_that_may_not_read_is_told_what_it_lacks(path: str, service: Service) -> None:
    answer = service.get(path, **bearer("calculating"))
    assert (answer.status_code, answer.json()["code"]) == (403, "forbidden")
    assert 'error="insufficient_scope", scope="read"' in answer.headers["www-authenticate"]


@pytest.mark.parametrize("path", POSTED)
def test_a_key_that_may_not_calculate_is_told_what_it_lacks(path: str, service: Service) -> None:
    answer = service.post(path, SITE, **bearer("reading"))
    assert (answer.status_code, answer.json()["code"]) == (403, "forbidden")
    assert 'scope="calculate"' in answer.headers["www-authenticate"]


WRONG = {
    "unknown": {"Authorization": "Bearer upstroke_unknown"},
    "expired": bearer("expired"),
    "revoked": bearer("revoked"),
    "half a key": {"Authorization": f"Bearer {SECRETS['whole'][:-1]}"},
    "more than a key": {"Authorization": f"Bearer {SECRETS['whole']}x"},
    "empty": {"Authorization": "Bearer "},
    "nothing at all": {"Authorization": ""},
    "another scheme": {"Authorization": f"Basic {SECRETS['whole']}"},
    "no scheme": {"Authorization": SECRETS["whole"]},
    "looks like a token": {"Authorization": "Bearer a.b.c"},
    "very long": {"Authorization": "Bearer " + "x" * 10_000},
}


@pytest.mark.parametrize("headers", WRONG.values(), ids=WRONG)
def test_whatever_is_wrong_with_a_key_the_answer_is_the_same(
    headers: dict[str, str], service: Service
) -> None:
    answer = service.post("/v1/sizings", SITE, **headers)
    assert answer.status_code == 401
    assert answer.headers["www-authenticate"] == 'Bearer realm="upstroke", error="invalid_token"'
    assert answer.headers["content-type"] == PROBLEM
    assert answer.headers["cache-control"] == "no-store"
    assert shown(answer) == shown(service.post("/v1/sizings", SITE, **WRONG["unknown"]))


@pytest.mark.parametrize("path", ["/v1/sizings", "/v1/nothing", "/nothing", "//v1/units", "/V1/units"])
def test_who_shows_nothing_does_not_even_learn_what_exists(path: str, service: Service) -> None:
    answer = service.get(path)
    assert (answer.status_code, answer.json()["code"]) == (401, "unauthenticated")
    assert answer.headers["www-authenticate"] == 'Bearer realm="upstroke"'


def test_a_body_is_not_looked_at_before_the_key(service: Service) -> None:
    assert service.post("/v1/sizings", b"{", **WRONG["unknown"]).status_code == 401


def test_two_keys_at_once_are_none(service: Service) -> None:
    value = bearer("whole")["Authorization"]
    answer = service.ask("GET", "/v1/units", headers=[("Authorization", value), ("Authorization", value)])
    assert answer.status_code == 401


def test_the_scheme_is_read_whatever_its_case(service: Service) -> None:
    assert service.get("/v1/units", Authorization=f"bEARER  {SECRETS['whole']}").status_code == 200


@pytest.mark.parametrize("path", ANSWERING_EVERYONE)
def test_health_contract_and_explanations_answer_everyone(path: str, service: Service) -> None:
    assert service.get(path).status_code == 200
    assert service.get(path, **WRONG["unknown"]).status_code == 200


def test_every_address_is_either_guarded_or_meant_to_be_open(service: Service) -> None:
    for handler in HANDLERS:
        for path in handler.paths:
            answer = service.ask(next(iter(handler.http_methods)), path)
            assert (answer.status_code == 401) is (not is_open(path)), path
            assert is_open(path) is (not path.startswith("/v1/")), path


def test_head_is_guarded_as_get_is(service: Service) -> None:
    refused = service.ask("HEAD", "/v1/units")
    assert (refused.status_code, refused.content) == (401, b"")
    assert service.ask("HEAD", "/v1/units", headers=bearer("reading")).status_code == 200
    assert service.ask("HEAD", "/v1/units", headers=bearer("calculating")).status_code == 403


def test_what_needs_a_key_is_kept_out_of_shared_caches(service: Service) -> None:
    assert service.get("/v1/units", **bearer("whole")).headers["cache-control"] == "private, max-age=300"
    assert service.get("/openapi.json").headers["cache-control"] == "public, max-age=300"
    assert start().get("/v1/units").headers["cache-control"] == "public, max-age=300"


def test_scopes_without_a_key_can_be_granted(tmp_path: Path) -> None:
    service = guarded(tmp_path, keyless_scopes=frozenset({"read"}))
    assert service.get("/v1/units").status_code == 200
    assert service.post("/v1/sizings", SITE).status_code == 401
    # A wrong key is not quietly taken for none.
    assert service.get("/v1/units", **bearer("expired")).status_code == 401
    # Nor does a key open less than none would.
    assert service.get("/v1/units", **bearer("reading")).status_code == 200


def test_formulas_alone_can_be_granted_to_everyone_or_to_a_key(tmp_path: Path) -> None:
    service = guarded(tmp_path, keyless_scopes=frozenset({"formulas"}))
    assert service.get(FORMULA).status_code == 200
    assert service.get(FORMULA).headers["cache-control"] == "private, max-age=300"
    assert service.get("/v1/units").status_code == 401
    assert service.post("/v1/sizings", SITE).status_code == 401
    # Who may calculate may also do so by an address; who may only look things up may not.
    closed = guarded(tmp_path)
    assert closed.get(FORMULA).status_code == 401
    assert closed.get(FORMULA, **bearer("calculating")).status_code == 200
    refused = closed.get(FORMULA, **bearer("reading"))
    assert refused.status_code == 403
    assert 'scope="formulas"' in refused.headers["www-authenticate"]


def test_both_keys_of_a_client_are_valid_while_it_changes_over(service: Service) -> None:
    assert service.get("/v1/units", **bearer("whole")).status_code == 200
    assert service.get("/v1/units", **bearer("second")).status_code == 200


@pytest.mark.usefixtures("watched_always")
def test_a_change_of_the_file_counts_at_once(tmp_path: Path) -> None:
    service = start(keys=key_file(tmp_path, "whole"))
    assert service.get("/v1/units", **bearer("second")).status_code == 401

    key_file(tmp_path, "second")
    assert service.get("/v1/units", **bearer("second")).status_code == 200
    assert service.get("/v1/units", **bearer("whole")).status_code == 401


@pytest.mark.usefixtures("watched_always")
def test_a_file_that_became_faulty_leaves_things_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = said_by(watched, monkeypatch)
    path = key_file(tmp_path, "whole")
    service = start(keys=path)
    path.write_text("[[keys]", "utf-8")
    for _ in range(3):
        assert service.get("/v1/units", **bearer("whole")).status_code == 200
    assert said.events == ["file_not_reloaded"]

    path.unlink()
    assert service.get("/v1/units", **bearer("whole")).status_code == 200
    key_file(tmp_path, "second")
    assert service.get("/v1/units", **bearer("whole")).status_code == 401
    assert service.get("/v1/units", **bearer("second")).status_code == 200


def test_the_file_is_not_looked_at_with_every_request(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    service = start(keys=key_file(tmp_path))
    looks: list[str] = []
    found = Path.stat

    def looking(path: Path) -> os.stat_result:
        looks.append(path.name)
        return found(path)

    monkeypatch.setattr(Path, "stat", looking)
    for _ in range(10):
        service.get("/v1/units", **bearer("whole"))
    assert looks.count("keys.toml") <= 1


def test_a_faulty_file_keeps_the_service_from_starting(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text("", "utf-8")
    with pytest.raises(SettingsError, match="UPSTROKE_KEYS"):
        start(keys=path)


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.8.8", "::1", "localhost"])
def test_this_machine_alone_needs_no_keys(host: str) -> None:
    require_guard(host, Settings())


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.1", "pumps.example.org", ""])  # noqa: S104 - refused
def test_an_address_that_others_reach_needs_keys_or_a_word(host: str, tmp_path: Path) -> None:
    with pytest.raises(SettingsError, match="UPSTROKE_OPEN=yes"):
        require_guard(host, Settings())
    require_guard(host, Settings(open=True))
    require_guard(host, Settings(keys=key_file(tmp_path)))
    require_guard(host, Settings(token_keys="https://login.example.org/keys"))  # noqa: S106 - public keys
