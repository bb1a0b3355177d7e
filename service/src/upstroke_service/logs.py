"""Logging: JSON lines, without bodies, queries, addresses or keys."""

import logging
import traceback
from typing import Any

import structlog

_SHARED: tuple[structlog.typing.Processor, ...] = (
    structlog.contextvars.merge_contextvars,
    structlog.processors.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
)


def configure(level: str) -> None:
    """Set structlog up to write JSON lines from ``level`` upwards."""
    structlog.configure(
        processors=[*_SHARED, structlog.processors.JSONRenderer()],
        wrapper_class=structlog.make_filtering_bound_logger(logging.getLevelNamesMapping()[level.upper()]),
        cache_logger_on_first_use=True,
    )


def formatter() -> logging.Formatter:
    """What turns records of the standard library's logging into the same JSON lines."""
    return structlog.stdlib.ProcessorFormatter(
        foreign_pre_chain=_SHARED,
        processors=[
            structlog.stdlib.ProcessorFormatter.remove_processors_meta,
            structlog.processors.JSONRenderer(),
        ],
    )


_LINES = {"()": f"{__name__}.formatter"}
SERVER: dict[str, Any] = {"formatters": {"generic": _LINES, "access": _LINES}}
"""The ASGI server's logging, changed to these JSON lines."""


def places(error: BaseException) -> list[str]:
    """Where an error came from, outermost first, without its text, which may repeat what a customer said."""
    frames = traceback.extract_tb(error.__traceback__)
    return [f"{frame.filename}:{frame.lineno} {frame.name}" for frame in frames]
