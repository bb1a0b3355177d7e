"""Files that are read again when they change."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Generic, TypeVar

import structlog

Held = TypeVar("Held")

SECONDS_BETWEEN_LOOKS = 1.0
"""How often a file is looked at, at most."""

_log = structlog.get_logger(__name__)


class Watched(Generic[Held]):
    """What a file holds; while a changed file is missing or faulty, what it held before."""

    def __init__(self, path: Path, read: Callable[[bytes], Held]) -> None:
        """Read the file. ``read`` raises ValueError where it is faulty, and so does this."""
        self._path = path
        self._read = read
        self._looked = time.monotonic()
        self._state = self._look()
        self._held = read(path.read_bytes())

    def current(self) -> Held:
        """What the file holds now, or a moment ago."""
        now = time.monotonic()
        if now - self._looked >= SECONDS_BETWEEN_LOOKS:
            self._looked = now
            self._refresh()
        return self._held

    def _refresh(self) -> None:
        try:
            state = self._look()
            if state == self._state:
                return
            # Remembered first, so that a faulty file is complained about once and not every second.
            self._state = state
            self._held = self._read(self._path.read_bytes())
        except (OSError, ValueError) as error:
            _log.error("file_not_reloaded", file=self._path.name, reason=str(error))
        else:
            _log.info("file_reloaded", file=self._path.name)

    def _look(self) -> tuple[int, int, int]:
        found = self._path.stat()
        return found.st_mtime_ns, found.st_size, found.st_ino
