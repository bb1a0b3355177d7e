"""Presenting what does not depend on a request: catalogues, units, defaults, operators."""

from typing import Any, Final

from msgspec import UNSET, UnsetType

from upstroke_service.catalogue.model import Catalogue, CatalogueCylinder
from upstroke_service.contract import listings
from upstroke_service.contract.answered import Source
from upstroke_service.contract.quantities import (
    INPUTS,
    OUTPUTS,
    Exertion,
    HandForce,
    Head,
    Minutes,
    Size,
    StrokeRate,
)
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.reference.operators import PROFILES, OperatorProfile
from upstroke_service.reference.sources import source
from upstroke_service.sizing import defaults
from upstroke_service.sizing.defaults import Stated
from upstroke_service.units import UNITS

from .assumed import Assumed, Reading
from .assumptions import KINDS, describe
from .bounds import BOUNDS
from .compute import Context
from .lineups import Catalogues
from .operators import DEFAULT_PROFILE
from .style import Style
from .translate import read_site


def catalogue_list(context: Context) -> listings.CatalogueList:
    """Every catalogue of this deployment."""
    catalogues = context.catalogues
    listed = [listings.CatalogueSummary(**_summary(catalogues, one)) for one in catalogues.by_name.values()]
    return listings.CatalogueList(catalogues=listed)


def _summary(catalogues: Catalogues, catalogue: Catalogue) -> dict[str, Any]:
    return {
        "name": catalogue.name,
        "title": catalogue.title,
        "invented": catalogue.invented,
        "notice": catalogue.notice,
        "digest": catalogue.digest,
        "default": catalogue.name == catalogues.default,
    }


def catalogue_detail(context: Context, name: str) -> listings.CatalogueDetail:
    """One catalogue with its cylinders. Raises KeyError where this deployment has no such catalogue."""
    catalogue = context.catalogues.by_name[name]
    cylinders = [_cylinder(one, context.style) for one in catalogue.cylinders]
    return listings.CatalogueDetail(cylinders=cylinders, **_summary(context.catalogues, catalogue))


def _cylinder(one: CatalogueCylinder, style: Style) -> listings.CylinderListing:
    sizes = (
        "bore", "stroke", "outside_diameter", "rod_diameter", "drop_pipe_inside_diameter", "weep_hole_diameter",
    )  # fmt: skip
    return listings.CylinderListing(
        id=one.id,
        name=one.name,
        kind=one.kind,
        rated_lift=style.measured(Head, one.rated_lift),
        seal_drag=style.measured(HandForce, one.seal_drag),
        volumetric_efficiency=one.volumetric_efficiency,
        handle_ratio=one.handle_ratio,
        rod_material=one.rod_material,
        drop_pipe_material=one.drop_pipe_material,
        **{name: style.measured(Size, getattr(one, name)) for name in sizes},
    )


def unit_list(_: Context) -> listings.UnitList:
    """Units, the bounds of inputs, and the units of listings."""
    return listings.UnitList(
        dimensions=[
            listings.DimensionEntry(
                dimension=dimension,
                si_unit=next(iter(units)),
                units=[
                    listings.UnitEntry(unit=name, scale=unit.scale, offset=unit.offset)
                    for name, unit in units.items()
                ],
            )
            for dimension, units in UNITS.items()
        ],
        inputs=[
            listings.InputEntry(
                name=kind.__name__,
                dimension=kind.dimension,
                unit=unit,
                lowest=bounds.lowest,
                highest=bounds.highest,
            )
            for kind in INPUTS
            for unit, bounds in BOUNDS[kind].items()
        ],
        outputs=[
            listings.OutputEntry(
                name=kind.__name__, dimension=kind.dimension, us=kind.units[0], si=kind.units[1]
            )
            for kind in OUTPUTS
        ],
    )


def default_list(context: Context) -> listings.DefaultList:
    """Every default, with the value that a request without any facts would get."""
    reading = Reading()
    read_site(SizingRequest(), reading)
    return listings.DefaultList(
        defaults=[
            _default(row, reading.assumed.get(row.field), context.style) for row in defaults.table().values()
        ]
    )


def _default(row: defaults.Default, assumed: Assumed | None, style: Style) -> listings.DefaultEntry:
    if assumed is None:
        plain = isinstance(row.value, Stated | float | int)
        assumed = Assumed(row.field, row.field, defaults.number(row.field) if plain else None)
    kind = KINDS.get(row.field)

    def bound(stated: Stated | float | None) -> float | UnsetType:
        if stated is None:
            return UNSET
        if isinstance(stated, Stated):
            return style.number(KINDS[row.field], stated.si)
        return stated

    low, high = bound(row.low), bound(row.high)
    return listings.DefaultEntry(
        field=row.field,
        text=describe(assumed, style),
        basis=_source(row.source),
        low=low,
        high=high,
        unit=style.unit(kind) if kind and low is not UNSET else UNSET,
    )


def _source(key: str) -> Source:
    return Source(key=key, citation=source(key).citation)


_FIGURES: Final = {
    "power_at_fifteen_minutes": "sustained_power",
    "hand_force_limit": "hand_force_limit",
    "repeated_hand_force": "repeated_hand_force",
    "strokes_per_minute": "cadence",
    "longest_session": "session",
}
"""Field of the listing that shows a figure of a profile, named as in a request where it can be stated."""


def operator_list(context: Context) -> listings.OperatorList:
    """Every profile of an operator."""
    return listings.OperatorList(
        operators=[_operator(name, one, context.style) for name, one in PROFILES.items()]
    )


def _operator(name: str, one: OperatorProfile, style: Style) -> listings.OperatorEntry:
    say = style.words.say
    basis = [
        listings.FigureBasis(
            figure=_FIGURES[figure],
            text=say(f"operator_basis.{name}", figure),
            sources=[_source(key) for key in stated.sources],
        )
        for figure, stated in one.figures()
    ]
    return listings.OperatorEntry(
        profile=name,
        name=say("operator", name),
        description=say("operator_about", name),
        default=name == DEFAULT_PROFILE,
        sustained_power=style.measured(Exertion, one.power_at_fifteen_minutes.value),
        hand_force_limit=style.measured(HandForce, one.hand_force_limit.value),
        repeated_hand_force=style.measured(HandForce, one.repeated_hand_force.value),
        cadence=style.measured(StrokeRate, one.cadence),
        session=style.measured(Minutes, one.longest_session.value),
        basis=basis,
    )
