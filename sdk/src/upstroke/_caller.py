"""Who calls, and what becomes of each call; without any input or output of its own."""

import logging
import os
import sys
import time
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from ._errors import TransportError
from ._exchange import Call, Reply
from ._retry import Attempts
from ._version import VERSION

_LOG: Final = logging.getLogger("upstroke")
_USER_AGENT: Final = f"upstroke-python/{VERSION} (Python {sys.version_info.major}.{sys.version_info.minor})"


class Exchange:
    """One call: what to send, whether to send it again, what came of it.

    The log tells method, path, status and request id; never headers, which may hold a key, and never facts.
    """

    def __init__(self, call: Call, retries: int) -> None:
        """Begin; ``call`` has all of its headers."""
        self.call = call
        self._attempts = Attempts(retries)
        self._request_id = call.headers["x-request-id"]
        self._started = time.perf_counter()

    def wait_after(self, outcome: Reply | TransportError) -> float | None:
        """Seconds until the next attempt, or None where this outcome counts."""
        wait = self._attempts.wait_after(outcome)
        said = f"status {outcome.status}" if isinstance(outcome, Reply) else str(outcome)
        if wait is None:
            passed = 1000.0 * (time.perf_counter() - self._started)
            _LOG.debug("%s: %s, %.0f ms", self, said, passed)
        else:
            _LOG.info("%s: %s; again in %.2f s", self, said, wait)
        return wait

    def reply(self, outcome: Reply | TransportError) -> Reply:
        """The outcome that counts.

        Raises:
            TransportError: where it is one.
        """
        if isinstance(outcome, TransportError):
            outcome.request_id = self._request_id
            raise outcome
        return outcome

    def __str__(self) -> str:
        """What the log calls it."""
        return f"{self.call.method} {self.call.path} (request {self._request_id})"


class Caller:
    """Puts the caller's name, its key and language if it has any, and an id on every call."""

    def __init__(self, key: str, language: str, retries: int) -> None:
        """Show ``key`` and ask for ``language`` unless empty, and repeat a call at most ``retries`` times."""
        authorization = {"authorization": f"Bearer {key}"} if key else {}
        spoken = {"accept-language": language} if language else {}
        self._headers: Mapping[str, str] = {"user-agent": _USER_AGENT, **authorization, **spoken}
        self._retries = retries

    def begin(self, call: Call, *, once: bool = False) -> Exchange:
        """The exchange of a call; ``once`` is without retries."""
        # Made here and not by the service, so that a call without an answer can be looked up as well.
        identified = {"x-request-id": os.urandom(8).hex()}
        headers = {**call.headers, **self._headers, **identified}
        return Exchange(replace(call, headers=headers), 0 if once else self._retries)
