"""Bearer tokens of an issuer: which are valid, and how its keys are fetched and kept."""

import asyncio
import base64
import hmac
import json
import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jwt
import pytest
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from tests.access.entrances import bearer, guarded
from tests.access.issuer import AUDIENCE, ISSUER, PRIVATE, KeyServer, claims, key_server, key_set, token
from tests.access.said import said_by
from tests.service.in_process import Service, start
from tests.service.sites import SITE

from upstroke_service import watched
from upstroke_service.api import tokens
from upstroke_service.api.tokens import (
    SECONDS_BETWEEN_FETCHES,
    SECONDS_KEPT,
    BearerTokens,
    FetchedKeySet,
    fetcher,
)
from upstroke_service.settings import Settings, SettingsError


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file with the issuer's public keys."""
    file = tmp_path_factory.mktemp("issuer") / "keys.json"
    file.write_bytes(key_set())
    return file


@pytest.fixture(scope="module")
def service(path: Path) -> Service:
    return trusting(path)


@pytest.fixture
def server() -> Iterator[KeyServer]:
    with key_server() as served:
        yield served


def trusting(keys: Path | str, **settings: Any) -> Service:
    """The application that trusts the issuer."""
    return start(token_keys=keys, token_issuer=ISSUER, token_audience=AUDIENCE, **settings)


def status(service: Service, shown: str) -> int:
    return service.get("/v1/units", Authorization=f"Bearer {shown}").status_code


@pytest.mark.parametrize("signed", PRIVATE)
def test_a_good_token_opens_what_its_scopes_name(signed: str, service: Service) -> None:
    assert status(service, token(signed)) == 200
    assert status(service, token(signed, scope="calculate")) == 403
    shown = {"Authorization": f"Bearer {token(signed, scope='calculate')}"}
    assert service.post("/v1/sizings", SITE, **shown).status_code == 200


@pytest.mark.parametrize("scope", [["read"], ["other", "read"], "other read", "read"])
def test_scopes_come_as_words_or_as_a_list(scope: object, service: Service) -> None:
    assert status(service, token(scope=scope)) == 200


@pytest.mark.parametrize("scope", [None, "", "READ", 5, {"read": True}, [["read"]], "read,calculate"])
def test_what_names_no_known_scope_opens_nothing(scope: object, service: Service) -> None:
    assert status(service, token(scope=scope)) == 403


def test_the_claim_of_the_scopes_is_stated(path: Path) -> None:
    service = trusting(path, token_scope_claim="roles")  # noqa: S106 - a name
    assert status(service, token(scope=None, roles=["read"])) == 200
    assert status(service, token()) == 403


def unsigned() -> str:
    return jwt.encode(claims(), "", algorithm="none", headers={"kid": "ES256"})


def with_shared_secret(secret: bytes, key_id: str) -> str:
    """A token whose signature anyone can make who knows ``secret``."""
    parts = [
        base64.urlsafe_b64encode(json.dumps(part).encode()).rstrip(b"=")
        for part in ({"alg": "HS256", "typ": "JWT", "kid": key_id}, claims())
    ]
    signature = base64.urlsafe_b64encode(hmac.digest(secret, b".".join(parts), "sha256")).rstrip(b"=")
    return b".".join([*parts, signature]).decode()


def signed_with_the_public_key() -> str:
    """The old trick: the public key, which everyone has, taken for a shared secret."""
    public = PRIVATE["RS256"].public_key()
    return with_shared_secret(public.public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo), "RS256")


NOW = int(time.time())
WRONG = {
    "expired": lambda: token(exp=NOW - 3_600),
    "not valid yet": lambda: token(nbf=NOW + 3_600),
    "issued in the future": lambda: token(iat=NOW + 3_600),
    "without an end": lambda: token(exp=None),
    "by another issuer": lambda: token(iss="https://login.example.net"),
    "by no issuer": lambda: token(iss=None),
    "for another service": lambda: token(aud="pipes"),
    "for no service": lambda: token(aud=None),
    "for nobody": lambda: token(sub=None),
    "for a number": lambda: jwt.encode(claims() | {"sub": 5}, PRIVATE["ES256"], "ES256", {"kid": "ES256"}),
    "of another key": lambda: token("ES256", headers={"kid": "RS256"}),
    "of an unknown key": lambda: token(headers={"kid": "other"}),
    "of no key": lambda: jwt.encode(claims(), PRIVATE["ES256"], "ES256"),
    "unsigned": unsigned,
    "signed with the public key": signed_with_the_public_key,
    "with an unknown critical header": lambda: token(headers={"crit": ["x"], "x": 1}),
    "altered": lambda: token()[:-6] + "AAAAAA",
    "cut short": lambda: token().rpartition(".")[0],
    "nested deeply": lambda: base64.urlsafe_b64encode(b"[" * 5_000).decode() + ".e30.x",
    "not ASCII": lambda: "é.é.é",
    "no token": lambda: "whatever",
}


