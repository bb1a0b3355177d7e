"""Batches over HTTP: lines in and lines out at the same time, however many they are."""

import asyncio
import contextlib
import time
from collections.abc import AsyncGenerator, Generator
from typing import Any, Final

from litestar import Response, post
from litestar.types import Receive, Scope, Send

from upstroke_service.contract import batches as contract
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.settings import Settings
from upstroke_service.wording import said

from . import bodies
from .arriving import ArrivingLines
from .batch_lines import NO_DEFAULTS, Answered, Batch, Line, answer_lines, cut, defaults_in, end, only_line
from .draining import Draining
from .observing import calculating, template
from .operation import Operation
from .problems import CLOSE, RequestProblem
from .rate_limits import Allowance
from .responses import context_of, preferred
from .shedding import Work
from .tracing import Spans
from .web import AnyRequest

MEDIA_TYPES: Final = ("application/x-ndjson", "application/jsonl")
"""What JSON Lines are called: neither name is registered, and both are common."""

AT_ONCE: Final = {"compact": 256, "full": 8}
"""Lines that are answered together, in about the time of a few sizings: others wait no longer for their turn."""


class Places:
    """Room for so many batches at a time."""

    def __init__(self, most: int) -> None:
        """All of it is free."""
        self._free = most

    @contextlib.contextmanager
    def taken(self) -> Generator[None]:
        """Take a place as long as this lasts. Raises RequestProblem 'overloaded' where none is free."""
        if not self._free:
            raise RequestProblem("overloaded", said("batch", "busy"), headers={"Retry-After": "5"})
        self._free -= 1
        try:
            yield
        finally:
            self._free += 1


