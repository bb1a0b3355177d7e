"""Automated checks of accessibility: axe-core from the npm registry, run inside the page."""

from playwright.sync_api import Page
from tests.node import tools

COLOURS = ["color-contrast"]


def violations(page: Page, inside: list[str] | None = None, rules: list[str] | None = None) -> list[str]:
    """What breaks a rule of axe-core on the page, shadow trees included: rule, element and why.

    Of all of it and by every rule, but where selectors lead ``inside`` a shadow tree, or ``rules`` are named.
    """
    if not page.evaluate("'axe' in window"):
        # As the browser's tools do, past the page's content policy.
        page.evaluate(tools.script(tools.ACCESSIBILITY))
    found: list[str] = page.evaluate(
        "async ([inside, rules]) => (await axe.run(inside ? { fromShadowDom: inside } : document,"
        " { resultTypes: ['violations'], ...(rules && { runOnly: rules }) })).violations"
        ".flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html} ${node.failureSummary}`))",
        [inside, rules],
    )
    return found
