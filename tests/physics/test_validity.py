"""Outside its range a model refuses; inside, up to the limits, it answers."""

from collections.abc import Callable

import numpy as np
import pytest

from upstroke_service.physics import atmosphere, operator, suction, water
from upstroke_service.physics.errors import OutsideValidity, require_within
from upstroke_service.physics.real import Real

WATER = (water.density, water.dynamic_viscosity, water.saturation_pressure, water.specific_weight)
Model = Callable[[Real], Real]


def at_sea_level(temperature: Real) -> Real:
    return suction.barometric_head(0.0, temperature)


def lift_at_sea_level(temperature: Real) -> Real:
    return suction.practical_suction_lift(0.0, temperature)


def in_cold_water(elevation: Real) -> Real:
    return suction.barometric_head(elevation, 283.15)


def lift_in_cold_water(elevation: Real) -> Real:
    return suction.practical_suction_lift(elevation, 283.15)


LIMITS: list[tuple[Model, str, float, float]] = [
    *((model, "water temperature", 273.15, 313.15) for model in (*WATER, at_sea_level, lift_at_sea_level)),
    *(
        (model, "site elevation", -400.0, 5_000.0)
        for model in (atmosphere.pressure, in_cold_water, lift_in_cold_water)
    ),
    (operator.krendel_power, "duration", 60.0, 28_800.0),
]
EVERY_MODEL = pytest.mark.parametrize(
    ("model", "quantity", "lowest", "highest"), LIMITS, ids=[row[0].__name__ for row in LIMITS]
)


@EVERY_MODEL
def test_a_model_answers_at_its_limits_and_between(
    model: Model, quantity: str, lowest: float, highest: float
) -> None:
    assert quantity
    answers = np.asarray(model(np.linspace(lowest, highest, 101)))
    assert np.all(np.isfinite(answers))
    assert np.all(answers > 0.0)


@EVERY_MODEL
def test_a_model_refuses_what_lies_outside(
    model: Model, quantity: str, lowest: float, highest: float
) -> None:
    for outside in (np.nextafter(lowest, -np.inf), np.nextafter(highest, np.inf), -np.inf, np.inf, np.nan):
        with pytest.raises(OutsideValidity) as refusal:
            model(float(outside))
        assert (quantity, lowest, highest) == (
            refusal.value.quantity,
            refusal.value.lowest,
            refusal.value.highest,
        )


@EVERY_MODEL
def test_one_element_outside_refuses_the_array(
    model: Model, quantity: str, lowest: float, highest: float
) -> None:
    values = np.linspace(lowest, highest, 5)
    values[3] = highest + 1.0
    with pytest.raises(OutsideValidity, match=quantity):
        model(values)


def test_a_refusal_names_quantity_and_range() -> None:
    with pytest.raises(OutsideValidity) as refusal:
        require_within("water temperature", 250.0, 273.15, 313.15, "K")
    assert str(refusal.value) == "water temperature must lie between 273.15 and 313.15 K"
    assert isinstance(refusal.value, ValueError)
