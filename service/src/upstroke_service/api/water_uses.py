"""Presenting the published figures behind water needs."""

from collections.abc import Mapping

from upstroke_service.contract.answered import Source
from upstroke_service.contract.listings import FigureBasis
from upstroke_service.contract.needs import NeedEntry, NeedFigure, UseEntry, WaterUseList
from upstroke_service.contract.quantities import DailyVolume, FlowRate, Head, Pressure, WaterVolume
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE, DailyNeed
from upstroke_service.reference.sources import source
from upstroke_service.sizing.needs import DAY

from .compute import Context
from .style import Style


def water_use_list(context: Context) -> WaterUseList:
    """Every figure that water needs are computed with, and who published it."""
    style = context.style
    return WaterUseList(
        uses=[_use(use, style) for use in fixtures.USES],
        people=_needs(PEOPLE, style),
        livestock=_needs(LIVESTOCK, style),
    )


def _use(use: str, style: Style) -> UseEntry:
    row, flow = fixtures.USES[use], fixtures.flow_of(use)
    sources = {
        "volume": row.source,
        "minimum_pressure": fixtures.SUPPLY_NEEDS[row.fixture].source,
        "height": row.height_source,
        "flow": flow.source,
    }
    return UseEntry(
        code=use,
        text=style.words.say("need_name", use),
        volume=style.measured(WaterVolume, row.volume),
        minimum_pressure=style.measured(Pressure, fixtures.minimum_pressure(use)),
        height=style.measured(Head, row.height),
        flow=style.measured(FlowRate, flow.flow),
        flow_pressure=style.measured(Pressure, flow.pressure),
        basis=[
            FigureBasis(
                figure=figure, text=style.words.say(f"use_basis.{use}", figure), sources=[_source(key)]
            )
            for figure, key in sources.items()
        ],
    )


def _needs(rows: Mapping[str, DailyNeed], style: Style) -> list[NeedEntry]:
    return [
        NeedEntry(
            code=name,
            text=style.words.say("need_name", name),
            **{
                figure: NeedFigure(
                    volume=style.measured(DailyVolume, published.volume / DAY),
                    text=style.words.say(f"need_basis.{name}", figure),
                    basis=_source(published.source),
                )
                for figure, published in row.figures()
            },
        )
        for name, row in rows.items()
    ]


def _source(key: str) -> Source:
    return Source(key=key, citation=source(key).citation)
