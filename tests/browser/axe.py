"""Automated checks of accessibility: axe-core from the npm registry, run inside the page."""

from playwright.sync_api import Page
from tests.node import tools


def violations(page: Page) -> list[str]:
    """What breaks a rule of axe-core on the page, shadow trees included: rule, element and why."""
    if not page.evaluate("'axe' in window"):
        # As the browser's tools do, past the page's content policy.
        page.evaluate(tools.script(tools.ACCESSIBILITY))
    found: list[str] = page.evaluate(
        "async () => (await axe.run(document, { resultTypes: ['violations'] })).violations"
        ".flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html} ${node.failureSummary}`))"
    )
    return found
