"""The transport over HTTP, against a small server on this machine's loopback."""

import json
import socket
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

import pytest

import upstroke
from upstroke._httpx import HttpxTransport

CALL = upstroke.Call(
    "POST", "/v1/sizings", query={"units": "si"}, headers={"content-type": "text/x"}, body=b"{}"
)


class Echo(BaseHTTPRequestHandler):
    """Answers what it was sent."""

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["content-length"])).decode()
        seen = {"path": self.path, "type": self.headers["content-type"], "body": body}
        payload = json.dumps(seen).encode()
        self.send_response(418)
        self.send_header("X-Request-Id", "r-7")
        self.send_header("Content-Length", str(len(payload)))
        self.end_headers()
        self.wfile.write(payload)

    def log_message(self, *_: object) -> None:
        """Keep the test's output clean."""


@pytest.fixture
def address() -> Iterator[str]:
    with ThreadingHTTPServer(("127.0.0.1", 0), Echo) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.mark.parametrize("prefix", ["", "/", "/pumps"])
@pytest.mark.parametrize("host", ["127.0.0.1", "localhost"])
def test_a_call_arrives_as_it_was_meant_even_with_a_proxy_in_the_environment(
    address: str, host: str, prefix: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HTTP_PROXY", "http://127.0.0.1:9")
    monkeypatch.setenv("ALL_PROXY", "http://127.0.0.1:9")
    transport = HttpxTransport(address.replace("127.0.0.1", host) + prefix, timeout=5.0)
    got = transport.send(CALL)
    transport.close()

    path = f"{prefix.rstrip('/')}/v1/sizings?units=si"
    assert json.loads(got.body) == {"path": path, "type": "text/x", "body": "{}"}
    assert (got.status, got.headers["x-request-id"]) == (418, "r-7")


def test_other_machines_are_reached_through_the_proxy_of_the_environment(
    address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HTTP_PROXY", address)
    monkeypatch.delenv("NO_PROXY", raising=False)
    monkeypatch.delenv("no_proxy", raising=False)
    transport = HttpxTransport("http://pumps.invalid", timeout=5.0)
    got = transport.send(CALL)
    transport.close()

    assert json.loads(got.body)["path"] == "http://pumps.invalid/v1/sizings?units=si"


def test_a_connection_that_nobody_takes_is_a_transport_error() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))  # and not listening
        transport = HttpxTransport(f"http://127.0.0.1:{taken.getsockname()[1]}", timeout=5.0)
        with pytest.raises(upstroke.TransportError, match="no answer from http://"):
            transport.send(CALL)
        transport.close()


def test_silence_is_a_timeout() -> None:
    with socket.create_server(("127.0.0.1", 0)) as silent:
        transport = HttpxTransport(f"http://127.0.0.1:{silent.getsockname()[1]}", timeout=0.05)
        with pytest.raises(upstroke.RequestTimeoutError, match="in time"):
            transport.send(CALL)
        transport.close()


@pytest.mark.parametrize("address", ["", "localhost:8080", "ftp://example.org", "http://", "http://[::1"])
def test_what_is_no_address_is_refused_at_once(address: str) -> None:
    with pytest.raises(ValueError, match="is not an address such as"):
        upstroke.Client(address)


def test_a_client_goes_over_http_unless_told_otherwise(address: str) -> None:
    with upstroke.Client(address) as client, pytest.raises(upstroke.UnexpectedResponseError, match="418"):
        client.size()
