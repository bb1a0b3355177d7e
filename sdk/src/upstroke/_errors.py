"""What can go wrong, as one tree: catch UpstrokeError for all of it."""

from ._models import Problem, ProblemError


class UpstrokeError(Exception):
    """Base of every error that this package raises on purpose."""


class FactError(UpstrokeError, ValueError):
    """A fact that can't be sent, such as a length in psi; found before anything is sent.

    Attributes:
        pointer: JSON Pointer of the fact in the request, as in ``/well/static_water_level``.
    """

    def __init__(self, pointer: str, message: str) -> None:
        """Say which fact is meant and what would be accepted."""
        super().__init__(f"{pointer}: {message}")
        self.pointer = pointer


class TransportError(UpstrokeError):
    """No answer came: the service can't be reached, or the connection broke.

    Attributes:
        request_id: under which the service logged the call, if it arrived there.
    """

    request_id: str = ""


class RequestTimeoutError(TransportError):
    """No answer came in time."""


class ApiError(UpstrokeError):
    """The service answered, but not with a result.

    Attributes:
        status: HTTP status.
        problem: what the service said, where it said it in the agreed form (RFC 9457).
        request_id: quote this when asking for help; empty where the answer had none.
        retry_after: seconds to wait before trying again, where the service named them.
    """

    def __init__(
        self,
        message: str,
        *,
        status: int,
        problem: Problem | None = None,
        request_id: str = "",
        retry_after: float | None = None,
    ) -> None:
        """Keep the answer's parts beside the message."""
        super().__init__(message)
        self.status = status
        self.problem = problem
        self.request_id = request_id
        self.retry_after = retry_after


class InvalidRequestError(ApiError):
    """Facts that break the contract or contradict each other (status 400 or 422)."""

    @property
    def errors(self) -> tuple[ProblemError, ...]:
        """Every fault that the service found, each with the pointer of its field."""
        return (self.problem.errors if self.problem else None) or ()


class UnauthenticatedError(ApiError):
    """The service needs a key, and this one is missing, wrong, expired or revoked (status 401)."""


class ForbiddenError(ApiError):
    """The key is valid, but does not open this operation (status 403)."""


class NotFoundError(ApiError):
    """Nothing of that name (status 404)."""


class RateLimitedError(ApiError):
    """Too many requests (status 429); wait for ``retry_after`` seconds."""


class ServiceUnavailableError(ApiError):
    """The service is busy, starting or stopping (status 503), or a proxy can't reach it (502, 504)."""


class UnexpectedResponseError(ApiError):
    """An answer that isn't of the agreed form: something else listens there, or a much newer version."""
