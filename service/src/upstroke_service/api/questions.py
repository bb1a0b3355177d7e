"""What to ask the customer next: the assumed facts whose answer would change most.

Each assumed fact is varied over its plausible range, all variations are assessed in one pass with the site
itself, and the facts are ordered by what changes: the verdict, the recommended cylinder, or the figures
alone. What concerns safety is asked whatever the figures say.
"""

import functools
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Literal, NamedTuple

import msgspec
import numpy as np
from msgspec import UNSET, UnsetType

from upstroke_service.contract import answers
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.sizing import defaults, ranking
from upstroke_service.sizing.assessment import DOES_NOT_FIT, Assessment
from upstroke_service.sizing.defaults import Default, Stated
from upstroke_service.sizing.facts import Site
from upstroke_service.wording import Wording

from .assumed import Assumed, Reading
from .assumptions import KINDS
from .candidates import OUTCOMES
from .style import Style
from .translate import read_site

MOST_QUESTIONS = 8
_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where in a fact's plausible range it is tried."""

_NOTABLE_CHANGE = 0.25
"""Change of time or force from which the figures alone make a fact worth asking for."""

Effect = Literal["verdict", "recommendation", "safety", "figures"]
_ORDER: tuple[Effect, ...] = ("verdict", "safety", "recommendation", "figures")
_DECISIVE = 8


class Variation(NamedTuple):
    """A site with one assumed fact answered: what to call the answer, its number (None: a word)."""

    text: str
    number: float | None
    site: Site


class Outcome(NamedTuple):
    """What a site leads to: the place of its best cylinder, whether that fits, its minutes and force."""

    best: int
    outcome: int
    seconds: float
    force: float

    @property
    def choice(self) -> tuple[int, int]:
        """Verdict and recommended cylinder; the closest that does not fit is nobody's choice."""
        return (self.outcome, -1 if self.outcome == DOES_NOT_FIT else self.best)


class Asked(NamedTuple):
    """A fact with its effect, how much of its range differs, and what follows from which answer."""

    field: str
    effect: Effect
    weight: float
    consequence: str | UnsetType


def variations(
    request: SizingRequest, assumed: Iterable[Assumed], site: Site, style: Style
) -> dict[str, list[Variation]]:
    """The ``site`` with each plausible answer to each assumed fact that is worth asking for, by fact."""
    rows = [row for row in _askable(assumed) if not row.safety]
    return {row.field: _variations(request, row, site, style) for row in rows}


def questions(
    assumed: Iterable[Assumed],
    varied: dict[str, list[Variation]],
    found: dict[Site, Outcome],
    site: Site,
    names: list[str],
    style: Style,
) -> list[answers.Question]:
    """The questions that follow from what a ``site`` and its variations lead to, the most useful first.

    ``names`` are those of the cylinders.
    """
    asked = [Asked(row.field, "safety", float(row.ask), UNSET) for row in _askable(assumed) if row.safety]
    for field, each in varied.items():
        led_to = [found[one.site] for one in each]
        one = _asked(field, each, led_to, found[site], names, style)
        if one is not None:
            asked.append(one)
    return _listed(asked, style)


def _askable(assumed: Iterable[Assumed]) -> list[Default]:
    table = defaults.table()
    return [table[one.field] for one in assumed if table[one.field].ask]


def without_level(
    assumed: Iterable[Assumed], levels: list[float], found: Assessment, names: list[str], style: Style
) -> list[answers.Question]:
    """The questions where the static water level is unknown: that first, with what follows at which depth."""
    table = defaults.table()
    level = "/well/static_water_level"
    led_to = outcomes(found)
    texts = [style.text(KINDS[level], value) for value in levels]
    consequence = _consequence(texts, levels, led_to, names, style)
    asked = [Asked(level, "verdict", 1.0, consequence)]
    for row in (table[one.field] for one in assumed if one.field != level):
        if row.ask:
            effect: Effect = "safety" if row.safety else "figures"
            asked.append(Asked(row.field, effect, row.ask / 100.0, UNSET))
    return _listed(asked, style)


def _listed(asked: list[Asked], style: Style) -> list[answers.Question]:
    table = defaults.table()
    asked.sort(key=lambda one: (*_rank(one, table[one.field]), one.field))
    return [
        msgspec.structs.replace(
            _question(one.field, style.words), effect=one.effect, consequence=one.consequence
        )
        for one in asked[:MOST_QUESTIONS]
    ]


def _rank(one: Asked, row: Default) -> tuple[bool, int, float, int]:
    """Order of a question: where a wrong answer kills, then by what it changes, and by how much."""
    decisive = row.safety and row.ask >= _DECISIVE
    return (not decisive, _ORDER.index(one.effect), -one.weight, -row.ask)


