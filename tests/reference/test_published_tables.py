"""The published tables against their own statement of the source's figures, and against what they serve."""

from collections.abc import Mapping
from typing import Final, get_args, get_type_hints

import pytest
from fluids.friction import _roughness as clean_pipe
from fluids.friction import ft_Crane
from msgspec import Struct

from upstroke_service.contract import facts
from upstroke_service.reference import fixtures
from upstroke_service.reference.fittings import FITTINGS, resistance_coefficient
from upstroke_service.reference.materials import ROD_MATERIALS, material
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE, animal, person
from upstroke_service.reference.operators import PROFILES, profile
from upstroke_service.reference.roughness import ROUGHNESS, roughness
from upstroke_service.reference.sources import SOURCES, source
from upstroke_service.sizing import cautions, defaults, hookups
from upstroke_service.units import UNITS

ONE_INCH_SCHEDULE_40: Final = 1.049 * 0.0254

# Crane TP-410: multiples of the friction factor of the pipe (from memory).
CRANE_MULTIPLES: Final = {
    "elbow_90": 30,
    "elbow_45": 16,
    "tee_run": 20,
    "tee_branch": 60,
    "gate_valve": 8,
    "ball_valve": 3,
    "globe_valve": 340,
    "swing_check_valve": 100,
}

FixtureRow = fixtures.Flow | fixtures.WaterVolume | fixtures.PipeLoss

FIXTURE_TABLES: Final[dict[str, Mapping[str, FixtureRow]]] = {
    "greatest_flows": fixtures.GREATEST_FLOWS,
    "supply_needs": fixtures.SUPPLY_NEEDS,
    "flushes": fixtures.FLUSHES,
    "house_piping": {"allowance": fixtures.HOUSE_PIPING},
    "uses": fixtures.USES,
}
FIXTURE_ROWS: Final = [
    pytest.param(row, id=f"{table}-{name}")
    for table, rows in FIXTURE_TABLES.items()
    for name, row in rows.items()
]


def accepted_words(block: type[Struct], field: str) -> set[str]:
    """The words of the contract's closed list in ``field``."""
    return set(get_args(get_type_hints(block)[field]))


@pytest.mark.parametrize("row", FIXTURE_ROWS)
def test_a_fixtures_si_values_are_the_published_figures_converted(
    row: FixtureRow,
) -> None:
    figures = {"flow", "pressure", "volume", "height"} & set(row.__struct_fields__)
    assert set(row.published) == figures - ({"flow"} if isinstance(row, fixtures.Use) else set())
    for field, figure in row.published.items():
        value, unit = figure.split()
        expected = UNITS["length" if field == "height" else field][unit].to_si(float(value))
        assert getattr(row, field) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("fixture", "flow", "pressure"),
    # International Plumbing Code 2018, table 604.3, gpm and psi.
    [
        ("lavatory", 0.8, 8),
        ("shower", 2.5, 8),
        ("shower_with_balancing_valve", 2.5, 20),
        ("hose_bibb", 5, 8),
        ("close_coupled_toilet", 3, 20),
        ("sink", 1.75, 8),
    ],
)
def test_supply_needs_are_those_of_the_plumbing_code(fixture: str, flow: float, pressure: float) -> None:
    row = fixtures.SUPPLY_NEEDS[fixture]
    assert flow == pytest.approx(row.flow / UNITS["flow"]["gpm"].scale)
    assert pressure == pytest.approx(row.pressure / UNITS["pressure"]["psi"].scale)


def test_a_use_has_the_least_pressure_of_its_fixture() -> None:
    # IPC 2018, table 604.3: close-coupled toilet 20 psi, lavatory 8 psi.
    psi = UNITS["pressure"]["psi"].scale
    assert fixtures.minimum_pressure("toilet_flush") == pytest.approx(20 * psi)
    assert fixtures.minimum_pressure("hand_wash") == pytest.approx(8 * psi)


def test_a_short_shower_is_two_minutes_at_the_showers_greatest_flow() -> None:
    assert fixtures.USES["short_shower"].volume == pytest.approx(
        120.0 * fixtures.GREATEST_FLOWS["showerhead"].flow, rel=1e-9
    )


def test_a_hand_wash_is_fifteen_seconds_at_the_lavatorys_design_flow() -> None:
    assert fixtures.USES["hand_wash"].volume == pytest.approx(
        15.0 * fixtures.SUPPLY_NEEDS["lavatory"].flow, rel=1e-9
    )


def test_a_watersense_flush_takes_a_fifth_less_than_the_federal_maximum() -> None:
    # EPA: 'maximum flush volume of 1.28 gallons per flush, which is 20 percent lower'.
    assert fixtures.FLUSHES["watersense"].volume == pytest.approx(0.8 * fixtures.FLUSHES["federal"].volume)


