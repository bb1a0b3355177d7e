"""Where the requests of clients are counted: in this process, or in a store that replicas share."""

import time
from collections.abc import Callable
from typing import NamedTuple, Protocol

MOST_CLIENTS = 65_536
"""Clients that one process counts at a time; beyond that, whose window began first is forgotten."""


class Count(NamedTuple):
    """How a client's window stands."""

    used: int
    """Requests counted, the last one included."""

    left: float
    """Seconds until the window ends."""


class Counter(Protocol):
    """Counts requests; a client's window begins with the first one and is not prolonged by others."""

    async def count(self, client: str, seconds: int) -> Count:
        """Count a request of ``client`` in its window of ``seconds``."""
        ...

    async def close(self) -> None:
        """Let go of connections."""
        ...


class MemoryCounter:
    """Counts in this process alone."""

    def __init__(self, clock: Callable[[], float] = time.monotonic, most: int = MOST_CLIENTS) -> None:
        """Begin with nobody."""
        self._clock = clock
        self._most = most
        self._windows: dict[tuple[int, str], tuple[int, float]] = {}

    async def count(self, client: str, seconds: int) -> Count:
        """Count a request of ``client`` in its window of ``seconds``."""
        now = self._clock()
        used, end = self._windows.get((seconds, client), (0, 0.0))
        if end <= now:
            self._windows.pop((seconds, client), None)
            used, end = 0, now + seconds
            self._make_room(now)
        self._windows[seconds, client] = used + 1, end
        return Count(used + 1, end - now)

    def __len__(self) -> int:
        """Clients that are counted now."""
        return len(self._windows)

    def _make_room(self, now: float) -> None:
        """Forget windows that are over: those that began first stand first."""
        while self._windows:
            first = next(iter(self._windows))
            if self._windows[first][1] > now and len(self._windows) < self._most:
                break
            del self._windows[first]

    async def close(self) -> None:
        """There are none."""
