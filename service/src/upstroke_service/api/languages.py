"""The language of an answer: what Accept-Language asks for (RFC 9110, section 12.5.4), else the first there is."""

import re

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from upstroke_service.wording import LANGUAGES, speaking

from .callers import headers_of
from .problems import MEDIA_TYPE

ANSWERS = "/v1/"
"""Folder of the addresses that answer in the language asked for; pages for developers are in the first one."""

_RANGE = re.compile(
    r"(?P<language>\*|[a-z]{1,8})(-[a-z0-9]{1,8})*(\s*;\s*q\s*=\s*(?P<quality>0(\.\d{0,3})?|1(\.0{0,3})?))?",
    re.ASCII,
)


def chosen(accepted: str) -> str:
    """The language of LANGUAGES that an Accept-Language header wants most; the first of them where it names none.

    A range with a region, such as es-MX, is about the language. What can't be read is passed over.
    """
    wanted: dict[str, float] = {}
    for part in accepted.lower().split(","):
        found = _RANGE.fullmatch(part.strip())
        if found:
            quality = float(found["quality"] or 1.0)
            wanted[found["language"]] = max(quality, wanted.get(found["language"], 0.0))
    qualities = [wanted.get(language, wanted.get("*", 0.0)) for language in LANGUAGES]
    # The first of equals, so that the default wins where nothing or anything is wanted.
    return LANGUAGES[qualities.index(max(qualities))]


def speak(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: answer in the language asked for, say which it is, and that caches have to tell them apart."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await app(scope, receive, send)
            return
        language = chosen(b",".join(headers_of(scope, b"accept-language")).decode("latin-1"))
        added = [(b"content-language", language.encode()), (b"vary", b"Accept-Language")]

        async def send_said(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = list(message.get("headers", []))
                if scope["path"].startswith(ANSWERS) or (b"content-type", MEDIA_TYPE.encode()) in headers:
                    message["headers"] = [*headers, *added]
            await send(message)

        with speaking(language):
            await app(scope, receive, send_said)

    return wrapped
