"""The trace that a request belongs to (W3C Trace Context), and spans for whoever collects them."""

import re
import secrets
from collections.abc import Generator
from contextlib import AbstractContextManager, contextmanager
from typing import Protocol, Self

from litestar.types import HTTPScope

from upstroke_service.settings import Settings, SettingsError

_TRACEPARENT = re.compile(
    rb"(?!ff)[0-9a-f]{2}-(?!0{32})([0-9a-f]{32})-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}(?:-.*)?"
)


class RequestSpan(Protocol):
    """The part of a trace that one request is."""

    @property
    def trace_id(self) -> str:
        """Of the trace, 32 hexadecimal digits."""
        ...

    def answered(self, method: str, route: str, status: int) -> None:
        """Say what the request was and came to."""
        ...


class Spans(Protocol):
    """What makes spans."""

    def request(self, scope: HTTPScope) -> AbstractContextManager[RequestSpan]:
        """A span as long as a request, in the trace that its headers name or in a new one."""
        ...

    def calculation(self, route: str) -> AbstractContextManager[None]:
        """A span as long as a calculation, within that of its request."""
        ...

    def close(self) -> None:
        """Send what is left to send."""
        ...


class _Untold:
    """A request whose span nobody collects: its trace is only logged."""

    def __init__(self, trace_id: str) -> None:
        self.trace_id = trace_id

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        pass

    def answered(self, method: str, route: str, status: int) -> None:
        """Nobody asks."""


class NoSpans:
    """Traces are continued in the log, and no spans are made."""

    def request(self, scope: HTTPScope) -> AbstractContextManager[RequestSpan]:
        """The trace of a request."""
        named = [value for name, value in scope["headers"] if name == b"traceparent"]
        found = _TRACEPARENT.fullmatch(named[0]) if len(named) == 1 else None
        return _Untold(found[1].decode() if found else secrets.token_hex(16))

    @contextmanager
    def calculation(self, route: str) -> Generator[None]:  # noqa: ARG002 - Spans names it
        """Nothing."""
        yield

    def close(self) -> None:
        """Nothing."""


def spans(settings: Settings) -> Spans:
    """What makes spans by the settings. Raises SettingsError where that needs what is not installed."""
    if not settings.traces:
        return NoSpans()
    try:
        # Imported where it is used: it needs what the extra "otel" installs.
        from .open_telemetry import OpenTelemetrySpans, exporting  # noqa: PLC0415
    except ImportError as error:
        raise SettingsError(
            "UPSTROKE_TRACES: needs the extra: pip install 'upstroke-service[otel]'"
        ) from error
    return OpenTelemetrySpans(exporting())
