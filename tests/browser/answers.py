"""Answers of every kind, from the running service, shown by the modules that it serves."""

import functools
import json
from http.client import HTTPConnection
from importlib import resources
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Locator, Page

Answer = dict[str, Any]

_BLADDER = {"kind": "bladder", "total_volume": {"value": 44, "unit": "gal"}}
_QUOTES = resources.files("upstroke_service").joinpath("demo", "quotes")

HOSTILE = "<img src=x onerror=\"document.title='hurt'\">&amp;"
"""A name that would do something if it became markup."""

_OWN = {
    "id": "own", "name": HOSTILE, "kind": "lift", "handle_ratio": 6,
    "bore": {"value": 1.25, "unit": "in"}, "stroke": {"value": 7, "unit": "in"},
    "rated_lift": {"value": 290, "unit": "ft"},
    "rod": {"diameter": {"value": 0.4375, "unit": "in"}, "material": "steel"},
    "drop_pipe": {"inside_diameter": {"value": 1.5, "unit": "in"}, "material": "pvc"},
}  # fmt: skip

CASES: dict[str, dict[str, Any]] = {
    **{one.name.removesuffix(".json"): json.loads(one.read_text("utf-8")) for one in _QUOTES.iterdir()},
    "with-limits": {
        "well": {"static_water_level": {"value": 190, "unit": "ft"}},
        "pressures": {"target": {"value": 60, "unit": "psi"}},
        "tank": {**_BLADDER, "precharge": {"value": 28, "unit": "psi"}},
        "operator": {"profile": "older_adult"},
    },
    "nothing-fits": {
        "well": {"static_water_level": {"value": 330, "unit": "ft"}},
        "pressures": {"target": {"value": 60, "unit": "psi"}},
        "tank": _BLADDER,
    },
    "open-tank": {
        "well": {"static_water_level": {"value": 60, "unit": "ft"}},
        "conduit": {"rise": {"value": 10, "unit": "ft"}},
        "tank": {"kind": "open", "total_volume": {"value": 100, "unit": "gal"}},
        "operator": {"profile": "older_adult", "people": 2},
        "needs": {"people": 4, "level": "basic", "herds": [{"kind": "horse", "count": 2}]},
    },
    "tank-below": {
        "well": {"static_water_level": {"value": 100, "unit": "ft"}},
        "conduit": {"rise": {"value": -40, "unit": "ft"}},
        "pressures": {"target": {"value": 40, "unit": "psi"}},
        "tank": _BLADDER,
    },
    "hostile": {
        "client_reference": HOSTILE,
        "well": {"static_water_level": {"value": 60, "unit": "ft"}},
        "pressures": {"target": {"value": 50, "unit": "psi"}},
        "selection": {"cylinders": [_OWN]},
    },
}

# As in quote.js: the answer stands in a shadow tree, beneath the styles of the form. All of it is laid out at once, for
# tests to see.
_SHOW = """
async ([answer, language]) => {
  const [{ renderAnswer, answerStyles }, { words }, { theme }, { formStyles }] = await Promise.all([
    import('/quote/answer/answer.js'), import(`/quote/answer/words-${language}.js`), import('/quote/theme.js'),
    import('/quote/styles.js'),
  ]);
  const sheet = new CSSStyleSheet();
  const whole = '.answer section { content-visibility: visible !important; }';
  sheet.replaceSync(theme + formStyles + answerStyles + whole);
  const host = document.createElement('div');
  host.id = 'host';
  const root = host.attachShadow({ mode: 'open' });
  root.adoptedStyleSheets = [sheet];
  root.append(renderAnswer(answer, { language, words }));
  const title = document.createElement('h1');
  title.textContent = 'Quote';
  const main = document.createElement('main');
  main.append(title, host);
  document.body.replaceChildren(main);
}
"""


@functools.cache
def answered(service: str, case: str, units: str = "us", language: str = "en") -> Answer:
    """What the service answers to a case."""
    connection = HTTPConnection(urlsplit(service).netloc, timeout=30)
    headers = {"Content-Type": "application/json", "Accept-Language": language}
    connection.request("POST", f"/v1/sizings?units={units}", json.dumps(CASES[case]), headers)
    with connection.getresponse() as response:
        content = response.read()
    connection.close()
    assert response.status == 200, content
    answer: Answer = json.loads(content)
    return answer


def blank(browser: Browser, service: str, width: int = 1280) -> Page:
    """A page of the service's origin, under the content policy of its pages."""
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.set_default_timeout(10_000)
    page.goto(f"{service}/docs/schemas")
    return page


def show(page: Page, answer: Answer, language: str = "en") -> Locator:
    """Replace all on the page by an answer."""
    page.evaluate(_SHOW, [answer, language])
    return page.locator("article.answer")
