"""The body of a batch while it arrives: lines, of which only so many bytes are kept at a time."""

import asyncio
from collections import deque
from typing import Final, Literal

from litestar.types import Receive

from upstroke_service.wording import said

from . import problems
from .batch_lines import Line
from .problems import RequestProblem

READ_AHEAD: Final = 1_048_576
"""Bytes that are read before they can be answered, counted as below.

A client that reads no answers before it has sent everything still gets through with this much, and with what the
connection holds.
"""

_GATHERING: Final = 0.02
"""Seconds in which more lines may join those that are there already: together they cost less."""

_EACH: Final = {"compact": 128, "full": 16_384}
"""Bytes that a line counts for beside its content: without them, a great many tiny ones would be kept.

An answer in full takes so long that nobody would notice, before all that was read is answered, that the client is gone.
"""

_BLANK = b" \t\r"
_MARK = b"\xef\xbb\xbf"
"""Byte order mark, with which some programs begin a text."""


class ArrivingLines:
    """Lines of a body, read by a task of its own that also notices when the client goes away."""

    def __init__(
        self, receive: Receive, detail: Literal["compact", "full"], *, longest_line: int, largest_body: int
    ) -> None:
        """Nothing is read yet; bounds are in bytes."""
        self._receive = receive
        self._each = _EACH[detail]
        self._longest_line = longest_line
        self._left = largest_body
        self._lines: deque[Line] = deque()
        self._kept = 0
        self._number = 0
        self._rest = bytearray()
        self._overlong = False
        self._ended = False
        self._changed = asyncio.Event()
        self._room = asyncio.Event()
        self.fault: RequestProblem | None = None

    async def read(self) -> None:
        """Read as long as there is room; returns when the client has gone away."""
        while True:
            message = await self._receive()
            if message["type"] == "http.disconnect":
                return
            if message["type"] == "http.request" and not self._ended:
                self._add(message.get("body", b""), last=not message.get("more_body", False))
                self._changed.set()
            while self._kept > READ_AHEAD and not self._ended:
                self._room.clear()
                await self._room.wait()

    async def next_lines(self, most: int, patience: float) -> list[Line]:
        """The next lines, at most so many; none at the end of the body.

        Raises TimeoutError where none comes within ``patience`` seconds.
        """
        async with asyncio.timeout(patience):
            await self._until(1)
        if len(self._lines) < most:
            try:
                async with asyncio.timeout(_GATHERING):
                    await self._until(most)
            except TimeoutError:
                pass  # those that are there have waited long enough
        taken: list[Line] = []
        size = 0
        while self._lines and len(taken) < most and size <= READ_AHEAD:
            taken.append(self._lines.popleft())
            size += self._size(taken[-1])
        self._kept -= size
        self._room.set()
        return taken

    @property
    def number(self) -> int:
        """Number of the next line that will be taken."""
        return self._lines[0].number if self._lines else self._number + 1

    async def _until(self, count: int) -> None:
        """Wait until so many lines are there, or no more can come."""
        while len(self._lines) < count and not self._ended and self._kept <= READ_AHEAD:
            self._changed.clear()
            await self._changed.wait()

    def _add(self, piece: bytes, *, last: bool) -> None:
        self._left -= len(piece)
        if self._left < 0:
            self.fault = RequestProblem(
                "body-too-large", said("batch", "body_too_large"), headers=problems.CLOSE
            )
            self._ended = True
            return
        first, *others = piece.split(b"\n")
        self._extend(first)
        for one in others:
            self._finish()
            self._extend(one)
        if last:
            if self._rest or self._overlong:
                self._finish()
            self._ended = True

    def _extend(self, piece: bytes) -> None:
        """Add to the line that is not complete yet; of one that is too long nothing is kept."""
        if self._overlong or len(self._rest) + len(piece) > self._longest_line:
            self._overlong = True
            self._rest.clear()
        else:
            self._rest += piece

    def _finish(self) -> None:
        """The line is complete."""
        self._number += 1
        content = bytes(self._rest).removeprefix(_MARK if self._number == 1 else b"").strip(_BLANK)
        if content or self._overlong:
            self._lines.append(Line(self._number, None if self._overlong else content))
            self._kept += self._size(self._lines[-1])
        self._rest.clear()
        self._overlong = False

    def _size(self, line: Line) -> int:
        """Bytes that a line counts for while it is kept."""
        return self._each + len(line.content or b"")
