"""Every kind of fault of a catalogue file, with where it is and what would be accepted."""

import pytest
from tests.catalogue.catalogue_text import GOOD, spoilt

from upstroke_service.catalogue import CatalogueError, Fault, load_text

CYLINDER = "cylinders 'middle'"
LENGTH = '{ value = …, unit = "…" } with one of the units m, ft, in, cm, mm'
PARTS = GOOD[GOOD.index("parts = [") : GOOD.index("[[cylinders]]")].rstrip()
WEEP_HOLE = GOOD[GOOD.index("weep_hole = {") : GOOD.index("kits = [")].rstrip()
DRIVE_FIELDS = "handle_efficiency, handle_ratio, id, lead_time_days, name, price, sku, upstroke_share"
SECOND_CYLINDER = GOOD[GOOD.index("[[cylinders]]") :]

CASES = {
    "unknown-unit": (
        'bore = { value = 1.5, unit = "in" }', 'bore = { value = 1.5, unit = "inch" }',
        CYLINDER, "bore", "unit 'inch' is unknown; accepted: m, ft, in, cm, mm",
    ),
    "unit-of-another-dimension": (
        'seal_drag = { value = 50, unit = "N" }', 'seal_drag = { value = 50, unit = "psi" }',
        CYLINDER, "seal_drag", "unit 'psi' is unknown; accepted: N, lbf",
    ),
    "unit-that-is-not-a-text": (
        'stroke = { value = 7, unit = "in" }', "stroke = { value = 7, unit = 3 }",
        CYLINDER, "stroke", "unit 3 is unknown; accepted: m, ft, in, cm, mm",
    ),
    "number-instead-of-quantity": (
        'stroke = { value = 7, unit = "in" }', "stroke = 7",
        CYLINDER, "stroke", f"is 7; accepted: {LENGTH}",
    ),
    "quantity-without-unit": (
        'stroke = { value = 7, unit = "in" }', "stroke = { value = 7 }",
        CYLINDER, "stroke",
        f"holds value = 7; accepted: {LENGTH}",
    ),
    "quantity-without-content": (
        'stroke = { value = 7, unit = "in" }', "stroke = {}",
        CYLINDER, "stroke",
        f"holds nothing; accepted: {LENGTH}",
    ),
    "quantity-that-is-not-a-number": (
        'rated_lift = { value = 200, unit = "ft" }', 'rated_lift = { value = nan, unit = "ft" }',
        CYLINDER, "rated_lift",
        f"holds value = nan, unit = 'ft'; accepted: {LENGTH}",
    ),
    "quantity-out-of-range": (
        "bore = { value = 1.5,", "bore = { value = 15,",
        CYLINDER, "bore", "is 15 in; accepted: 0.5906 to 7.874 in",
    ),
    "number-out-of-range": (
        "handle_ratio = 6", "handle_ratio = 60",
        "drives 'handle'", "handle_ratio", "is 60; accepted: a number from 1 to 20",
    ),
    "infinite-number": (
        "upstroke_share = 0.5", "upstroke_share = inf",
        "drives 'handle'", "upstroke_share", "is inf; accepted: a number from 0.2 to 0.8",
    ),
    "truth-value-instead-of-number": (
        "volumetric_efficiency = 0.92", "volumetric_efficiency = true",
        CYLINDER, "volumetric_efficiency", "is True; accepted: a number from 0.5 to 1",
    ),
    "broken-piece": (
        "quantity = 2", "quantity = 1.5",
        "kits 'hookup' parts number 1", "quantity", "is 1.5; accepted: a whole number from 1 to 1000",
    ),
    "missing-whole-number": (
        "quantity = 2, ", "",
        "kits 'hookup' parts number 1", "quantity", "is missing; accepted: a whole number from 1 to 1000",
    ),
    "lead-time-out-of-range": (
        "lead_time_days = 7", "lead_time_days = -7",
        CYLINDER, "lead_time_days", "is -7; accepted: a whole number from 0 to 1000",
    ),
    "missing-quantity": (
        'stroke = { value = 7, unit = "in" }\n', "",
        CYLINDER, "stroke",
        f"is missing; accepted: {LENGTH}",
    ),
    "missing-number": (
        "handle_efficiency = 0.9\n", "",
        "drives 'handle'", "handle_efficiency", "is missing; accepted: a number from 0.5 to 1",
    ),
    "missing-text": (
        'title = "A small catalogue"\n', "",
        "", "title", "is missing; accepted: a text",
    ),
    "missing-choice": (
        'kind = "lift"\n', "",
        CYLINDER, "kind", "is missing; accepted: one of: lift, suction",
    ),
    "missing-flag": (
        "gauge = false\n", "",
        "kits 'hookup'", "gauge", "is missing; accepted: true or false",
    ),
    "missing-list": (
        'kits = ["hookup"]\n', "",
        CYLINDER, "kits", "is missing; accepted: a list of ids, [] for none",
    ),
    "missing-name-of-the-catalogue": (
        'name = "small"\n', "",
        "", "name", "is missing; accepted: an identifier",
    ),
    "invented-without-notice": (
        'notice = "Invented for a test."\n', "",
        "", "notice", "is missing; accepted: a text",
    ),
    "empty-text": (
        'title = "A small catalogue"', 'title = ""',
        "", "title", "must be a text of 1 to 200 characters",
    ),
    "flag-that-is-neither": (
        "check_valve = true", 'check_valve = "yes"',
        "kits 'hookup'", "check_valve", "is 'yes'; accepted: true, false",
    ),
    "unknown-word": (
        'material = "pvc"', 'material = "bamboo"',
        "drop_pipes 'plastic'", "material",
        "is 'bamboo'; accepted: steel, stainless_steel, fibreglass, pvc",
    ),
    "bad-identifier": (
        'name = "small"', 'name = "Small Catalogue"',
        "", "name", "must be 1 to 64 lower-case letters, digits and hyphens, such as 'steel-3-8'",
    ),
    "unknown-drive": (
        'drive = "handle"', 'drive = "crank"',
        CYLINDER, "drive", "'crank' is not in this catalogue; accepted: handle",
    ),
    "unknown-rod": (
        'rod = "thin"', 'rod = "thick"',
        CYLINDER, "rod", "'thick' is not in this catalogue; accepted: thin",
    ),
    "unknown-drop-pipe": (
        'drop_pipe = "plastic"', 'drop_pipe = "clay"',
        CYLINDER, "drop_pipe", "'clay' is not in this catalogue; accepted: plastic",
    ),
    "unknown-kit": (
        'kits = ["hookup"]', 'kits = ["toolbox"]',
        CYLINDER, "kits", "'toolbox' is not in this catalogue; accepted: hookup",
    ),
    "kit-named-twice": (
        'kits = ["hookup"]', 'kits = ["hookup", "hookup"]',
        CYLINDER, "kits", "names a kit twice; accepted: each once",
    ),
    "list-with-something-else": (
        'kits = ["hookup"]', 'kits = ["hookup", 3]',
        CYLINDER, "kits", "must be a list of ids, [] for none",
    ),
    "text-instead-of-list": (
        'kits = ["hookup"]', 'kits = "hookup"',
        CYLINDER, "kits", "must be a list of ids, [] for none",
    ),
    "duplicate-id": (
        SECOND_CYLINDER, SECOND_CYLINDER + SECOND_CYLINDER,
        CYLINDER, "id", "'middle' is taken by another of the cylinders; accepted: an id of its own",
    ),
    "rod-thicker-than-drop-pipe": (
        "diameter = { value = 0.375,", "diameter = { value = 1.3,",
        CYLINDER, "rod", "is 0.03302 m thick; accepted: thinner than the drop pipe's 0.03246 m inside",
    ),
    "pipe-thicker-inside-than-outside": (
        "outside_diameter = { value = 1.66,", "outside_diameter = { value = 1.2,",
        "drop_pipes 'plastic'", "inside_diameter",
        "is 0.03246 m; accepted: less than outside_diameter, 0.03048 m",
    ),
    "bore-wider-than-the-cylinder": (
        'outside_diameter = { value = 54, unit = "mm" }', 'outside_diameter = { value = 38, unit = "mm" }',
        CYLINDER, "bore", "is 0.0381 m; accepted: less than outside_diameter",
    ),
    "hands-travel-too-far": (
        'stroke = { value = 7, unit = "in" }', 'stroke = { value = 15, unit = "in" }',
        CYLINDER, "stroke", "with handle_ratio 6 moves the hands 2.29 m; accepted: 0.15 to 2 m",
    ),
    "hands-hardly-travel": (
        'stroke = { value = 7, unit = "in" }', 'stroke = { value = 2.2, unit = "cm" }',
        CYLINDER, "stroke", "with handle_ratio 6 moves the hands 0.132 m; accepted: 0.15 to 2 m",
    ),
    "weep-hole-of-a-suction-pump": (
        'kind = "lift"', 'kind = "suction"',
        CYLINDER, "weep_hole", "would let air into a suction pipe; accepted: none where kind is suction",
    ),
    "weep-hole-without-depth": (
        ', depth_below_outlet = { value = 4, unit = "ft" }', "",
        f"{CYLINDER} weep_hole", "depth_below_outlet",
        f"is missing; accepted: {LENGTH}",
    ),
    "unknown-field-of-a-weep-hole": (
        "weep_hole = { ", "weep_hole = { angle = 90, ",
        f"{CYLINDER} weep_hole", "angle",
        "unknown field; accepted: depth_below_outlet, diameter, discharge_coefficient",
    ),
    "weep-hole-that-is-no-table": (
        WEEP_HOLE,
        "weep_hole = 1.6",
        CYLINDER, "weep_hole", "must be a table",
    ),
    "currency-in-words": (
        'price = { amount = 520, currency = "USD" }', 'price = { amount = 520, currency = "dollars" }',
        f"{CYLINDER} price", "currency", "is 'dollars'; accepted: three capital letters, such as USD",
    ),
    "price-without-currency": (
        'price = { amount = 520, currency = "USD" }', "price = { amount = 520 }",
        f"{CYLINDER} price", "currency", "is missing; accepted: a text",
    ),
    "price-below-nothing": (
        "amount = 520", "amount = -520",
        f"{CYLINDER} price", "amount", "is -520; accepted: a number from 0 to 1e+07",
    ),
    "unknown-field-of-an-entry": (
        'name = "Handle"\n', 'name = "Handle"\ncolour = "green"\n',
        "drives 'handle'", "colour",
        f"unknown field; accepted: {DRIVE_FIELDS}",
    ),
    "unknown-field-of-the-catalogue": (
        "invented = true\n", "invented = true\nseason = 3\n",
        "", "season",
        "unknown field; accepted: cylinders, drives, drop_pipes, invented, kits, name, notice, rods, title",
    ),
    "part-without-sku": (
        'sku = "K-1", ', "",
        "kits 'hookup' parts number 1", "sku", "is missing; accepted: a text",
    ),
    "kit-without-parts": (
        PARTS,
        "parts = []",
        "kits 'hookup'", "parts", "must hold at least one table: [[parts]]",
    ),
    "list-of-something-else": (
        PARTS,
        'parts = ["valve"]',
        "kits 'hookup'", "parts", "number 1 must be a table",
    ),
}  # fmt: skip


