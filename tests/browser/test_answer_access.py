"""The answer for everyone: assistive technology, narrow and enlarged pages, print, chosen colours, no colours."""

import io
from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, FloatRect, Locator, Page, expect
from tests.browser.answers import answered, blank, show
from tests.browser.axe import violations

# How far two swatches have to be apart, of 255 levels of grey; measured: nearest 40, equal swatches 0.
APART = 20.0
NARROW = {
    "en": ("small-buffer-tank", "no-water-level", "hostile"),
    "es": ("no-water-level", "open-tank", "tank-below"),
}


@pytest.fixture(scope="module")
def page(browser: Browser, service: str) -> Iterator[Page]:
    shown = blank(browser, service)
    yield shown
    shown.close()


@pytest.fixture(scope="module")
def narrow(browser: Browser, service: str) -> Iterator[Page]:
    shown = blank(browser, service, 320)
    yield shown
    shown.close()


def open_all(article: Locator) -> None:
    """Unfold what is folded."""
    article.locator("details").evaluate_all("all => all.forEach((one) => { one.open = true; })")


@pytest.mark.parametrize("case", ["with-limits", "nothing-fits", "no-water-level", "open-tank"])
def test_no_rule_of_accessibility_is_broken(page: Page, service: str, case: str) -> None:
    show(page, answered(service, case))
    assert violations(page) == []


def test_none_is_broken_with_everything_unfolded(page: Page, service: str) -> None:
    open_all(show(page, answered(service, "suction-at-altitude")))
    assert violations(page) == []


# 320 px is also what 1280 px show at 400 %, 640 px what they show at 200 %.
@pytest.mark.parametrize("language", NARROW)
def test_a_narrow_page_scrolls_one_way_only(narrow: Page, service: str, language: str) -> None:
    for case in NARROW[language]:
        article = show(narrow, answered(service, case, "us", language), language)
        open_all(article)
        for width in (640, 320):
            narrow.set_viewport_size({"width": width, "height": 900})
            assert narrow.evaluate("document.documentElement.scrollWidth") <= width, case
            outside = article.evaluate(
                "(one, width) => [...one.querySelectorAll('svg text')].map((text) => text.getBoundingClientRect())"
                ".filter(({ left, right }) => left < 0 || right > width).length",
                width,
            )
            assert outside == 0, case


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("case", ["pressure-head-decides", "with-limits", "open-tank"])
def test_no_number_along_the_curve_covers_another(
    narrow: Page, service: str, case: str, language: str
) -> None:
    article = show(narrow, answered(service, case, "si", language), language)
    boxes: list[FloatRect] = article.locator(".plot > svg > text").evaluate_all(
        "all => all.map((one) => { const { x, y, width, height } = one.getBoundingClientRect();"
        " return { x, y, width, height }; })"
    )
    assert len(boxes) > 10
    for one, other in combinations(boxes, 2):
        aside = one["x"] + one["width"] <= other["x"] or other["x"] + other["width"] <= one["x"]
        # Lines of letters are nearer than their boxes, which leave room for accents.
        apart = abs(one["y"] - other["y"]) >= 0.7 * one["height"]
        assert aside or apart, (one, other)


def looks(article: Locator) -> "list[np.ndarray[Any, np.dtype[np.float64]]]":
    """How the parts of the lift budget look without colour."""
    swatches = article.locator(".sum .swatch:has(.part)")
    return [grey(swatches.nth(index)) for index in range(swatches.count())]


def differ(found: "list[np.ndarray[Any, np.dtype[np.float64]]]") -> bool:
    return len(found) == 5 and all(
        float(np.linalg.norm(one - other)) > APART for one, other in combinations(found, 2)
    )


def test_parts_of_the_lift_budget_differ_without_colour(page: Page, service: str) -> None:
    article = show(page, answered(service, "pressure-head-decides"))
    assert differ(looks(article))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_they_differ_where_readers_choose_the_colours(page: Page, service: str, scheme: Any) -> None:
    page.emulate_media(forced_colors="active", color_scheme=scheme)
    article = show(page, answered(service, "pressure-head-decides"))
    assert differ(looks(article))
    for part in (".lead", ".bars svg", ".plot"):
        with Image.open(io.BytesIO(article.locator(part).first.screenshot())) as picture:
            levels = np.asarray(picture.convert("L"), dtype=float)
        assert levels.max() - levels.min() > 200, part
    page.emulate_media(forced_colors="null", color_scheme="null")


def grey(swatch: Locator) -> "np.ndarray[Any, np.dtype[np.float64]]":
    """Mean grey of a swatch, and how much it varies from point to point, from row to row and from column to column."""
    with Image.open(io.BytesIO(swatch.screenshot())) as picture:
        levels = np.asarray(picture.convert("L"), dtype=float)[3:-3, 3:-3]
    return np.array([levels.mean(), levels.std(), levels.mean(axis=1).std(), levels.mean(axis=0).std()])


def test_in_print_what_is_folded_is_there_and_what_is_worked_is_not(page: Page, service: str) -> None:
    article = show(page, answered(service, "pressure-head-decides"))
    reason = article.locator(".shopping details li").first
    assert not reason.is_visible()
    page.emulate_media(media="print")
    assert reason.is_visible()
    expect(article.get_by_role("slider")).to_be_hidden()
    page.emulate_media(media="screen")


def test_everything_is_reached_by_the_tab_key(page: Page, service: str) -> None:
    article = show(page, answered(service, "pressure-head-decides"))
    wanted = article.evaluate(
        "one => [...one.querySelectorAll('button, summary, input, [tabindex=\"0\"]')]"
        ".filter((each) => each.checkVisibility()).length"
    )
    article.locator("h2").focus()
    reached = set()
    for _ in range(wanted):
        page.keyboard.press("Tab")
        reached.add(
            page.evaluate(
                "() => { const root = document.getElementById('host').shadowRoot;"
                " return [...root.querySelectorAll('*')].indexOf(root.activeElement); }"
            )
        )
    assert len(reached - {-1}) == wanted


def test_charts_have_names_and_descriptions(page: Page, service: str) -> None:
    article = show(page, answered(service, "pressure-head-decides"))
    expect(article.get_by_role("img", name="How the fill goes")).to_have_count(1)
    first = article.locator(".bars svg").first
    expect(first.locator("title")).to_have_text(
        "Lift cylinder, 1 in bore, 350 ft, frost-free. 271\u00a0ft of 350\u00a0ft: 79\u00a0ft to spare"
    )
    assert article.locator("svg[role=img]:not(:has(desc))").count() == 0
