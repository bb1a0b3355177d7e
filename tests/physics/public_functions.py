"""The public functions of the physics, and an ordinary value or two for each of their arguments."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from typing import Any

from upstroke_service import physics

NOT_PHYSICS = ("constants", "errors", "real")
"""Modules that hold no formula: the constants, what is refused, the numeric type."""

EXAMPLES: dict[str, tuple[float, float, float]] = {
    "air_pressure": (0.0, 138_000.0, 275_790.0),
    "air_share": (0.2, 0.6, 1.0),
    "area": (7.13e-5, 5.69e-4, 4.31e-4),
    "atmospheric_pressure": (101_325.0, 84_559.7, 70_121.2),
    "barometric_head": (10.2, 9.04, 7.03),
    "bore": (0.0381, 0.04445, 0.0635),
    "cadence": (0.3333, 0.6667, 1.0),
    "casing_area": (0.0, 0.0081, 0.0182),
    "compliance": (0.0, 1.5e-11, 8.2e-11),
    "density": (999.8, 999.1, 992.2),
    "depth_of_water": (3.0, 15.0, 60.0),
    "diameter": (0.0015875, 0.003175, 0.0266),
    "discharge_coefficient": (0.62, 0.7, 0.8),
    "drawdown": (0.01, 0.02, 0.05),
    "duration": (60.0, 900.0, 7_200.0),
    "efficiency": (0.15, 0.18, 0.2),
    "elevation": (-300.0, 0.0, 2_500.0),
    "end": (350_000.0, 400_000.0, 500_000.0),
    "fall": (0.0, 90_000.0, 350_000.0),
    "flow": (0.0, 1e-4, 6e-4),
    "flow_area": (1.3e-3, 5.6e-4, 9.6e-4),
    "flowing_pressure": (15_000.0, 222_000.0, 360_000.0),
    "fluid_constant": (1.4, 1.4, 1.5),
    "gas_exponent": (1.0, 1.2, 1.4),
    "handle_efficiency": (0.85, 0.9, 0.95),
    "handle_ratio": (4.0, 6.0, 8.0),
    "head": (0.0, 12.0, 60.0),
    "head_pressure": (0.0, 206_843.0, 344_738.0),
    "hole_capacity": (0.0, 5.5e-8, 2.8e-7),
    "hydraulic_diameter": (0.0409, 0.0266, 0.0255),
    "inflow": (0.0, 1.6e-5, 2.5e-5),
    "inside_area": (5.6e-4, 8.3e-4, 1.3e-3),
    "inside_diameter": (0.0351, 0.0266, 0.0409),
    "length": (1.0, 15.0, 60.0),
    "lift": (2.0, 15.0, 60.0),
    "linear_work": (0.0, 5.0, 20.0),
    "loss": (0.0, 0.2, 0.5),
    "modulus": (2.758e9, 4.96e10, 2.07e11),
    "outside_diameter": (0.0422, 0.0334, 0.0483),
    "peak_flow": (0.0, 3e-4, 1e-3),
    "pipe_give": (0.0, 3.4e-7, 1.9e-5),
    "acceleration_head": (0.0, 0.5, 1.5),
    "plunger_area": (1.14e-3, 1.55e-3, 3.17e-3),
    "plunger_pressure": (100_000.0, 500_000.0, 1_300_000.0),
    "poisson_ratio": (0.25, 0.3, 0.38),
    "power": (30.0, 50.0, 75.0),
    "power_at_fifteen_minutes": (45.0, 75.0, 100.0),
    "precharge": (0.0, 124_106.0, 193_053.0),
    "preferred": (0.6, 0.7, 1.0),
    "pressure": (100_000.0, 206_843.0, 344_738.0),
    "pump_constant": (0.4, 0.2, 0.066),
    "quadratic_work": (0.0, 3.0, 16.0),
    "relative_roughness": (0.0, 1e-4, 0.02),
    "required": (0.5, 1.0, 2.0),
    "resistance_coefficient": (0.18, 1.0, 2.2),
    "rest": (0.0, 0.5, 30.0),
    "resting_pressure": (12_000.0, 218_000.0, 356_000.0),
    "return_duration": (0.6, 0.75, 1.5),
    "return_force": (-80.0, 0.0, 120.0),
    "returned": (0.0, 1.6e-5, 2.5e-5),
    "reynolds": (300.0, 3_000.0, 1e5),
    "rod_area": (0.0, 7.13e-5, 8.82e-5),
    "rod_density": (1_800.0, 7_850.0, 7_900.0),
    "rod_diameter": (0.0, 0.009525, 0.0106),
    "rod_force": (100.0, 680.0, 1_327.0),
    "rod_give": (0.0, 2.2e-6, 9.5e-6),
    "rod_weight": (0.0, 30.0, 149.0),
    "roughness": (0.0, 1.5e-6, 4.6e-5),
    "seal_drag": (0.0, 30.0, 50.0),
    "shortening": (0.0, 1.2e-12, 7.6e-12),
    "slowest": (0.2, 0.3333, 0.4),
    "specific_capacity": (0.0, 2e-5, 1e-3),
    "specific_weight": (9_804.0, 9_797.0, 9_731.0),
    "start": (0.0, 206_843.0, 275_790.0),
    "static_pressure": (0.0, 5_000.0, 20_000.0),
    "storage": (0.05, 0.12, 1.1),
    "stretch": (0.0, 0.02, 0.25),
    "stroke": (0.1, 0.2286, 0.3),
    "suction_lift": (1.0, 4.0, 6.0),
    "sustained_yield": (0.0, 6e-5, 3e-4),
    "tank_volume": (0.02, 0.0757, 0.32),
    "take_up": (0.0, 6e-12, 6e-11),
    "taken": (0.0, 1e-6, 8e-6),
    "temperature": (273.15, 285.15, 313.15),
    "temperature_when_set": (266.0, 285.15, 303.0),
    "total_volume": (0.02, 0.0757, 0.32),
    "upstroke_force": (100.0, 1_068.0, 1_973.0),
    "upstroke_duration": (0.6, 0.75, 1.5),
    "upstroke_share": (0.4, 0.5, 0.6),
    "velocity": (0.0, 0.5, 2.0),
    "viscosity": (1.79e-3, 1.14e-3, 6.5e-4),
    "volume": (1e-4, 2.5e-4, 5e-3),
    "water_bulk_modulus": (2.0e9, 2.2e9, 2.3e9),
    "water_density": (999.8, 999.1, 992.2),
    "work": (500.0, 30_000.0, 200_000.0),
    "work_at_slowest": (30.0, 120.0, 350.0),
}
"""Values inside the validity of every function that takes an argument of this name, SI."""

SWAPPED: dict[str, dict[str, tuple[float, float, float]]] = {
    # A tank drains from the higher pressure to the lower.
    "weep_hole.time_to_drain": {"start": EXAMPLES["end"], "end": (180_000.0, 206_843.0, 275_790.0)},
}
"""Where a function needs other examples than its argument names suggest."""


def public_functions() -> dict[str, Callable[..., Any]]:
    """Return every public function of the physics by 'module.function'."""
    found: dict[str, Callable[..., Any]] = {}
    for info in pkgutil.iter_modules(physics.__path__):
        if info.name in NOT_PHYSICS:
            continue
        module = importlib.import_module(f"{physics.__name__}.{info.name}")
        for name, value in vars(module).items():
            if name.startswith("_") or inspect.isclass(value) or not callable(value):
                continue
            if getattr(value, "__module__", None) == module.__name__:
                found[f"{info.name}.{name}"] = value
    return found


def elementwise_functions() -> dict[str, Callable[..., Any]]:
    """Return the public functions whose arguments are all numbers or arrays of numbers."""
    return {
        name: function
        for name, function in public_functions().items()
        if name
        not in (
            "fill.basis",
            "fill.panel_weights",
            "fill.panels",
            "inertia.phases",
            "pulsation.half_sine_nodes",
            "pulsation.work_weighted",
        )
    }


def examples(name: str, function: Callable[..., Any]) -> dict[str, tuple[float, float, float]]:
    """Return three ordinary values for each argument of a function."""
    chosen = {**EXAMPLES, **SWAPPED.get(name, {})}
    arguments = inspect.signature(function).parameters
    missing = [argument for argument in arguments if argument not in chosen]
    if missing:
        message = f"{name} takes {missing}: add ordinary values to EXAMPLES"
        raise LookupError(message)
    return {argument: chosen[argument] for argument in arguments}
