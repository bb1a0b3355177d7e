"""Counting requests in a store that speaks the Redis protocol, so that a quota holds across processes."""

import asyncio
import hashlib
import time
from collections.abc import Callable

import structlog
from redis.asyncio import Redis
from redis.asyncio.retry import Retry
from redis.backoff import NoBackoff
from redis.exceptions import RedisError

from .counting import Count, MemoryCounter
from .metrics import UNSHARED_COUNTS

SECONDS_LEFT_ALONE = 5.0
"""How long a store that did not answer is left alone."""

_PREFIX = "upstroke:requests:"
_MILLISECONDS = 1_000

_log = structlog.get_logger(__name__)


class SharedCounter:
    """Counts in the store; while it does not answer, in this process, so that requests go on."""

    def __init__(self, url: str, patience: float = 0.25, clock: Callable[[], float] = time.monotonic) -> None:
        """Connect to nothing yet. ``patience`` is how long a request waits for the store, in s."""
        self._patience = patience
        self._store = Redis.from_url(url, retry=Retry(NoBackoff(), 0))
        self._clock = clock
        self._spare = MemoryCounter(clock)
        self._ask_again = float("-inf")
        self._answers = True

    async def count(self, client: str, seconds: int) -> Count:
        """Count a request of ``client`` in its window of ``seconds``."""
        now = self._clock()
        if now < self._ask_again:
            return await self._alone(client, seconds)
        if not self._answers:
            # This request finds out; those that come meanwhile don't wait for it.
            self._ask_again = now + SECONDS_LEFT_ALONE
        try:
            async with asyncio.timeout(self._patience):
                count = await self._stored(client, seconds)
        except (RedisError, OSError) as error:
            if self._answers:
                _log.error("rate_store_does_not_answer", reason=type(error).__name__)
            self._answers = False
            self._ask_again = self._clock() + SECONDS_LEFT_ALONE
            return await self._alone(client, seconds)
        if not self._answers:
            _log.info("rate_store_answers_again")
        self._answers = True
        self._ask_again = float("-inf")
        return count

    async def _alone(self, client: str, seconds: int) -> Count:
        UNSHARED_COUNTS.inc()
        return await self._spare.count(client, seconds)

    async def _stored(self, client: str, seconds: int) -> Count:
        # A digest, so that the store holds no addresses or names, and every name has the same length.
        digest = hashlib.blake2b(f"{seconds} {client}".encode(), digest_size=16).hexdigest()
        name = f"{_PREFIX}{digest}"
        # One transaction: no other process comes between, and no counter is without an end.
        async with self._store.pipeline(transaction=True) as commands:
            commands.set(name, 0, px=seconds * _MILLISECONDS, nx=True)
            commands.incr(name)
            commands.pttl(name)
            _, used, left = await commands.execute()
        return Count(int(used), max(0, int(left)) / _MILLISECONDS)

    async def close(self) -> None:
        """Close the connections to the store."""
        await self._store.aclose()