def faults_of(text: str) -> tuple[Fault, ...]:
    with pytest.raises(CatalogueError) as refusal:
        load_text(text, "small.toml")
    return refusal.value.faults


@pytest.mark.parametrize("case", CASES)
def test_a_fault_is_the_only_one_reported_and_says_where_and_what_is_accepted(case: str) -> None:
    old, new, entry, field, message = CASES[case]
    assert faults_of(spoilt(old, new)) == (Fault("small.toml", entry, field, message),)


def test_a_rod_thicker_than_the_bore_is_refused() -> None:
    text = spoilt("bore = { value = 1.5,", "bore = { value = 0.65,").replace("value = 0.375,", "value = 0.7,")
    assert faults_of(text) == (
        Fault(
            "small.toml", CYLINDER, "rod", "is 0.01778 m thick; accepted: thinner than the bore, 0.01651 m"
        ),
    )


def test_all_faults_of_a_file_are_reported_together() -> None:
    text = spoilt('unit = "in" }', 'unit = "inch" }').replace("handle_ratio = 6", "handle_ratio = 0")
    text = text.replace('drop_pipe = "plastic"', 'drop_pipe = "clay"').replace("gauge = false\n", "")
    assert {(fault.entry, fault.field) for fault in faults_of(text)} == {
        ("drives 'handle'", "handle_ratio"),
        ("rods 'thin'", "diameter"),
        ("kits 'hookup'", "gauge"),
        (CYLINDER, "drop_pipe"),
    }


