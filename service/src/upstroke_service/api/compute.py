"""What each resource does: a request in, an answer out. No web here: tests and tools call it directly."""

import hashlib
from typing import Any, NamedTuple

import msgspec
import numpy as np
from msgspec import UNSET

from upstroke_service import MODEL_VERSION
from upstroke_service.contract import answered, answers
from upstroke_service.contract.cylinders import Selection
from upstroke_service.contract.facts import Pump, Well
from upstroke_service.contract.quantities import Pressure, WaterVolume
from upstroke_service.contract.requests import (
    CautionRequest,
    LiftBudgetRequest,
    StrokeEstimateRequest,
    TankCurveRequest,
)
from upstroke_service.physics import tank
from upstroke_service.physics.real import Array
from upstroke_service.sizing import assessment, ceiling, circumstances
from upstroke_service.sizing.facts import UNLIMITED, Site
from upstroke_service.units import significant

from . import candidates
from .assumed import Reading, block
from .assumptions import assumptions
from .cautioning import cautions
from .details import explain
from .lineups import Candidates, Catalogues, select
from .pressures import read_premise
from .reasons import finding, placement_reasons, reasons
from .style import Style
from .translate import read_site, read_surroundings, read_water


class Context(NamedTuple):
    """What an answer depends on besides the request."""

    catalogues: Catalogues
    style: Style


def envelope(request: Any, context: Context, digest: str = "") -> dict[str, Any]:
    """What every calculation's answer carries."""
    facts = msgspec.structs.replace(request, client_reference=UNSET)
    key = f"{type(request).__name__} {MODEL_VERSION} {digest} {context.style.system} {context.style.words.language} "
    content = key.encode() + msgspec.json.encode(facts)
    return {
        "calculation_id": hashlib.blake2b(content, digest_size=16).hexdigest(),
        "model_version": MODEL_VERSION,
        "scope": context.style.words.say("general", "scope"),
        "client_reference": request.client_reference,
    }


def _digest(chosen: Candidates) -> str:
    return "" if chosen.catalogue is None else chosen.catalogue.digest


def catalogue_used(chosen: Candidates, style: Style) -> answers.CatalogueUsed:
    """The catalogue that an answer is built on."""
    if chosen.catalogue is None:
        return answers.CatalogueUsed(
            name="request", invented=False, notice=style.words.say("general", "own_cylinders")
        )
    used = chosen.catalogue
    return answers.CatalogueUsed(name=used.name, invented=used.invented, notice=used.notice)


class Read(NamedTuple):
    """A request read: its site, its candidates and what was assumed."""

    site: Site
    chosen: Candidates
    reading: Reading


def read(request: Any, context: Context) -> Read:
    """Read a request that selects cylinders. Raises RequestProblem."""
    reading = Reading()
    site = read_site(request, reading)
    chosen = select(
        block(request.selection, Selection), block(request.pump, Pump), context.catalogues, reading
    )
    reading.close()
    return Read(site, chosen, reading)


def lift_budgets(request: LiftBudgetRequest, context: Context) -> answers.LiftBudgets:
    """The total dynamic head line by line, against each cylinder's rated lift."""
    site, chosen, reading = read(request, context)
    found = assessment.assess(site, chosen.lineup, stop_at_ceiling=False)
    shown = candidates.present(found, chosen.cylinders, context.style)
    entries = [
        answers.LiftBudgetEntry(
            cylinder=shown.cylinders[place],
            lift_budget=shown.budgets[place],
            findings=placement_reasons(case, context.style),
        )
        for place, case in enumerate(shown.cases)
    ]
    return answers.LiftBudgets(
        catalogue=catalogue_used(chosen, context.style),
        lift_budgets=entries,
        assumptions=assumptions(reading.assumed.values(), context.style),
        **envelope(request, context, _digest(chosen)),
    )


