"""Sweeps over the whole valid range against independent libraries and independent numerics."""

import collections
import math

import numpy as np
import pytest
from scipy.integrate import quad
from tests.physics.comparisons import GALLON, PSI, SEA_LEVEL
from tests.physics.computed import COMPUTED
from tests.physics.sweeps import SWEEPS, Sweep, run

from upstroke_service.physics import fill, friction, tank, weep_hole
from upstroke_service.physics.real import Real


@pytest.mark.parametrize("sweep", SWEEPS, ids=lambda sweep: f"{sweep.quantity}: {sweep.id}")
def test_the_physics_agrees_with_an_independent_reference_at_every_point(sweep: Sweep) -> None:
    found = run(sweep)
    assert found.points >= 3
    assert found.share_of_tolerance <= 1.0, (
        f"{sweep.quantity} differs from {sweep.reference} by up to {found.largest_difference:.2g}, "
        f"{found.share_of_tolerance:.3g} of the tolerance"
    )


def test_every_sweep_has_an_id_of_its_own_and_a_reason_for_its_tolerance() -> None:
    counted = collections.Counter(sweep.id for sweep in SWEEPS)
    assert [identifier for identifier, times in counted.items() if times > 1] == []
    assert [sweep.id for sweep in SWEEPS if not sweep.why_tolerance] == []


def test_what_is_swept_has_check_values_too() -> None:
    checked = {".".join(name.split(".")[:2]) for name in COMPUTED}
    assert [sweep.quantity for sweep in SWEEPS if sweep.quantity not in checked] == []


def test_compressing_a_cushion_below_its_precharge_takes_no_work() -> None:
    assert tank.gas_work(0.0, 20.0 * PSI, 20.0 * GALLON, 28.0 * PSI, SEA_LEVEL) == 0.0


@pytest.mark.parametrize("ratio", [0.1, 0.2, 0.3, 0.5, 0.8])
def test_hydraulic_diameter_understates_laminar_flow_around_a_rod_by_a_known_share(ratio: float) -> None:
    # Exact: Q = π Δp R⁴/(8 µ L)·[1 − k⁴ − (1 − k²)²/ln(1/k)], k the rod's share of the diameter.
    flow, inside, length, density, viscosity = 1e-6, 0.03, 10.0, 999.1, 1.1376e-3
    shape = 1.0 - ratio**4 - (1.0 - ratio**2) ** 2 / math.log(1.0 / ratio)
    drop = 8.0 * viscosity * length * flow / (math.pi * (inside / 2.0) ** 4 * shape)
    area, hydraulic = friction.annulus(inside, ratio * inside)
    model = friction.head_loss(flow, area, hydraulic, length, 0.0, density, viscosity)
    exact = drop / (density * 9.80665)
    assert 1.39 < exact / model < 1.51


class TestPanels:
    def test_panels_integrate_across_a_kink_that_lies_on_an_edge(self) -> None:
        nodes, weights = fill.panels(np.array([0.0, 2.0, 5.0]), 8)
        reference, _ = quad(lambda value: math.exp(-value), 2.0, 5.0, epsrel=1e-13)
        assert reference == pytest.approx(
            np.sum(weights * np.where(nodes < 2.0, 0.0, np.exp(-nodes))), rel=1e-9
        )

    @pytest.mark.parametrize("order", [2, 4, 6, 12])
    def test_panels_are_exact_for_the_degree_of_their_order(self, order: int) -> None:
        degree = 2 * order - 1
        nodes, weights = fill.panels(np.array([0.0, 0.7, 1.0, 3.0]), order)
        assert 3.0 ** (degree + 1) / (degree + 1) == pytest.approx(np.sum(weights * nodes**degree), rel=1e-12)

    def test_strokes_to_fill_a_tank_are_the_integral_of_storage_over_net_delivery(self) -> None:
        volume, precharge = 20.0 * GALLON, 28.0 * PSI

        def strokes_per_pascal(pressure: Real) -> Real:
            leak = weep_hole.discharge(pressure, 1.5875e-3, 0.7, 999.7)
            return tank.storage_per_pressure(pressure, volume, precharge, SEA_LEVEL) / (250e-6 - 0.75 * leak)

        nodes, weights = fill.panels(np.array([28.0, 50.0]) * PSI, 6)
        reference, _ = quad(strokes_per_pascal, 28.0 * PSI, 50.0 * PSI, epsrel=1e-12)
        assert reference == pytest.approx(np.sum(weights * strokes_per_pascal(nodes)), rel=1e-7)
