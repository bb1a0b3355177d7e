"""Batches to ask for: lines in, lines out, and clients that send and take them as they please."""

import asyncio
import json
from collections.abc import AsyncIterator, Iterable
from typing import Any

import httpx
from tests.service.in_process import Body, Service

from upstroke_service.api.operation import examples
from upstroke_service.contract.requests import SizingRequest

PATH = "/v1/sizing-batches"
LINES = "application/x-ndjson"
QUOTES = list(examples(SizingRequest).values())


def line(document: object) -> bytes:
    """One line of a batch."""
    return json.dumps(document).encode() + b"\n"


def lines_of(response: httpx.Response) -> list[Body]:
    """What an answer says line by line."""
    assert response.status_code == 200, response.text
    return [json.loads(one) for one in response.text.splitlines()]


def ask(
    service: Service, content: bytes | AsyncIterator[bytes], query: str = "", **headers: str
) -> httpx.Response:
    """The response to a batch; underscores of header names stand for hyphens."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return service.ask("POST", PATH + query, content=content, headers={"Content-Type": LINES, **named})


def answered(service: Service, content: bytes | AsyncIterator[bytes], query: str = "") -> list[Body]:
    """What the service says to each line, and at the end."""
    return lines_of(ask(service, content, query))


async def with_pauses(pieces: Iterable[bytes]) -> AsyncIterator[bytes]:
    """Pieces with so much time between them that each is answered before the next is sent."""
    for piece in pieces:
        yield piece
        await asyncio.sleep(0.3)


class Connection:
    """A client that decides when a piece arrives, when it takes an answer, and when it goes away."""

    def __init__(self) -> None:
        """Nothing is sent, and all answers are taken."""
        self.arriving: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        self.taking = asyncio.Event()
        self.taking.set()
        self.got = asyncio.Event()
        self.received = 0
        self.content = 0
        self.state: dict[str, Any] = {}

    def send(self, piece: bytes, *, more: bool = True) -> None:
        """Send a piece of the body."""
        self.arriving.put_nowait({"type": "http.request", "body": piece, "more_body": more})

    def leave(self) -> None:
        """Go away."""
        self.arriving.put_nowait({"type": "http.disconnect"})

    def ask(self, service: Service, query: bytes = b"") -> "asyncio.Task[None]":
        """Begin the request."""
        scope = {
            "type": "http",
            "asgi": {"version": "3.0"},
            "http_version": "1.1",
            "method": "POST",
            "scheme": "http",
            "path": PATH,
            "raw_path": PATH.encode(),
            "root_path": "",
            "query_string": query,
            "headers": [(b"host", b"service.test"), (b"content-type", LINES.encode())],
            "client": ("127.0.0.1", 1),
            "server": ("service.test", 80),
            "state": self.state,
        }
        return asyncio.ensure_future(service.app(scope, self._receive, self._take))  # type: ignore[arg-type]

    async def _receive(self) -> dict[str, Any]:
        message = await self.arriving.get()
        self.received += len(message.get("body", b""))
        return message

    async def _take(self, message: Any) -> None:
        if message["type"] == "http.response.body":
            await self.taking.wait()
            self.content += len(message["body"])
            self.got.set()
