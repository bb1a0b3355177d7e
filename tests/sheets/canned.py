"""Stands in for the service: every site gets the same answer, in no time."""

import argparse
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeAlias

import msgspec

import upstroke
from upstroke.sheets.__main__ import main

Connect: TypeAlias = Callable[[argparse.Namespace], upstroke.Client]
Fail: TypeAlias = Callable[[int], upstroke.Reply | Exception | None]
READY = upstroke.Reply(200, {}, b'{"status":"ok","model_version":"test"}')


class Canned:
    """A transport that answers from memory; ``fail`` says when it does not."""

    def __init__(self, answer: bytes, fail: Fail = lambda _: None) -> None:
        self._answer = answer
        self._fail = fail
        self._lock = threading.Lock()
        self.sized = 0
        self.asked: list[bytes | None] = []

    def send(self, call: upstroke.Call) -> upstroke.Reply:
        """The answer to every site."""
        if call.path == "/readyz":
            return READY
        with self._lock:
            self.sized += 1
            self.asked.append(call.body)
            outcome = self._fail(self.sized)
        if isinstance(outcome, Exception):
            raise outcome
        return outcome or upstroke.Reply(200, {}, self._answer)

    def close(self) -> None:
        """Nothing is open."""


def problem(status: int, code: str, *errors: tuple[str, str]) -> upstroke.Reply:
    """A problem as the service words it."""
    body = {
        "type": f"/problems/{code}",
        "title": "A title",
        "status": status,
        "code": code,
        "detail": "What happened.",
        "request_id": "r",
        "errors": [{"pointer": pointer, "detail": detail} for pointer, detail in errors],
    }
    return upstroke.Reply(status, {"content-type": "application/problem+json"}, msgspec.json.encode(body))


def run(table: Path, output: Path, transport: upstroke.Transport, options: Sequence[str] = ()) -> int:
    """The command with a transport in place of a service."""

    def connect(chosen: argparse.Namespace) -> upstroke.Client:
        return upstroke.Client(transport=transport, units=chosen.units, retries=0)

    return main([str(table), "--output", str(output), *options], connect)