@functools.lru_cache(maxsize=256)
def _question(field: str, words: Wording) -> answers.Question:
    section = f"question.{field}"
    return answers.Question(
        pointer=field,
        text=words.say(section, "text"),
        why=words.say(section, "why"),
        effect="figures",
    )


def _variations(request: SizingRequest, row: Default, site: Site, style: Style) -> list[Variation]:
    """The site with each plausible answer to one fact; answers that contradict stated facts are left out."""
    answered: list[tuple[str, float | None, Any]] = [
        (style.words.say("alternative", one.name), None, one.value) for one in row.others
    ]
    low, high = row.low, row.high
    if isinstance(low, Stated) and isinstance(high, Stated):
        for share in _SHARES:
            stated = Stated(low.value + share * (high.value - low.value), low.unit)
            value = {"value": stated.value, "unit": stated.unit}
            answered.append((style.text(KINDS[row.field], stated.si), stated.si, value))
    found: list[Variation] = []
    requests = _with_fact(request, row.field, [value for _, _, value in answered])
    for (text, number, _), changed in zip(answered, requests, strict=True):
        reading = _Reading()
        other = read_site(changed, reading)
        if not reading.contradictions and (other.cylinder_depth is None) == (site.cylinder_depth is None):
            found.append(Variation(text, number, other))
    return found


class _Reading(Reading):
    """For a variation: what it leaves to be assumed has been noted of the request itself."""

    def assume(self, *_: Any, **__: Any) -> None:
        """Nothing."""


def _with_fact(request: SizingRequest, pointer: str, values: list[Any]) -> Iterator[SizingRequest]:
    """The request with the fact at ``pointer`` given, with each of these values."""
    plain = msgspec.to_builtins(request)
    *path, last = pointer.removeprefix("/").split("/")
    block = plain
    for name in path:
        block = block.setdefault(name, {})
    if path[-1:] == ["supply"]:
        block.setdefault("kind", "constant_pressure" if last == "set_pressure" else "pressure_switch")
    for value in values:
        block[last] = value
        yield msgspec.convert(plain, type(request))


def outcomes(found: Assessment) -> list[Outcome]:
    """What each site of an assessment leads to."""
    best = ranking.order(found)[..., 0].reshape(-1)
    rows = np.arange(best.size)

    def of_best(values: Any) -> list[Any]:
        column = np.broadcast_to(values, (best.size, *found.outcome.shape[-2:]))[rows, best, 0]
        return list(column.tolist())

    columns = (found.outcome, found.fill.seconds, found.at_end.hand_force)
    return [
        Outcome(*values) for values in zip(best.tolist(), *(of_best(one) for one in columns), strict=True)
    ]


def _asked(
    field: str,
    variations: list[Variation],
    outcomes: list[Outcome],
    base: Outcome,
    names: list[str],
    style: Style,
) -> Asked | None:
    """What a fact's answers change; None where they change nothing worth asking for."""
    if not outcomes:
        return None
    changed = [one.outcome != base.outcome for one in outcomes]
    chosen = [one.choice != base.choice for one in outcomes]
    if any(chosen):
        effect: Effect = "verdict" if any(changed) else "recommendation"
        share = sum(changed if any(changed) else chosen) / len(outcomes)
        text = _consequence(
            [one.text for one in variations], [one.number for one in variations], outcomes, names, style
        )
        return Asked(field, effect, share, text)
    spread = max(
        max(_relative(one.seconds, base.seconds), _relative(one.force, base.force)) for one in outcomes
    )
    return Asked(field, "figures", spread, UNSET) if spread > _NOTABLE_CHANGE else None


def _relative(value: float, base: float) -> float:
    return abs(value - base) / base if base > 0.0 else 0.0


def _consequence(
    texts: Sequence[str],
    numbers: Sequence[float | None],
    outcomes: Sequence[Outcome],
    names: list[str],
    style: Style,
) -> str:
    """What follows from which answer, as in 'At 50 ft or less A fits; at 75 ft or more nothing here fits.'."""
    say = style.words.say
    groups: list[tuple[Outcome, list[int]]] = []
    for place, one in enumerate(outcomes):
        if groups and groups[-1][0].choice == one.choice and numbers[place] is not None:
            groups[-1][1].append(place)
        else:
            groups.append((one, [place]))
    parts: list[str] = []
    for order, (one, places) in enumerate(groups):
        if numbers[places[0]] is None:
            when = say("consequence", "is", value=texts[places[0]])
        elif order == 0:
            when = say("consequence", "at_most", value=texts[places[-1]])
        elif order == len(groups) - 1:
            when = say("consequence", "at_least", value=texts[places[0]])
        else:
            when = say("consequence", "between", value=texts[places[len(places) // 2]])
        parts.append(f"{when} {say('consequence', OUTCOMES[one.outcome], name=names[one.best])}")
    sentence = "; ".join(parts) + "."
    return sentence[0].upper() + sentence[1:]
