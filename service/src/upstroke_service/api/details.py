"""Presenting what stands behind a cylinder's figures: inertia, stretch, suction head, sessions."""

from typing import Any, NamedTuple

import numpy as np
from msgspec import UNSET, UnsetType

from upstroke_service.catalogue.model import CatalogueCylinder
from upstroke_service.contract import details
from upstroke_service.contract.answered import Finding
from upstroke_service.contract.quantities import (
    FlowRate,
    FoodEnergy,
    HandForce,
    Head,
    Minutes,
    Pressure,
    Size,
    StrokeVolume,
    WaterVolume,
)
from upstroke_service.physics import operator
from upstroke_service.physics.real import Real
from upstroke_service.reference.materials import ROD_MATERIALS
from upstroke_service.sizing import remedies, sessions, storage
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.facts import UNLIMITED, Site
from upstroke_service.sizing.remedies import Materials
from upstroke_service.units import significant_number

from .reasons import NOTABLE_STRETCH, finding
from .style import Kind, Style


class Details(NamedTuple):
    """What stands behind one candidate's figures."""

    inertia: details.Inertia
    stretch: details.Stretch
    suction: details.SuctionHead | UnsetType
    sessions: details.SessionPlan


def explain(
    found: Assessment, site: Site, place: int, cylinder: CatalogueCylinder, style: Style, *, advise: bool
) -> Details:
    """The details of the candidate at ``place`` of a single ``site``; with ``advise`` what would help too."""
    return Details(
        inertia=_inertia(found, site, place, style, advise=advise),
        stretch=_stretch(found, site, place, cylinder, style, advise=advise),
        suction=_suction(found, place, style) if cylinder.kind == "suction" else UNSET,
        sessions=_sessions(found, site, place, style),
    )


def _at(found: Assessment, value: Real, place: int) -> float:
    return float(np.broadcast_to(value, found.outcome.shape).reshape(-1)[place])


def _measured(found: Assessment, place: int, style: Style, columns: dict[str, tuple[Kind, Real]]) -> Any:
    return {name: style.measured(kind, _at(found, value, place)) for name, (kind, value) in columns.items()}


def _inertia(found: Assessment, site: Site, place: int, style: Style, *, advise: bool) -> details.Inertia:
    moving = found.moving
    governs = remedies.governs(found, place)
    return details.Inertia(
        governs=governs,
        remedies=_remedies(found, site, place, style) if governs and advise else [],
        **_measured(
            found,
            place,
            style,
            {
                "drop_pipe_head": (Head, moving.riser_head),
                "conduit_head": (Head, moving.conduit_head),
                "hydraulic_institute_head": (Head, moving.by_institute),
                "hand_force": (HandForce, moving.force),
            },
        ),
    )


def _remedies(found: Assessment, site: Site, place: int, style: Style) -> list[details.Remedy]:
    """Each remedy that takes force away at the pressure where the fill ends."""
    end = _at(found, found.fill.end, place)
    force = _at(found, found.at_end.hand_force, place)
    changed = remedies.without_inertia(site, remedies.only(found.op.lineup, place), end)
    listed: list[details.Remedy] = []
    for code, less, ceiling in zip(
        remedies.REMEDIES, changed.hand_force.tolist(), changed.ceiling.tolist(), strict=True
    ):
        if less >= force * (1.0 - 1e-6) or (code == "larger_hose" and not site.runs):
            continue
        text = style.words.say(
            "remedy",
            code,
            force=style.text(HandForce, less),
            before=style.text(HandForce, force),
            pressure=style.text(Pressure, float(storage.shown(site, end))),
            ceiling=style.text(Pressure, max(ceiling, 0.0)),
            cadence=f"{60.0 * remedies.SLOWER * float(site.cadence):.0f}",
        )
        listed.append(
            details.Remedy(
                code=code,
                text=text,
                hand_force=style.measured(HandForce, less),
                ceiling=style.measured(Pressure, ceiling),
            )
        )
    return listed


def _stretch(
    found: Assessment, site: Site, place: int, cylinder: CatalogueCylinder, style: Style, *, advise: bool
) -> details.Stretch:
    delivery = found.delivery
    full = _at(found, found.op.stroke, place)
    share = _at(found, delivery.stroke, place) / full
    compare = advise and cylinder.kind == "lift" and share < 1.0 - NOTABLE_STRETCH
    return details.Stretch(
        share=significant_number(share),
        choices=_choices(found, site, place, cylinder, style) if compare else [],
        **_measured(
            found,
            place,
            style,
            {
                "rod": (Size, delivery.rod_stretch),
                "drop_pipe": (Size, delivery.pipe_stretch),
                "effective_stroke": (Size, delivery.stroke),
                "weep_hole_loss": (StrokeVolume, delivery.leak),
            },
        ),
    )


