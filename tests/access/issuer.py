"""Somebody who issues tokens, and serves the keys to check them, on this machine."""

import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import jwt
from cryptography.hazmat.primitives.asymmetric import ec, ed25519, rsa
from jwt.algorithms import ECAlgorithm, OKPAlgorithm, RSAAlgorithm

ISSUER = "https://login.example.org"
AUDIENCE = "pumps"

PRIVATE: dict[str, Any] = {
    "RS256": rsa.generate_private_key(public_exponent=65_537, key_size=2_048),
    "ES256": ec.generate_private_key(ec.SECP256R1()),
    "EdDSA": ed25519.Ed25519PrivateKey.generate(),
}
"""Keys by how they sign, which is their id too."""

_PUBLIC: dict[str, Any] = {"RS256": RSAAlgorithm, "ES256": ECAlgorithm, "EdDSA": OKPAlgorithm}


def key_set(*names: str) -> bytes:
    """The public halves of these keys, or of all, as a JSON Web Key Set."""
    keys = [
        {**_PUBLIC[name].to_jwk(PRIVATE[name].public_key(), as_dict=True), "kid": name, "alg": name}
        for name in names or PRIVATE
    ]
    return json.dumps({"keys": keys}).encode()


def claims(**changed: object) -> dict[str, object]:
    """Claims of a good token; what is changed to None is left out."""
    now = int(time.time())
    stated = {
        "iss": ISSUER,
        "aud": AUDIENCE,
        "sub": "somebody",
        "iat": now,
        "exp": now + 600,
        "scope": "calculate read",
        **changed,
    }
    return {name: value for name, value in stated.items() if value is not None}


def token(signed: str = "ES256", *, headers: dict[str, Any] | None = None, **changed: object) -> str:
    """A token with such claims, signed with one of the keys."""
    stated = {"kid": signed, **(headers or {})}
    return jwt.encode(claims(**changed), PRIVATE[signed], algorithm=signed, headers=stated)


class KeyServer:
    """Serves a key set and counts how often it was asked."""

    def __init__(self, url: str) -> None:
        self.url = url
        self.content = key_set()
        self.status = 200
        self.headers: dict[str, str] = {}
        self.asked = 0
        self.authorization: str | None = None


@contextmanager
def key_server() -> Iterator[KeyServer]:
    """A server of the key set on a port of its own."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            served.asked += 1
            served.authorization = self.headers["Authorization"]
            self.send_response(served.status)
            for name, value in served.headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(served.content)))
            self.end_headers()
            self.wfile.write(served.content)

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        served = KeyServer(f"http://127.0.0.1:{server.server_port}/keys")
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield served
        finally:
            server.shutdown()
            thread.join()
