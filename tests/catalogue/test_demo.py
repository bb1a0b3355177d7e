"""The invented demonstration data: loads, says that it is invented, and shows what it is meant to show."""

import math
from collections.abc import Iterator
from importlib import resources
from typing import Final

import msgspec
import pytest
from msgspec import UNSET, UnsetType

from upstroke_service.catalogue import CatalogueCylinder, demo
from upstroke_service.contract.facts import Well
from upstroke_service.contract.premises import ConstantPressure, PressureSwitch
from upstroke_service.contract.quantities import Quantity
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.physics import effort, head, suction, tank, water
from upstroke_service.reference import fixtures
from upstroke_service.units import UNITS

FILES: Final = resources.files("upstroke_service").joinpath("demo")
QUOTES: Final = {
    file.name: msgspec.json.decode(file.read_bytes(), type=SizingRequest)
    for file in FILES.joinpath("quotes").iterdir()
}
GROUNDWATER: Final = 285.15
STANDARD_ATMOSPHERE: Final = 101_325.0  # Pa, US Standard Atmosphere 1976 at sea level
HAND_FORCE: Final = 150.0  # N, an upper limit for short work: common practice
COMFORTABLE_TRAVEL: Final = 1.1  # m: common practice


def si(quantity: Quantity | UnsetType) -> float:
    assert isinstance(quantity, Quantity)
    unit: str = getattr(quantity, "unit")  # noqa: B009 - every kind of quantity has its own list
    return UNITS[quantity.dimension][unit].to_si(quantity.value)


def quantities(value: object) -> Iterator[Quantity]:
    """Every quantity in a request, at any depth."""
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, msgspec.Struct):
        for field in value.__struct_fields__:
            yield from quantities(getattr(value, field))
    elif isinstance(value, list):
        for item in value:
            yield from quantities(item)


def well_of(name: str) -> Well:
    well = QUOTES[name].well
    assert isinstance(well, Well)
    return well


def supply_of(name: str) -> PressureSwitch | ConstantPressure:
    site = QUOTES[name].site
    assert site is not UNSET
    assert site.supply is not UNSET
    return site.supply


def lift_cylinders() -> list[CatalogueCylinder]:
    return [cylinder for cylinder in demo().cylinders if cylinder.kind == "lift"]


def static_hand_force(cylinder: CatalogueCylinder, lift: float, gauge_pressure: float) -> float:
    """Hand force in N on the upstroke without any friction: the least that there can be."""
    density = water.density(GROUNDWATER)
    plunger = 0.25 * math.pi * cylinder.bore**2
    rod = 0.25 * math.pi * cylinder.rod_diameter**2
    weight = effort.buoyant_rod_weight(cylinder.rod_diameter, lift, cylinder.rod_density, density)
    force = effort.upstroke_force(
        lift, gauge_pressure, plunger, rod, water.specific_weight(GROUNDWATER), weight, cylinder.seal_drag
    )
    return float(effort.hand_force(force, cylinder.handle_ratio, cylinder.handle_efficiency))


def test_the_catalogue_loads_and_says_that_it_is_invented() -> None:
    catalogue = demo()
    assert catalogue.invented
    assert catalogue.notice.startswith("Invented for demonstration")
    assert "All of" in FILES.joinpath("README.md").read_text(encoding="utf-8")
    assert "is invented" in FILES.joinpath("README.md").read_text(encoding="utf-8").replace(
        "Everything here ", ""
    )


def test_the_catalogue_is_loaded_once() -> None:
    assert demo() is demo()


def test_it_has_cylinders_for_deep_and_for_shallow_water() -> None:
    kinds = [cylinder.kind for cylinder in demo().cylinders]
    assert kinds.count("lift") >= 8
    assert kinds.count("suction") == 3
    assert min(cylinder.rated_lift for cylinder in lift_cylinders()) == pytest.approx(80 * 0.3048)
    assert max(cylinder.rated_lift for cylinder in lift_cylinders()) == pytest.approx(350 * 0.3048)


def test_the_smallest_bore_is_rated_for_the_greatest_lift_and_the_largest_for_the_least() -> None:
    by_bore = sorted(lift_cylinders(), key=lambda cylinder: cylinder.bore)
    assert by_bore[0].rated_lift == max(cylinder.rated_lift for cylinder in by_bore)
    assert by_bore[-1].rated_lift == min(cylinder.rated_lift for cylinder in by_bore)


@pytest.mark.parametrize("cylinder", demo().cylinders, ids=lambda cylinder: cylinder.id)
def test_no_stroke_asks_for_more_than_a_comfortable_reach(cylinder: CatalogueCylinder) -> None:
    assert 0.5 < cylinder.stroke * cylinder.handle_ratio <= COMFORTABLE_TRAVEL


