"""Batches: one sizing request a line in, one result or one problem a line out."""

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

from .answered import Answered
from .answers import Sizing
from .description import about
from .problems import Problem
from .quantities import HandForce, Head, Minutes, Pressure, WaterVolume

Detail = Literal["compact", "full"]
"""How much each line of a batch is answered with."""

Line = Annotated[int, about("Number of the line in the body, from 1; blank lines and defaults count.")]
Reference = Annotated[str, about("The caller's own reference, as sent in the line.")]


class CompactSizing(Answered, frozen=True, kw_only=True):
    """A sizing without sentences, questions and curves: what a register of many wells needs of each.

    Every figure is the recommended cylinder's and the same as in the full answer. Where nothing fits there is no
    fill, and margin, limit and findings are those of the nearest cylinder.
    """

    verdict: Annotated[
        Literal["fits", "fits_with_limits", "nothing_fits", "needs_facts"],
        about("'needs_facts': no honest answer without the depth to the water, and no figures."),
    ]
    recommended: Annotated[str, about("Id of the recommended cylinder.")] | UnsetType = UNSET
    nearest: (
        Annotated[str, about("Id of the cylinder that comes nearest, where nothing fits.")] | UnsetType
    ) = UNSET
    governed_by: Annotated[str, about("What sets its ceiling or rules it out.")] | UnsetType = UNSET
    lift_margin: (
        Annotated[Head, about("Rated lift less total head at the target; negative: too much head.")]
        | UnsetType
    ) = UNSET
    end: (
        Annotated[Pressure, about("Gauge pressure at which a fill ends: the target, or a limit before it.")]
        | UnsetType
    ) = UNSET
    strokes: Annotated[float, about("Full cycles of the handle for a fill.")] | UnsetType = UNSET
    time: Annotated[Minutes, about("Time of a fill, rests included.")] | UnsetType = UNSET
    hand_force: Annotated[HandForce, about("Peak force at the grip at the end of a fill.")] | UnsetType = (
        UNSET
    )
    water: Annotated[WaterVolume, about("Water stored by a fill.")] | UnsetType = UNSET
    reserve: (
        Annotated[
            WaterVolume,
            about(
                "The part of it above the pressure that the least demanding fixture needs; of an open tank all of it."
            ),
        ]
        | UnsetType
    ) = UNSET
    assumed: Annotated[list[str], about("JSON Pointers of the facts that were assumed.")]
    findings: Annotated[list[str], about("Codes of the reasons for or against the cylinder.")]
    cautions: Annotated[list[str], about("Codes of the cautions, worst first.")]


class SizedLine(Answered, frozen=True, kw_only=True):
    """A line that was sized."""

    line: Line
    client_reference: Reference | UnsetType = UNSET
    result: CompactSizing


class SizedLineInFull(Answered, frozen=True, kw_only=True):
    """A line that was sized, answered in full."""

    line: Line
    client_reference: Reference | UnsetType = UNSET
    result: Sizing


class RefusedLine(Answered, frozen=True, kw_only=True):
    """A line that could not be sized; the others are."""

    line: Line
    client_reference: Reference | UnsetType = UNSET
    problem: Problem


class BatchCounts(Answered, frozen=True, kw_only=True):
    """What became of the lines of a batch."""

    sized: Annotated[int, about("Lines answered with a result.")]
    refused: Annotated[int, about("Lines answered with a problem.")]


class BatchEnd(Answered, frozen=True, kw_only=True):
    """The last line: without it the answer is cut off."""

    end: BatchCounts
    model_version: Annotated[str, about("Version of the models and their coefficients.")]
    scope: Annotated[str, about("What these answers are, and what they are not.")]
