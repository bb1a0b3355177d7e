"""The transports to a service in this very process, for whoever has it installed too."""

import asyncio
from collections.abc import Mapping, Sequence
from concurrent.futures import Future
from importlib.metadata import entry_points
from os import PathLike
from typing import Final, Protocol, cast

from ._errors import UpstrokeError
from ._exchange import Call, Reply

GROUP: Final = "upstroke.embedded"
"""Entry points under which a service offers itself: a function from catalogue files to a Service."""

Files = Sequence[str | PathLike[str]]


class Service(Protocol):
    """A service to ask from any thread."""

    def submit(
        self,
        method: str,
        path: str,
        query: Mapping[str, str],
        headers: Mapping[str, str],
        body: bytes | None,
    ) -> "Future[tuple[int, dict[str, str], bytes]]":
        """Ask; status, headers and body will be in what is returned."""
        ...

    def close(self) -> None:
        """Let go of what it holds."""
        ...


def start(catalogues: Files) -> Service:
    """The installed service.

    Raises:
        UpstrokeError: where none is installed or a catalogue can't be used.
    """
    for found in entry_points(group=GROUP):
        try:
            return cast("Service", found.load()(catalogues))
        except (ValueError, OSError) as error:
            raise UpstrokeError(f"the embedded service can't start: {error}") from error
    raise UpstrokeError(
        "the embedded service is not installed: add the package upstroke-service to this environment, or give "
        "the address of a running service"
    )


class InProcess:
    """Carries calls to a service in this process."""

    def __init__(self, catalogues: Files) -> None:
        """Start the service with these catalogue files."""
        self._service = start(catalogues)

    def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply."""
        return Reply(*_asked(self._service, call).result())

    def close(self) -> None:
        """End the service."""
        self._service.close()


class AsyncInProcess:
    """Carries calls to a service in this process, and lets others work meanwhile."""

    def __init__(self, catalogues: Files) -> None:
        """Start the service with these catalogue files."""
        self._service = start(catalogues)

    async def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply."""
        return Reply(*await asyncio.wrap_future(_asked(self._service, call)))

    async def close(self) -> None:
        """End the service."""
        await asyncio.to_thread(self._service.close)


def _asked(service: Service, call: Call) -> "Future[tuple[int, dict[str, str], bytes]]":
    return service.submit(call.method, call.path, call.query, call.headers, call.body)
