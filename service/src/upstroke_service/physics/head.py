"""Head and pressure."""

from .real import Real


def pressure_head(pressure: Real, specific_weight: Real) -> Real:
    """Head p/γ in m of water that a gauge ``pressure`` in Pa stands for; ``specific_weight`` in N/m³.

    One psi is about 2.31 ft of cold water.

    Source: hydrostatics.
    """
    return pressure / specific_weight


def head_pressure(head: Real, specific_weight: Real) -> Real:
    """Gauge pressure γ·h in Pa of a ``head`` in m of water; ``specific_weight`` in N/m³.

    Source: hydrostatics.
    """
    return head * specific_weight
