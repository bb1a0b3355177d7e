"""Carries calls to the service's application in the same process: no sockets, no second process."""

from litestar.testing import TestClient
from litestar.types import ASGIApp

import upstroke


class InProcess:
    def __init__(self, application: TestClient[ASGIApp]) -> None:
        self._application = application

    def send(self, call: upstroke.Call) -> upstroke.Reply:
        response = self._application.request(
            call.method, call.path, params=dict(call.query), headers=dict(call.headers), content=call.body
        )
        return upstroke.Reply(response.status_code, dict(response.headers), response.content)

    def close(self) -> None:
        """The test that started the application also ends it."""
