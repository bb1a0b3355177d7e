"""How calls reach the service. Anything with these two methods can stand in, such as a fake in a test."""

from typing import Protocol

from ._exchange import Call, Reply


class Transport(Protocol):
    """Carries calls to the service and replies back."""

    def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply.

        Raises:
            TransportError: where no reply comes.
        """
        ...

    def close(self) -> None:
        """Let go of connections."""
        ...


class AsyncTransport(Protocol):
    """The same for clients that wait with ``await``."""

    async def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply.

        Raises:
            TransportError: where no reply comes.
        """
        ...

    async def close(self) -> None:
        """Let go of connections."""
        ...
