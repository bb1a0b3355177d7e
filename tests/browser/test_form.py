"""The form as people use it: by keyboard alone, with slips, gaps and second thoughts, in both languages and units."""

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.browser.bed import Site
from tests.browser.filling import WORDS, Form

Opening = Callable[..., Form]


@pytest.fixture
def opened(tab: Page, site: Site) -> Iterator[Opening]:
    """Opens the dealer's page with the form, and afterwards checks that nobody complained or asked elsewhere."""
    forms: list[Form] = []

    def opening(**attributes: str) -> Form:
        forms.append(Form(tab, f"{site.origin}/", attributes).open())
        return forms[-1]

    yield opening
    for form in forms:
        form.leave()
        assert form.complaints == []
        assert form.hosts <= {site.origin.removeprefix("http://"), site.service.removeprefix("http://")}


def psi(value: float) -> dict[str, object]:
    return {"value": value, "unit": "psi"}


def kpa(value: float) -> dict[str, object]:
    return {"value": value, "unit": "kPa"}


TYPED = {
    "us": {
        "level": "62.5",
        "tank_volume": "20",
        "cut_in": "30",
        "cut_out": "50",
        "length": "50",
        "bore": "3/4",
    },
    "si": {
        "level": "19,5",
        "tank_volume": "80",
        "cut_in": "200",
        "cut_out": "340",
        "length": "15",
        "bore": "19",
    },
}
READ: dict[str, dict[str, Any]] = {
    "us": {
        "well": {"static_water_level": {"value": 62.5, "unit": "ft"}},
        "tank": {"kind": "bladder", "total_volume": {"value": 20, "unit": "gal"}},
        "run": {"length": {"value": 50, "unit": "ft"}, "inside_diameter": {"value": 0.75, "unit": "in"}},
        "switch": {"cut_in": psi(30), "cut_out": psi(50)},
    },
    "si": {
        "well": {"static_water_level": {"value": 19.5, "unit": "m"}},
        "tank": {"kind": "bladder", "total_volume": {"value": 80, "unit": "L"}},
        "run": {"length": {"value": 15, "unit": "m"}, "inside_diameter": {"value": 19, "unit": "mm"}},
        "switch": {"cut_in": kpa(200), "cut_out": kpa(340)},
    },
}


def by_keyboard(form: Form, typed: dict[str, str]) -> None:
    """Fill in and send the form with keys alone."""
    keys = form.page.keyboard

    def reach(name: str) -> None:
        """By the tab key, as far as it takes."""
        for _ in range(120):
            if form.focused() == name:
                return
            keys.press("Tab")
        pytest.fail(f"the tab key does not reach {name}")

    for name in ("level", "tank_kind", "tank_volume", "supply", "cut_in", "cut_out"):
        if name in {"tank_kind", "supply"}:
            reach(f"{name}-{'bladder' if name == 'tank_kind' else 'pressure_switch'}")
            keys.press("Space")
        else:
            reach(name)
            keys.type(typed[name])
    reach("places-spigot")
    keys.press("Space")
    reach("spigot_breaker-yes")
    keys.press("Space")
    keys.press("ArrowRight")
    reach("hose_length")
    keys.type(typed["length"])
    reach("hose_bore")
    keys.type(typed["bore"])
    reach("public_main-yes")
    keys.press("Space")
    keys.press("ArrowDown")
    reach(WORDS[form.language]["submit"])
    keys.press("Enter")


def at_once(form: Form, typed: dict[str, str]) -> None:
    """The same answers."""
    form.put(
        "tank_kind-bladder", "supply-pressure_switch", "places-spigot", "spigot_breaker-no", "public_main-no"
    )
    form.put(hose_length=typed["length"], hose_bore=typed["bore"])
    form.put(**{name: typed[name] for name in ("level", "tank_volume", "cut_in", "cut_out")})
    form.submit()


@pytest.mark.parametrize(
    ("language", "units", "fill"),
    [("en", "us", by_keyboard), ("en", "si", at_once), ("es", "us", at_once), ("es", "si", at_once)],
)
def test_it_is_filled_and_answered_on_a_page_of_another_origin(
    opened: Opening, language: str, units: str, fill: Callable[[Form, dict[str, str]], None]
) -> None:
    form, read = opened(language=language, units=units), READ[units]
    fill(form, TYPED[units])

    article = form.answered()
    request = form.told("request")[0]["request"]
    assert request == {
        "client_reference": "web-form",
        "well": read["well"],
        "tank": read["tank"],
        "conduit": {"runs": [{**read["run"], "material": "hose"}]},
        "site": {
            "supply": {"kind": "pressure_switch", **read["switch"]},
            "connections": [{"kind": "spigot", "vacuum_breaker": "no"}],
            "public_water_connection": "no",
        },
        "selection": {"catalogue": "demo"},
    }
    answer = form.told("answer")[0]
    assert answer["request"] == request
    head = answer["answer"]["candidates"][0]["lift_budget"]["total_head"]
    assert head["unit"] == {"us": "ft", "si": "m"}[units]
    assert answer["answer"]["summary"] in article.inner_text()
    assert form.focused() == article.locator("h2").inner_text()
    assert form.told("problem") == []


