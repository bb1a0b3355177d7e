"""What a tank holds along a fill, and the inverse: the pressure of a volume, the tank for a drawdown."""

import math
from typing import Any, NamedTuple

import numpy as np
from msgspec import UNSET

from upstroke_service.contract import answered, tanks
from upstroke_service.contract.premises import Tank
from upstroke_service.contract.quantities import Pressure, Temperature, WaterVolume
from upstroke_service.contract.requests import TankCurveRequest
from upstroke_service.physics import tank
from upstroke_service.physics.real import Array
from upstroke_service.sizing import ceiling
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.sizing.reserve import LEAST_FACTOR
from upstroke_service.units import significant, significant_number

from .assumed import Reading, block
from .assumptions import assumptions
from .compute import Context, envelope
from .pressures import Premise, read_premise
from .reasons import finding, target_below_storage
from .style import Style

ISOTHERMAL, ADIABATIC = 1.0, 1.4
"""Gas exponents of air between which every fill lies: no change of temperature, and no heat given off."""


class _Limit(NamedTuple):
    """The pressure in Pa that the curve must not pass, and what sets it."""

    pressure: float
    name: str


def read_tank(request: TankCurveRequest, reading: Reading) -> Premise:
    """The tank and its pressures; contradictions are noted, also between them and what is asked."""
    premise = read_premise(request, reading)
    if premise.open:
        reading.contradict(
            "open_tank_curve",
            "/tank/kind",
        )
    elif block(request.tank, Tank).total_volume is not UNSET:
        volume = reading.given(request.stored_volume)
        if volume is not None and volume >= premise.tank_volume:
            reading.contradict(
                "stored_volume",
                "/stored_volume",
                "/tank/total_volume",
            )
    return premise


def tank_curve(request: TankCurveRequest, context: Context) -> tanks.TankCurve:
    """Points of gauge pressure against stored water, and answers to the inverse questions."""
    reading = Reading()
    premise = read_tank(request, reading)
    reading.close()
    style = context.style
    limit = _limit(premise)
    end = max(min(limit.pressure, premise.target), premise.start)
    gas = (premise.tank_volume, premise.precharge, premise.atmospheric_pressure, premise.gas_exponent)
    pressure = np.linspace(premise.start, end, request.points)
    stored = np.asarray(tank.stored_volume(pressure, *gas))
    gained = stored - stored[0]
    slope = np.asarray(tank.storage_per_pressure(pressure, *gas))
    findings = [*_curve_findings(premise, limit, end, style), *_air_findings(premise, style)]
    return tanks.TankCurve(
        curve=_tank_columns(pressure, stored, gained, gained / premise.tank_volume, slope, style),
        start=style.measured(Pressure, premise.start),
        end=style.measured(Pressure, end),
        precharge=style.measured(Pressure, premise.precharge),
        atmospheric_pressure=style.measured(Pressure, premise.atmospheric_pressure),
        usable_drawdown=style.measured(WaterVolume, float(gained[-1])),
        total_volume=style.measured(WaterVolume, premise.tank_volume),
        gas_band=_gas_band(premise, end, float(stored[-1]), style),
        **_at_stored_volume(reading.given(request.stored_volume), premise, limit, findings, style),
        **_for_drawdown(request, premise, end, findings, style),
        findings=findings,
        assumptions=assumptions(reading.assumed.values(), style),
        **envelope(request, context),
    )


def _limit(premise: Premise) -> _Limit:
    acceptance = tank.pressure_at_stored_volume(
        premise.acceptance, 1.0, premise.precharge, premise.atmospheric_pressure, premise.gas_exponent
    )
    limits = {
        "tank_rating": premise.tank_rating,
        "tank_acceptance": float(np.minimum(acceptance, UNLIMITED)),
        "relief_valve": float(ceiling.relief_limit(premise.relief_valve)),
        "highest_known_safe": premise.highest_known_safe,
    }
    name = min(limits, key=lambda one: limits[one])
    return _Limit(limits[name], name)


def _curve_findings(premise: Premise, limit: _Limit, end: float, style: Style) -> list[answered.Finding]:
    """Why the curve stops short, or why a curve to the target stores nothing."""
    begins = max(premise.start, premise.precharge)
    if begins >= premise.target:
        return [target_below_storage(begins, premise.target, style)]
    if end >= premise.target:
        return []
    texts = {
        "end": style.text(Pressure, end),
        "target": style.text(Pressure, premise.target),
        "governing": style.words.say("limit", limit.name),
    }
    return [finding(style, "curve_stops", Pressure, end, premise.target, **texts)]


def _air_findings(premise: Premise, style: Style) -> list[answered.Finding]:
    """What temperature has done to the precharge, and air that is missing."""
    found: list[answered.Finding] = []
    cushion, around = premise.cushion, premise.atmospheric_pressure
    if cushion.temperature != cushion.temperature_when_set:
        when_set = cushion.as_set(around, premise.gas_exponent)
        texts = {
            "set": style.text(Pressure, when_set),
            "before": style.text(Temperature, cushion.temperature_when_set),
            "now": style.text(Temperature, cushion.temperature),
            "precharge": style.text(Pressure, premise.precharge),
        }
        code = "precharge_by_temperature"
        found.append(finding(style, code, Pressure, premise.precharge, when_set, **texts))
    if cushion.found and premise.precharge < 0.0:
        kept = float(
            tank.stored_volume(0.0, premise.tank_volume, premise.precharge, around, premise.gas_exponent)
        )
        water = style.text(WaterVolume, kept)
        found.append(finding(style, "air_short", WaterVolume, kept, None, water=water))
    return found


