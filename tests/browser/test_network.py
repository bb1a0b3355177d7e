"""The form where the network or the service fails: a clear message, a way to try again, and nothing lost."""

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, Route, expect
from tests.browser.bed import Site
from tests.browser.filling import Form


@pytest.fixture
def form(tab: Page, site: Site) -> Iterator[Form]:
    """The dealer's page with the form filled in."""
    filled = Form(tab, f"{site.origin}/", {}).open()
    filled.essentials()
    yield filled
    filled.leave()


@pytest.fixture
def timed(new_tab: Page, site: Site) -> Form:
    """The same where time passes as the test says."""
    filled = Form(new_tab, f"{site.origin}/", {}).open()
    filled.essentials()
    filled.page.clock.install()
    return filled


def refusal(status: int, code: str, **headers: str) -> dict[str, object]:
    """What the service says when it refuses."""
    problem = {"type": f"/problems/{code}", "code": code, "status": status, "detail": "An invented refusal."}
    allowed = {"Access-Control-Allow-Origin": "*", "Access-Control-Expose-Headers": "Retry-After"}
    return {
        "status": status,
        "content_type": "application/problem+json",
        "body": json.dumps(problem),
        "headers": {**allowed, **headers},
    }


def test_offline_it_says_so_keeps_the_entries_and_tries_again(form: Form) -> None:
    form.page.context.set_offline(True)
    form.submit()
    expect(form.page.get_by_text("This device is offline.")).to_be_visible()
    assert form.focused() == "There is no answer yet"
    assert form.told("problem")[0]["problem"]["code"] == "offline"
    assert form.field("level").input_value() == "60"

    form.page.context.set_offline(False)
    form.page.get_by_role("button", name="Try again").click()
    form.answered()


def test_a_busy_service_is_asked_again_when_it_says_and_not_before(timed: Form) -> None:
    asked: list[str] = []

    def busy(route: Route) -> None:
        asked.append(route.request.url)
        route.fulfill(**refusal(503, "overloaded", **{"Retry-After": "30"}))  # type: ignore[arg-type]

    timed.page.route("**/v1/sizings*", busy)
    timed.submit()
    retry = timed.page.get_by_role("button", name="Try again")
    expect(retry).to_have_text("Try again in 30 s")
    expect(timed.page.get_by_text("The service is busy just now.")).to_be_visible()
    retry.dispatch_event("click")
    assert len(asked) == 1

    timed.page.unroute("**/v1/sizings*")
    timed.page.clock.run_for(31_000)
    expect(retry).to_have_text("Try again")
    retry.click()
    timed.answered()


def test_a_slow_network_is_said_and_waiting_ends(timed: Form) -> None:
    timed.page.route("**/v1/sizings*", lambda _: None)  # never answered
    timed.submit()
    status = timed.page.get_by_role("status").first
    expect(status).to_have_text("Working it out …")
    timed.field("level").press("Enter")  # asks no second time
    timed.page.clock.run_for(4_000)
    expect(status).to_have_text("Still working: the connection is slow.")
    timed.page.clock.run_for(17_000)
    expect(timed.page.get_by_text("The service took too long to answer.")).to_be_visible()
    assert [one["problem"]["code"] for one in timed.told("problem")] == ["timeout"]
    assert len(timed.told("request")) == 1


@pytest.mark.parametrize(
    ("status", "code", "said"),
    [
        (401, "unauthenticated", "The service does not take questions from this page."),
        (500, "internal-error", "Something went wrong: An invented refusal."),
    ],
)
def test_a_refusal_is_explained(form: Form, status: int, code: str, said: str) -> None:
    form.page.route("**/v1/sizings*", lambda route: route.fulfill(**refusal(status, code)))
    form.submit()
    expect(form.page.get_by_text(said)).to_be_visible()
    assert form.told("problem")[0]["problem"]["code"] == code


def test_a_site_that_may_not_ask_is_told_so(form: Form, site: Site) -> None:
    form.page.goto(site.origin.replace("127.0.0.1", "localhost"))
    form.essentials()
    form.submit()
    expect(form.page.get_by_text("The service can’t be reached.")).to_be_visible()


def test_where_the_limits_can_not_be_had_the_form_tries_again(form: Form) -> None:
    form.page.route("**/fields.json", lambda route: route.abort())
    form.page.reload()
    expect(form.page.get_by_text("The service can’t be reached.")).to_be_visible()
    form.page.unroute("**/fields.json")
    form.page.get_by_role("button", name="Try again").click()
    expect(form.field("level")).to_have_value("60")


def test_where_the_script_does_not_come_the_page_says_what_its_dealer_wrote(form: Form) -> None:
    form.page.route("**/quote.js", lambda route: route.abort())
    form.page.reload()
    expect(form.page.get_by_text("Please call us")).to_be_visible()


def test_a_key_and_another_service_come_from_attributes(form: Form, site: Site) -> None:
    heard: list[tuple[str, str | None]] = []

    def hear(route: Route) -> None:
        heard.append((route.request.url, route.request.headers.get("authorization")))
        route.continue_()

    form.page.locator("upstroke-quote").evaluate(
        "(one, service) => { one.setAttribute('key', 'up_invented'); one.setAttribute('service', service); }",
        site.service,
    )
    expect(form.field("level")).to_have_value("60")
    form.page.route("**/v1/sizings*", hear)
    form.submit()
    form.answered()
    assert heard == [(f"{site.service}/v1/sizings?units=us", "Bearer up_invented")]
