"""The report of a sizing: from the answer and the site to what the templates of a report draw."""

from typing import Final, Literal

from msgspec import UNSET

from upstroke_service.contract.answered import Series
from upstroke_service.contract.answers import Candidate, FillColumns, Sizing
from upstroke_service.contract.quantities import Head, WaterVolume
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.report import drawing
from upstroke_service.report.content import Block, Fact, Figure, Report, Section, Text
from upstroke_service.sizing.operation import SUBMERGENCE
from upstroke_service.units import UNITS, System

from . import report_sections as sections
from .compute import Context, Read, read
from .report_sections import Teller
from .sizings import size

Paper = Literal["letter", "a4"]

PAPERS: Final[dict[System, Paper]] = {"us": "letter", "si": "a4"}
"""Size of paper where none is asked for, by unit system."""

_TYPST: Final[dict[Paper, str]] = {"letter": "us-letter", "a4": "a4"}


def report(request: SizingRequest, context: Context, paper: Paper) -> Report:
    """The report on a request. Raises RequestProblem."""
    answer = size(request, context)
    facts = read(request, context)
    tell = Teller(facts.style)
    say = facts.style.words.say
    best = answer.candidates[0] if answer.candidates else None
    cited = sections.Cited()
    asked = sections.questions(answer, tell)
    # Without the fact that decides, finding it out comes before all else.
    urgent = answer.verdict == "needs_facts"
    used = say("report", "model", model=answer.model_version, catalogue=answer.catalogue.name)
    return Report(
        language=facts.style.words.language,
        paper=_TYPST[paper],
        title=say("report", "title"),
        verdict=_verdict(answer, best, tell),
        summary=answer.summary,
        notice=answer.catalogue.notice if answer.catalogue.invented else "",
        facts=_facts(answer, best, tell),
        sections=[
            *_drawn(answer, facts, best, tell),
            *sections.supply(answer, tell),
            *sections.comparison(answer, _names(facts), tell),
            *sections.parts(answer, tell),
            *(asked if urgent else []),
            *sections.cautions(answer, tell, cited),
            *sections.connection(answer, tell, cited),
            *([] if urgent else asked),
            *sections.basis(answer, tell, cited),
            sections.record(request, tell),
        ],
        contents=say("report", "contents"),
        page=say("report", "page"),
        lines=[_reference(answer, tell), used, answer.scope],
    )


def _names(facts: Read) -> dict[str, str]:
    """Names of the candidates by their ids."""
    return {one.id: one.name for one in facts.chosen.cylinders}


def _reference(answer: Sizing, tell: Teller) -> str:
    if answer.client_reference is UNSET:
        return tell.say("report", "of_calculation", calculation=answer.calculation_id)
    return tell.say(
        "report", "of_reference", reference=answer.client_reference, calculation=answer.calculation_id
    )


def _verdict(answer: Sizing, best: Candidate | None, tell: Teller) -> str:
    verdict = tell.say("report_verdict", answer.verdict)
    if best is None:
        return verdict
    named = "recommended" if answer.recommended is not UNSET else "nearest"
    return f"{verdict}. {tell.say('report', named, name=best.cylinder.name)}"


def _facts(answer: Sizing, best: Candidate | None, tell: Teller) -> list[Fact]:
    if best is None or answer.recommended is UNSET:
        return []
    fill = best.fill
    # An open tank has no pressure to tell of.
    ends = (
        []
        if tell.open_tank
        else [
            (
                "pressures",
                tell.say("report", "range", start=tell.amount(fill.start), end=tell.amount(fill.end)),
            )
        ]
    )
    told = [
        ("strokes", tell.count(fill.strokes)),
        ("time", tell.amount(fill.time)),
        ("force", tell.amount(best.effort.hand_force)),
        ("water", tell.amount(fill.water)),
        *ends,
        ("margin", tell.amount(best.lift_budget.margin)),
    ]
    return [Fact(tell.say("report", code), value) for code, value in told]


def _drawn(answer: Sizing, facts: Read, best: Candidate | None, tell: Teller) -> list[Section]:
    if best is None:
        return []
    drawn = [
        tell.section("installation", _installation(facts, best, tell)),
        tell.section("lift", *_lift(best, tell)),
    ]
    if answer.curve is not UNSET:
        drawn.append(tell.section("fill", *_fill(answer.curve, best, tell)))
    return drawn


def _metres(head: Head) -> float:
    return head.value * UNITS["length"][head.unit].scale


