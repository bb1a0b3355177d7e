"""The service inside the test: requests reach the application without a server or a socket."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any

import httpx
from litestar.types import ASGIApp

from upstroke_service.api.app import create_app
from upstroke_service.settings import Settings

JSON = "application/json"
PROBLEM = "application/problem+json"
CALCULATIONS = (
    "lift-budgets",
    "tank-curves",
    "stroke-estimates",
    "cautions",
    "hookups",
    "water-needs",
    "sizings",
)

Body = dict[str, Any]


class Service:
    """An application to ask."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    def ask(
        self,
        method: str,
        path: str,
        *,
        content: bytes | AsyncIterator[bytes] | None = None,
        headers: dict[str, str] | list[tuple[str, str]] | list[tuple[bytes, bytes]] | None = None,
    ) -> httpx.Response:
        """Send one request as it is."""

        async def asked() -> httpx.Response:
            transport = httpx.ASGITransport(self.app)  # type: ignore[arg-type] # each names ASGI's types its way
            async with httpx.AsyncClient(transport=transport, base_url="http://service.test") as client:
                return await client.request(method, path, content=content, headers=headers)

        return asyncio.run(asked())

    def get(self, path: str, **headers: str) -> httpx.Response:
        """GET ``path``; underscores of header names stand for hyphens."""
        return self.ask("GET", path, headers=_spelled(headers))

    def post(self, path: str, body: object, **headers: str) -> httpx.Response:
        """POST ``body`` as JSON to ``path``."""
        content = body if isinstance(body, bytes) else _encoded(body)
        return self.ask("POST", path, content=content, headers={"Content-Type": JSON, **_spelled(headers)})

    def answer(self, path: str, body: object) -> Body:
        """The answer to ``body``, which the service has to accept."""
        response = self.post(path, body)
        assert response.status_code == 200, response.text
        answer: Body = response.json()
        return answer


def _spelled(headers: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in headers.items()}


def _encoded(body: object) -> bytes:
    return json.dumps(body).encode()


def start(**settings: Any) -> Service:
    """The application with the invented demo catalogue, unless the settings say otherwise."""
    return Service(create_app(Settings(**{"log_level": "error", **settings})))
