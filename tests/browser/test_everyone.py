"""The form for everyone: assistive technology, narrow and enlarged pages, chosen colours, every language."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import COLOURS, violations
from tests.browser.bed import Site
from tests.browser.filling import Form


@pytest.fixture(scope="module")
def page(browser: Browser, service: str) -> Iterator[Page]:
    """A page of the service's origin, for what needs modules alone."""
    opened = browser.new_page()
    opened.goto(service)
    yield opened
    opened.close()


def unfold(form: Form) -> None:
    """Open everything that is folded."""
    form.page.locator("upstroke-quote details").evaluate_all(
        "all => all.forEach((one) => { one.open = true; })"
    )


def test_no_rule_of_accessibility_is_broken_in_any_state(tab: Page, site: Site) -> None:
    form = Form(tab, f"{site.origin}/", {}).open()
    unfold(form)
    form.fill(level="9999")
    form.submit()
    expect(form.fault("level")).not_to_be_empty()
    assert violations(tab) == [], "faulty"

    tab.route("**/v1/sizings*", lambda route: route.abort())
    form.essentials()
    form.submit()
    expect(tab.locator(".problem")).to_be_visible()
    assert violations(tab, inside=["upstroke-quote", ".problem"]) == [], "troubled"

    tab.unroute("**/v1/sizings*")
    form.put("places-spigot", "places-yard_hydrant", "relief-yes")
    form.submit()
    form.answered()
    assert violations(tab) == [], "answered"
    form.leave()


def test_nor_on_the_service_s_own_page(browser: Browser, service: str) -> None:
    page = browser.new_page(locale="es-MX")
    form = Form(page, f"{service}/", {"language": "es"}).open()
    form.fill(level="9999")
    expect(form.fault("level")).not_to_be_empty()
    assert page.locator("html").get_attribute("lang") == "es"
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page, rules=COLOURS) == []
    assert form.complaints == []

    form.page.get_by_role("button", name="English").click()
    expect(form.page.get_by_role("button", name="Work it out")).to_be_visible()
    expect(form.field("level")).to_have_value("9999")
    page.close()


# 320 px is also what 1280 px show at 400 %, 640 px what they show at 200 %.
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_narrow_page_scrolls_one_way_only(tab: Page, site: Site, language: str) -> None:
    form = Form(tab, f"{site.origin}/", {"language": language}).open()
    unfold(form)
    form.put("places-spigot", "places-yard_hydrant", "supply-pressure_switch", "relief-yes")
    form.submit()  # with faults, which are the widest state
    expect(form.fault("level")).not_to_be_empty()
    for width in (320, 640):
        form.page.set_viewport_size({"width": width, "height": 900})
        assert form.page.evaluate("document.documentElement.scrollWidth") <= width
    form.leave()


def test_what_can_be_touched_is_large_enough(tab: Page, site: Site) -> None:
    """24 CSS pixels at least, WCAG 2.2, success criterion 2.5.8 (from memory)."""
    form = Form(tab, f"{site.origin}/", {}, width=360).open()
    sizes = form.page.locator("upstroke-quote").evaluate(
        "(one) => [...one.shadowRoot.querySelectorAll('.choices label, .unsure, input[type=text], select, button, "
        "summary')].filter((each) => each.checkVisibility()).map((each) => each.getBoundingClientRect().height)"
    )
    assert len(sizes) > 50
    assert min(sizes) >= 24
    form.leave()


def test_a_theme_reaches_form_and_answer(tab: Page, site: Site) -> None:
    form = Form(tab, f"{site.origin}/", {}).open()
    button = form.page.get_by_role("button", name="Work it out")
    assert button.evaluate("(one) => getComputedStyle(one).backgroundColor") == "rgb(91, 59, 31)"
    form.leave()


SHAPE = """async () => {
  const shape = (value, path) => typeof value === 'object'
    ? Object.entries(value).flatMap(([name, inner]) => shape(inner, [...path, name]))
    : [path.join('/') + [...String(value).matchAll(/\\{\\w+\\}/g)].sort().join('')];
  const texts = async (name) => (await import(`/quote/languages/${name}.js`)).words;
  return { en: shape(await texts('en'), []), es: shape(await texts('es'), []) };
}"""


def test_every_language_says_the_same_things_with_the_same_gaps(page: Page) -> None:
    shapes = page.evaluate(SHAPE)
    assert len(shapes["en"]) > 200
    assert sorted(shapes["en"]) == sorted(shapes["es"])


ASKED = """async () => {
  const { GROUPS } = await import('/quote/questions.js');
  const { words } = await import('/quote/languages/en.js');
  const { fields, languages } = await (await fetch('/quote/fields.json')).json();
  return { groups: GROUPS.map(({ id, questions }) => ({ id, questions })), words, fields, languages };
}"""


def test_every_question_has_words_and_is_one_of_the_contract_s(page: Page) -> None:
    asked = page.evaluate(ASKED)
    words, fields = asked["words"], asked["fields"]
    assert asked["languages"] == ["en", "es"]
    assert words["groups"].keys() == {group["id"] for group in asked["groups"]}
    questions = [one for group in asked["groups"] for one in group["questions"]]
    assert words["questions"].keys() == {one["id"] for one in questions}

    for question in questions:
        for field in question["fields"]:
            facts = fields[field["pointer"]]
            assert len(question["fields"]) == 1 or field["id"] in words["fields"]
            if field["kind"] == "quantity":
                offered = {field["units"]["us"], field["units"]["si"], *field["units"].get("also", [])}
                assert offered <= facts["units"].keys()
                assert facts["units"].keys() <= words["units"].keys()
            elif field["kind"] in {"choice", "pick", "places"}:
                known = words["choices"].get(field["id"], words["answers"])
                assert known.keys() | {"unknown"} == {*facts["words"], "unknown"}
            else:
                assert facts["whole"]


READINGS = {
    "12": {"value": 12},
    " 12.5 ": {"value": 12.5},
    "12,5": {"value": 12.5},
    ".5": {"value": 0.5},
    "3/4": {"value": 0.75},
    "1 1/4": {"value": 1.25},
    "1-1/4 in": {"value": 1.25, "unit": "in"},
    "−3 ft": {"value": -3, "unit": "ft"},
    "60'": {"value": 60, "unit": "ft"},
    "18 pies": {"value": 18, "unit": "ft"},
    "2 bar": {"value": 2, "unit": "bar"},
    "75 litros": {"value": 75, "unit": "L"},
    "1,500": {"fault": "ambiguous"},
    "1.2.3": {"fault": "number"},
    "5/0": {"fault": "number"},
    "ft": {"fault": "number"},
    "12 cubits": {"fault": "unit", "word": "cubits"},
}


def test_numbers_are_read_as_people_write_them(page: Page) -> None:
    read = page.evaluate(
        "async (texts) => { const { read } = await import('/quote/units.js'); return texts.map(read); }",
        [*READINGS],
    )
    assert dict(zip(READINGS, read, strict=True)) == READINGS
