"""What the physics says to each quantity that has check values: the one list of what is compared.

Tests and `python -m tests.validation` both take our values from here. A quantity has the name of the function
of the physics that it checks, with a third part where that function answers more than one question. Where a
check value states its arguments as the function takes them, the function stands here itself; otherwise a small
function beside it puts them together. Every argument is in SI, and named as in tests/published.
"""

from collections.abc import Callable, Mapping

import numpy as np
from tests.physics.published_values import PublishedValue

from upstroke_service.physics import (
    atmosphere,
    cadence,
    cylinder,
    effort,
    fittings,
    friction,
    inertia,
    operator,
    pulsation,
    riser,
    stretch,
    suction,
    tank,
    water,
    weep_hole,
    well,
)
from upstroke_service.physics import head as heads  # an argument of that name is a column of water
from upstroke_service.physics.real import Real


def computed(value: PublishedValue) -> float:
    """Return what the physics says where ``value`` says what is expected, SI."""
    return float(COMPUTED[value.quantity](**value.arguments))


def column_of_water(pressure: float, temperature: float) -> Real:
    """Return the column of water of a temperature that a pressure stands for."""
    return heads.pressure_head(pressure, water.specific_weight(temperature))


def column_pressure(head: float, temperature: float) -> Real:
    """Return the pressure under a column of water of a temperature."""
    return heads.head_pressure(head, water.specific_weight(temperature))


def friction_loss(
    flow: float, inside_diameter: float, length: float, roughness: float, temperature: float
) -> Real:
    """Return the friction of water of a temperature in a round pipe."""
    return friction.head_loss(
        flow,
        friction.circular_area(inside_diameter),
        inside_diameter,
        length,
        roughness,
        water.density(temperature),
        water.dynamic_viscosity(temperature),
    )


def reynolds_number(flow: float, inside_diameter: float, density: float, viscosity: float) -> Real:
    """Return the Reynolds number in a round pipe."""
    area = friction.circular_area(inside_diameter)
    return friction.reynolds_number(flow, area, inside_diameter, density, viscosity)


def hose_volume(diameter: float, length: float) -> Real:
    """Return the volume of a hose, which tables give in place of its area."""
    return friction.circular_area(diameter) * length


def annulus_area(inside_diameter: float, rod_diameter: float) -> Real:
    """Return the flow area around a rod."""
    return friction.annulus(inside_diameter, rod_diameter)[0]


def annulus_hydraulic_diameter(inside_diameter: float, rod_diameter: float) -> Real:
    """Return the hydraulic diameter around a rod."""
    return friction.annulus(inside_diameter, rod_diameter)[1]


def fitting_loss(flow: float, inside_diameter: float, resistance_coefficient: float) -> Real:
    """Return the loss of a fitting in a round pipe."""
    return fittings.head_loss(flow, friction.circular_area(inside_diameter), resistance_coefficient)


def pulsation_factor_on_the_cycle(exponent: float) -> Real:
    """Return the loss of 1 m³ per cycle of 1 s, delivered in half of it: a mean of 1 m³/s would lose 1."""
    return pulsation.work_weighted(lambda flow: flow**exponent, pulsation.peak_flow(1.0, 0.5))


def pulsation_factor_on_the_stroke(exponent: float) -> Real:
    """Return the loss of 1 m³ per stroke of 1 s: a mean over the stroke of 1 m³/s would lose 1."""
    return pulsation.work_weighted(lambda flow: flow**exponent, pulsation.peak_flow(1.0, 1.0))


def hand_force(bore: float, rod_diameter: float, lift: float, head_pressure: float) -> Real:
    """Return the hand's force by the whole balance, for the pump at the head of effort.toml."""
    temperature, stainless, seal_drag = 283.15, 7_900.0, 50.0
    upstroke = effort.upstroke_force(
        lift,
        head_pressure,
        cylinder.plunger_area(bore),
        friction.circular_area(rod_diameter),
        water.specific_weight(temperature),
        effort.buoyant_rod_weight(rod_diameter, lift, stainless, water.density(temperature)),
        seal_drag,
    )
    return effort.hand_force(upstroke, handle_ratio=8.0, handle_efficiency=0.9)


def npsh_available(elevation: float, temperature: float, suction_lift: float, loss: float) -> Real:
    """Return the net positive suction head above water of a temperature at an elevation."""
    return suction.npsh_available(suction.barometric_head(elevation, temperature), suction_lift, loss)


def npsh_lines(
    elevation: float,
    temperature: float,
    suction_lift: float,
    friction: float,
    acceleration_head: float,
    required: float = suction.REQUIRED_NPSH,
) -> suction.Npsh:
    """Return the suction head line by line above water of a temperature at an elevation."""
    weight = water.specific_weight(temperature)
    return suction.Npsh(
        heads.pressure_head(atmosphere.pressure(elevation), weight),
        heads.pressure_head(water.saturation_pressure(temperature), weight),
        suction_lift,
        friction,
        acceleration_head,
        required,
    )


def npsh_by_lines(**lines: float) -> Real:
    """Return what the lines leave available."""
    return npsh_lines(**lines).available


