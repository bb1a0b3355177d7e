"""The journal beside the output: what is already known, so that a run that was stopped goes on where it was."""

from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import msgspec
from msgspec import Struct

from ._findings import Findings

_FORMAT: Final = "1"


class _Entry(Struct, frozen=True):
    context: str
    key: str
    findings: Findings


class Journal:
    """Findings by the key of their request, kept in a file; only their places are held in memory."""

    def __init__(self, file: Path, context: str) -> None:
        """Open or make the file; what a killed run wrote halfway is cut off.

        Args:
            file: the journal.
            context: what else the findings depend on; those of another context are passed over.

        Raises:
            OSError: where that can't be done.
        """
        self.path = file
        self._file = file.open("a+b")
        self._context = f"{_FORMAT} {context}"
        self._places: dict[str, int] = {}
        self._decoder = msgspec.json.Decoder(_Entry)
        self._file.seek(0)
        end = 0
        for line in self._file:
            try:
                entry = self._decoder.decode(line)
            except msgspec.MsgspecError:
                break
            if not line.endswith(b"\n"):
                break
            if entry.context == self._context:
                self._places[entry.key] = end
            end += len(line)
        self._file.truncate(end)

    def __enter__(self) -> Self:
        """The journal itself."""
        return self

    def __exit__(
        self,
        error_type: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        """Close the file; it stays where it is."""
        self._file.close()

    def __contains__(self, key: str) -> bool:
        """Whether the findings of a request are known."""
        return key in self._places

    def __iter__(self) -> Iterator[str]:
        """The keys of all that is known."""
        return iter(self._places)

    def add(self, key: str, findings: Findings) -> None:
        """Keep the findings of a request; they are safe against a stop once this returns."""
        self._file.seek(0, 2)
        self._places[key] = self._file.tell()
        self._file.write(msgspec.json.encode(_Entry(self._context, key, findings)) + b"\n")
        self._file.flush()

    def get(self, key: str) -> Findings:
        """The findings of a request.

        Raises:
            KeyError: where they are not known.
        """
        self._file.seek(self._places[key])
        return self._decoder.decode(self._file.readline()).findings