def _gas_band(premise: Premise, end: float, stored: float, style: Style) -> tanks.GasBand:
    """What a slow and a fast fill make of the same pressures, and of the same water (``stored`` m³)."""
    drawdowns: list[float] = []
    pressures: list[float] = []
    for exponent in (ISOTHERMAL, ADIABATIC):
        around = premise.atmospheric_pressure
        gas = (premise.cushion.precharge(around, exponent), around, exponent)
        factor = tank.drawdown_factor(premise.start, end, *gas)
        drawdowns.append(float(factor) * premise.tank_volume)
        at_stored = tank.pressure_at_stored_volume(stored, premise.tank_volume, *gas)
        # Where nothing is stored, the tank stands where the curve does.
        pressures.append(max(float(at_stored), 0.0) if stored > 0.0 else end)
    slow, fast = drawdowns
    settled, peak = pressures
    text = style.words.say(
        "tank",
        "band",
        start=style.text(Pressure, premise.start),
        end=style.text(Pressure, end),
        slow=style.text(WaterVolume, slow),
        fast=style.text(WaterVolume, fast),
        settled=style.text(Pressure, settled),
        peak=style.text(Pressure, peak),
    )
    return tanks.GasBand(
        text=text,
        gas_exponent=significant_number(premise.gas_exponent),
        slow_drawdown=style.measured(WaterVolume, slow),
        fast_drawdown=style.measured(WaterVolume, fast),
        slow_pressure=style.measured(Pressure, settled),
        fast_pressure=style.measured(Pressure, peak),
    )


def _at_stored_volume(
    volume: float | None, premise: Premise, limit: _Limit, findings: list[answered.Finding], style: Style
) -> dict[str, Any]:
    """The pressure at which the tanks hold ``volume`` m³, with what speaks against it among ``findings``."""
    if volume is None:
        return {}
    total = premise.tank_volume
    text = style.text(WaterVolume, volume)
    if volume >= total:
        texts = {"volume": text, "total": style.text(WaterVolume, total)}
        findings.append(finding(style, "volume_above_tank", WaterVolume, volume, total, **texts))
        return {}
    gas = (premise.precharge, premise.atmospheric_pressure, premise.gas_exponent)
    pressure = max(float(tank.pressure_at_stored_volume(volume, total, *gas)), 0.0)
    most = premise.acceptance * total
    if volume > most:
        texts = {"volume": text, "most": style.text(WaterVolume, most)}
        findings.append(finding(style, "above_acceptance", WaterVolume, volume, most, **texts))
    elif pressure > limit.pressure:
        texts = {
            "volume": text,
            "pressure": style.text(Pressure, pressure),
            "limit": style.text(Pressure, limit.pressure),
            "governing": style.words.say("limit", limit.name),
        }
        findings.append(finding(style, "volume_above_limit", Pressure, pressure, limit.pressure, **texts))
    return {"pressure_at_stored_volume": style.measured(Pressure, pressure)}


def _for_drawdown(
    request: TankCurveRequest, premise: Premise, end: float, findings: list[answered.Finding], style: Style
) -> dict[str, Any]:
    """The tank that gives the drawdown asked for, and how many like this one do."""
    wanted = Reading().given(request.wanted_drawdown)
    if wanted is None:
        return {}
    gas = (premise.precharge, premise.atmospheric_pressure, premise.gas_exponent)
    factor = float(tank.drawdown_factor(premise.start, end, *gas))
    texts = {
        "start": style.text(Pressure, premise.start),
        "end": style.text(Pressure, end),
        "wanted": style.text(WaterVolume, wanted),
    }
    if factor <= LEAST_FACTOR:
        findings.append(finding(style, "no_tank_serves", WaterVolume, 0.0, wanted, **texts))
        return {}
    total = float(tank.total_volume_for_drawdown(wanted, premise.start, end, *gas))
    usable = factor * premise.tank_volume
    if usable < wanted * (1.0 - 1e-9):
        texts |= {"usable": style.text(WaterVolume, usable), "total": style.text(WaterVolume, total)}
        findings.append(finding(style, "drawdown_short", WaterVolume, usable, wanted, **texts))
    count = block(request.tank, Tank).count
    each = premise.tank_volume / (1 if count is UNSET else count)
    return {
        "total_volume_for_drawdown": style.measured(WaterVolume, total),
        "tanks_for_drawdown": math.ceil(total / each * (1.0 - 1e-9)),
    }


def _tank_columns(
    pressure: Array, stored: Array, gained: Array, factor: Array, slope: Array, style: Style
) -> tanks.TankColumns:
    columns = style.series(
        [(Pressure, pressure), (WaterVolume, stored), (WaterVolume, gained), (None, factor)]
    )
    volume, per = style.outputs[WaterVolume], style.outputs[Pressure]
    return tanks.TankColumns(
        pressure=columns[0],
        stored_water=columns[1],
        drawdown=columns[2],
        drawdown_factor=columns[3],
        water_per_pressure=answered.Series(
            unit=f"{volume.unit}/{per.unit}", values=significant(slope * (per.scale / volume.scale)).tolist()
        ),
    )
