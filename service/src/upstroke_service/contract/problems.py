"""Problems as RFC 9457 defines them."""

from typing import Annotated

from msgspec import UNSET, UnsetType

from .answered import Answered
from .description import about


class ProblemError(Answered, frozen=True, kw_only=True):
    """One fault."""

    pointer: Annotated[
        str,
        about(
            "JSON Pointer to the faulty field of the body; empty: the whole body. Of a formula: a slash and the name "
            "of the faulty parameter."
        ),
    ]
    detail: Annotated[str, about("What is wrong and what would be accepted.")]


class Problem(Answered, frozen=True, kw_only=True):
    """A problem as RFC 9457 defines it."""

    type: Annotated[str, about("Path of a short page about this kind of problem.")]
    title: Annotated[str, about("The kind of problem.")]
    status: Annotated[int, about("HTTP status.")]
    code: Annotated[str, about("Stable code of the kind of problem.")]
    detail: Annotated[str, about("What happened and what to do.")]
    request_id: Annotated[str, about("Quote this when asking for help.")]
    errors: Annotated[list[ProblemError], about("Every fault of the body at once.")] | UnsetType = UNSET