@pytest.mark.parametrize("made", WRONG.values(), ids=WRONG)
def test_whatever_is_wrong_with_a_token_the_answer_is_the_same(made: Any, service: Service) -> None:
    answers = []
    for shown in (made(), "whatever"):
        headers = [(b"Authorization", f"Bearer {shown}".encode("latin-1"))]
        answer = service.ask("GET", "/v1/units", headers=headers)
        answers.append(
            (answer.status_code, answer.headers["www-authenticate"], answer.json() | {"request_id": ""})
        )
    assert answers[0] == answers[1]
    assert answers[0][0] == 401


def test_clocks_may_differ_by_the_leeway(path: Path) -> None:
    late = token(exp=int(time.time()) - 20)
    assert status(trusting(path), late) == 200
    assert status(trusting(path, token_leeway=5), late) == 401


def test_only_the_stated_algorithms_count(path: Path) -> None:
    service = trusting(path, token_algorithms=frozenset({"EdDSA"}))
    assert status(service, token("EdDSA")) == 200
    assert status(service, token("ES256")) == 401


def test_a_set_of_one_key_needs_no_ids(tmp_path: Path) -> None:
    file = tmp_path / "one.json"
    file.write_bytes(key_set("ES256"))
    assert status(trusting(file), jwt.encode(claims(), PRIVATE["ES256"], "ES256")) == 200


def test_mutilated_tokens_are_refused_and_nothing_else(path: Path) -> None:
    """A thousand tokens with a few bytes changed: valid ones would need the issuer's signature."""
    chosen = random.Random(20_301)  # noqa: S311 - to repeat what was tried
    guard = BearerTokens(Settings(token_keys=path, token_issuer=ISSUER, token_audience=AUDIENCE))
    good = token("ES256").encode()

    async def tried() -> list[bool]:
        found = []
        for _ in range(1_000):
            shown = bytearray(good)
            for _ in range(chosen.randint(1, 4)):
                # The last character of a signature holds bits that mean nothing.
                shown[chosen.randrange(len(shown) - 1)] = chosen.randrange(256)
            found.append(bytes(shown) != good and await guard.caller(bytes(shown)) is not None)
        return found

    assert not any(asyncio.run(tried()))


def test_keys_and_tokens_can_be_taken_side_by_side(tmp_path: Path, path: Path) -> None:
    service = guarded(tmp_path, token_keys=path, token_issuer=ISSUER, token_audience=AUDIENCE)
    assert status(service, token()) == 200
    assert service.get("/v1/units", **bearer("whole")).status_code == 200
    assert service.get("/v1/units", **bearer("revoked")).status_code == 401
    assert status(service, token(exp=NOW - 3_600)) == 401


def test_a_changed_file_of_keys_counts_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(watched, "SECONDS_BETWEEN_LOOKS", 0.0)
    file = tmp_path / "keys.json"
    file.write_bytes(key_set("ES256"))
    service = trusting(file)
    assert status(service, token("EdDSA")) == 401
    file.write_bytes(key_set("ES256", "EdDSA"))
    assert status(service, token("EdDSA")) == 200


@pytest.mark.parametrize("missing", ["token_issuer", "token_audience"])
def test_tokens_of_anyone_or_for_anything_are_not_taken(missing: str, path: Path) -> None:
    stated: dict[str, Any] = {"token_issuer": ISSUER, "token_audience": AUDIENCE, missing: ""}
    with pytest.raises(SettingsError, match=missing.upper()):
        start(token_keys=path, **stated)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"[]",
        b"{}",
        b'{"keys": []}',
        b'{"keys": [5]}',
        b'{"keys": 5}',
        b"\xff",
        b'{"keys":[{"kty":"x"}]}',
    ],
)
def test_a_file_without_keys_keeps_the_service_from_starting(content: bytes, tmp_path: Path) -> None:
    file = tmp_path / "keys.json"
    file.write_bytes(content)
    with pytest.raises(SettingsError, match="UPSTROKE_TOKEN_KEYS"):
        trusting(file)


