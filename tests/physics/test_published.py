"""The physics against published, library and worked values: one test per quantity, one case per value."""

import ast
import collections
import operator as operators
from pathlib import Path

import pytest
from tests.physics.published_values import COMPARISONS, KINDS, PublishedValue, all_values, comparison, sources

from upstroke_service.physics import (
    atmosphere,
    cadence,
    cylinder,
    effort,
    fittings,
    friction,
    head,
    operator,
    pulsation,
    suction,
    tank,
    water,
    weep_hole,
)
from upstroke_service.physics.real import Real

VALUES = all_values()


def published_values(quantity: str) -> pytest.MarkDecorator:
    """Parametrise a test with every check value of one quantity."""
    chosen = [value for value in VALUES if value.quantity == quantity]
    return pytest.mark.parametrize("value", chosen, ids=operators.attrgetter("id"))


def describe(value: PublishedValue, actual: Real) -> str:
    """Say what was expected, what came and where the expectation stands."""
    wanted = f"{value.expected:g} ± {value.tolerance:g}"
    return f"expected {wanted}, got {actual:g} ({value.source.title}, {value.locator})"


def check(value: PublishedValue, actual: Real) -> None:
    """Fail unless the value allows the result."""
    assert value.allows(actual), describe(value, actual)


@published_values("water.density")
def test_density_of_water(value: PublishedValue) -> None:
    check(value, water.density(**value.arguments))


@published_values("water.dynamic_viscosity")
def test_viscosity_of_water(value: PublishedValue) -> None:
    check(value, water.dynamic_viscosity(**value.arguments))


@published_values("water.saturation_pressure")
def test_vapour_pressure_of_water(value: PublishedValue) -> None:
    check(value, water.saturation_pressure(**value.arguments))


@published_values("head.pressure_head")
def test_column_of_water_that_a_pressure_stands_for(value: PublishedValue) -> None:
    given = value.arguments
    check(value, head.pressure_head(given["pressure"], water.specific_weight(given["temperature"])))


@published_values("head.head_pressure")
def test_pressure_of_a_column_of_water(value: PublishedValue) -> None:
    given = value.arguments
    check(value, head.head_pressure(given["head"], water.specific_weight(given["temperature"])))


@published_values("atmosphere.pressure")
def test_pressure_of_the_atmosphere(value: PublishedValue) -> None:
    check(value, atmosphere.pressure(**value.arguments))


@published_values("friction.head_loss")
def test_friction_in_a_pipe(value: PublishedValue) -> None:
    given = value.arguments
    diameter, temperature = given["inside_diameter"], given["temperature"]
    loss = friction.head_loss(
        given["flow"],
        friction.circular_area(diameter),
        diameter,
        given["length"],
        given["roughness"],
        water.density(temperature),
        water.dynamic_viscosity(temperature),
    )
    check(value, loss)


@published_values("friction.churchill_friction_factor")
def test_friction_factor(value: PublishedValue) -> None:
    check(value, friction.churchill_friction_factor(**value.arguments))


@published_values("friction.reynolds_number")
def test_reynolds_number(value: PublishedValue) -> None:
    given = value.arguments
    diameter = given["inside_diameter"]
    area = friction.circular_area(diameter)
    check(
        value, friction.reynolds_number(given["flow"], area, diameter, given["density"], given["viscosity"])
    )


@published_values("friction.circular_area")
def test_bore_of_a_hose_by_its_volume(value: PublishedValue) -> None:
    check(value, friction.circular_area(value.arguments["diameter"]) * value.arguments["length"])


@published_values("friction.annulus.area")
def test_flow_area_around_a_rod(value: PublishedValue) -> None:
    check(value, friction.annulus(**value.arguments)[0])


@published_values("friction.annulus.hydraulic_diameter")
def test_hydraulic_diameter_around_a_rod(value: PublishedValue) -> None:
    check(value, friction.annulus(**value.arguments)[1])


@published_values("fittings.head_loss")
def test_loss_of_a_fitting(value: PublishedValue) -> None:
    given = value.arguments
    area = friction.circular_area(given["inside_diameter"])
    check(value, fittings.head_loss(given["flow"], area, given["resistance_coefficient"]))


@published_values("pulsation.work_weighted.cycle")
def test_pulsation_factor_on_the_mean_of_the_cycle(value: PublishedValue) -> None:
    exponent = value.arguments["exponent"]
    # Delivering 1 m³ in half of a 1 s cycle: the mean over the cycle is 1 m³/s, and its loss is 1.
    check(value, pulsation.work_weighted(lambda flow: flow**exponent, pulsation.peak_flow(1.0, 0.5)))


@published_values("pulsation.work_weighted.stroke")
def test_pulsation_factor_on_the_mean_of_the_stroke(value: PublishedValue) -> None:
    exponent = value.arguments["exponent"]
    check(value, pulsation.work_weighted(lambda flow: flow**exponent, pulsation.peak_flow(1.0, 1.0)))


@published_values("pulsation.peak_flow")
def test_peak_of_a_half_sine(value: PublishedValue) -> None:
    check(value, pulsation.peak_flow(**value.arguments))


@published_values("tank.drawdown_factor")
def test_drawdown_factor_of_a_tank(value: PublishedValue) -> None:
    check(value, tank.drawdown_factor(**value.arguments))


@published_values("tank.stored_volume")
def test_water_in_a_tank(value: PublishedValue) -> None:
    check(value, tank.stored_volume(**value.arguments))


