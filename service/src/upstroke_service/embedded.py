"""The service in the caller's own process: no server, no socket, the same answers.

The client finds ``start`` by the entry point group ``upstroke.embedded``.
"""

import asyncio
import threading
from collections.abc import Mapping, Sequence
from concurrent.futures import Future
from os import PathLike
from pathlib import Path
from typing import Any, NamedTuple
from urllib.parse import unquote, urlencode

from litestar.types import ASGIApp, Message, Scope

from .api.app import create_app
from .settings import Settings


class Answered(NamedTuple):
    """An answer as it would go over the wire; the names of headers are in lower case."""

    status: int
    headers: dict[str, str]
    body: bytes


def start(catalogues: Sequence[str | PathLike[str]] = ()) -> "EmbeddedService":
    """The service with these catalogue files, or with the invented demo catalogue.

    Raises CatalogueError and OSError where a file can't be used.
    """
    settings = Settings(
        catalogues=tuple(Path(one) for one in catalogues),
        log_level="error",
        # Nobody else waits: whoever asks many questions at a time gets all of them answered.
        most_waiting=10_000,
        most_open=100_000,
        longest_wait=60,
    )
    return EmbeddedService(create_app(settings))


class EmbeddedService:
    """An application on an event loop and a thread of its own, so that any code may ask it, awaiting or not."""

    def __init__(self, app: ASGIApp) -> None:
        """Start the thread."""
        self._app = app
        self._loop = asyncio.new_event_loop()
        self._thread = threading.Thread(target=self._loop.run_forever, name="upstroke-service", daemon=True)
        self._thread.start()

    def submit(
        self,
        method: str,
        path: str,
        query: Mapping[str, str],
        headers: Mapping[str, str],
        body: bytes | None,
    ) -> "Future[Answered]":
        """Ask; the answer will be in what is returned. ``path`` is percent-encoded.

        Raises RuntimeError after it was closed.
        """
        if self._loop.is_closed():
            raise RuntimeError("the embedded service has been closed")
        content = body or b""
        length = {} if body is None else {"content-length": str(len(content))}
        fields = {"host": "embedded.invalid", **headers, **length}
        scope: Any = {
            "type": "http",
            "asgi": {"version": "3.0", "spec_version": "2.3"},
            "http_version": "1.1",
            "method": method,
            "scheme": "http",
            "path": unquote(path),
            "raw_path": path.encode("ascii"),
            "query_string": urlencode(query).encode("ascii"),
            "root_path": "",
            "headers": [
                (name.lower().encode("ascii"), text.encode("latin-1")) for name, text in fields.items()
            ],
            "client": ("127.0.0.1", 0),
            "server": ("embedded.invalid", 80),
            "state": {},
        }
        return asyncio.run_coroutine_threadsafe(_answered(self._app, scope, content), self._loop)

    def close(self) -> None:
        """End the thread; what is still asked is cancelled."""
        if self._loop.is_closed():
            return
        asyncio.run_coroutine_threadsafe(_end_others(), self._loop).result()
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()
        self._loop.close()


async def _answered(app: ASGIApp, scope: Scope, content: bytes) -> Answered:
    arriving: list[Any] = [{"type": "http.request", "body": content, "more_body": False}]
    status = 0
    headers: dict[str, str] = {}
    body = bytearray()

    async def receive() -> Any:
        if not arriving:
            # Nobody hangs up: whoever waits for that waits until the answer is complete.
            await asyncio.Event().wait()
        return arriving.pop()

    async def send(message: Message) -> None:
        nonlocal status
        if message["type"] == "http.response.start":
            status = message["status"]
            headers.update(
                {name.decode().lower(): text.decode("latin-1") for name, text in message["headers"]}
            )
        elif message["type"] == "http.response.body":
            body.extend(message["body"])

    await app(scope, receive, send)
    return Answered(status, headers, bytes(body))


async def _end_others() -> None:
    others = asyncio.all_tasks() - {asyncio.current_task()}
    for task in others:
        task.cancel()
    await asyncio.gather(*others, return_exceptions=True)
    await asyncio.get_running_loop().shutdown_default_executor()
