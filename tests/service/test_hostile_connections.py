"""What reaches the server before the application, and what comes too slowly or too often: over raw sockets."""

import json
import time
from collections.abc import Iterator

import pytest
from tests.service.running import Server, head, running

CLOSE = "Connection: close"
JSON = "Content-Type: application/json"
OVERRIDE = "X-HTTP-Method-Override: POST"
LARGE = [f"X-{number}: {'a' * 1000}" for number in range(90)]
LIVE = head("GET", "/livez", [CLOSE])
SLOWEST = 1  # second that the server under test waits for a body


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with running(slowest_body=SLOWEST) as started:
        yield started
        assert started.process.poll() is None


def status(answer: bytes) -> int:
    """Status of the first response; 0 where the connection was closed without one."""
    return int(answer.split(b" ", 2)[1]) if answer.startswith(b"HTTP/1.1 ") else 0


def post(*fields: str) -> bytes:
    return head("POST", "/v1/sizings", [JSON, *fields])


PROBLEMS = {
    "a body that stops": ((post("Content-Length: 100"), b'{"points"'), 408, "slow-body"),
    "a body in chunks that stops": ((post("Transfer-Encoding: chunked"), b"1\r\n{\r\n"), 408, "slow-body"),
    "a body that never begins": ((post("Content-Length: 2"),), 408, "slow-body"),
    "an oversize body, announced": ((post("Content-Length: 300000"), b"{"), 413, "body-too-large"),
    "an oversize body, in chunks": (
        (post("Transfer-Encoding: chunked"), *[b"8000\r\n" + b" " * 0x8000 + b"\r\n"] * 20, b"0\r\n\r\n"),
        413,
        "body-too-large",
    ),
    "a compressed body": (
        (post("Content-Encoding: gzip", "Content-Length: 10", CLOSE), b"\x1f\x8b\x08" + bytes(7)),
        415,
        "unsupported-media-type",
    ),
    "a chunk without a size": ((post("Transfer-Encoding: chunked"), b"zz\r\n{}\r\n"), 400, "unreadable-body"),
    "90 large fields": ((head("GET", "/livez", [*LARGE, CLOSE]),), 431, "headers-too-large"),
    "a long address": ((head("GET", "/" + "a" * 20_000, [CLOSE]),), 414, "uri-too-long"),
    "two hosts": ((head("GET", "/livez", ["Host: other.test", CLOSE]),), 400, "unreadable-header"),
    "an odd method": ((head("BREW", "/v1/units", [CLOSE]),), 405, "method-not-allowed"),
    "a tunnel": ((head("CONNECT", "other.test:443", [CLOSE]),), 405, "method-not-allowed"),
    "all of the server": ((head("OPTIONS", "*", [CLOSE]),), 404, "not-found"),
    "the folder above": ((head("GET", "/../../etc/passwd", [CLOSE]),), 404, "not-found"),
    "an escape that is none": ((head("GET", "/v1/catalogues/%zz%00", [CLOSE]),), 404, "not-found"),
    "a smuggled method": ((head("GET", "/v1/sizings", [OVERRIDE, CLOSE]),), 405, "method-not-allowed"),
}  # fmt: skip


@pytest.mark.parametrize(("pieces", "expected", "code"), PROBLEMS.values(), ids=PROBLEMS)
def test_what_reaches_the_application_gets_a_problem(
    server: Server, pieces: tuple[bytes, ...], expected: int, code: str
) -> None:
    answer = server.send(*pieces)
    top, _, body = answer.partition(b"\r\n\r\n")

    assert status(answer) == expected
    assert b"application/problem+json" in top.lower()
    assert json.loads(body)["code"] == code
    assert b"\r\nconnection: close" in top.lower()
    assert status(server.send(LIVE)) == 200


