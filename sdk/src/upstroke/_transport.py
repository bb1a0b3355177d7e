"""How calls reach the service. Anything with these two methods can stand in, such as a fake in a test."""

from dataclasses import replace
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


class Keyed:
    """A transport that shows a key with every call."""

    def __init__(self, transport: Transport, key: str) -> None:
        """Send calls with ``transport``.

        Raises:
            ValueError: where the key can't be sent; the message doesn't repeat it.
        """
        if not (key.isascii() and key.isprintable()) or " " in key:
            raise ValueError("an API key has letters, digits and signs of ASCII only, without spaces")
        self._transport = transport
        self._authorization = f"Bearer {key}"

    def send(self, call: Call) -> Reply:
        """Send a call with the key and wait for its reply."""
        return self._transport.send(
            replace(call, headers={**call.headers, "authorization": self._authorization})
        )

    def close(self) -> None:
        """Let go of connections."""
        self._transport.close()
