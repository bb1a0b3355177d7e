"""The time before the end: still answering, and telling everyone to go elsewhere."""

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send


class Draining:
    """Whether this process is about to end."""

    def __init__(self) -> None:
        """It is not."""
        self.begun = False

    def begin(self, *_: object) -> None:
        """From now on it is; takes what signal handlers are given."""
        self.begun = True


def end_connections(app: ASGIApp, draining: Draining) -> ASGIApp:
    """Wrap ``app``: once draining, every answer is the last on its connection.

    A client that keeps connections open would otherwise send its next request into one that is being closed.
    """

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        async def send_last(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), (b"connection", b"close")]
            await send(message)

        ending = draining.begun and scope["type"] == ScopeType.HTTP
        await app(scope, receive, send_last if ending else send)

    return wrapped