REFUSED = {
    "101 fields": (head("GET", "/livez", [f"X-{n}: a" for n in range(101)]), {431}),
    "a field of a megabyte": (head("GET", "/livez", ["X: " + "a" * 1_000_000]), {431}),
    "an address of 100 000 bytes": (head("GET", "/" + "a" * 100_000), {414}),
    "two lengths": (post("Content-Length: 2", "Content-Length: 3") + b"{}", {400}),
    "a negative length": (post("Content-Length: -2") + b"{}", {400}),
    "a length with a sign": (post("Content-Length: +2") + b"{}", {400}),
    "an unknown transfer": (post("Transfer-Encoding: gzip") + b"{}", {400}),
    "a folded field": (b"GET /livez HTTP/1.1\r\nHost: x\r\nX: a\r\n b\r\n\r\n", {400}),
    "a space after a name": (b"GET /livez HTTP/1.1\r\nHost: x\r\nX : a\r\n\r\n", {400}),
    "a null in a field": (b"GET /livez HTTP/1.1\r\nHost: x\r\nX: a\x00b\r\n\r\n", {400}),
    "HTTP/0.9": (b"GET /livez\r\n\r\n", {400}),
    "HTTP/2.5": (b"GET /livez HTTP/2.5\r\n\r\n", {400, 505}),
    "HTTP/2": (b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", {0, 400, 505}),
    "TLS": (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", {0, 400}),
    "bytes in the path": (head("GET", "/\xff\xfe"), {400}),
    "nulls": (bytes(500), {400}),
    "line breaks and noise": (b"\r\n\r\n\r\n\xff\xff\xff\r\n\r\n", {400}),
}


@pytest.mark.parametrize(("sent", "expected"), REFUSED.values(), ids=REFUSED)
def test_what_the_server_itself_refuses_ends_the_connection(
    server: Server, sent: bytes, expected: set[int]
) -> None:
    assert status(server.send(sent)) in expected
    assert status(server.send(LIVE)) == 200


def test_requests_sent_ahead_are_answered_in_order(server: Server) -> None:
    answers = server.send(
        head("GET", "/livez"),
        post("Content-Length: 2") + b"{}",
        head("GET", "/nope"),
        post("Content-Length: 1") + b"[",
        head("GET", "/v1/units", [CLOSE]),
    )

    found = [int(part[:3]) for part in answers.split(b"HTTP/1.1 ")[1:]]
    assert found == [200, 200, 404, 400, 200]


def test_a_body_with_a_length_and_in_chunks_is_read_in_chunks_and_nothing_is_left_over(
    server: Server,
) -> None:
    chunks = b"2\r\n{}\r\n0\r\n\r\n"
    answer = server.send(post("Content-Length: 4", "Transfer-Encoding: chunked") + chunks + LIVE)

    # RFC 9112, section 6.3: chunks win, and the connection ends so that nothing can hide behind them.
    assert answer.count(b"HTTP/1.1 ") == 1
    assert status(answer) == 200


def test_a_body_that_comes_slowly_but_in_time_is_read(server: Server) -> None:
    assert status(server.send(post("Content-Length: 2", CLOSE), b"{", b"}", pause=SLOWEST / 4)) == 200


def test_many_slow_bodies_leave_others_undisturbed(server: Server) -> None:
    slow = [server.connect() for _ in range(50)]
    for connection in slow:
        connection.sendall(post("Content-Length: 9") + b"{")
    began = time.monotonic()
    answer = server.send(post("Content-Length: 2", CLOSE) + b"{}")
    taken = time.monotonic() - began

    assert status(answer) == 200
    assert taken < SLOWEST
    for connection in slow:
        with connection:
            assert status(connection.recv(4096)) == 408


def test_a_client_that_never_reads_disturbs_nobody(server: Server) -> None:
    with server.connect() as deaf:
        deaf.sendall(head("GET", "/openapi.json") * 40)
        assert status(server.send(post("Content-Length: 2", CLOSE) + b"{}")) == 200


def test_clients_that_go_away_disturb_nobody(server: Server) -> None:
    for sent in (
        post("Content-Length: 9") + b"{",
        post("Content-Length: 2") + b"{}",
        head("GET", "/openapi.json"),
    ):
        for _ in range(20):
            with server.connect() as fleeting:
                fleeting.sendall(sent)
    assert status(server.send(post("Content-Length: 2", CLOSE) + b"{}")) == 200