@published_values("tank.storage_per_pressure")
def test_water_that_one_more_pascal_stores(value: PublishedValue) -> None:
    check(value, tank.storage_per_pressure(**value.arguments))


@published_values("tank.pressure_at_stored_volume")
def test_pressure_of_a_filled_tank(value: PublishedValue) -> None:
    check(value, tank.pressure_at_stored_volume(**value.arguments))


@published_values("tank.total_volume_for_drawdown")
def test_tank_that_gives_a_drawdown(value: PublishedValue) -> None:
    check(value, tank.total_volume_for_drawdown(**value.arguments))


@published_values("tank.gas_work")
def test_work_of_compressing_the_cushion(value: PublishedValue) -> None:
    check(value, tank.gas_work(**value.arguments))


@published_values("cylinder.displacement")
def test_displacement_of_a_cylinder(value: PublishedValue) -> None:
    check(value, cylinder.displacement(**value.arguments))


@published_values("cylinder.plunger_area")
def test_area_of_a_bore(value: PublishedValue) -> None:
    check(value, cylinder.plunger_area(**value.arguments))


@published_values("weep_hole.discharge")
def test_discharge_of_a_weep_hole(value: PublishedValue) -> None:
    check(value, weep_hole.discharge(**value.arguments))


@published_values("weep_hole.time_to_drain")
def test_time_to_drain_through_a_weep_hole(value: PublishedValue) -> None:
    check(value, weep_hole.time_to_drain(**value.arguments))


@published_values("effort.buoyant_rod_weight")
def test_weight_of_a_rod_under_water(value: PublishedValue) -> None:
    check(value, effort.buoyant_rod_weight(**value.arguments))


@published_values("effort.upstroke_force")
def test_force_on_the_upstroke(value: PublishedValue) -> None:
    check(value, effort.upstroke_force(**value.arguments))


@published_values("effort.return_force")
def test_force_on_the_downstroke(value: PublishedValue) -> None:
    check(value, effort.return_force(**value.arguments))


@published_values("effort.hand_force")
def test_force_of_the_hand_by_the_whole_balance(value: PublishedValue) -> None:
    given = value.arguments
    temperature, stainless, seal_drag = 283.15, 7_900.0, 50.0
    weight = effort.buoyant_rod_weight(
        given["rod_diameter"], given["lift"], stainless, water.density(temperature)
    )
    upstroke = effort.upstroke_force(
        given["lift"],
        given["head_pressure"],
        cylinder.plunger_area(given["bore"]),
        friction.circular_area(given["rod_diameter"]),
        water.specific_weight(temperature),
        weight,
        seal_drag,
    )
    check(value, effort.hand_force(upstroke, handle_ratio=8.0, handle_efficiency=0.9))


@published_values("effort.work_per_cycle")
def test_work_of_a_cycle(value: PublishedValue) -> None:
    check(value, effort.work_per_cycle(**value.arguments))


@published_values("operator.krendel_power")
def test_power_a_person_sustains(value: PublishedValue) -> None:
    check(value, operator.krendel_power(**value.arguments))


@published_values("cadence.sustained_cadence")
def test_cadence_a_person_sustains(value: PublishedValue) -> None:
    check(value, cadence.sustained_cadence(**value.arguments))


@published_values("suction.barometric_head")
def test_head_of_the_atmosphere(value: PublishedValue) -> None:
    check(value, suction.barometric_head(**value.arguments))


@published_values("suction.practical_suction_lift")
def test_practical_suction_lift(value: PublishedValue) -> None:
    check(value, suction.practical_suction_lift(**value.arguments))


@published_values("suction.npsh_available")
def test_net_positive_suction_head(value: PublishedValue) -> None:
    given = value.arguments
    barometric = suction.barometric_head(given["elevation"], given["temperature"])
    check(value, suction.npsh_available(barometric, given["suction_lift"], given["loss"]))


def test_at_least_ninety_values_are_checked() -> None:
    assert len(VALUES) >= 90


def test_most_values_come_from_outside_this_project() -> None:
    outside = [value for value in VALUES if value.kind in ("published", "library")]
    assert len(outside) >= 60


@pytest.mark.parametrize("value", VALUES, ids=operators.attrgetter("id"))
def test_a_value_says_where_it_comes_from_and_why_its_tolerance(value: PublishedValue) -> None:
    assert value.kind in KINDS
    assert value.source.author
    assert value.source.title
    assert value.source.edition
    assert value.locator
    assert value.why_tolerance
    assert value.tolerance > 0.0
    assert value.derivation or value.kind not in ("worked", "library")
    assert value.kind != "memory" or "from memory" in value.source.edition


def test_every_id_is_used_once() -> None:
    counted = collections.Counter(value.id for value in VALUES)
    assert [identifier for identifier, times in counted.items() if times > 1] == []


def test_every_value_is_consumed_by_exactly_one_test() -> None:
    tree = ast.parse(Path(__file__).read_text(encoding="utf-8"))
    consumed = [
        ast.literal_eval(decorator.args[0])
        for test in tree.body
        if isinstance(test, ast.FunctionDef)
        for decorator in test.decorator_list
        if isinstance(decorator, ast.Call) and ast.unparse(decorator.func) == published_values.__name__
    ]
    assert sorted({value.quantity for value in VALUES}) == sorted(consumed)


def test_every_source_is_used() -> None:
    known = sources()
    compared = {known[comparison(name)["source"]] for name in COMPARISONS}
    assert set(known.values()) == {value.source for value in VALUES} | compared
