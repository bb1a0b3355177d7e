"""Headers that nobody sends by accident never make the service fail."""

from collections import Counter
from ipaddress import ip_network
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.access.entrances import SECRETS, guarded
from tests.access.issuer import AUDIENCE, ISSUER, key_set

from upstroke_service.settings import Quota

PARTS = [
    b"Bearer ",
    b"bearer",
    b"Basic ",
    b".",
    b"..",
    b"eyJhbGciOiJFUzI1NiJ9",
    b"upstroke_",
    b" ",
    b"\t",
    b"=",
    b",",
]
PARTS += [
    b"10.0.0.1",
    b"::ffff:",
    b"[::1]:80",
    b"unknown",
    b"https://dealer.example",
    b"null",
    b"%00",
    b"\xff\xfe",
]
PARTS += [secret.encode() for secret in SECRETS.values()]
VALUES = st.lists(st.sampled_from(PARTS) | st.binary(max_size=40), max_size=6).map(b"".join)
NAMES = st.sampled_from([b"authorization", b"origin", b"x-forwarded-for", b"access-control-request-method"])
HEADERS = st.lists(st.tuples(NAMES, VALUES), max_size=5)


def test_no_headers_make_it_fail(tmp_path: Path) -> None:
    keys = tmp_path / "issuer.json"
    keys.write_bytes(key_set())
    service = guarded(
        tmp_path,
        token_keys=keys,
        token_issuer=ISSUER,
        token_audience=AUDIENCE,
        keyless_scopes=frozenset({"read"}),
        rate_limit=Quota(1_000, 60),
        cors_origins=frozenset({"https://dealer.example"}),
        trusted_proxies=(ip_network("127.0.0.0/8"), ip_network("10.0.0.0/8")),
    )
    found: Counter[int] = Counter()

    @settings(
        max_examples=500,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow],
    )
    @given(st.sampled_from(["GET", "OPTIONS", "POST"]), HEADERS)
    def send(method: str, headers: list[tuple[bytes, bytes]]) -> None:
        answer = service.ask(method, "/v1/units", headers=headers)
        found[answer.status_code] += 1
        assert answer.status_code < 500

    send()
    assert {200, 204, 401} <= found.keys()
