"""Repeats calls that found nobody or a busy service."""

import random
import time
from collections.abc import Callable
from typing import Final

from ._errors import RequestTimeoutError, TransportError
from ._exchange import Call, Reply, retry_after
from ._transport import Transport

_BUSY: Final = frozenset({429, 503})
_FIRST_WAIT: Final = 0.25
_LONGEST_WAIT: Final = 30.0


class Patience:
    """Sends a call again where no connection came about or the service asked to come back later.

    Every operation is pure, so that a repetition does no harm. A call that timed out is not repeated: the
    caller chose how long to wait.
    """

    def __init__(
        self, transport: Transport, retries: int, sleep: Callable[[float], None] = time.sleep
    ) -> None:
        """Repeat at most ``retries`` times."""
        self._transport = transport
        self._retries = retries
        self._sleep = sleep

    def send(self, call: Call) -> Reply:
        """Send a call, with patience; the last reply or error counts."""
        for attempt in range(self._retries):
            # Waits double, each drawn at random below its bound, so that many clients don't return together.
            wait = random.uniform(0.0, min(_FIRST_WAIT * 2.0**attempt, _LONGEST_WAIT))  # noqa: S311
            try:
                reply = self._transport.send(call)
            except RequestTimeoutError:
                raise
            except TransportError:
                self._sleep(wait)
                continue
            asked = retry_after(reply)
            if reply.status not in _BUSY or (asked is not None and asked > _LONGEST_WAIT):
                return reply
            self._sleep(wait if asked is None else asked)
        return self._transport.send(call)
