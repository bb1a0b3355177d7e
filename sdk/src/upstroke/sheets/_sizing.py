"""Sizes rows through a client, a few at a time, and keeps what was found in the journal."""

import time
from collections import deque
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Final, Protocol

from upstroke._errors import (
    ApiError,
    FactError,
    ForbiddenError,
    InvalidRequestError,
    NotFoundError,
    RateLimitedError,
    RequestTimeoutError,
    ServiceUnavailableError,
    TransportError,
    UnauthenticatedError,
    UnexpectedResponseError,
    UpstrokeError,
)
from upstroke._models import Health, Sizing

from ._findings import Findings, pick
from ._journal import Journal
from ._rows import Row

_TRIES: Final = 8
_LONGEST_WAIT: Final = 60.0
_FIRST_WAIT: Final = 1.0
# Every other row would meet the same.
_HOPELESS: Final = (
    UnauthenticatedError,
    ForbiddenError,
    NotFoundError,
    UnexpectedResponseError,
    RateLimitedError,
    ServiceUnavailableError,
    TransportError,
)


class Sizer(Protocol):
    """What sizes one site: a client, however it reaches the service."""

    def size(self, request: Mapping[str, object], /) -> Sizing:
        """The answer to a request."""
        ...

    def ready(self) -> Health:
        """Whether the service takes work."""
        ...


class StoppedError(Exception):
    """No more rows can be sized for now; what was found until then is in the journal."""


def context_of(client: Sizer, units: str) -> str:
    """What findings depend on beside the facts of a row.

    Raises:
        StoppedError: where the service can't be had.
    """
    try:
        return f"{client.ready().model_version} {units}"
    except UpstrokeError as error:
        raise StoppedError(str(error)) from error


def size_rows(
    client: Sizer, rows: Iterable[Row], journal: Journal, jobs: int, progress: Callable[[], None]
) -> dict[str, str]:
    """Size every row that is not in the journal yet.

    Args:
        client: asked by ``jobs`` threads at once.
        rows: in the order in which they are asked; those without a request are passed over.
        journal: gets what is found.
        jobs: how many rows are asked at a time.
        progress: called for each row that is done.

    Returns:
        Why a row got no answer, by its key, where that does not stop the others.

    Raises:
        StoppedError: where the service can't be had.
    """
    unanswered: dict[str, str] = {}
    waiting: deque[tuple[str, Future[Findings]]] = deque()

    def settle() -> None:
        key, future = waiting.popleft()
        try:
            journal.add(key, future.result())
        except _HOPELESS as error:
            if not isinstance(error, RequestTimeoutError):
                raise StoppedError(str(error)) from error
            unanswered[key] = str(error)
        except ApiError as error:
            unanswered[key] = str(error)
        progress()

    with ThreadPoolExecutor(jobs) as pool:
        try:
            for row in rows:
                if row.request is None or row.key in journal:
                    progress()
                    continue
                waiting.append((row.key, pool.submit(_ask, client, row.request)))
                while len(waiting) > 2 * jobs:
                    settle()
            while waiting:
                settle()
        finally:
            for _, future in waiting:
                future.cancel()
    return unanswered


def _ask(client: Sizer, request: Mapping[str, object]) -> Findings:
    """What the service finds, waited for where it is busy."""
    for attempt in range(1, _TRIES + 1):
        try:
            return pick(client.size(request))
        except InvalidRequestError as error:
            faults = [(fault.pointer, fault.detail) for fault in error.errors] or [("", str(error))]
            return Findings(refused=faults)
        except FactError as error:
            return Findings(refused=[(error.pointer, str(error))])
        except (RateLimitedError, ServiceUnavailableError) as error:
            if attempt == _TRIES:
                raise
            time.sleep(min(error.retry_after or _FIRST_WAIT, _LONGEST_WAIT))
    raise AssertionError("the last attempt returns or raises")