def stroke_estimates(request: StrokeEstimateRequest, context: Context) -> answers.StrokeEstimates:
    """Strokes, time, work and hand force of each cylinder, as totals and along the fill."""
    site, chosen, reading = read(request, context)
    found = assessment.assess(site, chosen.lineup, stop_at_ceiling=False)
    shown = candidates.present(found, chosen.cylinders, context.style)
    curves = candidates.curves(found, request.points, context.style)
    entries = [
        answers.StrokeEstimate(
            cylinder=shown.cylinders[place],
            fill=shown.fills[place],
            effort=shown.efforts[place],
            ceiling=shown.ceilings[place],
            curve=curves[place],
            findings=reasons(case, context.style),
            **explain(found, site, place, chosen.cylinders[place], context.style, advise=False)._asdict(),
        )
        for place, case in enumerate(shown.cases)
    ]
    return answers.StrokeEstimates(
        catalogue=catalogue_used(chosen, context.style),
        stroke_estimates=entries,
        assumptions=assumptions(reading.assumed.values(), context.style),
        **envelope(request, context, _digest(chosen)),
    )


def tank_curve(request: TankCurveRequest, context: Context) -> answers.TankCurve:
    """Points of gauge pressure against stored water."""
    reading = Reading()
    premise = read_premise(request, reading)
    atmosphere = read_water(block(request.well, Well), reading).atmospheric_pressure
    reading.close()
    gas = (premise.tank_volume, premise.precharge, atmosphere, premise.gas_exponent)
    acceptance = tank.pressure_at_stored_volume(
        premise.acceptance, 1.0, premise.precharge, atmosphere, premise.gas_exponent
    )
    limits = {
        "tank_rating": premise.tank_rating,
        "tank_acceptance": float(np.minimum(acceptance, UNLIMITED)),
        "relief_valve": float(ceiling.relief_limit(premise.relief_valve)),
        "highest_known_safe": premise.highest_known_safe,
    }
    governing = min(limits, key=lambda name: limits[name])
    end = max(min(limits[governing], premise.target), premise.start)
    style = context.style
    findings: list[answered.Finding] = []
    if end < premise.target:
        findings.append(
            finding(
                style,
                "curve_stops",
                Pressure,
                end,
                premise.target,
                end=style.text(Pressure, end),
                target=style.text(Pressure, premise.target),
                governing=style.words.say("limit", governing),
            )
        )
    pressure = np.linspace(premise.start, end, request.points)
    stored = np.asarray(tank.stored_volume(pressure, *gas))
    gained = stored - stored[0]
    slope = np.asarray(tank.storage_per_pressure(pressure, *gas))
    return answers.TankCurve(
        curve=_tank_columns(pressure, stored, gained, gained / premise.tank_volume, slope, style),
        start=style.measured(Pressure, premise.start),
        end=style.measured(Pressure, end),
        precharge=style.measured(Pressure, premise.precharge),
        usable_drawdown=style.measured(WaterVolume, float(gained[-1])),
        total_volume=style.measured(WaterVolume, premise.tank_volume),
        findings=findings,
        assumptions=assumptions(reading.assumed.values(), style),
        **envelope(request, context),
    )


def _tank_columns(
    pressure: Array, stored: Array, gained: Array, factor: Array, slope: Array, style: Style
) -> answers.TankColumns:
    columns = style.series(
        [(Pressure, pressure), (WaterVolume, stored), (WaterVolume, gained), (None, factor)]
    )
    volume, per = style.outputs[WaterVolume], style.outputs[Pressure]
    return answers.TankColumns(
        pressure=columns[0],
        stored_water=columns[1],
        drawdown=columns[2],
        drawdown_factor=columns[3],
        water_per_pressure=answered.Series(
            unit=f"{volume.unit}/{per.unit}", values=significant(slope * (per.scale / volume.scale)).tolist()
        ),
    )


def site_cautions(request: CautionRequest, context: Context) -> answers.Cautions:
    """The cautions that these facts call for, whichever cylinder is chosen."""
    reading = Reading()
    site = read_site(request, reading)
    reading.close()
    kind = block(request.pump, Pump).kind
    surroundings = read_surroundings(request, site, invented=False, lift_pump=kind != "suction")
    return answers.Cautions(
        cautions=cautions(circumstances.of_site(surroundings, site), context.style),
        assumptions=assumptions(reading.assumed.values(), context.style),
        **envelope(request, context),
    )
