"""A report as HTML or as PDF: two templates over the same content."""

import base64
import functools
import hashlib
from importlib import resources

import msgspec

from .content import Report

_TEMPLATES = resources.files("upstroke_service.report").joinpath("templates")


@functools.cache
def _file(name: str) -> str:
    return _TEMPLATES.joinpath(name).read_text("utf-8")


def style_source() -> str:
    """The hash by which a Content-Security-Policy lets browsers take the style inside the page, and no other."""
    digest = hashlib.sha256(_file("report.css").encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


def html(report: Report) -> bytes:
    """One page that needs nothing else, not even when it was saved."""
    from jinja2 import Environment  # noqa: PLC0415 - only reports need it
    from markupsafe import Markup  # noqa: PLC0415

    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(_file("report.html"))
    page = template.render(report=msgspec.to_builtins(report), style=Markup(_file("report.css")))  # noqa: S704 - ours
    return page.encode()


def pdf(report: Report) -> bytes:
    """A tagged PDF (PDF/UA-1), the same bytes for the same content."""
    import typst  # noqa: PLC0415 - large, and only reports need it

    content: bytes = typst.compile(
        _file("report.typ").encode(),
        format="pdf",
        sys_inputs={"report": msgspec.json.encode(report).decode()},
        pdf_standards="ua-1",
        ignore_system_fonts=True,
        timestamp=0,
    )
    return content
