"""A published Hazen-Williams table beside the Darcy-Weisbach model: how far apart, and which way."""

from typing import Any

import numpy as np
import pytest
from tests.physics.published_values import comparison, to_si

from upstroke_service.physics import friction, water

TABLE = comparison("hazen_williams")
PIPES = pytest.mark.parametrize("pipe", TABLE["pipe"], ids=[pipe["nominal"] for pipe in TABLE["pipe"]])
BANDS = pytest.mark.parametrize("band", TABLE["band"], ids=["mean-flows", "peak-flows"])


def darcy_loss_ft(flow_gpm: float, inside_diameter_in: float) -> float:
    diameter = to_si(inside_diameter_in, "in")
    temperature = to_si(TABLE["temperature_deg_f"], "degF")
    loss = friction.head_loss(
        to_si(flow_gpm, "gpm"),
        friction.circular_area(diameter),
        diameter,
        to_si(TABLE["length_ft"], "ft"),
        to_si(TABLE["roughness_um"], "um"),
        water.density(temperature),
        water.dynamic_viscosity(temperature),
    )
    return float(loss) / to_si(1.0, "ft")


@PIPES
def test_the_table_is_the_hazen_williams_formula(pipe: dict[str, Any]) -> None:
    # h/L = 4.52·Q^1.852/(C^1.852·d^4.87) psi/ft, in feet of water per 100 ft.
    flows, losses = np.array(pipe["rows"]).T
    formula = (
        0.2083 * (100.0 / TABLE["coefficient"]) ** 1.852 * flows**1.852 / pipe["inside_diameter_in"] ** 4.8655
    )
    assert losses == pytest.approx(formula, rel=pipe["formula_tolerance"], abs=0.005)


@PIPES
def test_the_table_is_below_the_model_at_every_flow(pipe: dict[str, Any]) -> None:
    for flow, loss in pipe["rows"]:
        assert loss < darcy_loss_ft(flow, pipe["inside_diameter_in"])


@BANDS
def test_the_table_is_low_by_the_documented_share(band: dict[str, Any]) -> None:
    slowest, fastest = band["flows_gpm"]
    shares = [
        loss / darcy_loss_ft(flow, pipe["inside_diameter_in"])
        for pipe in TABLE["pipe"]
        for flow, loss in pipe["rows"]
        if slowest <= flow <= fastest
    ]
    assert band["share"] == pytest.approx([min(shares), max(shares)], abs=0.005)
