"""The order in which candidates are offered.

By stated criteria, in this order, each breaking the ties of the one before:

1. outcome: fits, fits with limits, does not fit;
2. water: the one that stores more (all that fit store the same);
3. lift margin: at least a tenth of the rated lift to spare before less (wear, a falling water level);
4. hand force: within what people repeat often, before within their limit for short work;
5. wear: a rod that falls by itself, before one that has to be pushed down and bows against the drop pipe;
6. minutes: the shorter fill;
7. hand force, then the order of their names, so that the order of a catalogue changes nothing.
"""

import numpy as np

from upstroke_service.physics.real import Indices

from .assessment import Assessment
from .facts import Flags

COMFORTABLE_MARGIN = 0.1
"""Share of the rated lift that should be left over. Common practice, no source."""


def pushed(found: Assessment) -> Flags:
    """Whether a lift pump's rod has to be pushed down at the end of the fill."""
    return ~found.op.lineup.suction & (np.asarray(found.at_end.return_force) > 0.0)


def order(found: Assessment) -> Indices:
    """Indices of the candidates, best first, along the candidates' axis; shape (sites, candidates)."""
    names = np.arange(found.outcome.shape[-2], dtype=np.float64)
    force = np.asarray(found.at_end.hand_force)
    volume = found.fill.volume[..., 0]
    spare = np.asarray(found.budget.margin - COMFORTABLE_MARGIN * found.budget.rated_lift)[..., 0]
    keys = (
        names,
        force[..., 0],
        found.fill.seconds[..., 0],
        pushed(found)[..., 0],
        (force > found.op.site.comfortable_hand_force)[..., 0],
        spare < 0.0,
        # Volumes that differ by rounding alone are the same.
        -np.round(volume / np.maximum(volume.max(axis=-1, keepdims=True), 1e-12), 6),
        found.outcome[..., 0],
    )
    return np.lexsort(np.broadcast_arrays(*keys))
