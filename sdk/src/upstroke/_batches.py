"""Batches: many requests in parts, each sent as one body of lines; without any input or output of its own."""

from collections import deque
from collections.abc import Iterable
from itertools import islice
from typing import Final, Literal, NamedTuple, TypeAlias

import msgspec
from msgspec import Raw, Struct

from ._errors import FactError, UnexpectedResponseError
from ._facts import Facts, plain
from ._models import (
    BatchEnd,
    Problem,
    ProblemError,
    RefusedLine,
    SizedLine,
    SizedLineInFull,
    SizingRequest,
)

Detail: TypeAlias = Literal["compact", "full"]
"""How much is said of each request: figures and codes of the best cylinder, or all that a single sizing says."""

BatchLine: TypeAlias = SizedLine | SizedLineInFull | RefusedLine
"""What became of one request of a batch."""

MOST_LINES: Final = {"compact": 512, "full": 32}
"""Requests that go into one body; answers in full are long."""

LARGEST_BODY: Final = 524_288
"""Bytes of one body, unless a single request has more."""


_ABSENT: Final = Raw()


class BatchPart(Struct, frozen=True):
    """The answer to one body: a line each, as far as it goes."""

    lines: tuple[BatchLine, ...]
    end: BatchEnd | None
    """Counts, where the answer is complete."""
    cut: Problem | None
    """Why it is not, where that is said."""


class _Result(Struct):
    candidates: Raw = _ABSENT


class _Line(Struct):
    """What tells the kinds of lines apart."""

    result: _Result | None = None
    problem: Raw = _ABSENT
    end: Raw = _ABSENT


class _Waiting(NamedTuple):
    """A request that has no answer yet: what is to be sent, or what is wrong with it already here."""

    number: int
    content: bytes
    refused: RefusedLine | None = None


def read_part(body: bytes) -> BatchPart:
    """The answer that the body of a reply holds.

    Raises:
        MsgspecError: where it is none.
    """
    lines: list[BatchLine] = []
    end: BatchEnd | None = None
    cut: Problem | None = None
    for line in body.splitlines():
        said = msgspec.json.decode(line, type=_Line)
        if bytes(said.end):
            end = msgspec.json.decode(line, type=BatchEnd)
        elif bytes(said.problem):
            lines.append(msgspec.json.decode(line, type=RefusedLine))
        else:
            lines.append(_sized(line, said.result))
    last = lines[-1] if lines else None
    if end is None and isinstance(last, RefusedLine):
        # The line at which the service stopped has not been looked at.
        cut = last.problem
        lines.pop()
    return BatchPart(tuple(lines), end, cut)


def _sized(line: bytes, result: _Result | None) -> SizedLine | SizedLineInFull:
    if result is not None and bytes(result.candidates):
        return msgspec.json.decode(line, type=SizedLineInFull)
    return msgspec.json.decode(line, type=SizedLine)


class Batch:
    """Requests on their way: which are sent next, and whose answers came."""

    def __init__(
        self, requests: Iterable[Facts], defaults: Facts | None, detail: Detail, start_after: int
    ) -> None:
        """Nothing is taken from ``requests`` yet but what comes before ``start_after``.

        Raises:
            FactError: where a quantity of the defaults can't be read.
            ValueError: where ``start_after`` is negative, or ``detail`` is no word for one.
        """
        if detail not in MOST_LINES:
            raise ValueError(f"detail is 'compact' or 'full', not {detail!r}")
        self._head = (
            b"" if defaults is None else _encoded({"defaults": plain(defaults, SizingRequest)}) + b"\n"
        )
        self._requests = enumerate(islice(requests, start_after, None), start_after + 1)
        self._most = MOST_LINES[detail]
        self._waiting: deque[_Waiting] = deque()
        self._sent: list[_Waiting] = []
        self.answered = start_after
        """Number of the last request whose answer came."""

    def next_body(self) -> bytes | None:
        """The body to send next, or None where every request is answered."""
        size = sum(len(one.content) for one in self._waiting)
        while len(self._waiting) < self._most and size <= LARGEST_BODY:
            following = next(self._requests, None)
            if following is None:
                break
            self._waiting.append(_waiting(*following))
            size += len(self._waiting[-1].content)
        if not self._waiting:
            return None
        size = len(self._head)
        self._sent = []
        for one in self._waiting:
            size += len(one.content)
            if self._sent and size > LARGEST_BODY:
                break
            self._sent.append(one)
        return self._head + b"".join(one.content for one in self._sent)

    def take(self, part: BatchPart) -> list[BatchLine]:
        """The answers that a ``part`` brought, in order; requests without one are sent again.

        Raises:
            UnexpectedResponseError: where it brought none.
        """
        skipped = 1 if self._head else 0
        found: dict[int, BatchLine] = {line.line - skipped: line for line in part.lines}
        told: list[BatchLine] = []
        place = 0
        for one in self._sent:
            if one.refused is not None:
                told.append(one.refused)
                continue
            place += 1
            if place not in found:
                break
            told.append(msgspec.structs.replace(found[place], line=one.number))
        if not told:
            raise UnexpectedResponseError("status 200: the batch has no answer to its first line", status=200)
        for _ in told:
            self._waiting.popleft()
        self.answered = told[-1].line
        return told


def _encoded(document: object) -> bytes:
    return msgspec.json.encode(document)


def _waiting(number: int, request: Facts) -> _Waiting:
    try:
        return _Waiting(number, _encoded(plain(request, SizingRequest)) + b"\n")
    except FactError as error:
        return _Waiting(number, b"", _unreadable(number, request, error))


def _unreadable(number: int, request: Facts, error: FactError) -> RefusedLine:
    """A request with a quantity that can't be read: refused before it is sent, so that the others go on."""
    named = (
        getattr(request, "client_reference", None)
        if isinstance(request, Struct)
        else request.get("client_reference")
    )
    problem = Problem(
        type="/problems/invalid-field",
        title="A fact can't be read",
        status=422,
        code="invalid-field",
        detail=str(error),
        request_id="",
        errors=(ProblemError(pointer=error.pointer, detail=str(error)),),
    )
    return RefusedLine(
        line=number, client_reference=named if isinstance(named, str) else None, problem=problem
    )
