"""A real browser, the service, and a dealer's site at another origin."""

import os
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright

# The shell is the same engine without windows, and opens pages in half the time.
PROGRAM = shutil.which("chromium-headless-shell") or shutil.which("chromium")
NEEDED = "needs Chromium, as from: apt-get install chromium-headless-shell"

SITE = Path(__file__).parents[2] / "deploy" / "example-site"
WRITTEN = "http://127.0.0.1:8080"
"""Where the example site says that the service is."""

_QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def require_browser() -> None:
    """Skip the test where there is no browser; fail where CI could have installed one."""
    if PROGRAM:
        return
    if os.environ.get("CI") and os.getuid() == 0:
        pytest.fail(NEEDED)
    pytest.skip(NEEDED)


@contextmanager
def browsing() -> Iterator[Browser]:
    """A browser without a window."""
    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=PROGRAM, args=list(_QUIET))
        try:
            yield browser
        finally:
            browser.close()


class _Site(SimpleHTTPRequestHandler):
    """Files of the example site, where the service really is, under a strict content policy."""

    def __init__(self, *arguments: Any, service: str, **named: Any) -> None:
        self.service = service
        super().__init__(*arguments, directory=str(SITE), **named)

    def do_GET(self) -> None:
        path = SITE / (self.path.removeprefix("/") or "index.html")
        if not path.is_file() or path.parent != SITE:
            self.send_error(404)
            return
        content = path.read_bytes().replace(WRITTEN.encode(), self.service.encode())
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Content-Security-Policy", policy(self.service))
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, *_: object) -> None:
        """Say nothing."""


def policy(service: str) -> str:
    """What the README tells a dealer to allow: the service's scripts and answers, and nothing inline."""
    return (
        f"default-src 'none'; script-src 'self' {service}; style-src 'self'; connect-src {service}; "
        "base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'"
    )


class Site:
    """The dealer's site; where the service is, is known only once that runs."""

    def __init__(self) -> None:
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), self._handle)
        self.service = ""
        self.origin = f"http://127.0.0.1:{self._server.server_address[1]}"

    def _handle(self, *arguments: Any) -> _Site:
        return partial(_Site, service=self.service)(*arguments)

    @contextmanager
    def serving(self) -> Iterator["Site"]:
        """Answer until the block ends."""
        thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        thread.start()
        try:
            yield self
        finally:
            self._server.shutdown()
            self._server.server_close()
            thread.join()
