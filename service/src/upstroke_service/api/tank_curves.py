"""What a tank holds along a fill."""

import numpy as np

from upstroke_service.contract import answered, tanks
from upstroke_service.contract.facts import Well
from upstroke_service.contract.quantities import Pressure, WaterVolume
from upstroke_service.contract.requests import TankCurveRequest
from upstroke_service.physics import tank
from upstroke_service.physics.real import Array
from upstroke_service.sizing import ceiling
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.units import significant

from .assumed import Reading, block
from .assumptions import assumptions
from .compute import Context, envelope
from .pressures import read_premise
from .reasons import finding
from .style import Style
from .translate import read_water


def tank_curve(request: TankCurveRequest, context: Context) -> tanks.TankCurve:
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
    return tanks.TankCurve(
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
