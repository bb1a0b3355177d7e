"""A day's water and the pumping it takes, against sums done by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE
from upstroke_service.sizing import needs
from upstroke_service.sizing.needs import Volumes

PROPERTY = settings(derandomize=True, deadline=None, database=None, max_examples=60)
LITRE = 1e-3
GALLON = 231 * 0.0254**3
COUNTS = st.lists(st.tuples(st.sampled_from(sorted(LIVESTOCK)), st.floats(0.0, 500.0)), max_size=6)


def test_a_day_of_a_family_and_its_cows_is_the_sum_of_the_published_figures() -> None:
    # 4 people at 15 L (Sphere), 10 flushes at 1.6 gal (EPAct), 12 nursing beef cows at 14.5 gal (Kansas State):
    # 60 + 60.57 + 658.66 = 779.2 L. Low 4 x 7.5 L and 12 x 6 gal, high 4 x 20 L and 12 x 17.9 gal.
    listed = needs.lines(4, "basic", [("toilet_flush", 10.0)], [("beef_cow", 12.0)])
    total = needs.total(listed)

    assert [(line.kind, line.number) for line in listed] == [
        ("basic", 4.0), ("toilet_flush", 10.0), ("beef_cow", 12.0),
    ]  # fmt: skip
    assert total.usual == pytest.approx(60 * LITRE + 16 * GALLON + 174 * GALLON, rel=1e-9)
    assert total.usual / LITRE == pytest.approx(779.2, abs=0.05)
    assert total.low == pytest.approx(30 * LITRE + 16 * GALLON + 72 * GALLON, rel=1e-9)
    assert total.high == pytest.approx(80 * LITRE + 16 * GALLON + 214.8 * GALLON, rel=1e-9)


@pytest.mark.parametrize(
    ("level", "litres"), [("survival", 3.785), ("basic", 15.0), ("ordinary", 234.7)]
)  # FEMA 1 gal; Sphere 15 L; Penn State 62 gal
def test_people_need_what_their_level_says(level: str, litres: float) -> None:
    (line,) = needs.lines(3, level, [], [])
    assert line.daily.usual / LITRE == pytest.approx(3 * litres, rel=1e-3)


def test_what_nobody_uses_has_no_line_and_the_same_kind_has_one() -> None:
    uses = [("dishes", 1.0), ("hand_wash", 0.0), ("dishes", 0.5)]
    herds = [("goat", 2.0), ("calf", 1.0), ("goat", 3.0)]
    listed = needs.lines(0, "basic", uses, herds)

    assert {line.kind: line.number for line in listed} == {"dishes": 1.5, "goat": 5.0, "calf": 1.0}
    assert needs.total(listed[:1]).usual == pytest.approx(3.75 * GALLON, rel=1e-9)
    assert needs.lines(0, "basic", [], []) == []
    assert needs.total([]) == Volumes(0.0, 0.0, 0.0)


def test_a_use_takes_the_same_whatever_the_weather() -> None:
    for use, row in fixtures.USES.items():
        (line,) = needs.lines(0, "basic", [(use, 2.0)], [])
        assert line.each == Volumes(row.volume, row.volume, row.volume)


def test_100_litres_by_fills_of_25_take_four_times_the_strokes_and_minutes_of_one() -> None:
    assert needs.day(0.1, 0.025, 90.0, 180.0) == pytest.approx((4.0, 360.0, 720.0))


def test_a_fill_without_water_is_pumped_in_vain_and_not_counted() -> None:
    assert [float(value) for value in needs.day(0.1, 0.0, 90.0, 180.0)] == [0.0, 0.0, 0.0]


def test_many_days_and_fills_at_once_get_what_each_gets_alone() -> None:
    daily = np.array([[0.1], [0.5]])
    water = np.array([0.025, 0.0, 0.1])
    together = needs.day(daily, water, 90.0, np.array([180.0, 60.0, 300.0]))
    for row in range(2):
        for column, seconds in enumerate((180.0, 60.0, 300.0)):
            alone = needs.day(daily[row, 0], water[column], 90.0, seconds)
            for many, single in zip(together, alone, strict=True):
                assert float(single) == np.broadcast_to(many, (2, 3))[row, column]


@PROPERTY
@given(st.integers(0, 100), st.sampled_from(sorted(PEOPLE)), COUNTS, st.floats(1.0, 10.0))
def test_more_of_everything_needs_as_much_more_and_low_is_never_above_high(
    people: int, level: str, herds: list[tuple[str, float]], times: float
) -> None:
    total = needs.total(needs.lines(people, level, [], herds))
    more = needs.total(needs.lines(people, level, [], [(kind, times * count) for kind, count in herds]))
    alone = needs.total(needs.lines(people, level, [], []))

    assert 0.0 <= total.low <= total.usual <= total.high
    for one, several, without in zip(total, more, alone, strict=True):
        assert several - without == pytest.approx(times * (one - without), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("level", "herd"), [("royal", "goat"), ("basic", "unicorn")])
def test_an_unknown_level_or_animal_is_an_error(level: str, herd: str) -> None:
    with pytest.raises(KeyError):
        needs.lines(1, level, [], [(herd, 1.0)])
