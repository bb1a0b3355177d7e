"""The requests: which blocks of facts each calculation takes."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .facts import Block, Conduit, MeasuredWell, Operator, Premises, Pressures, Pump, Selection, Tank, Well

ClientReference = Annotated[
    str,
    Meta(
        max_length=64,
        description="The caller's own reference, echoed in the answer and not part of the calculation. "
        "Leave personal data out of it.",
    ),
]
CurvePoints = Annotated[int, Meta(ge=2, le=200, description="Number of points along a curve.")]


class TankCurveRequest(Block, frozen=True, kw_only=True):
    """A pressure tank and the pressures between which it is filled."""

    client_reference: ClientReference | UnsetType = UNSET
    well: Annotated[Well, Meta(description="For the site's elevation.")] | UnsetType = UNSET
    tank: Tank | UnsetType = UNSET
    pressures: Pressures | UnsetType = UNSET
    site: Annotated[Premises, Meta(description="For the supply's pressures.")] | UnsetType = UNSET
    points: CurvePoints = 21


class SiteRequest(Block, frozen=True, kw_only=True):
    """All the facts of a site; every block may be left out."""

    client_reference: ClientReference | UnsetType = UNSET
    well: Well | UnsetType = UNSET
    pump: Pump | UnsetType = UNSET
    conduit: Conduit | UnsetType = UNSET
    tank: Tank | UnsetType = UNSET
    pressures: Pressures | UnsetType = UNSET
    operator: Operator | UnsetType = UNSET
    site: Premises | UnsetType = UNSET


class CautionRequest(SiteRequest, frozen=True, kw_only=True):
    """The facts of a site, for the cautions that they call for."""


class LiftBudgetRequest(SiteRequest, frozen=True, kw_only=True):
    """The facts of a site and the cylinders whose lift budget is wanted."""

    well: MeasuredWell  # pyright: ignore[reportGeneralTypeIssues] - required here
    selection: Selection | UnsetType = UNSET


class StrokeEstimateRequest(SiteRequest, frozen=True, kw_only=True):
    """The facts of a site and the cylinders whose strokes, minutes and forces are wanted."""

    well: MeasuredWell  # pyright: ignore[reportGeneralTypeIssues] - required here
    selection: Selection | UnsetType = UNSET
    points: CurvePoints = 11


class SizingRequest(SiteRequest, frozen=True, kw_only=True):
    """A quote form's facts: everything that is known, and nothing that is not."""

    selection: Selection | UnsetType = UNSET
    points: CurvePoints = 51