def _choices(
    found: Assessment, site: Site, place: int, cylinder: CatalogueCylinder, style: Style
) -> list[details.MaterialChoice]:
    """The pump as it is, then with each other material of rod or drop pipe."""
    known: dict[str, Materials] = {
        name: (name, row.youngs_modulus, row.poisson_ratio) for name, row in ROD_MATERIALS.items()
    }
    rod: Materials = (cylinder.rod_material, cylinder.rod_modulus, 0.3)
    pipe: Materials = (
        cylinder.drop_pipe_material,
        cylinder.drop_pipe_modulus,
        cylinder.drop_pipe_poisson_ratio,
    )
    pairs = [(rod, pipe)]
    pairs += [(rod, other) for name, other in known.items() if name != pipe[0]]
    # Rods of PVC are for shallow wells: nobody would choose one against stretch.
    pairs += [(other, pipe) for name, other in known.items() if name not in {rod[0], "pvc"}]
    lineup = remedies.only(found.op.lineup, place)
    strokes = remedies.stroke_left(site, lineup, [one for one, _ in pairs], [other for _, other in pairs])
    full = _at(found, found.op.stroke, place)
    return [
        details.MaterialChoice(
            rod_material=one[0],
            drop_pipe_material=other[0],
            effective_stroke=style.measured(Size, stroke),
            share=significant_number(stroke / full),
        )
        for (one, other), stroke in zip(pairs, strokes.tolist(), strict=True)
    ]


def _suction(found: Assessment, place: int, style: Style) -> details.SuctionHead:
    npsh = found.npsh
    lines = ("atmospheric_head", "vapour_head", "suction_lift", "friction", "acceleration_head")
    columns: dict[str, tuple[Kind, Real]] = {name: (Head, getattr(npsh, name)) for name in lines}
    columns |= {
        "available": (Head, npsh.available),
        "required": (Head, npsh.required),
        "margin": (Head, npsh.margin),
        "greatest_suction_lift": (Head, found.suction_limit),
    }
    return details.SuctionHead(**_measured(found, place, style, columns))


def _sessions(found: Assessment, site: Site, place: int, style: Style) -> details.SessionPlan:
    fill = found.fill.of(slice(place, place + 1))
    well_volume = _at(found, found.well_volume, place)
    plan = sessions.plan(site, fill, float(site.session), well_volume, float(site.sustained_yield))
    pressure, time, water, strokes, burnt = style.series(
        [
            (Pressure, np.asarray(storage.shown(site, plan.pressure))),
            (Minutes, plan.seconds),
            (WaterVolume, plan.volume),
            (None, plan.strokes),
            (FoodEnergy, np.asarray(operator.body_energy(plan.work, operator.GROSS_EFFICIENCY))),
        ]
    )
    seconds = float(fill.seconds.item())
    flow = float(fill.volume.item()) / seconds if seconds > 0.0 else 0.0
    limited = well_volume < UNLIMITED
    return details.SessionPlan(
        count=plan.count,
        people=int(site.people),
        longest=style.measured(Minutes, float(site.session)),
        sessions=details.SessionColumns(
            pressure=pressure, strokes=strokes, time=time, water=water, body_energy=burnt
        ),
        findings=_session_findings(plan, site, well_volume, style),
        well_recovery=style.measured(Minutes, plan.recovery) if limited else UNSET,
        well_volume=style.measured(WaterVolume, well_volume) if limited else UNSET,
        flow=style.measured(FlowRate, flow),
    )


def _session_findings(plan: sessions.Plan, site: Site, well_volume: float, style: Style) -> list[Finding]:
    if plan.count == 1:
        return []
    count = f"{plan.count:,}"
    if plan.by_well:
        texts = {"water": style.text(WaterVolume, well_volume), "recovery": style.duration(plan.recovery)}
        return [finding(style, "sessions_by_well", WaterVolume, well_volume, None, count=count, **texts)]
    session, people, each = float(site.session), int(site.people), float(plan.seconds.max())
    texts = {"longest": style.duration(session), "each": style.duration(each)}
    if people == 1:
        return [finding(style, "sessions", Minutes, each, session, count=count, **texts)]
    texts |= {"people": str(people), "turn": style.duration(each / people)}
    return [finding(style, "sessions_in_turns", Minutes, each, session, count=count, **texts)]