def test_what_nobody_knows_is_left_out_and_assumed(opened: Opening) -> None:
    form = opened()
    form.put("level-unsure", "tank_kind-unknown", "tank_volume-unsure", "supply-unknown", "places-unknown")
    form.put("hose-unsure", "check_valve-unknown", "public_main-unknown", "relief-unknown", "profile-unknown")
    form.submit()
    form.answered()
    request, answer = form.told("request")[0]["request"], form.told("answer")[0]["answer"]

    assert request == {
        "client_reference": "web-form",
        "conduit": {"check_valve": "unknown"},
        "site": {"public_water_connection": "unknown", "relief_valve": {"fitted": "unknown"}},
        "selection": {"catalogue": "demo"},
    }
    assert answer["verdict"] == "needs_facts"
    assumed = {one["pointer"] for one in answer["assumptions"]}
    assert {"/tank/total_volume", "/conduit/runs", "/conduit/check_valve", "/operator/profile"} <= assumed


def test_animals_and_places_become_lists(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.check("places-yard_hydrant", "hydrant_breaker-yes")
    form.page.get_by_text("More questions: How much water you need").click()
    form.put(household="4", horse="2", laying_hen="30", floor="8")
    form.field("rise").fill("-3")
    form.field("rise").blur()
    form.submit()
    form.answered()
    request = form.told("request")[0]["request"]

    assert request["site"]["connections"] == [
        {"kind": "tank_drain"},
        {"kind": "yard_hydrant", "vacuum_breaker": "yes"},
    ]
    assert request["needs"] == {
        "people": 4,
        "herds": [{"kind": "horse", "count": 2}, {"kind": "laying_hen", "count": 30}],
        "floor_rise": {"value": 8, "unit": "ft"},
    }
    assert request["conduit"]["rise"] == {"value": -3, "unit": "ft"}
    assert form.field("rise").input_value() == "3"
    assert (
        form.page.get_by_label("Higher or lower: How much higher or lower than the pump").input_value()
        == "below"
    )


def test_an_open_tank_is_not_asked_about_pressure(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.fill(precharge="28")
    form.check("tank_kind-open")
    for hidden in ("precharge", "supply-pressure_switch", "places-spigot", "relief-yes", "tank_rating"):
        expect(form.field(hidden)).to_be_hidden()
    form.submit()
    form.answered()

    assert form.told("request")[0]["request"]["tank"] == {
        "kind": "open",
        "total_volume": {"value": 20, "unit": "gal"},
    }


def test_a_unit_may_be_typed_with_the_number(opened: Opening) -> None:
    form = opened()
    unit = form.page.get_by_label("Unit of: How deep is the water")
    form.fill(level="18.3 m")
    assert (form.field("level").input_value(), unit.input_value()) == ("18.3", "m")
    form.fill(level="60'")
    assert (form.field("level").input_value(), unit.input_value()) == ("60", "ft")
    expect(form.fault("level")).to_be_empty()


WRONG = [
    ("level", "60 psi", "“psi” is not a unit of this answer. Choose one of: ft, m."),
    ("level", "60 fathoms", "“fathoms” is not a unit of this answer. Choose one of: ft, m."),
    ("level", "deep", "Please write a number, such as 12 or 12.5."),
    ("level", "-5", "Please stay between 0 ft and 1968 ft."),
    ("level", "3000", "Please stay between 0 ft and 1968 ft."),
    (
        "tank_volume",
        "1,500",
        "Please write this without the comma, so that it can’t be misread: 1500 or 1.5.",
    ),
    ("tank_volume", "0", "Please stay between 0.02642 gal and 13200 gal."),
    ("tank_count", "1.5", "Please write a whole number."),
    ("tank_count", "99", "Please stay between 1 and 20."),
    ("precharge", "1e9", "“e9” is not a unit of this answer. Choose one of: psi, kPa, bar."),
]


def test_a_wrong_value_is_marked_as_one_types(new_tab: Page, site: Site) -> None:
    form = Form(new_tab, f"{site.origin}/", {}).open()
    form.page.clock.install()
    for name, text, said in WRONG:
        form.field(name).press_sequentially(text)
        form.page.clock.run_for(1_000)
        expect(form.fault(name)).to_have_text(said)  # before the field is left
        assert form.field(name).get_attribute("aria-invalid") == "true"
        assert form.field(name).get_attribute("aria-describedby") == f"fault-{name}"

        form.field(name).fill("10")
        expect(form.fault(name)).to_be_empty()
        assert form.field(name).get_attribute("aria-invalid") is None
        form.field(name).fill("")


def test_all_faults_are_marked_at_once_and_listed_with_a_way_to_each(opened: Opening) -> None:
    form = opened()
    form.fill(level="9999", hose_length="50")
    form.submit()
    listed = form.page.get_by_role("group", name="Please look at these answers")
    expect(listed).to_be_focused()
    links = listed.get_by_role("link")
    expect(links).to_have_count(7)
    marked = ["level", "tank_kind", "tank_volume", "supply", "places", "hose_bore", "public_main"]
    for name in marked:
        expect(form.fault(name)).not_to_be_empty()
    assert form.told("request") == []

    for link, target in zip(links.all(), ["level", "tank_kind-bladder", "tank_volume"], strict=False):
        link.click()
        assert form.focused() == target
    assert form.page.url.endswith("/")  # the page's own address is left alone


def test_what_the_service_faults_is_marked_beside_the_questions(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.fill(cut_in="60", cut_out="40")
    form.submit()
    expect(form.page.get_by_role("group", name="The answers don’t go together")).to_be_focused()
    problem = form.told("problem")[0]["problem"]

    assert problem["code"] == "contradictory-facts"
    for error in problem["errors"]:
        name = error["pointer"].rpartition("/")[2]
        expect(form.fault(name)).to_contain_text(error["detail"])
    form.complaints.clear()  # the browser notes the status 422


def test_a_change_of_units_leaves_what_was_typed(opened: Opening) -> None:
    form = opened()
    form.fill(level="60")
    form.check("system-si")
    form.fill(tank_volume="80")
    unit = form.page.get_by_label("Unit of: How deep is the water")
    assert (form.field("level").input_value(), unit.input_value()) == ("60", "ft")
    assert form.page.get_by_label("Unit of: How large is the tank").input_value() == "L"


def test_a_reload_keeps_what_was_entered_until_the_form_is_cleared(opened: Opening) -> None:
    form = opened()
    form.check("system-si")
    form.essentials()
    form.fill(level="60 ft", cut_in="2 bar")
    form.open()
    assert form.field("level").input_value() == "60"
    assert form.page.get_by_label("Unit of: How deep is the water").input_value() == "ft"
    assert form.page.get_by_label("Unit of: At which pressure does the switch").input_value() == "bar"
    expect(form.field("hose-unsure")).to_be_checked()
    expect(form.field("hose_length")).to_be_disabled()
    expect(form.field("places-tank_drain")).to_be_checked()
    form.submit()
    form.answered()
    head = form.told("answer")[0]["answer"]["candidates"][0]["lift_budget"]["total_head"]
    assert head["unit"] == "m"

    form.page.get_by_role("button", name="Clear the form").click()
    expect(form.field("level")).to_have_value("")
    expect(form.page.locator("article")).to_have_count(0)
    form.open()
    expect(form.field("level")).to_have_value("")
    expect(form.field("system-si")).not_to_be_checked()


def test_a_new_language_keeps_what_was_entered(opened: Opening) -> None:
    form = opened()
    form.fill(level="60")
    form.page.locator("upstroke-quote").evaluate("(one) => one.setAttribute('language', 'es')")
    expect(form.page.get_by_role("button", name="Calcular")).to_be_visible()
    expect(form.field("level")).to_have_value("60")


def test_a_page_can_keep_a_request_from_being_sent(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.page.evaluate("addEventListener('upstroke-request', (event) => event.preventDefault())")
    sent: list[str] = []
    form.page.on("request", lambda asked: sent.append(asked.url))
    form.submit()
    assert len(form.told("request")) == 1
    assert sent == []


def test_a_dealer_hears_of_the_answer(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.submit()
    form.answered()
    expect(form.page.locator("#order")).to_have_text(form.told("answer")[0]["answer"]["summary"])
    form.page.get_by_role("button", name="Send us this request").click()
    expect(form.page.locator("#sent")).to_contain_text(form.told("answer")[0]["answer"]["calculation_id"])


def test_the_report_is_saved_as_a_pdf(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.submit()
    form.answered()
    with form.page.expect_download() as waiting:
        form.page.get_by_role("button", name="Save the report (PDF)").click()
    assert waiting.value.suggested_filename == "upstroke.pdf"
    assert waiting.value.path().read_bytes().startswith(b"%PDF")
    expect(form.page.locator(".status")).to_have_text("The report is saved as a file.")
    assert form.told("problem") == []


def test_the_answer_comes_into_view_and_leads_to_its_cautions(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.submit()
    heading = form.answered().locator("h2")
    expect(heading).to_be_focused()
    expect(heading).to_be_in_viewport()
    box = heading.bounding_box()
    assert box
    assert box["y"] < 100  # of 900 pixels

    form.page.get_by_role("button", name="Read before any work").click()
    title = form.page.get_by_role("heading", name="Cautions")
    expect(title).to_be_focused()
    expect(title).to_be_in_viewport()
    caution = form.told("answer")[0]["answer"]["cautions"][0]["text"]
    expect(form.page.get_by_text(caution)).to_be_in_viewport()


def test_a_change_after_the_answer_is_said(opened: Opening) -> None:
    form = opened()
    form.essentials()
    form.submit()
    form.answered()
    expect(form.page.locator(".status")).to_have_text("The answer is ready.")
    form.fill(level="80")
    expect(form.page.locator(".status")).to_contain_text("You have changed entries since this answer.")
