"""What the quote form costs those who open it: bytes of the first load, layout shift, and the wait for the answer.

    .venv/bin/python -m tests.benchmarks.quote_form

Each round is a browser without a cache that loads a dealer's page from another origin, fills in the form and asks.
"""

import gzip
import statistics
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Response
from tests.browser.bed import Site, browsing
from tests.browser.filling import Form
from tests.service.running import HOST, running

ROUNDS = 7
SETTLED = 300.0  # ms after which nothing moves any more

# Browsers don't count what moves within half a second of a key or a click; once the answer is there, this does.
_WATCH = """
window.shift = 0;
window.late = 0;
let arrived = Infinity;
new PerformanceObserver((list) => {
  for (const { value, startTime, hadRecentInput } of list.getEntries()) {
    if (!hadRecentInput) window.shift += value;
    if (startTime >= arrived) window.late += value;
  }
}).observe({ type: 'layout-shift', buffered: true });
document.addEventListener('upstroke-answer', () => { arrived = performance.now(); });
document.addEventListener('upstroke-answer', () => requestAnimationFrame(() => setTimeout(() => {
  const received = performance.getEntriesByType('resource').filter(({ name }) => name.includes('/v1/sizings')).at(-1);
  window.wait = performance.now() - received.responseEnd;
})));
"""


class Round:
    """One visitor."""

    def __init__(self, browser: Browser, site: Site) -> None:
        self.files: dict[str, tuple[int, int]] = {}
        context = browser.new_context()
        form = Form(context.new_page(), f"{site.origin}/", {})
        form.page.add_init_script(_WATCH)
        loaded: list[Response] = []

        def note(response: Response) -> None:
            loaded.append(response)

        form.page.on("response", note)
        form.open()
        form.page.wait_for_load_state("networkidle")
        for response in loaded:
            if response.url.startswith(site.service):
                plain = response.body()
                packed = response.headers.get("content-encoding") == "gzip"
                sent = len(gzip.compress(plain, mtime=0)) if packed else len(plain)
                self.files[urlsplit(response.url).path] = (sent, len(plain))
        form.essentials()
        form.submit()
        form.answered()
        form.page.wait_for_function("window.wait !== undefined")
        form.page.wait_for_timeout(SETTLED)
        self.wait = self._read(form, "window.wait")
        self.shift = self._read(form, "window.shift")
        self.late = self._read(form, "window.late")
        context.close()

    @staticmethod
    def _read(form: Form, expression: str) -> float:
        found: Any = form.page.evaluate(expression)
        return float(found)


def main() -> None:
    """Print the table."""
    with Site().serving() as site, running(cors_origins=site.origin) as server, browsing() as browser:
        site.service = f"http://{HOST}:{server.port}"
        rounds = [Round(browser, site) for _ in range(ROUNDS)]
    files = rounds[0].files
    print(f"{'first load':40} {'sent':>9} {'plain':>9}  bytes")
    for name, (sent, plain) in sorted(files.items()):
        print(f"{name:40} {sent:9,} {plain:9,}")
    total = [sum(sizes) for sizes in zip(*files.values(), strict=True)]
    print(f"{'all':40} {total[0]:9,} {total[1]:9,}  aim: less than 150,000 sent\n")
    print(f"{f'median of {ROUNDS}':40} {'median':>9} {'worst':>9}")
    for name, values, aim in [
        ("cumulative layout shift", [one.shift for one in rounds], "none"),
        ("layout shift as the answer arrives", [one.late for one in rounds], "none"),
        ("ms from response to answer on screen", [one.wait for one in rounds], "less than 100"),
    ]:
        print(f"{name:40} {statistics.median(values):9.3f} {max(values):9.3f}  aim: {aim}")


if __name__ == "__main__":
    main()