@pytest.mark.parametrize("cylinder", demo().cylinders, ids=lambda cylinder: cylinder.id)
def test_every_cylinder_is_sold_with_a_check_valve_and_a_gauge(cylinder: CatalogueCylinder) -> None:
    kits = {kit.id: kit for kit in demo().kits}
    assert any(kits[key].check_valve for key in cylinder.kits)
    assert any(kits[key].gauge for key in cylinder.kits)


def test_frost_free_cylinders_and_only_those_have_a_weep_hole_at_four_feet() -> None:
    for cylinder in demo().cylinders:
        frost_free = "frost-free" in cylinder.name
        assert (cylinder.weep_hole_diameter > 0.0) == frost_free
        assert cylinder.weep_hole_depth == pytest.approx(4 * 0.3048 if frost_free else 0.0)


def test_rods_and_drop_pipes_come_in_all_four_materials() -> None:
    materials = {"steel", "stainless_steel", "fibreglass", "pvc"}
    assert {rod.material for rod in demo().rods} == materials
    assert {pipe.material for pipe in demo().drop_pipes} == materials


def test_every_component_is_used_by_a_cylinder() -> None:
    catalogue = demo()
    sold = {part.sku for cylinder in catalogue.cylinders for part in cylinder.parts}
    assert {drive.part.sku for drive in catalogue.drives} <= sold
    assert {rod.part.sku for rod in catalogue.rods} <= sold
    assert {pipe.part.sku for pipe in catalogue.drop_pipes} <= sold
    assert {kit.id for kit in catalogue.kits} == {
        key for cylinder in catalogue.cylinders for key in cylinder.kits
    }


def test_no_sku_stands_for_two_parts() -> None:
    names: dict[str, str] = {}
    for cylinder in demo().cylinders:
        for part in cylinder.parts:
            assert names.setdefault(part.sku, part.name) == part.name


@pytest.mark.parametrize("name", QUOTES)
def test_a_quote_is_a_request_whose_quantities_are_believable(name: str) -> None:
    found = list(quantities(QUOTES[name]))
    assert found
    for quantity in found:
        assert quantity.lowest <= si(quantity) <= quantity.highest


@pytest.mark.parametrize("name", QUOTES)
def test_a_quote_has_the_reference_of_its_file_and_a_line_in_the_scenario(name: str) -> None:
    assert QUOTES[name].client_reference == f"demo-{name.removesuffix('.json')}"
    assert f"`{name}`" in FILES.joinpath("README.md").read_text(encoding="utf-8")


def test_the_easy_site_leaves_an_ordinary_person_several_cylinders_and_rules_others_out() -> None:
    supply = supply_of("fits-easily.json")
    assert isinstance(supply, PressureSwitch)
    level, cut_out = si(well_of("fits-easily.json").static_water_level), si(supply.cut_out)
    forces = [static_hand_force(cylinder, level, cut_out) for cylinder in lift_cylinders()]
    assert sum(force < 0.85 * HAND_FORCE for force in forces) >= 4
    assert sum(force > HAND_FORCE for force in forces) >= 2


def test_on_the_ridge_cylinders_that_would_do_by_depth_are_ruled_out_by_the_pressure_head() -> None:
    supply = supply_of("pressure-head-decides.json")
    assert isinstance(supply, PressureSwitch)
    level = si(well_of("pressure-head-decides.json").static_water_level)
    total = level + head.pressure_head(si(supply.cut_out), water.specific_weight(GROUNDWATER))
    by_depth = {cylinder.id for cylinder in lift_cylinders() if cylinder.rated_lift >= level}
    by_total_head = {cylinder.id for cylinder in lift_cylinders() if cylinder.rated_lift >= total}
    assert {"lift-1-1-2-200", "lift-1-1-2-220"} <= by_depth - by_total_head
    assert by_total_head


def test_at_the_tree_line_suction_comes_within_a_metre_of_its_practical_limit() -> None:
    request, well = QUOTES["suction-at-altitude.json"], well_of("suction-at-altitude.json")
    assert request.pump is not UNSET
    assert request.pump.kind == "suction"
    lift = si(well.static_water_level) + si(request.pump.outlet_height)
    limit = suction.practical_suction_lift(si(well.site_elevation), si(well.water_temperature))
    assert 0.0 < limit - lift < 1.0


def test_the_buffer_tank_holds_less_than_a_flush() -> None:
    request, supply = QUOTES["small-buffer-tank.json"], supply_of("small-buffer-tank.json")
    assert isinstance(supply, ConstantPressure)
    assert request.tank is not UNSET
    pressure = si(supply.set_pressure)
    # 0.7 of the set pressure is the usual precharge behind a constant-pressure drive: common practice.
    stored = tank.stored_volume(
        pressure, si(request.tank.total_volume), 0.7 * pressure, STANDARD_ATMOSPHERE, 1.0
    )
    assert stored < fixtures.USES["toilet_flush"].volume
    assert request.conduit is UNSET


def test_where_nobody_knows_the_water_level_the_quote_leaves_it_out() -> None:
    assert well_of("no-water-level.json").static_water_level is UNSET
