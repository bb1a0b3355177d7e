"""Water needs of a site: what every day asks for, what one fill gives, and what pumping it takes."""

from collections.abc import Container
from typing import Final, NamedTuple

from msgspec import UNSET

from upstroke_service.contract import answered
from upstroke_service.contract.answers import Question
from upstroke_service.contract.needs import WaterNeeds
from upstroke_service.contract.requests import WaterNeedRequest
from upstroke_service.sizing import assessment, ranking
from upstroke_service.sizing import reserve as reserves
from upstroke_service.sizing.assessment import DOES_NOT_FIT

from .assumptions import assumptions
from .compute import Context, Read, catalogue_used, envelope, read
from .needs import Refill, daily, read_needs, refill, refill_without_pump
from .reasons import finding
from .reserve import reserve
from .style import Style

_LEVEL: Final = "/well/static_water_level"
_ASKED: Final = (
    _LEVEL,
    "/needs/people",
    "/needs/level",
    "/tank/total_volume",
    "/site/supply",
    "/site/supply/set_pressure",
    "/tank/precharge",
)
"""What a day's water and pumping hang on most, the most useful to know first."""


class _Pumped(NamedTuple):
    """How a fill goes: the recommended cylinder's id, where the fill ends in Pa, and one fill again."""

    recommended: str | None
    end: float
    refill: Refill


def water_needs(request: WaterNeedRequest, context: Context) -> WaterNeeds:
    """What is needed every day, what one fill gives, and what pumping it takes. Raises RequestProblem."""
    facts = read(request, context)
    style = facts.style
    wanted = read_needs(request.needs, facts.site, facts.reading)
    known = _LEVEL not in facts.reading.assumed
    pumped = _pumped(facts, wanted.floor_rise, known=known)
    catalogue = facts.chosen.catalogue
    return WaterNeeds(
        catalogue=catalogue_used(facts.chosen, style),
        recommended=UNSET if pumped.recommended is None else pumped.recommended,
        needs=daily(wanted, facts.site, pumped.refill, style),
        reserve=reserve(facts.site, pumped.end, wanted.floor_rise, style),
        findings=_without_pump(pumped, style, known=known),
        assumptions=assumptions(facts.reading.assumed.values(), style),
        questions=_questions(facts.reading.assumed, style),
        **envelope(request, context, "" if catalogue is None else catalogue.digest),
    )


def _pumped(facts: Read, floor_rise: float, *, known: bool) -> _Pumped:
    """A fill by the cylinder that a sizing would recommend; with no pump in it where there is none."""
    site = facts.site
    if known:
        found = assessment.assess(site, facts.chosen.lineup)
        best = int(ranking.order(found).reshape(-1)[0])
        if found.outcome.reshape(-1)[best] != DOES_NOT_FIT:
            end = float(found.fill.of(slice(best, best + 1)).end.item())
            one = refill(found, site, best, floor_rise)
            return _Pumped(facts.chosen.cylinders[best].id, end, one)
    return _Pumped(None, float(reserves.end_without_pump(site)), refill_without_pump(site, floor_rise))


def _without_pump(pumped: _Pumped, style: Style, *, known: bool) -> list[answered.Finding]:
    if pumped.recommended is not None:
        return []
    code = "no_pump_fits" if known else "no_level_no_strokes"
    return [finding(style, code, None, None, None)]


def _questions(assumed: Container[str], style: Style) -> list[Question]:
    """The questions whose answers change a day's water or pumping most."""
    say = style.words.say
    return [
        Question(
            pointer=field,
            text=say(f"question.{field}", "text"),
            why=say(f"question.{field}", "why"),
            effect="verdict" if field == _LEVEL else "figures",
        )
        for field in _ASKED
        if field in assumed
    ]
