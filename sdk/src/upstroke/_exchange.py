"""Requests to bytes and replies to answers, without any input or output of its own."""

import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal, TypeAlias
from urllib.parse import quote

import msgspec

from ._batches import BatchPart, Detail
from ._errors import (
    ApiError,
    ForbiddenError,
    InvalidRequestError,
    NotFoundError,
    RateLimitedError,
    ServiceUnavailableError,
    UnauthenticatedError,
    UnexpectedResponseError,
)
from ._facts import Facts, plain
from ._models import Problem
from ._operations import Answer, Calculation, Formula, InLines, Operation
from ._quantity import Quantity

Units: TypeAlias = Literal["us", "si"]
Form: TypeAlias = Literal["pdf", "html"]
Paper: TypeAlias = Literal["letter", "a4"]
_FORMS: Final[dict[Form, str]] = {"pdf": "application/pdf", "html": "text/html"}

_ERRORS: dict[int, type[ApiError]] = {
    400: InvalidRequestError,
    401: UnauthenticatedError,
    403: ForbiddenError,
    404: NotFoundError,
    422: InvalidRequestError,
    429: RateLimitedError,
    502: ServiceUnavailableError,
    503: ServiceUnavailableError,
    504: ServiceUnavailableError,
}


@dataclass(frozen=True)
class Call:
    """A request as it is sent. Its headers, which may hold a key, are not shown when it is printed."""

    method: str
    path: str
    query: Mapping[str, str] = field(default_factory=dict[str, str])
    headers: Mapping[str, str] = field(default_factory=dict[str, str], repr=False)
    body: bytes | None = None


@dataclass(frozen=True)
class Reply:
    """A reply as it arrives; the names of headers are in lower case."""

    status: int
    headers: Mapping[str, str]
    body: bytes


def calculation(
    operation: Calculation[Answer], request: Facts | None, facts: Mapping[str, object], units: Units
) -> Call:
    """The call of a calculation.

    Args:
        operation: what to calculate.
        request: the facts in one piece.
        facts: single blocks of facts, which replace those of ``request``.
        units: the unit system of the answer.

    Raises:
        FactError: where a quantity can't be read.
    """
    body = plain(request or {}, operation.request) | plain(facts, operation.request)
    return Call(
        operation.method,
        operation.path,
        query={"units": units},
        headers={"accept": "application/json", "content-type": "application/json"},
        body=msgspec.json.encode(body),
    )


def lines(operation: InLines, body: bytes, units: Units, detail: Detail) -> Call:
    """The call of many calculations, whose facts ``body`` holds line by line."""
    return Call(
        operation.method,
        operation.path,
        query={"units": units, "detail": detail},
        headers={"accept": operation.media_type, "content-type": operation.media_type},
        body=body,
    )


def part(operation: InLines, reply: Reply) -> BatchPart:
    """The answers that a reply holds, of which there may be fewer than lines were sent.

    Raises:
        ApiError: where it holds none; the subclass tells why.
    """
    found = answer(operation, reply)
    if found.cut is not None and not found.lines:
        raise _error(Reply(found.cut.status, reply.headers, msgspec.json.encode(found.cut)))
    return found


def printing(
    operation: Calculation[Answer],
    request: Facts | None,
    facts: Mapping[str, object],
    units: Units,
    form: Form,
    paper: Paper | None,
) -> Call:
    """The call of a calculation whose answer is to be printed; arguments as those of ``calculation``.

    Raises:
        FactError: where a quantity can't be read.
    """
    call = calculation(operation, request, facts, units)
    return replace(
        call,
        query={**call.query, **({"paper": paper} if paper else {})},
        headers={**call.headers, "accept": _FORMS[form]},
    )


def printed(reply: Reply) -> bytes:
    """The document that a reply holds.

    Raises:
        ApiError: where it holds none; the subclass tells why.
    """
    if reply.status != 200:  # noqa: PLR2004 - the one status of every answer
        raise _error(reply)
    return reply.body


def reading(operation: Operation[Answer], units: Units | None = None, **path_values: str) -> Call:
    """The call of an operation that takes what its path names and, in some cases, a unit system."""
    quoted = {name: quote(value, safe="") for name, value in path_values.items()}
    query = {"units": units} if units else {}
    return Call(operation.method, operation.path.format_map(quoted), query, {"accept": "application/json"})


def question(operation: Formula, facts: Mapping[str, object], units: Units) -> Call:
    """The call of a formula, whose facts go into the query, values and units apart.

    Raises:
        FactError: where a quantity can't be read.
    """
    query = {"format": "csv", "units": units}
    for name, fact in plain(facts, operation.query).items():
        if isinstance(fact, Quantity):
            query |= {name: _word(fact.value), f"{name}_unit": fact.unit}
        else:
            query[name] = _word(fact)
    return Call(operation.method, operation.path, query, {"accept": operation.media_type})


def _word(fact: object) -> str:
    return fact if isinstance(fact, str) else msgspec.json.encode(fact).decode()


def answer(operation: Operation[Answer], reply: Reply) -> Answer:
    """The answer that a reply holds.

    Raises:
        ApiError: where it holds none; the subclass tells why.
    """
    if reply.status != 200:  # noqa: PLR2004 - the one status of every answer
        raise _error(reply)
    try:
        return operation.read(reply.body)
    except (msgspec.MsgspecError, ValueError) as error:
        raise _unexpected(reply, f"the answer is not a {operation.answer.__name__}: {error}") from error


def retry_after(reply: Reply) -> float | None:
    """Seconds that the service asks to wait, as a number or as a date; None where it asks for none."""
    text = reply.headers.get("retry-after", "")
    if text.isascii() and text.isdigit():
        return float(text)
    # Imported here because dates are rare and this takes long to import.
    from email.utils import mktime_tz, parsedate_tz  # noqa: PLC0415

    date = parsedate_tz(text)
    return max(mktime_tz(date) - time.time(), 0.0) if date else None


def _error(reply: Reply) -> ApiError:
    try:
        problem = msgspec.json.decode(reply.body, type=Problem)
    except (msgspec.MsgspecError, UnicodeDecodeError):
        problem = None
    known = _ERRORS.get(reply.status, ApiError if problem else UnexpectedResponseError)
    if problem is None:
        return _unexpected(reply, "the answer is not a problem description", known)
    faults = "".join(f"\n  {fault.pointer or '(body)'}: {fault.detail}" for fault in problem.errors or ())
    return known(
        f"{problem.title} ({reply.status}): {problem.detail}{faults}",
        status=reply.status,
        problem=problem,
        request_id=problem.request_id,
        retry_after=retry_after(reply),
    )


def _unexpected(reply: Reply, message: str, kind: type[ApiError] = UnexpectedResponseError) -> ApiError:
    return kind(
        f"status {reply.status}: {message}",
        status=reply.status,
        request_id=reply.headers.get("x-request-id", ""),
        retry_after=retry_after(reply),
    )
