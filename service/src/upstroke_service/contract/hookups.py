"""The answer to how a hand pump may be joined to a household's water."""

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

from .answered import Assumption
from .answers import Envelope, Question
from .description import about
from .hookup_ways import HookupPlan, RefusedHookup
from .quantities import Pressure


class Hookups(Envelope, frozen=True, kw_only=True):
    """The ways to join a hand pump that these facts allow, best first, and those that must not be used."""

    verdict: Annotated[
        Literal["advised", "possible_with_conditions", "nothing_advised"], about("That of the best way.")
    ]
    summary: Annotated[str, about("The verdict in a sentence or two.")]
    stop: (
        Annotated[
            Pressure,
            about(
                "Gauge pressure at which to stop pumping: the target, or what tank, relief valve, hose and supply are "
                "known to stand if that is less. Left out for open tanks, and where nothing is advised."
            ),
        ]
        | UnsetType
    ) = UNSET
    ways: Annotated[
        list[HookupPlan],
        about("Best first: advised, not far, the safer kind, fewer conditions, nearer, lower."),
    ]
    refused: Annotated[list[RefusedHookup], about("Ways that are never advised here, and why.")]
    questions: Annotated[list[Question], about("What to ask next, the most useful first.")]
    assumptions: list[Assumption]
