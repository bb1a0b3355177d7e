"""When a call is sent again, and after which wait; without any input or output of its own."""

import random
from typing import Final

from ._errors import RequestTimeoutError, TransportError
from ._exchange import Reply, retry_after

RETRIED: Final = frozenset({408, 429, 502, 503, 504})
"""Statuses of a service that is busy or not there: the same call may be answered a little later."""

LONGEST_WAIT: Final = 30.0
"""Seconds; a service that asks for a longer wait is not waited for: the caller is told instead."""

_FIRST_WAIT: Final = 0.25


class Attempts:
    """The attempts of one call.

    Every operation is pure, so that a repetition does no harm. A call that timed out is not repeated: the
    caller chose how long to wait.
    """

    def __init__(self, retries: int) -> None:
        """Repeat at most ``retries`` times."""
        self._retries = retries
        self._made = 0

    def wait_after(self, outcome: Reply | TransportError) -> float | None:
        """Seconds until the next attempt, or None where this outcome counts."""
        # Waits double, each drawn at random below its bound, so that many clients don't return together.
        wait = random.uniform(0.0, min(_FIRST_WAIT * 2.0**self._made, LONGEST_WAIT))  # noqa: S311
        self._made += 1
        if self._made > self._retries:
            return None
        if isinstance(outcome, TransportError):
            return None if isinstance(outcome, RequestTimeoutError) else wait
        if outcome.status not in RETRIED:
            return None
        asked = retry_after(outcome) or 0.0
        return None if asked > LONGEST_WAIT else asked + wait