def npsh_margin(**lines: float) -> Real:
    """Return what is available beyond what is required."""
    return npsh_lines(**lines).margin


def greatest_suction_lift(elevation: float, temperature: float, loss: float, required: float) -> Real:
    """Return the greatest suction lift above water of a temperature at an elevation."""
    return suction.greatest_suction_lift(suction.barometric_head(elevation, temperature), loss, required)


def usual_body_energy(work: float) -> Real:
    """Return what a body burns at the usual efficiency."""
    return operator.body_energy(work, operator.GROSS_EFFICIENCY)


def long_run_drawdown(flow: float, specific_capacity: float) -> Real:
    """Return the drawdown of a well whose casing is not known, so that the fill's volume does not count."""
    return well.drawdown(flow, specific_capacity, volume=1.0, casing_area=0.0)


def short_drawdown(flow: float, specific_capacity: float, volume: float, bore: float) -> Real:
    """Return the drawdown while a volume is taken out of a casing with nothing in it."""
    return well.drawdown(flow, specific_capacity, volume, friction.circular_area(bore))


def casing_storage(bore: float, depth_of_water: float) -> Real:
    """Return the water in a casing with nothing else in it."""
    return well.casing_storage(friction.circular_area(bore), depth_of_water)


def saturation_head(temperature: float) -> Real:
    """Return the vapour pressure of water as a column of that water."""
    return heads.pressure_head(water.saturation_pressure(temperature), water.specific_weight(temperature))


def displacement_per_time(bore: float, stroke: float, cadence: float) -> Real:
    """Return what a single-acting plunger displaces in a unit of time."""
    return cylinder.displacement(bore, stroke) * cadence


def work_saved_by_an_air_vessel(exponent: float) -> Real:
    """Return the share of the work against friction that a steady flow of the same mean saves."""
    return 1.0 - 1.0 / pulsation_factor_on_the_cycle(exponent)


def acceleration_head_of_a_crank(
    bore: float, stroke: float, inside_diameter: float, length: float, cadence: float
) -> Real:
    """Return the acceleration head of a column that a plunger on a crank moves, strokes of half a turn."""
    duration = 0.5 / cadence
    peak = pulsation.peak_flow(cylinder.displacement(bore, stroke), duration)
    return inertia.acceleration_head(length, friction.circular_area(inside_diameter), peak, duration)


def greatest_sum_over_a_stroke(with_the_flow: float, with_the_acceleration: float) -> Real:
    """Return the greatest sum of what follows the flow and what follows the acceleration."""
    sines, cosines = inertia.phases()
    return np.max(with_the_flow * sines + with_the_acceleration * cosines)


def stretch_under_a_load(load: float, modulus: float, area: float, length: float) -> Real:
    """Return how far a bar stretches."""
    return load / stretch.stiffness(modulus, area, length)


def volume_of_a_riser_under_pressure(pressure: float, **pipe: float) -> Real:
    """Return the water that a closed pipe takes in under a pressure."""
    return pressure * stretch.riser_compliance(**pipe)


def cadence_of_work_by_powers(
    static_work: float, linear_work: float, quadratic_work: float, slowest: float, **rest: float
) -> Real:
    """Return the cadence where the work of a cycle is given from rest up, not from the slowest cadence up."""
    work = static_work + linear_work * slowest + quadratic_work * slowest**2
    linear = linear_work + 2.0 * quadratic_work * slowest
    return cadence.sustained_cadence(
        work_at_slowest=work, linear_work=linear, quadratic_work=quadratic_work, slowest=slowest, **rest
    )


def stretch_of_rod_and_pipe(
    bore: float,
    pressure: float,
    length: float,
    rod_diameter: float,
    rod_modulus: float,
    pipe_wall: float,
    pipe_modulus: float,
) -> Real:
    """Return the stroke that a plunger loses under a pressure that stays."""
    area = cylinder.plunger_area(bore)
    rod = stretch.stiffness(rod_modulus, friction.circular_area(rod_diameter), length)
    pipe = stretch.stiffness(pipe_modulus, pipe_wall, length)
    return pressure * stretch.take_up(area, 1.0 / rod, 1.0 / pipe) / area


def water_that_a_shorter_pipe_gives(
    bore: float,
    pressure: float,
    length: float,
    inside_area: float,
    pipe_wall: float,
    pipe_modulus: float,
    poisson_ratio: float,
) -> Real:
    """Return the water that a pipe holds less once the rod carries a pressure on the plunger."""
    give = 1.0 / stretch.stiffness(pipe_modulus, pipe_wall, length)
    return pressure * stretch.shortening(cylinder.plunger_area(bore), inside_area, give, poisson_ratio)


def leak_per_cycle_without_stretch(
    pressure: float, hole_capacity: float, volume: float, duration: float, returned: float, compliance: float
) -> Real:
    """Return the leak of a cycle behind a check valve, of equal halves, without stretch."""
    return riser.leakage(
        pressure,
        pressure,
        pressure,
        hole_capacity,
        volume,
        duration,
        duration,
        rest=0.0,
        returned=returned,
        compliance=compliance,
        take_up=0.0,
        shortening=0.0,
    ).total


