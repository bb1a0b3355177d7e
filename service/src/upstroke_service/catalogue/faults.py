"""What is wrong with a catalogue file."""

from collections.abc import Sequence

from msgspec import Struct


class Fault(Struct, frozen=True):
    """One fault: the file, the entry (by id, else by position), the field, and what is accepted."""

    file: str
    entry: str
    field: str
    message: str

    def __str__(self) -> str:
        """The fault in one line."""
        place = " ".join(part for part in (self.entry, self.field) if part)
        return f"{self.file}: {place}: {self.message}" if place else f"{self.file}: {self.message}"


class CatalogueError(ValueError):
    """A catalogue can't be used; ``faults`` holds everything that is wrong with its file."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        """List the ``faults``, one a line."""
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class Faults:
    """Collects the faults of one file."""

    def __init__(self, file_name: str) -> None:
        """Begin without a fault."""
        self.file_name = file_name
        self._found: list[Fault] = []

    def add(self, entry: str, field: str, message: str) -> None:
        """Note a fault."""
        self._found.append(Fault(self.file_name, entry, field, message))

    def raise_any(self) -> None:
        """Raise CatalogueError if there are any."""
        if self._found:
            raise CatalogueError(self._found)
