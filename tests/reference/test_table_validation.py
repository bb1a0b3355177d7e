"""Faulty tables stop where they are read."""

import pytest

from upstroke_service.reference.fixtures import SUPPLY_NEEDS, Use, require_fixtures
from upstroke_service.reference.needs import DailyNeed, require_order
from upstroke_service.reference.roughness import Roughness
from upstroke_service.reference.sources import require_known
from upstroke_service.reference.table import InvalidTable, decode, read

GOOD = 'roughness = 1e-5\ndescribed_as = "rubber"\nsource = "common-practice"\n'


def test_a_table_that_is_in_order_is_read() -> None:
    rows = decode(f"[hose]\n{GOOD}", "roughness.toml", dict[str, Roughness])
    assert rows == {"hose": Roughness(roughness=1e-5, described_as="rubber", source="common-practice")}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (f"[hose\n{GOOD}", "Expected ']'"),
        (f"[hose]\n{GOOD}colour = 'red'\n", "unknown field `colour`"),
        ('[hose]\nroughness = 1e-5\nsource = "common-practice"\n', "missing required field `described_as`"),
        (f"[hose]\n{GOOD.replace('1e-5', '0.0')}", "> 0.0"),
        (f"[hose]\n{GOOD.replace('1e-5', 'true')}", "Expected `float`"),
        (f"[hose]\n{GOOD.replace('common-practice', '')}", "length >= 1"),
    ],
    ids=["not-toml", "unknown-field", "missing-field", "not-positive", "wrong-type", "empty-source"],
)
def test_a_faulty_row_is_refused_with_the_file_and_the_fault(text: str, message: str) -> None:
    with pytest.raises(InvalidTable) as refusal:
        decode(text, "roughness.toml", dict[str, Roughness])
    assert str(refusal.value).startswith("roughness.toml: ")
    assert message in str(refusal.value)


def test_a_source_that_is_not_listed_is_refused_by_its_key() -> None:
    with pytest.raises(InvalidTable, match=r"fittings\.toml: not in sources\.toml: hearsay, rumour"):
        require_known("fittings.toml", ["rumour", "common-practice", "hearsay"])


@pytest.mark.parametrize(
    ("fixture", "flow", "message"),
    [
        ("fountain", "faucet", r"fixtures\.toml: .*supply_needs lacks: fountain"),
        ("lavatory", "geyser", r"fixtures\.toml: uses name flows that no table has: geyser"),
    ],
)
def test_a_use_of_an_unlisted_fixture_or_flow_is_refused(fixture: str, flow: str, message: str) -> None:
    use = Use(
        volume=1e-3,
        height=1.0,
        published={"volume": "1 L", "height": "1 m"},
        source="common-practice",
        height_source="common-practice",
        fixture=fixture,
        flow=flow,
    )
    with pytest.raises(InvalidTable, match=message):
        require_fixtures("fixtures.toml", {"spray": use}, SUPPLY_NEEDS)


def test_needs_that_fall_from_low_to_high_are_refused() -> None:
    row = 'volume = {volume}, published = "1 L", source = "common-practice"'
    text = "[cat]\n" + "".join(
        f"{name} = {{ {row.format(volume=volume)} }}\n"
        for name, volume in (("low", 2e-4), ("usual", 1e-4), ("high", 3e-4))
    )
    rows = decode(text, "livestock.toml", dict[str, DailyNeed])
    with pytest.raises(InvalidTable, match=r"livestock\.toml: cat: low, usual and high must not fall"):
        require_order("livestock.toml", rows)


def test_a_table_that_is_not_there_is_not_read() -> None:
    with pytest.raises(FileNotFoundError):
        read("nothing.toml", dict[str, Roughness])