@pytest.mark.parametrize("kind", CRANE_MULTIPLES)
def test_a_fittings_coefficient_is_cranes_multiple_of_the_friction_factor_of_1_in_pipe(kind: str) -> None:
    factor = ft_Crane(ONE_INCH_SCHEDULE_40)
    # Two digits are given.
    assert resistance_coefficient(kind) == pytest.approx(CRANE_MULTIPLES[kind] * factor, rel=0.02)


def test_a_pipe_into_a_tank_loses_one_velocity_head() -> None:
    # Crane TP-410, page A-30.
    assert resistance_coefficient("exit") == 1.0


def test_a_yard_hydrant_counts_as_a_globe_valve_and_two_elbows() -> None:
    # Common practice, no source.
    expected = resistance_coefficient("globe_valve") + 2 * resistance_coefficient("elbow_90")
    assert resistance_coefficient("yard_hydrant") == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(
    ("name", "expected", "relative"),
    [
        # fluids 1.3.1, table of clean pipe (Perry's handbook), which rounds to 1.52e-6 and 1.52e-4.
        ("copper", clean_pipe["Brass"], 0.02),
        ("galvanized_steel", clean_pipe["Galvanized iron"], 0.02),
        # Moody 1944: commercial steel 0.00015 ft, drawn tubing 0.000005 ft.
        ("steel", 0.00015 * 0.3048, 0.01),
        ("pvc", 0.000005 * 0.3048, 0.02),
    ],
)
def test_roughness_agrees_with_an_independent_table(name: str, expected: float, relative: float) -> None:
    assert roughness(name) == pytest.approx(expected, rel=relative)


@pytest.mark.parametrize(
    ("name", "modulus"),
    # psi: Marks' handbook for steel and ASM for stainless (both from memory), ASTM D1784 for PVC.
    [("steel", 30e6), ("stainless_steel", 28e6), ("pvc", 400_000.0)],
)
def test_youngs_moduli_are_the_published_ones(name: str, modulus: float) -> None:
    assert material(name).youngs_modulus == pytest.approx(modulus * UNITS["pressure"]["psi"].scale, rel=0.002)


def test_only_metals_sink_fast() -> None:
    # PVC 1.40 (ASTM D792) < fibreglass, a quarter of steel (Gibbs 1991) < steel 7 850 < stainless 7 900.
    by_density = sorted(ROD_MATERIALS, key=lambda name: material(name).density)
    assert by_density == ["pvc", "fibreglass", "steel", "stainless_steel"]
    assert material("fibreglass").density == pytest.approx(0.25 * material("steel").density, rel=0.03)


def test_every_material_of_the_contract_has_its_values() -> None:
    rods = accepted_words(facts.Rod, "material")
    pipes = accepted_words(facts.DropPipe, "material")
    runs = accepted_words(facts.Run, "material")
    assert rods | pipes == set(ROD_MATERIALS)
    assert pipes | runs == set(ROUGHNESS)


def test_every_fitting_of_the_contract_has_its_coefficient() -> None:
    assert accepted_words(facts.Fitting, "kind") == set(FITTINGS)


def test_every_source_is_cited_in_full_and_used() -> None:
    used = {row.source for row in FITTINGS.values()} | {row.source for row in ROUGHNESS.values()}
    used |= {
        key
        for row in ROD_MATERIALS.values()
        for key in (row.density_source, row.youngs_modulus_source, row.poisson_ratio_source)
    }
    used |= {row.source for rows in FIXTURE_TABLES.values() for row in rows.values()}
    used |= {use.height_source for use in fixtures.USES.values()}
    used |= {
        figure.source for rows in (PEOPLE, LIVESTOCK) for row in rows.values() for _, figure in row.figures()
    }
    used |= {key for one in PROFILES.values() for _, figure in one.figures() for key in figure.sources}
    used |= {row.source for row in defaults.table().values()}
    used |= {key for rule in cautions.rules() for key in rule.basis}
    rules = hookups.book()
    told = (rules.refusal, rules.condition, rules.advantage, rules.drawback, rules.check, rules.step)
    used |= {key for points in told for point in points for key in point.basis}
    used |= {key for part in rules.part for key in part.basis}
    assert used == set(SOURCES)
    for key in SOURCES:
        assert source(key).title in source(key).citation


def test_a_source_from_memory_says_so_in_its_citation() -> None:
    assert source("awwa-m45").citation.endswith("1.7e-5 ft (from memory)")
    assert "from memory" not in source("ipc-2018").citation


def test_the_key_of_common_practice_says_that_there_is_no_source() -> None:
    assert "common practice, no source" in source("common-practice").citation


@pytest.mark.parametrize(
    "look_up",
    [
        source,
        material,
        profile,
        roughness,
        resistance_coefficient,
        fixtures.minimum_pressure,
        fixtures.flow_of,
        person,
        animal,
    ],
)
def test_an_unknown_name_is_refused(look_up: object) -> None:
    assert callable(look_up)
    with pytest.raises(KeyError):
        look_up("unobtainium")
