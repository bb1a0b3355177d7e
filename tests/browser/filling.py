"""The form in a page, and what tests do with it."""

from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Locator, Page

Facts = dict[str, Any]

WORDS = {
    "en": {"submit": "Work it out", "clear": "Clear the form", "retry": "Try again", "unsure": "Not sure"},
    "es": {
        "submit": "Calcular",
        "clear": "Vaciar el formulario",
        "retry": "Intentar de nuevo",
        "unsure": "No sé",
    },
}


class Form:
    """A page with the form, which notes what it loads and says."""

    def __init__(self, page: Page, address: str, attributes: dict[str, str], *, width: int = 1280) -> None:
        self.page = page
        self.page.set_viewport_size({"width": width, "height": 900})
        self.hosts: set[str] = set()
        self.complaints: list[str] = []
        self._listeners: dict[Any, Any] = {
            "request": lambda asked: self.hosts.add(urlsplit(asked.url).netloc),
            "pageerror": lambda error: self.complaints.append(str(error)),
            "console": self._hear,
        }
        for event, listener in self._listeners.items():
            self.page.on(event, listener)
        self.page.add_init_script(_LISTEN)
        self.address = address
        self.attributes = attributes

    def _hear(self, message: Any) -> None:
        if message.type in {"error", "warning"}:
            self.complaints.append(message.text)

    def open(self) -> "Form":
        """Load the page and wait for the form."""
        self.page.goto(self.address)
        if self.attributes:
            self.page.locator("upstroke-quote").evaluate(_SET, self.attributes)
        self.page.locator(f"[lang={self.language}] > form").wait_for()
        return self

    @property
    def language(self) -> str:
        return self.attributes.get("language", "en")

    def field(self, name: str) -> Locator:
        """What has this id."""
        return self.page.locator(f"#{name}")

    def fault(self, name: str) -> Locator:
        """What is said to be wrong with an answer."""
        return self.page.locator(f"#fault-{name}")

    def fill(self, **texts: str) -> None:
        """Type into fields, and leave each."""
        for name, text in texts.items():
            self.field(name).fill(text)
            self.field(name).blur()

    def check(self, *names: str) -> None:
        """Choose by the ids of radio buttons and check boxes."""
        for name in names:
            self.field(name).check()

    def put(self, *chosen: str, **texts: str) -> None:
        """Choose and write all of this at once, where how it gets there does not matter."""
        self.page.locator("upstroke-quote").evaluate(_PUT, [chosen, texts])

    def essentials(self) -> None:
        """The least that the form wants to know, of an invented site."""
        choices = ("tank_kind-bladder", "supply-pressure_switch", "places-tank_drain", "public_main-no")
        self.put(*choices, "hose-unsure", level="60", tank_volume="20")

    def submit(self) -> None:
        self.page.get_by_role("button", name=WORDS[self.language]["submit"]).click()

    def answered(self) -> Locator:
        """The answer, once it is there."""
        article = self.page.locator("article")
        article.wait_for()
        return article

    def told(self, name: str) -> list[Facts]:
        """Details of the events of this name that reached the document."""
        found: list[Facts] = self.page.evaluate(f"window.told.filter((one) => one.name === '{name}')")
        return [one["detail"] for one in found]

    def focused(self) -> str:
        """Id of what has the focus inside the form, or its text."""
        found: str = self.page.evaluate(
            "(() => { const one = document.querySelector('upstroke-quote').shadowRoot.activeElement;"
            " return one ? one.id || one.textContent : ''; })()"
        )
        return found

    def leave(self) -> None:
        """Leave the tab as it was found."""
        self.page.unroute_all()
        self.page.context.set_offline(offline=False)
        self.page.evaluate("sessionStorage.clear()")
        for event, listener in self._listeners.items():
            self.page.remove_listener(event, listener)


_SET = """(one, attributes) => {
  for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value);
}"""

_PUT = """(one, [chosen, texts]) => {
  const find = (id) => one.shadowRoot.getElementById(id);
  for (const id of chosen) if (!find(id).checked) find(id).click();
  for (const [id, text] of Object.entries(texts)) {
    find(id).value = text;
    for (const type of ['input', 'change']) find(id).dispatchEvent(new Event(type, { bubbles: true }));
  }
}"""

_LISTEN = """
if (!window.told) {
  window.told = [];
  for (const name of ['request', 'answer', 'problem']) {
    document.addEventListener(`upstroke-${name}`, ({ detail }) => {
      window.told.push({ name, detail: structuredClone(detail) });
    });
  }
}
"""
