"""The browser, a tab of it, and both servers. Two loops of events can't share a worker for longer than a module."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
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
def tab(browser: Browser) -> Iterator[Page]:
    """One for form after form: to open a window takes longer than most tests."""
    shared = browser.new_page(locale="en-US")
    yield shared
    shared.close()


@pytest.fixture
def new_tab(browser: Browser) -> Iterator[Page]:
    """One for a test that leaves its mark, as on the clock."""
    own = browser.new_page(locale="en-US")
    yield own
    own.close()