def test_an_entry_without_an_id_is_named_by_its_position() -> None:
    second = SECOND_CYLINDER.replace('id = "middle"\n', "")
    assert faults_of(GOOD + second) == (
        Fault("small.toml", "cylinders number 2", "id", "is missing; accepted: an identifier"),
    )


def test_a_fault_of_a_drive_is_not_repeated_for_every_cylinder_that_it_works() -> None:
    (fault,) = faults_of(spoilt("handle_ratio = 6\n", ""))
    assert (fault.entry, fault.field) == ("drives 'handle'", "handle_ratio")


def test_an_empty_file_lacks_everything_that_a_catalogue_needs() -> None:
    assert {fault.field: fault.message for fault in faults_of("")} == {
        "name": "is missing; accepted: an identifier",
        "title": "is missing; accepted: a text",
        "invented": "is missing; accepted: true or false",
        "drives": "is missing; accepted: at least one [[drives]]",
        "rods": "is missing; accepted: at least one [[rods]]",
        "drop_pipes": "is missing; accepted: at least one [[drop_pipes]]",
        "kits": "is missing; accepted: at least one [[kits]]",
        "cylinders": "is missing; accepted: at least one [[cylinders]]",
    }


def test_what_is_not_toml_is_refused_with_the_place() -> None:
    (fault,) = faults_of("name = small")
    assert (fault.file, fault.entry, fault.field) == ("small.toml", "", "")
    assert fault.message.startswith("is not TOML: ")
    assert "line 1" in fault.message


def test_a_fault_reads_as_file_entry_field_and_message() -> None:
    assert str(Fault("small.toml", "cylinders 'middle'", "bore", "is bad")) == (
        "small.toml: cylinders 'middle' bore: is bad"
    )
    assert str(Fault("small.toml", "", "title", "is bad")) == "small.toml: title: is bad"
    assert str(Fault("small.toml", "", "", "is bad")) == "small.toml: is bad"


def test_the_error_lists_every_fault_on_a_line_of_its_own() -> None:
    with pytest.raises(CatalogueError) as refusal:
        load_text(
            spoilt("gauge = false\n", "").replace('title = "A small catalogue"', "title = 3"), "small.toml"
        )
    assert str(refusal.value).splitlines() == [
        "small.toml: title: must be a text of 1 to 200 characters",
        "small.toml: kits 'hookup' gauge: is missing; accepted: true or false",
    ]
