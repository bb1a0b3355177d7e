"""Overload: so many calculations at a time, a short queue, and a quick refusal of what comes beyond."""

import asyncio
import contextvars
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import ParamSpec, TypeVar

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Receive, Scope, Send

from upstroke_service.wording import said

from . import problems
from .access import PROBES
from .problems import RequestProblem

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")

_LATER = {"Retry-After": "1"}


class Work:
    """Calculations on threads of their own, so that the service answers its probes meanwhile.

    A calculation that has begun is finished: Python can't end a thread. What bounds it is the contract, which
    limits cylinders, runs, fittings and points; what is bounded here is the wait.
    """

    def __init__(self, *, at_once: int, most_waiting: int, longest_wait: float) -> None:
        """``at_once`` calculations run, ``most_waiting`` wait for ``longest_wait`` seconds at most."""
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix="calculation")
        self._free = asyncio.Semaphore(at_once)
        self._waiting = 0
        self._most_waiting = most_waiting
        self._longest_wait = longest_wait

    async def run(
        self,
        calculation: Callable[Arguments, Result],
        *arguments: Arguments.args,
        **options: Arguments.kwargs,
    ) -> Result:
        """What ``calculation`` returns. Raises RequestProblem 'overloaded'."""
        if self._free.locked():
            await self._wait()
        else:
            await self._free.acquire()
        return await self._run(calculation, *arguments, **options)

    async def run_in_turn(
        self,
        calculation: Callable[Arguments, Result],
        *arguments: Arguments.args,
        **options: Arguments.kwargs,
    ) -> Result:
        """What ``calculation`` returns, however long it has to wait: who came before goes before.

        For parts of what has been admitted as a whole. Between two of them whoever else waits has a turn.
        """
        await self._free.acquire()
        return await self._run(calculation, *arguments, **options)

    async def _run(
        self,
        calculation: Callable[Arguments, Result],
        *arguments: Arguments.args,
        **options: Arguments.kwargs,
    ) -> Result:
        """What ``calculation`` returns, on the thread that was waited for."""
        try:
            # The thread speaks for this request: in the log, in traces.
            context = contextvars.copy_context()
            loop = asyncio.get_running_loop()
            return await loop.run_in_executor(
                self._threads, lambda: context.run(calculation, *arguments, **options)
            )
        finally:
            self._free.release()

    async def _wait(self) -> None:
        """Until a thread is free."""
        if self._waiting >= self._most_waiting:
            raise RequestProblem("overloaded", said("fault", "busy"), headers=_LATER)
        self._waiting += 1
        try:
            async with asyncio.timeout(self._longest_wait):
                await self._free.acquire()
        except TimeoutError:
            raise RequestProblem("overloaded", said("fault", "busy"), headers=_LATER) from None
        finally:
            self._waiting -= 1


def shed(app: ASGIApp, *, most_open: int) -> ASGIApp:
    """Wrap ``app``: at most ``most_open`` requests at a time, however slowly their bodies come."""
    open_requests = 0

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        nonlocal open_requests
        if scope["type"] != ScopeType.HTTP or scope["path"] in PROBES:
            await app(scope, receive, send)
            return
        if open_requests >= most_open:
            await problems.refuse(scope, send, "overloaded", said("fault", "busy"), _LATER)
            return
        open_requests += 1
        try:
            await app(scope, receive, send)
        finally:
            open_requests -= 1

    return wrapped
