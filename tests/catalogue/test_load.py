"""What a catalogue file becomes."""

from pathlib import Path

import pytest
from tests.catalogue.catalogue_text import GOOD, spoilt

from upstroke_service.catalogue import CatalogueError, Part, Price, load, load_text


def test_quantities_become_si() -> None:
    (cylinder,) = load_text(GOOD, "small.toml").cylinders
    # 1 in = 0.0254 m and 1 ft = 0.3048 m exactly.
    assert cylinder.bore == pytest.approx(0.0381)
    assert cylinder.stroke == pytest.approx(0.1778)
    assert cylinder.rated_lift == pytest.approx(60.96)
    assert cylinder.outside_diameter == pytest.approx(0.054)
    assert cylinder.seal_drag == 50.0
    assert cylinder.weep_hole_diameter == pytest.approx(0.0016)
    assert cylinder.weep_hole_depth == pytest.approx(1.2192)


def test_a_cylinder_carries_what_its_drive_rod_and_drop_pipe_say() -> None:
    (cylinder,) = load_text(GOOD, "small.toml").cylinders
    assert (cylinder.drive, cylinder.handle_ratio, cylinder.handle_efficiency, cylinder.upstroke_share) == (
        "handle", 6.0, 0.9, 0.5,
    )  # fmt: skip
    assert cylinder.rod_diameter == pytest.approx(0.009525)
    assert cylinder.rod_material == "stainless_steel"
    assert cylinder.drop_pipe_inside_diameter == pytest.approx(0.0324612)
    assert cylinder.drop_pipe_material == "pvc"


def test_a_material_sets_density_and_roughness() -> None:
    (cylinder,) = load_text(GOOD, "small.toml").cylinders
    assert cylinder.rod_density == 7900.0  # EN 10088-1, grade 1.4301
    assert cylinder.drop_pipe_roughness == 1.5e-6  # White, Fluid Mechanics, table 6.1, plastic


def test_a_stated_density_goes_before_the_materials() -> None:
    text = spoilt('name = "Thin rod"', 'name = "Thin rod"\ndensity = { value = 490, unit = "lb/ft3" }')
    (cylinder,) = load_text(text, "small.toml").cylinders
    assert cylinder.rod_density == pytest.approx(490 * 16.018463)  # 1 lb/ft³ in kg/m³


def test_parts_are_the_cylinder_then_drive_rod_drop_pipe_and_the_kits() -> None:
    (cylinder,) = load_text(GOOD, "small.toml").cylinders
    assert [part.sku for part in cylinder.parts] == ["C-1", "H-1", "thin", "plastic", "K-1"]
    assert cylinder.parts[0] == Part(
        sku="C-1",
        name="Middle cylinder",
        quantity=1,
        price=Price(amount=520.0, currency="USD"),
        lead_time_days=7,
    )
    assert cylinder.parts[4] == Part(
        sku="K-1", name="Check valve", quantity=2, price=Price(amount=28.0, currency="USD")
    )


def test_a_part_sold_by_length_says_how_long_one_piece_is() -> None:
    (cylinder,) = load_text(GOOD, "small.toml").cylinders
    assert cylinder.parts[2].piece_length == pytest.approx(3.048)
    assert cylinder.parts[3].piece_length is None


def test_without_a_weep_hole_its_diameter_is_zero() -> None:
    start = GOOD.index("weep_hole")
    text = GOOD[:start] + GOOD[GOOD.index("kits = [", start) :]
    (cylinder,) = load_text(text, "small.toml").cylinders
    assert (cylinder.weep_hole_diameter, cylinder.weep_hole_depth) == (0.0, 0.0)


def test_a_weep_hole_discharges_like_a_hole_through_a_thick_wall_unless_said_otherwise() -> None:
    sharp = spoilt("weep_hole = { ", "weep_hole = { discharge_coefficient = 0.62, ")
    assert load_text(GOOD, "small.toml").cylinders[0].weep_hole_coefficient == 0.80
    assert load_text(sharp, "small.toml").cylinders[0].weep_hole_coefficient == 0.62


def test_a_kit_says_what_it_holds() -> None:
    catalogue = load_text(GOOD, "small.toml")
    (kit,) = catalogue.kits
    assert (kit.check_valve, kit.gauge) == (True, False)
    assert catalogue.cylinders[0].kits == ("hookup",)


def test_a_real_catalogue_needs_no_notice() -> None:
    text = spoilt('invented = true\nnotice = "Invented for a test."', "invented = false")
    catalogue = load_text(text, "small.toml")
    assert (catalogue.invented, catalogue.notice) == (False, "")


def test_the_digest_ignores_layout_and_comments() -> None:
    other = "# a comment\n" + GOOD.replace("handle_ratio = 6", "handle_ratio   =   6.0 # turned")
    assert load_text(other, "other.toml").digest == load_text(GOOD, "small.toml").digest


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('title = "A small', 'title = "Another small'),
        ("value = 1.5,", "value = 1.501,"),
        ("amount = 28", "amount = 29"),
        ("gauge = false", "gauge = true"),
    ],
)
def test_the_digest_changes_with_the_content(old: str, new: str) -> None:
    assert load_text(spoilt(old, new), "small.toml").digest != load_text(GOOD, "small.toml").digest


def test_the_digest_is_a_sha_256() -> None:
    digest = load_text(GOOD, "small.toml").digest
    assert len(bytes.fromhex(digest)) == 32


def test_a_file_is_loaded_from_its_path(tmp_path: Path) -> None:
    path = tmp_path / "dealer.toml"
    path.write_text(GOOD, encoding="utf-8")
    assert load(path) == load_text(GOOD, "dealer.toml")


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match=r"^absent\.toml: can't be read"):
        load(tmp_path / "absent.toml")


def test_a_file_that_is_not_text_is_named(tmp_path: Path) -> None:
    path = tmp_path / "binary.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(CatalogueError, match=r"^binary\.toml: can't be read as a text file in UTF-8"):
        load(path)