def _installation(facts: Read, best: Candidate, tell: Teller) -> Figure:
    say, style, site = tell.say, tell.style, facts.site
    budget = best.lift_budget
    level = _metres(budget.static_water_level)
    pumping = level + _metres(budget.well_drawdown)
    suction = best.cylinder.kind == "suction"
    deepest = pumping + SUBMERGENCE if site.cylinder_depth is None else float(site.cylinder_depth)
    marks = [
        drawing.Level(-depth, say("report_drawing", code, depth=style.text(Head, depth)))
        for code, depth in (
            ("level", level),
            ("pumping", pumping),
            ("intake" if suction else "cylinder", deepest),
        )
    ]
    length = sum(float(run.length) for run in site.runs)
    volume = UNITS["volume"][best.fill.water.unit].scale * best.fill.water.value
    tank = [
        say(
            "report_drawing",
            "open_tank" if tell.open_tank else "tank",
            volume=style.text(WaterVolume, float(site.tank_volume)),
        ),
        *(
            []
            if tell.open_tank or not volume
            else [
                say("report_drawing", "at_start", pressure=tell.amount(best.fill.start)),
                say("report_drawing", "at_end", pressure=tell.amount(best.fill.end)),
            ]
        ),
        *([say("report_drawing", "brings", water=tell.amount(best.fill.water))] if volume else []),
    ]
    drawn = drawing.Installation(
        marks=marks,
        weep_hole=_weep_hole(facts, best, tell),
        suction=suction,
        bottom=-deepest,
        outlet=say("report_drawing", "outlet"),
        way=say("report_drawing", "way", length=style.text(Head, length))
        if length
        else say("report_drawing", "way_unknown"),
        check_valve=say("report_drawing", "check_valve") if bool(site.check_valve) else "",
        tank=tank,
        filled=volume / float(site.tank_volume),
        ground=say("report_drawing", "ground"),
        note=say("report_drawing", "note"),
    )
    alt = say("report_drawing", "alt", marks="; ".join(mark.label for mark in marks), tank="; ".join(tank))
    return Figure(drawing.installation(drawn), alt, 64)


def _weep_hole(facts: Read, best: Candidate, tell: Teller) -> drawing.Level | None:
    """The hole that drains the drop pipe, where it has one below ground."""
    cylinder = next(one for one in facts.chosen.cylinders if one.id == best.cylinder.id)
    below = cylinder.weep_hole_depth - float(facts.site.outlet_height)
    if not cylinder.weep_hole_diameter or below <= 0.0:
        return None
    return drawing.Level(-below, tell.say("report_drawing", "weep_hole", depth=tell.style.text(Head, below)))


def _lift(best: Candidate, tell: Teller) -> list[Block]:
    budget, say = best.lift_budget, tell.say
    lost = (budget.drop_pipe_friction, budget.conduit_friction, budget.fitting_losses, budget.check_valve)
    friction = Head(sum(one.value for one in lost), budget.total_head.unit)
    heads = {
        "static_water_level": budget.static_water_level,
        "well_drawdown": budget.well_drawdown,
        "outlet_height": budget.outlet_height,
        "rise": budget.rise,
        "pressure_head": budget.pressure_head,
        "friction": friction,
    }
    target = tell.amount(budget.target)
    parts = [
        drawing.Part(say("report_lift", code, value=tell.amount(head), pressure=target), head.value)
        for code, head in heads.items()
        # Of an open tank, and of an outlet at ground level, nothing is to be seen.
        if head.value
    ]
    total = say("report_lift", "total", value=tell.amount(budget.total_head))
    rated = say("report_lift", "rated", value=tell.amount(budget.rated_lift))
    alt = say(
        "report_lift",
        "alt",
        parts="; ".join(part.label for part in parts),
        total=tell.amount(budget.total_head),
        rated=tell.amount(budget.rated_lift),
    )
    svg = drawing.lift_budget(
        drawing.Budget(parts, budget.total_head.value, budget.rated_lift.value, total, rated)
    )
    reasons = [reason.text for reason in best.reasons]
    return [
        Text(say("report_lift", "open_intro" if tell.open_tank else "intro")),
        Figure(svg, alt, 62),
        sections.listed(reasons),
    ]


_MARKS = 5
_ROWS = 6


def _fill(curve: FillColumns, best: Candidate, tell: Teller) -> list[Block]:
    """The curve, unless it is an open tank's, whose pressure stays; and some of its points as a table."""
    say = tell.say
    table = sections.fill_table(curve, _ROWS, tell)
    if tell.open_tank or best.fill.water.value <= 0.0:
        return [Text(say("report_fill", "open_intro")), table] if tell.open_tank else [table]
    across, up = curve.pressure, curve.water
    places = [round(step * (len(up.values) - 1) / _MARKS) for step in range(1, _MARKS + 1)]
    points = [
        drawing.Point(
            across.values[place],
            up.values[place],
            say(
                "report_fill",
                "mark",
                strokes=tell.count(curve.strokes.values[place]),
                minutes=tell.count(curve.time.values[place]),
            ),
        )
        for place in places
    ]
    svg = drawing.curve(
        _axis(across, say("report_fill", "across", unit=across.unit)),
        _axis(up, say("report_fill", "up", unit=up.unit)),
        points,
    )
    alt = say(
        "report_fill",
        "alt",
        start=tell.amount(best.fill.start),
        end=tell.amount(best.fill.end),
        water=tell.amount(best.fill.water),
        strokes=tell.count(best.fill.strokes),
    )
    return [Text(say("report_fill", "intro")), Figure(svg, alt, 66), table]


def _axis(column: Series, title: str) -> drawing.Axis:
    return drawing.Axis(column.values, title, drawing.ticks(column.values[0], column.values[-1]))
