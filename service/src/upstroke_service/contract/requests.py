"""The requests: which blocks of facts each calculation takes."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .cylinders import Selection
from .facts import Block, Conduit, MeasuredWell, Pump, Well
from .premises import Needs, Operator, Premises, Pressures, Tank
from .quantities import Volume

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
    stored_volume: (
        Annotated[
            Volume,
            Meta(description="Asks: at which pressure do the tanks together hold this much water?"),
        ]
        | UnsetType
    ) = UNSET
    wanted_drawdown: (
        Annotated[
            Volume,
            Meta(
                description="Asks: which total volume gives this drawdown between the curve's start and its end?"
            ),
        ]
        | UnsetType
    ) = UNSET
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


class HookupRequest(SiteRequest, frozen=True, kw_only=True):
    """The facts of a site, for the ways to connect that it allows."""


class WaterNeedRequest(SiteRequest, frozen=True, kw_only=True):
    """Who and what needs water, and the site that should give it."""

    needs: Needs | UnsetType = UNSET
    selection: Selection | UnsetType = UNSET


class SizingRequest(SiteRequest, frozen=True, kw_only=True):
    """A quote form's facts: everything that is known, and nothing that is not."""

    needs: Needs | UnsetType = UNSET
    selection: Selection | UnsetType = UNSET
    points: CurvePoints = 51