def test_without_the_extra_the_service_says_what_to_install(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(sys.modules, "upstroke_service.api.tokens")
    monkeypatch.setitem(sys.modules, "jwt", None)
    with pytest.raises(SettingsError, match=r"upstroke-service\[jwt\]"):
        trusting(path)


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000.0

    def __call__(self) -> float:
        return self.now


def fetched(server: KeyServer) -> tuple[FetchedKeySet, Clock]:
    clock = Clock()
    return FetchedKeySet(fetcher(server.url), clock), clock


def test_keys_are_fetched_once_for_many_tokens(server: KeyServer) -> None:
    service = trusting(server.url)
    assert server.asked == 0
    assert {status(service, token(signed)) for signed in [*PRIVATE, *PRIVATE]} == {200}
    assert server.asked == 1


def test_requests_that_come_together_wait_for_one_fetch(server: KeyServer) -> None:
    keys, _ = fetched(server)

    async def together() -> list[object]:
        return await asyncio.gather(*(keys.key("ES256") for _ in range(20)))

    assert all(asyncio.run(together()))
    assert server.asked == 1


def test_one_who_gives_up_does_not_stop_the_fetch_for_others(server: KeyServer) -> None:
    keys, _ = fetched(server)

    async def one_gives_up() -> object:
        first = asyncio.create_task(keys.key("ES256"))
        second = asyncio.create_task(keys.key("ES256"))
        await asyncio.sleep(0)
        first.cancel()
        return await second

    assert asyncio.run(one_gives_up())


def test_unknown_keys_are_looked_for_but_not_over_and_over(server: KeyServer) -> None:
    server.content = key_set("ES256")
    keys, clock = fetched(server)

    async def found(key_id: str) -> bool:
        return await keys.key(key_id) is not None

    assert asyncio.run(found("ES256"))
    server.content = key_set("EdDSA")
    assert not any(asyncio.run(found(f"made-up-{number}")) for number in range(50))
    assert not asyncio.run(found("EdDSA"))
    assert server.asked == 1

    clock.now += SECONDS_BETWEEN_FETCHES
    assert asyncio.run(found("EdDSA"))
    assert not asyncio.run(found("ES256"))
    assert server.asked == 2


def test_old_keys_are_fetched_again_while_requests_go_on(server: KeyServer) -> None:
    keys, clock = fetched(server)

    async def used() -> bool:
        found = await keys.key("ES256") is not None
        await asyncio.sleep(0.2)
        return found

    assert asyncio.run(used())
    server.content = key_set("EdDSA")
    clock.now += SECONDS_KEPT
    assert asyncio.run(used())
    assert server.asked == 2
    assert not asyncio.run(used())


def fails(server: KeyServer, kind: str) -> None:
    server.status = {"an error": 500, "somewhere else": 302}.get(kind, 200)
    server.headers = {"Location": server.url} if kind == "somewhere else" else {}
    server.content = {"nonsense": b"<html>", "without end": b" " * 300_000}.get(kind, b"")


@pytest.mark.parametrize("kind", ["an error", "somewhere else", "nonsense", "without end"])
def test_a_fetch_that_fails_refuses_the_token_and_keeps_known_keys(
    kind: str, server: KeyServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = said_by(tokens, monkeypatch)
    keys, clock = fetched(server)
    fails(server, kind)
    assert asyncio.run(keys.key("ES256")) is None
    assert server.asked == 1
    assert said.events == ["key_set_not_fetched"]

    server.status, server.content, server.headers = 200, key_set(), {}
    clock.now += SECONDS_BETWEEN_FETCHES
    assert asyncio.run(keys.key("ES256"))

    fails(server, kind)
    clock.now += SECONDS_BETWEEN_FETCHES
    assert asyncio.run(keys.key("other")) is None
    assert asyncio.run(keys.key("ES256"))


def test_an_issuer_that_is_down_is_a_refusal(server: KeyServer) -> None:
    service = trusting("http://127.0.0.1:9/keys")
    assert status(service, token()) == 401
    assert server.asked == 0


def test_shared_secrets_in_a_key_set_check_nothing(tmp_path: Path) -> None:
    secret = b"x" * 32
    shared = {"kty": "oct", "kid": "shared", "k": base64.urlsafe_b64encode(secret).decode().rstrip("=")}
    file = tmp_path / "keys.json"
    file.write_text(json.dumps({"keys": [shared, *json.loads(key_set())["keys"]]}), "utf-8")
    assert status(trusting(file), with_shared_secret(secret, "shared")) == 401
    assert status(trusting(file), token()) == 200
