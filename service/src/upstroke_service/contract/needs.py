"""The answers about water needs: a site's, and the published figures behind them."""

from typing import Annotated

from msgspec import UNSET, UnsetType

from .answered import Answered, Assumption, Finding, Source
from .answers import CatalogueUsed, Envelope, Question
from .description import about
from .household import DailyNeeds, Reserve
from .listings import FigureBasis
from .quantities import DailyVolume, FlowRate, Head, Pressure, WaterVolume


class WaterNeeds(Envelope, frozen=True, kw_only=True):
    """What is needed every day, what one fill gives, and what pumping it takes."""

    catalogue: CatalogueUsed
    recommended: (
        Annotated[
            str,
            about(
                "Id of the cylinder that strokes and minutes are for; left out where none fits or the static water "
                "level is not known."
            ),
        ]
        | UnsetType
    ) = UNSET
    needs: DailyNeeds
    reserve: Reserve
    findings: Annotated[list[Finding], about("Why figures are missing.")]
    assumptions: list[Assumption]
    questions: list[Question]


class NeedFigure(Answered, frozen=True, kw_only=True):
    """A published figure of water per head and day."""

    volume: Annotated[DailyVolume, about("Water per head and day.")]
    text: Annotated[str, about("Whom or what it is for.")]
    basis: Annotated[Source, about("Who published it.")]


class NeedEntry(Answered, frozen=True, kw_only=True):
    """What one head of people or livestock needs per day."""

    code: Annotated[str, about("The level of needs.level, or the kind of a herd.")]
    text: Annotated[str, about("In words.")]
    low: NeedFigure
    usual: NeedFigure
    high: NeedFigure


class UseEntry(Answered, frozen=True, kw_only=True):
    """What one use of water takes, and what its fixture needs."""

    code: Annotated[str, about("The kind of a use.")]
    text: Annotated[str, about("In words.")]
    volume: Annotated[WaterVolume, about("Water of one use.")]
    minimum_pressure: Annotated[Pressure, about("Least flowing pressure at the fixture.")]
    height: Annotated[Head, about("Height of the fixture above the floor, where nobody measured it.")]
    flow: Annotated[FlowRate, about("Flow at flow_pressure; at other pressures it goes with their root.")]
    flow_pressure: Annotated[Pressure, about("Flowing pressure at the fixture for that flow.")]
    basis: Annotated[list[FigureBasis], about("What each figure rests on.")]


class WaterUseList(Answered, frozen=True, kw_only=True):
    """The published figures behind water needs."""

    uses: Annotated[list[UseEntry], about("Uses of water in a household.")]
    people: Annotated[list[NeedEntry], about("Water per person, by level.")]
    livestock: Annotated[list[NeedEntry], about("Water per animal, by kind.")]
