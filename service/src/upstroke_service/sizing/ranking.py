"""The order in which candidates are offered.

By stated criteria, in this order, each breaking the ties of the one before:

1. outcome: fits, fits with limits, does not fit;
2. water: the one that stores more (all that fit store the same);
3. lift margin: at least a tenth of the rated lift to spare before less (wear, a falling water level);
4. hand force: within what people repeat all day, before within their limit for short work;
5. minutes: the shorter fill;
6. hand force, then the order of their names, so that the order of a catalogue changes nothing.
"""

import numpy as np

from upstroke_service.physics.real import Indices

from .assessment import Assessment

COMFORTABLE_HAND_FORCE = 100.0
"""Hand force in N that can be repeated often. Common practice, no source (ergonomic tables give
90 to 100 N)."""

COMFORTABLE_MARGIN = 0.1
"""Share of the rated lift that should be left over. Common practice, no source."""


def order(found: Assessment) -> Indices:
    """Indices of the candidates, best first, along the candidates' axis; shape (sites, candidates)."""
    names = np.arange(found.outcome.shape[-2], dtype=np.float64)
    force = np.asarray(found.at_end.hand_force)[..., 0]
    volume = found.fill.volume[..., 0]
    spare = np.asarray(found.budget.margin - COMFORTABLE_MARGIN * found.budget.rated_lift)[..., 0]
    keys = (
        names,
        force,
        found.fill.seconds[..., 0],
        force > COMFORTABLE_HAND_FORCE,
        spare < 0.0,
        # Volumes that differ by rounding alone are the same.
        -np.round(volume / np.maximum(volume.max(axis=-1, keepdims=True), 1e-12), 6),
        found.outcome[..., 0],
    )
    return np.lexsort(np.broadcast_arrays(*keys))
