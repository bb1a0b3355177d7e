"""The answer as people see it: every kind of case, held against the JSON that it shows."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect
from tests.browser.answers import CASES, HOSTILE, Answer, answered, blank, show

NUMBER = re.compile(r"-?\d[\d,]*(?:\.\d+)?")
# What JavaScript writes where a value is missing.
SLIPS = re.compile(r"\bundefined\b|\bNaN\b|\bnull\b|\bInfinity\b|\[object|=>|\{\w+\}")
COLUMNS = ("pressure", "water", "strokes", "time", "hand_force", "cadence")
HOUR = 60.0

ALL = "verdict effort budget curve household hookup shopping cautions assumptions questions candidates sources scope"


@pytest.fixture(scope="module")
def page(browser: Browser, service: str) -> Iterator[Page]:
    shown = blank(browser, service)
    yield shown
    shown.close()


def number(text: str) -> float:
    """The first number of a text."""
    found = NUMBER.search(text)
    assert found, text
    return float(found[0].replace(",", ""))


def minutes(text: str) -> float:
    """A duration as it is written: '23 min' or '1 h 50 min'."""
    hours, separator, rest = text.partition("\u00a0h")
    if not separator:
        return number(text)
    return number(hours) * HOUR + (number(rest) if rest else 0.0)


def half_digit(text: str) -> float:
    """By how much a rounded number may be off, and a little for the rounding of the JSON itself."""
    found = NUMBER.search(text)
    assert found, text
    digits = len(found[0].partition(".")[2])
    return float(0.5 * 10.0**-digits * (1 + 1e-6))


def agrees(text: str, value: float) -> bool:
    """Whether a text says a value, rounded."""
    shown = minutes(text) if "\u00a0h" in text else number(text)
    return abs(shown - value) <= half_digit(text)


def table_of(article: Locator) -> list[list[str]]:
    """Cells of the table that says the same as the curve."""
    rows = article.locator(".curve tbody tr")
    cells: list[list[str]] = rows.evaluate_all(
        "rows => rows.map(row => [...row.cells].map(cell => cell.textContent))"
    )
    return cells


def columns_of(answer: Answer) -> list[str]:
    pressures = answer["curve"]["pressure"]["values"]
    return [name for name in COLUMNS if name != "pressure" or pressures[-1] > pressures[0]]


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("case", CASES)
def test_no_value_is_missing_from_any_sentence(page: Page, service: str, case: str, language: str) -> None:
    answer = answered(service, case, "us" if language == "en" else "si", language)
    article = show(page, answer, language)
    text = article.evaluate(
        "one => one.textContent + [...one.querySelectorAll('*')].flatMap((each) => [...each.attributes])"
        ".map(({ value }) => ` ${value}`).join('')"
    )
    assert answer["summary"] in text
    assert not SLIPS.findall(text)


@pytest.mark.parametrize(
    ("case", "sections"),
    [
        ("pressure-head-decides", ALL),
        ("no-water-level", "verdict depths cautions assumptions questions sources scope"),
        ("nothing-fits", "verdict budget cautions assumptions questions candidates sources scope"),
    ],
)
def test_the_point_comes_first_and_parts_that_say_nothing_are_left_out(
    page: Page, service: str, case: str, sections: str
) -> None:
    article = show(page, answered(service, case))
    shown = article.locator("> section").evaluate_all("all => all.map(one => one.classList[0])")
    assert shown == sections.split()


@pytest.mark.parametrize("case", ["pressure-head-decides", "with-limits", "open-tank"])
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_table_says_what_the_answer_says(page: Page, service: str, case: str, units: str) -> None:
    answer = answered(service, case, units)
    rows = table_of(show(page, answer))
    names = columns_of(answer)
    assert len(rows) == len(answer["curve"]["water"]["values"])
    for index, row in enumerate(rows):
        for name, cell in zip(names, row, strict=True):
            assert agrees(cell, answer["curve"][name]["values"][index]), (name, index, cell)


@pytest.mark.parametrize("case", ["pressure-head-decides", "with-limits", "open-tank"])
def test_the_curve_is_drawn_where_its_axes_say(page: Page, service: str, case: str) -> None:
    answer = answered(service, case)
    article = show(page, answer)
    curve = answer["curve"]
    upward = "pressure" if "pressure" in columns_of(answer) else "time"
    points = str(article.locator("polyline").get_attribute("points")).split()
    levels = article.locator(".plot > svg > text.tick[dominant-baseline]").evaluate_all(
        "all => all.map(one => [Number(one.textContent.replace(',', '')), Number(one.getAttribute('y'))])"
    )
    (low, bottom), (high, top) = levels[0], levels[-1]
    last = curve["water"]["values"][-1]
    for index, point in enumerate(points):
        x, y = (float(part) for part in point.split(","))
        assert x / 1000 * last == pytest.approx(curve["water"]["values"][index], abs=1e-9 * last)
        value = low + (bottom - y) / (bottom - top) * (high - low)
        assert value == pytest.approx(curve[upward]["values"][index], abs=1e-9 * high)
    assert len(points) == len(curve["water"]["values"])


@pytest.mark.parametrize("case", ["pressure-head-decides", "with-limits", "open-tank"])
def test_strokes_and_minutes_along_the_curve_are_those_of_its_water(
    page: Page, service: str, case: str
) -> None:
    curve = answered(service, case)["curve"]
    article = show(page, answered(service, case))
    ticks = article.locator(".plot > svg > text.tick[text-anchor=middle]").evaluate_all(
        "all => all.map(one => [one.getAttribute('x'), one.getAttribute('y'), one.textContent])"
    )
    rows: dict[str, list[tuple[float, str]]] = {}
    for x, y, text in ticks:
        rows.setdefault(y, []).append((float(x.rstrip("%")) / 100 * curve["water"]["values"][-1], text))
    names = ["water", "strokes", "time"] if len(rows) == 3 else ["water", "strokes"]
    for name, row in zip(names, rows.values(), strict=True):
        assert len(row) >= 3
        for at, text in row:
            assert agrees(text, interpolated(at, curve["water"]["values"], curve[name]["values"])), (
                name,
                text,
            )


def interpolated(at: float, along: list[float], column: list[float]) -> float:
    """Between the two points around ``at``."""
    for (low, first), (high, second) in zip(
        zip(along, column, strict=True), zip(along[1:], column[1:], strict=True), strict=False
    ):
        if low <= at <= high:
            return first + (at - low) / (high - low) * (second - first)
    return column[-1]


def test_keys_read_every_point_of_the_curve(page: Page, service: str) -> None:
    answer = answered(service, "pressure-head-decides")
    article = show(page, answer)
    rows = table_of(article)
    slider = article.get_by_label("Move along the fill")
    slider.focus()
    last = len(rows) - 1
    for key, index in [
        ("Home", 0),
        ("ArrowRight", 1),
        ("ArrowRight", 2),
        ("End", last),
        ("ArrowLeft", last - 1),
    ]:
        page.keyboard.press(key)
        assert slider.get_attribute("aria-valuetext") == rows[index][0]
        assert article.locator("output b").all_text_contents() == rows[index]
    expect(article.get_by_role("status")).to_have_text(re.compile("Strokes"))


def test_a_pointer_reads_the_nearest_point(page: Page, service: str) -> None:
    article = show(page, answered(service, "open-tank"))
    rows = table_of(article)
    plot = article.locator(".plot > svg")
    plot.scroll_into_view_if_needed()
    box = plot.bounding_box()
    assert box
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 50)
    assert article.locator("output b").all_text_contents() == rows[len(rows) // 2]


def bar_of(candidate: Locator) -> list[dict[str, Any]]:
    """Parts of a bar: kind, and where it begins and ends in percent."""
    parts: list[dict[str, Any]] = candidate.locator(".part").evaluate_all(
        "all => all.map(one => ({ kind: one.classList[1], from: parseFloat(one.getAttribute('x')),"
        " to: parseFloat(one.getAttribute('x')) + parseFloat(one.getAttribute('width')) }))"
    )
    return parts


@pytest.mark.parametrize("case", ["pressure-head-decides", "nothing-fits", "open-tank", "tank-below"])
def test_every_bar_is_as_long_as_its_lift_budget(page: Page, service: str, case: str) -> None:
    answer = answered(service, case)
    bars = show(page, answer).locator(".bars > li")
    assert bars.count() == len(answer["candidates"])
    for index, candidate in enumerate(answer["candidates"]):
        bar, budget = bars.nth(index), candidate["lift_budget"]
        parts = bar_of(bar)
        rated = float(str(bar.locator("line.rated").get_attribute("x1")).rstrip("%"))
        scale = rated / budget["rated_lift"]["value"]
        end = parts[-1]["from"] if parts[-1]["kind"] == "less" else parts[-1]["to"]
        assert end == pytest.approx(budget["total_head"]["value"] * scale, abs=0.01)
        assert max(part["to"] for part in parts) <= 100.001
        text = str(bar.locator("> p.quiet").text_content())
        assert ("too much" in text) == (budget["margin"]["value"] < 0)
        assert agrees(text, budget["total_head"]["value"])


def test_a_tank_below_the_outlet_takes_height_away(page: Page, service: str) -> None:
    article = show(page, answered(service, "tank-below"))
    parts = bar_of(article.locator(".bars > li").first)
    less, before = parts[-1], parts[-2]
    assert less["kind"] == "less"
    assert less["to"] == pytest.approx(before["to"])
    expect(article.locator(".sum tr", has_text="From the ground up to the tank")).to_contain_text(
        "-40.0\u00a0ft"
    )


@pytest.mark.parametrize("case", ["pressure-head-decides", "suction-at-altitude", "with-limits"])
def test_the_lines_of_a_lift_budget_add_up(page: Page, service: str, case: str) -> None:
    article = show(page, answered(service, case, "si"))
    values = [number(text) for text in article.locator(".sum td").all_inner_texts()]
    *lines, total, rated, spare = values
    assert sum(lines) == pytest.approx(total, abs=0.05 * (len(lines) + 1))
    assert rated - total == pytest.approx(spare, abs=0.15)


def test_what_it_takes_is_what_the_recommended_cylinder_takes(page: Page, service: str) -> None:
    answer = answered(service, "open-tank")
    chosen = next(one for one in answer["candidates"] if one["cylinder"]["id"] == answer["recommended"])
    article = show(page, answer)
    strokes, time, force, water, people = article.locator(".effort dd b").all_inner_texts()
    assert agrees(strokes, chosen["fill"]["strokes"])
    assert minutes(time) == round(chosen["fill"]["time"]["value"])
    assert agrees(force, chosen["effort"]["hand_force"]["value"])
    assert agrees(water, chosen["fill"]["water"]["value"])
    assert people == "2 people"
    expect(article.locator(".effort")).to_contain_text("taking turns, in 6 sessions")


def test_uses_that_one_fill_does_not_cover_stand_apart(page: Page, service: str) -> None:
    covers = answered(service, "small-buffer-tank")["reserve"]["covers"]
    lists = show(page, answered(service, "small-buffer-tank")).locator(".covers")
    assert lists.count() == 2
    for index, enough in enumerate([True, False]):
        uses = [use for use in covers if (use["count"] >= 1) == enough]
        texts = lists.nth(index).locator("li").all_text_contents()
        assert len(texts) == len(uses) > 0
        for use, text in zip(uses, texts, strict=True):
            assert use["text"] in text
            assert number(text) == (use["count"] // 1 if enough else pytest.approx(use["count"], abs=0.05))


def test_where_the_depth_is_unknown_each_depth_has_its_answer(page: Page, service: str) -> None:
    answer = answered(service, "no-water-level")
    rows = show(page, answer).locator(".depths tbody tr")
    depths = answer["depth_table"]
    assert rows.count() == len(depths["best"])
    for index, best in enumerate(depths["best"]):
        depth, _, name, force, time = (
            rows.nth(index).locator("th, td").nth(one).inner_text() for one in range(5)
        )
        assert agrees(depth, depths["static_water_level"]["values"][index])
        if best:
            assert name == best
            assert agrees(force, depths["hand_force"]["values"][index])
            assert agrees(time, depths["time"]["values"][index])
        else:
            assert (name, force, time) == ("nothing fits", "–", "–")


def test_steps_keep_their_numbers_across_phases(page: Page, service: str) -> None:
    answer = answered(service, "pressure-head-decides")
    article = show(page, answer)
    lists = article.locator(".hookup ol")
    numbered = lists.evaluate_all(
        "all => all.flatMap(one => [...one.children].map((_, index) => one.start + index))"
    )
    assert numbered == [step["number"] for step in answer["procedure"]]
    for step, item in zip(
        answer["procedure"], article.locator(".hookup ol > li").all_text_contents(), strict=True
    ):
        assert item.startswith(step["text"])


def test_cautions_say_their_signal_word_first(page: Page, service: str) -> None:
    answer = answered(service, "pressure-head-decides")
    items = show(page, answer).locator(".cautions li")
    assert items.count() == len(answer["cautions"])
    for index, caution in enumerate(answer["cautions"]):
        shown = items.nth(index).inner_text()
        assert shown.startswith(caution["signal"].upper())
        assert all(caution[part] in shown for part in ("text", "who"))
        assert caution["why"] in str(items.nth(index).locator("details").text_content())


def test_a_number_in_brackets_leads_to_its_source(page: Page, service: str) -> None:
    answer = answered(service, "pressure-head-decides")
    article = show(page, answer)
    caution = answer["cautions"][0]
    button = article.locator(".cautions li").first.locator("button.reference").first
    name = button.get_attribute("aria-label")
    button.click()
    focused = article.locator(".sources li:focus")
    expect(focused).to_have_text(caution["basis"][0]["citation"])
    place = focused.evaluate("one => [...one.parentNode.children].indexOf(one) + 1")
    assert name == f"Source {place}"


def test_the_verdict_leads_to_cautions_and_questions(page: Page, service: str) -> None:
    article = show(page, answered(service, "pressure-head-decides"))
    ways = [
        ("Read before any work: 2 dangers and 8 warnings", "Cautions"),
        ("Then: 2 questions that would make this surer", "What to find out next"),
    ]
    for way, title in ways:
        article.get_by_role("button", name=way).click()
        expect(article.locator("h3:focus")).to_have_text(title)
        expect(article.locator("h3:focus")).to_be_in_viewport()


def test_names_that_look_like_markup_stay_names(page: Page, service: str) -> None:
    answer = answered(service, "hostile")
    before = page.title()
    article = show(page, answer)
    assert article.locator("img").count() == 0
    expect(article.locator(".bars bdi")).to_have_text(HOSTILE)
    expect(article.locator(".scope bdi").first).to_have_text(HOSTILE)
    assert page.title() == before


def test_both_languages_have_the_same_words(page: Page) -> None:
    shapes = page.evaluate(
        """async () => {
          const shape = (one) => (typeof one === 'object'
            ? Object.fromEntries(Object.entries(one).sort().map(([key, value]) => [key, shape(value)]))
            : typeof one === 'function' ? `takes ${one.length}` : typeof one);
          const load = async (language) => (await import(`/quote/answer/words-${language}.js`)).words;
          return [shape(await load('en')), shape(await load('es'))];
        }"""
    )
    assert shapes[0] == shapes[1]
    assert shapes[0]["budget"]["enough"] == "takes 3"
