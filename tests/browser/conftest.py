"""The browser and both servers, for the tests of one module: two loops of events can't share a worker for longer."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext
from tests.browser.bed import Site, browsing, require_browser
from tests.service.running import HOST, running


@pytest.fixture(scope="session")
def site() -> Iterator[Site]:
    """A dealer's site that embeds the form of a running service, which lets it."""
    require_browser()
    with Site().serving() as served, running(cors_origins=served.origin) as server:
        served.service = f"http://{HOST}:{server.port}"
        yield served


@pytest.fixture(scope="session")
def service(site: Site) -> str:
    """Where the service is."""
    return site.service


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    require_browser()
    with browsing() as started:
        yield started


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    """Tabs of it share what was loaded, and nothing that was entered."""
    shared = browser.new_context(locale="en-US")
    yield shared
    shared.close()