class BatchResponse(Response[bytes]):
    """Answers lines while they arrive."""

    def __init__(self, request: AnyRequest, media_type: str) -> None:
        """Nothing is read yet."""
        super().__init__(b"", media_type=media_type)
        state = request.app.state
        self._settings: Settings = state.settings
        self._places: Places = state.places
        self._draining: Draining = state.draining
        self._work: Work = state.work
        self._spans: Spans = state.spans
        self._route = template(request.scope)
        self._allowance: Allowance | None = request.scope["state"].get("allowance")
        self._state = request.scope["state"]
        self._type = media_type
        self._batch = Batch(
            context_of(request),
            "full" if request.query_params.get("detail") == "full" else "compact",
            NO_DEFAULTS,
            str(request.scope["state"]["request_id"]),
            self._settings.largest_body,
        )

    def to_asgi_response(self, *_: object, **__: object) -> Any:
        """What the framework calls to answer."""
        return self._respond

    async def _respond(self, _: Scope, receive: Receive, send: Send) -> None:
        """Answer. Raises RequestProblem where nothing has been answered yet."""
        with self._places.taken():
            arriving = ArrivingLines(
                receive,
                self._batch.detail,
                longest_line=self._settings.largest_body,
                largest_body=self._settings.largest_batch,
            )
            reading = asyncio.create_task(arriving.read())
            answering = asyncio.create_task(self._answer(arriving, send))
            try:
                # Reading ends when the client has gone away: then nobody wants the answers.
                await asyncio.wait({reading, answering}, return_when=asyncio.FIRST_COMPLETED)
            finally:
                reading.cancel()
                answering.cancel()
                await asyncio.wait({reading, answering})
            self._state["abandoned"] = answering.cancelled()
            if not answering.cancelled():
                answering.result()

    async def _answer(self, arriving: ArrivingLines, send: Send) -> None:
        lines = await self._first(arriving)
        headers = {"Content-Type": self._type, "Cache-Control": "no-store"}
        encoded = [(name.lower().encode(), value.encode()) for name, value in headers.items()]
        await send({"type": "http.response.start", "status": 200, "headers": encoded})
        try:
            last = await self._answer_all(lines, arriving, send)
        except RequestProblem as problem:
            last = self._cut(arriving.number, problem)
        await self._send(send, last, more=False)

    async def _first(self, arriving: ArrivingLines) -> list[Line]:
        """The first lines without one that holds defaults, which are kept. Raises RequestProblem."""
        lines = await self._next(arriving)
        if arriving.fault:
            raise arriving.fault
        if lines and (defaults := defaults_in(lines[0], self._settings.largest_body)) is not None:
            self._batch = self._batch._replace(defaults=defaults)
            return lines[1:] or await self._next(arriving)
        return lines

    async def _next(self, arriving: ArrivingLines) -> list[Line]:
        patience = self._settings.batch_patience
        try:
            return await arriving.next_lines(AT_ONCE[self._batch.detail], patience)
        except TimeoutError:
            detail = said("batch", "slow_line", seconds=patience)
            raise RequestProblem("slow-body", detail, headers=CLOSE) from None

    async def _answer_all(self, lines: list[Line], arriving: ArrivingLines, send: Send) -> bytes:
        """Answer lines as they come; the last line of the answer. Raises RequestProblem where no more come."""
        sized = refused = 0
        leave = self._leave()
        while lines:
            problem = await anext(leave)
            if problem:
                return self._cut(lines[0].number, problem)
            answered = await self._work.run_in_turn(self._answer_some, lines)
            sized, refused = sized + answered.sized, refused + answered.refused
            # Nothing more is taken until this has gone out: who reads slowly is answered slowly.
            await self._send(send, answered.content, more=True)
            lines = await self._next(arriving)
        if arriving.fault:
            raise arriving.fault
        return end(sized, refused)

    def _cut(self, number: int, problem: RequestProblem) -> bytes:
        """The last line of an answer that ends before the line of this ``number``."""
        self._state["problem"] = problem.code
        return cut(number, problem, self._batch)

    def _answer_some(self, lines: list[Line]) -> Answered:
        with calculating(self._spans, self._route):
            return answer_lines(lines, self._batch)

    async def _leave(self) -> AsyncGenerator[RequestProblem | None]:
        """Before each time that lines are answered: what forbids that, if anything."""
        ends = time.monotonic() + self._settings.longest_batch
        # The request as such has been counted already.
        yield _ending() if self._draining.begun else None
        while True:
            if time.monotonic() > ends:
                detail = said("batch", "too_long", seconds=self._settings.longest_batch)
                yield RequestProblem("slow-body", f"{detail} {said('batch', 'send_rest')}")
            wait = await self._allowance.wait_after_one() if self._allowance else 0.0
            if wait > self._settings.batch_patience:
                detail = said("batch", "quota", seconds=f"{wait:.0f}")
                yield RequestProblem("too-many-requests", f"{detail} {said('batch', 'send_rest')}")
            await asyncio.sleep(wait)
            yield _ending() if self._draining.begun else None

    async def _send(self, send: Send, content: bytes, *, more: bool) -> None:
        """Raises TimeoutError where the client does not take it."""
        async with asyncio.timeout(self._settings.batch_patience):
            await send({"type": "http.response.body", "body": content, "more_body": more})


def _ending() -> RequestProblem:
    return RequestProblem("shutting-down", f"{said('batch', 'ending')} {said('batch', 'send_rest')}")


@post(
    "/v1/sizing-batches",
    status_code=200,
    operation_id="size_pumps",
    summary="Size many pumps",
    description="One sizing request a line, as JSON Lines; one result or one problem a line comes back, in the same "
    "order, while the next ones are still being sent. A first line with the one member 'defaults' holds facts for "
    "all lines that leave them out, block by block and field by field; where it can't be read, no line is answered. "
    "The last line counts: without it the answer is cut off, and a problem without a count after it says why.",
    tags=["calculations"],
    opt={
        "operation": Operation(
            contract.SizedLine,
            SizingRequest,
            only_line,
            media_types=MEDIA_TYPES,
            other_lines=(contract.SizedLineInFull, contract.RefusedLine, contract.BatchEnd),
        ),
        "units": True,
        "detail": True,
    },
)
async def size_pumps(request: AnyRequest) -> BatchResponse:
    """POST /v1/sizing-batches."""
    bodies.require_sent_as(request, *MEDIA_TYPES)
    media_type = preferred(request, MEDIA_TYPES)
    settings: Settings = request.app.state.settings
    announced = request.headers.get("content-length", "")
    if announced.isdigit() and int(announced) > settings.largest_batch:
        raise RequestProblem(
            "body-too-large", said("batch", "too_large", bytes=settings.largest_batch), headers=CLOSE
        )
    return BatchResponse(request, media_type)
