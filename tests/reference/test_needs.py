"""Water per head and day against what its sources say, figure by figure."""

from typing import Final, get_args, get_type_hints

import pytest

from upstroke_service.contract.premises import Herd, Needs, UseCount
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE, DailyNeed, Figure
from upstroke_service.units import UNITS

ROWS: Final[dict[str, DailyNeed]] = {**PEOPLE, **LIVESTOCK}
FIGURES: Final = [
    pytest.param(figure, id=f"{name}-{which}")
    for name, row in ROWS.items()
    for which, figure in row.figures()
]

LITRE: Final = 1e-3
GALLON: Final = 231 * 0.0254**3
IMPERIAL_GALLON: Final = 4.54609e-3


@pytest.mark.parametrize("figure", FIGURES)
def test_a_figure_is_the_published_one_converted_to_cubic_metres_per_head(figure: Figure) -> None:
    value, unit = figure.published.split()
    expected = UNITS["volume"][unit].to_si(float(value)) / figure.per
    assert expected == pytest.approx(figure.volume, rel=1e-9)


PUBLISHED: Final = [
    # Sphere 2011, table of basic survival water needs: intake 2.5 to 3 L, all basic needs 7.5 to 15 L.
    ("survival", "low", 3 * LITRE),
    ("survival", "high", 7.5 * LITRE),
    ("basic", "low", 7.5 * LITRE),
    # FEMA and Red Cross: at least one gallon per person and day.
    ("survival", "usual", 1 * GALLON),
    # Sphere 2018, standard 2.1: at least 15 L; WHO 2020, basic access: about 20 L.
    ("basic", "usual", 15 * LITRE),
    ("basic", "high", 20 * LITRE),
    # Penn State Extension: '50 to 100 gallons per person per day'; 'about 62 gallons of water in their home each day'.
    ("ordinary", "low", 50 * GALLON),
    ("ordinary", "usual", 62 * GALLON),
    # USGS Circular 1441: 82 gallons per person and day in 2015.
    ("ordinary", "high", 82 * GALLON),
    # Kansas State, table 1, gallons at 40, 60 and 80 °F: wintering pregnant 6.0; nursing 11.4, 14.5, 17.9.
    ("beef_cow", "low", 6.0 * GALLON),
    ("beef_cow", "usual", 14.5 * GALLON),
    ("beef_cow", "high", 17.9 * GALLON),
    # Ohio State: 'goats between two to three gallons'.
    ("goat", "usual", 2 * GALLON),
    # Ontario 07-023, tables 1 and 6: dry cow 34-49 L, milking cow typically 115 L, calf of 1-4 months 4.9-13.2 L; hens
    # 180-320, typically 250 L per 1 000.
    ("dairy_cow", "low", 34 * LITRE),
    ("dairy_cow", "usual", 115 * LITRE),
    # North Dakota State 2008: 1,400 lb cow at 80 °F, '45.7 gallons for 100 pounds of milk production'.
    ("dairy_cow", "high", 45.7 * GALLON),
    ("calf", "low", 4.9 * LITRE),
    ("laying_hen", "low", 180 * LITRE / 1000),
    ("laying_hen", "usual", 250 * LITRE / 1000),
    # Agriculture Canada: calves 23 and 36 L, sheep 3.6 and 14 L, winter and summer.
    ("calf", "usual", 23 * LITRE),
    ("calf", "high", 36 * LITRE),
    ("sheep", "high", 14 * LITRE),
    # Lenz: idle horse of 1,100 lb 6 to 10 gallons, up to 15 in the heat; Kansas State: a gallon per 100 lb, on average
    # 'this equals 10 gallons a day'.
    ("horse", "low", 6 * GALLON),
    ("horse", "usual", 10 * GALLON),
    ("horse", "high", 15 * GALLON),
    # South Dakota State, table 1, ewe of 160 lb: maintenance 0.70-0.96, pregnancy 1.41-1.90 gallons.
    ("sheep", "low", 0.70 * GALLON),
    ("sheep", "usual", 1.41 * GALLON),
    # Hart: 'a 110-pound goat will require 1 to 3 gallons of water per day'.
    ("goat", "low", 1 * GALLON),
    ("goat", "high", 3 * GALLON),
    # Cooperative Extension: gestating sow 2 to 3, starting pig .5 to 1, finishing pig 1.5 to 2 gallons.
    ("sow", "low", 2 * GALLON),
    ("pig", "low", 0.5 * GALLON),
    ("pig", "usual", 1.5 * GALLON),
    ("pig", "high", 2 * GALLON),
    # Nebraska 2006: 'from 3 to 4 gal/day for gestating females'; Kansas State: lactating '5 to 10 gallons per day'.
    ("sow", "usual", 4 * GALLON),
    ("sow", "high", 10 * GALLON),
    # Kentucky, table 12.1, gallons per 100 birds: layer hens 10.57 in the heat; heavy turkeys, growing females 10.04,
    # males 47.55 in the heat.
    ("laying_hen", "high", 10.57 * GALLON / 100),
    ("turkey", "low", 10.04 * GALLON / 100),
    ("turkey", "high", 47.55 * GALLON / 100),
    # Frame: toms after 14 weeks 'from less than 200 to over 230 gallons/1000 birds'.
    ("turkey", "usual", 200 * GALLON / 1000),
]  # fmt: skip