def acceleration_head_of_a_half_sine(
    length: float, inside_diameter: float, volume: float, duration: float
) -> Real:
    """Return the acceleration head in a round pipe of a volume that is delivered as half a sine."""
    area, peak = friction.circular_area(inside_diameter), pulsation.peak_flow(volume, duration)
    return inertia.acceleration_head(length, area, peak, duration)


def leak_during_a_return(**riser: float) -> Real:
    """Return the water that a hole takes while the riser is shut in."""
    return weep_hole.return_leak(**riser)[0]


def fall_during_a_return(**riser: float) -> Real:
    """Return how far the pressure falls while the riser is shut in."""
    return weep_hole.return_leak(**riser)[1]


COMPUTED: Mapping[str, Callable[..., Real]] = {
    "atmosphere.pressure": atmosphere.pressure,
    "cadence.sustained_cadence": cadence_of_work_by_powers,
    "cylinder.displacement": cylinder.displacement,
    "cylinder.displacement.per_time": displacement_per_time,
    "cylinder.plunger_area": cylinder.plunger_area,
    "effort.buoyant_rod_weight": effort.buoyant_rod_weight,
    "effort.hand_force": hand_force,
    "effort.return_force": effort.return_force,
    "effort.upstroke_force": effort.upstroke_force,
    "effort.work_per_cycle": effort.work_per_cycle,
    "fittings.head_loss": fitting_loss,
    "friction.annulus.area": annulus_area,
    "friction.annulus.hydraulic_diameter": annulus_hydraulic_diameter,
    "friction.churchill_friction_factor": friction.churchill_friction_factor,
    "friction.circular_area": hose_volume,
    "friction.head_loss": friction_loss,
    "friction.reynolds_number": reynolds_number,
    "head.head_pressure": column_pressure,
    "head.pressure_head": column_of_water,
    "inertia.acceleration_head.crank": acceleration_head_of_a_crank,
    "inertia.acceleration_head.half_sine": acceleration_head_of_a_half_sine,
    "inertia.hydraulic_institute_acceleration_head": inertia.hydraulic_institute_acceleration_head,
    "inertia.institute_share": inertia.institute_share,
    "inertia.phases.greatest_sum": greatest_sum_over_a_stroke,
    "operator.body_energy": operator.body_energy,
    "operator.body_energy.usual_efficiency": usual_body_energy,
    "operator.krendel_power": operator.krendel_power,
    "operator.sustainable_power": operator.sustainable_power,
    "pulsation.peak_flow": pulsation.peak_flow,
    "pulsation.work_weighted.air_vessel": work_saved_by_an_air_vessel,
    "pulsation.work_weighted.cycle": pulsation_factor_on_the_cycle,
    "pulsation.work_weighted.stroke": pulsation_factor_on_the_stroke,
    "riser.fall_without_hole": riser.fall_without_hole,
    "riser.leakage.total": leak_per_cycle_without_stretch,
    "stretch.effective_stroke": stretch.effective_stroke,
    "stretch.riser_compliance.volume": volume_of_a_riser_under_pressure,
    "stretch.shortening.volume": water_that_a_shorter_pipe_gives,
    "stretch.stiffness.stretch": stretch_under_a_load,
    "stretch.take_up.stretch": stretch_of_rod_and_pipe,
    "stretch.wall_area": stretch.wall_area,
    "suction.barometric_head": suction.barometric_head,
    "suction.greatest_suction_lift": greatest_suction_lift,
    "suction.npsh_available": npsh_available,
    "suction.npsh_available.lines": npsh_by_lines,
    "suction.npsh_available.margin": npsh_margin,
    "suction.practical_suction_lift": suction.practical_suction_lift,
    "tank.drawdown_factor": tank.drawdown_factor,
    "tank.gas_work": tank.gas_work,
    "tank.precharge_at_temperature": tank.precharge_at_temperature,
    "tank.precharge_of_air": tank.precharge_of_air,
    "tank.pressure_at_stored_volume": tank.pressure_at_stored_volume,
    "tank.storage_per_pressure": tank.storage_per_pressure,
    "tank.stored_volume": tank.stored_volume,
    "tank.total_volume_for_drawdown": tank.total_volume_for_drawdown,
    "water.density": water.density,
    "water.dynamic_viscosity": water.dynamic_viscosity,
    "water.saturation_pressure": water.saturation_pressure,
    "water.saturation_pressure.head": saturation_head,
    "water.specific_weight": water.specific_weight,
    "weep_hole.discharge": weep_hole.discharge,
    "weep_hole.return_leak.fall": fall_during_a_return,
    "weep_hole.return_leak.water": leak_during_a_return,
    "weep_hole.time_to_drain": weep_hole.time_to_drain,
    "well.available_volume": well.available_volume,
    "well.casing_storage": casing_storage,
    "well.drawdown.long_run": long_run_drawdown,
    "well.drawdown.short_fill": short_drawdown,
    "well.time_until_dry": well.time_until_dry,
}
"""Our value of each quantity, as a function of the arguments that its check values state."""
