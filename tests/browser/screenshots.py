"""Pictures of the form and its answer at three widths: python -m tests.browser.screenshots FOLDER."""

import sys
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page
from tests.browser.bed import Site, browsing, require_browser
from tests.browser.filling import Form
from tests.service.running import HOST, running

WIDTHS = (360, 768, 1280)

Picture = Callable[[Page, Site, int], Form]


def page(tab: Page, site: Site, width: int) -> Form:
    """The service's own page."""
    return Form(tab, f"{site.service}/", {}, width=width).open()


def dealer(tab: Page, site: Site, width: int, **attributes: str) -> Form:
    """The form on the example site."""
    return Form(tab, f"{site.origin}/", attributes, width=width).open()


def faults(tab: Page, site: Site, width: int) -> Form:
    """Faults marked, and their list."""
    form = dealer(tab, site, width)
    form.fill(level="9999", hose_length="50")
    form.submit()
    return form


def answer(tab: Page, site: Site, width: int) -> Form:
    """The answer below the form."""
    form = dealer(tab, site, width)
    form.essentials()
    form.submit()
    form.answered()
    return form


def spanish(tab: Page, site: Site, width: int) -> Form:
    """The answer in Spanish and SI units."""
    form = dealer(tab, site, width, language="es", units="si")
    form.check("tank_kind-bladder", "supply-pressure_switch", "places-spigot", "public_main-no")
    form.fill(level="18,5", tank_volume="80", cut_in="200", cut_out="340", hose_length="15", hose_bore="19")
    form.submit()
    form.answered()
    return form


PICTURES: dict[str, Picture] = {
    "page": page,
    "example-site": dealer,
    "faults": faults,
    "answer": answer,
    "spanish-si": spanish,
}


# What is far from the window is not laid out until it comes near.
_LAY_OUT = """(one) => {
  for (const part of one.shadowRoot.querySelectorAll('.answer section')) part.style.contentVisibility = 'visible';
}"""


def take(folder: Path) -> None:
    """Write each picture twice: what the window shows then, and the whole page."""
    folder.mkdir(parents=True, exist_ok=True)
    site = Site()
    with site.serving(), running(cors_origins=site.origin) as server, browsing() as browser:
        site.service = f"http://{HOST}:{server.port}"
        for name, picture in PICTURES.items():
            for width in WIDTHS:
                tab = browser.new_page(locale="en-US")
                picture(tab, site, width)
                tab.screenshot(path=folder / f"{name}-{width}-window.png")
                tab.locator("upstroke-quote").evaluate(_LAY_OUT)
                tab.screenshot(path=folder / f"{name}-{width}.png", full_page=True)
                tab.close()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: python -m tests.browser.screenshots FOLDER")
    require_browser()
    take(Path(sys.argv[1]))
