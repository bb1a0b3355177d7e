"""Query parameters: each is known, given once, and holds a word that is accepted."""

from upstroke_service.wording import said

from .bodies import MOST_ECHOED
from .problems import RequestProblem
from .web import AnyRequest

ACCEPTED = {"units": ("us", "si"), "detail": ("compact", "full"), "paper": ("letter", "a4")}
"""Every query parameter with the words that it takes."""

MOST_FAULTS = 5
"""Faults reported of one query."""


def parameters(handler_opt: dict[str, object]) -> tuple[str, ...]:
    """Names of the query parameters of a route handler."""
    return tuple(name for name in ACCEPTED if handler_opt.get(name))


def _reads_its_own(handler_opt: dict[str, object]) -> bool:
    """Whether a handler judges its query itself, with all facts in it at once."""
    return "formula" in handler_opt


async def require_known_query(request: AnyRequest) -> None:
    """Refuse unknown, repeated and misspelled query parameters. Raises RequestProblem 'invalid-field'.

    A misspelled ``?unit=si`` must not be answered in other units than its sender expects.
    """
    if _reads_its_own(request.route_handler.opt):
        return
    known = parameters(request.route_handler.opt)
    errors: list[str] = []
    for name in request.query_params:
        given = request.query_params.getall(name)
        if name not in known:
            accepts = ", ".join(known) or said("fault", "no_query")
            errors.append(said("fault", "unknown_query", name=repr(name[:MOST_ECHOED]), accepts=accepts))
        elif len(given) > 1:
            errors.append(said("fault", "repeated_query", name=repr(name)))
        elif given[0] not in ACCEPTED[name]:
            errors.append(said("fault", "query_word", name=repr(name), words=", ".join(ACCEPTED[name])))
    if errors:
        raise RequestProblem("invalid-field", " ".join(errors[:MOST_FAULTS]))
