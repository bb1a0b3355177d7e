"""What a module says to the log, without the log."""

from types import ModuleType

import pytest


class Said:
    """Stands in for a logger and keeps what it is told."""

    def __init__(self) -> None:
        self.events: list[str] = []
        self.fields: list[dict[str, object]] = []

    def error(self, event: str, **fields: object) -> None:
        self.events.append(event)
        self.fields.append(fields)

    info = error


def said_by(module: ModuleType, monkeypatch: pytest.MonkeyPatch) -> Said:
    """What ``module`` logs from now on."""
    said = Said()
    monkeypatch.setattr(module, "_log", said)
    return said
