"""Stands in for the network: answers from a list and remembers what was sent."""

import asyncio
import json
from collections.abc import Iterable
from typing import Any

import msgspec

import upstroke


def reply(body: object, status: int = 200, **headers: str) -> upstroke.Reply:
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    return upstroke.Reply(status, {name.replace("_", "-"): value for name, value in headers.items()}, raw)


class FakeTransport:
    def __init__(self, replies: Iterable[upstroke.Reply | upstroke.TransportError]) -> None:
        self._replies = iter(replies)
        self.calls: list[upstroke.Call] = []
        self.closed = False

    def send(self, call: upstroke.Call) -> upstroke.Reply:
        self.calls.append(call)
        outcome = next(self._replies)
        if isinstance(outcome, upstroke.TransportError):
            raise outcome
        return outcome

    def close(self) -> None:
        self.closed = True

    def sent(self) -> Any:
        body = self.calls[-1].body
        return None if body is None else msgspec.json.decode(body)


def client_that_gets(
    *replies: upstroke.Reply | upstroke.TransportError,
) -> tuple[upstroke.Client, FakeTransport]:
    transport = FakeTransport(replies)
    return upstroke.Client(transport=transport, retries=0), transport


class Answering:
    """The same for a client that awaits."""

    def __init__(self, transport: upstroke.Transport) -> None:
        self._transport = transport

    async def send(self, call: upstroke.Call) -> upstroke.Reply:
        await asyncio.sleep(0.0)
        return self._transport.send(call)

    async def close(self) -> None:
        self._transport.close()