@pytest.mark.parametrize(("name", "which", "expected"), PUBLISHED)
def test_a_figure_is_what_its_source_says(name: str, which: str, expected: float) -> None:
    assert expected == pytest.approx(dict(ROWS[name].figures())[which].volume, rel=1e-9)


def test_no_figure_is_left_without_a_comparison() -> None:
    assert {(name, which) for name, which, _ in PUBLISHED} == {
        (name, which) for name, row in ROWS.items() for which, _ in row.figures()
    }


def test_calves_on_range_drink_what_the_table_says_in_imperial_gallons_too() -> None:
    # Agriculture Canada gives both units: 5 imperial gallons in winter, 8 in summer.
    calf = LIVESTOCK["calf"]
    assert calf.usual.volume == pytest.approx(5 * IMPERIAL_GALLON, rel=0.02)
    assert calf.high.volume == pytest.approx(8 * IMPERIAL_GALLON, rel=0.02)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    # Other tables than those that the rows are taken from, per head. Agriculture Canada, winter to summer: cow
    # and calf 50 to 68 L, horse 36 to 55 L, sheep 3.6 to 14 L. North Dakota State 2008, 1,400 lb at 80 °F: 24.7
    # gallons for 60 lb of milk, 38.7 for 80. Ontario 07-023 (from memory): ewe 4 to 10.5 L; Ohio State: sow
    # about 5 gallons.
    [
        ("beef_cow", 50 * LITRE, 68 * LITRE),
        ("dairy_cow", 24.7 * GALLON, 38.7 * GALLON),
        ("horse", 36 * LITRE, 55 * LITRE),
        ("sheep", 4.0 * LITRE, 10.5 * LITRE),
        ("sow", 3 * GALLON, 5 * GALLON),
    ],
)
def test_the_usual_figure_lies_within_what_other_tables_say(name: str, low: float, high: float) -> None:
    assert low <= LIVESTOCK[name].usual.volume <= high


def test_each_level_of_the_contract_asks_for_more_than_the_one_before() -> None:
    levels = get_args(get_args(get_type_hints(Needs)["level"])[0])
    assert set(levels) == set(PEOPLE)  # typing may give a set of words back in another order
    for which in ("low", "usual", "high"):
        volumes = [dict(row.figures())[which].volume for row in PEOPLE.values()]
        assert volumes == sorted(volumes)


def test_every_animal_and_use_of_the_contract_has_its_figures() -> None:
    assert set(get_args(get_type_hints(Herd)["kind"])) == set(LIVESTOCK)
    assert set(get_args(get_type_hints(UseCount)["kind"])) == set(fixtures.USES)
