"""A sizing as notebooks show it: complete, compact, and safe whatever others put into it."""

from pathlib import Path

import html5lib
import msgspec
import pytest
from tests.sdk.contract_document import ROOT

import upstroke

QUOTES = sorted((ROOT / "service/src/upstroke_service/demo/quotes").glob("*.json"))


@pytest.mark.parametrize("path", QUOTES, ids=lambda path: path.stem)
def test_every_demo_quote_is_well_formed_and_tells_what_matters(client: upstroke.Client, path: Path) -> None:
    sizing = client.size(msgspec.json.decode(path.read_bytes(), type=dict[str, object]))
    page = sizing._repr_html_()
    text = "".join(html5lib.HTMLParser(strict=True).parseFragment(page).itertext())

    assert sizing.summary in text
    assert sizing.catalogue.notice in text
    assert all(candidate.cylinder.name in text for candidate in sizing.candidates)
    assert all(f"{one.signal}: {one.text}" in text for one in sizing.cautions if one.signal == "danger")
    assert all(one.text in text for one in sizing.cautions)
    assert all(one.text in text for one in sizing.assumptions)
    assert all(one.text in text for one in sizing.questions)
    assert page.count("(recommended)") == (1 if sizing.recommended else 0)
    assert len(page) < 40_000


def test_what_others_wrote_is_escaped(client: upstroke.Client) -> None:
    hostile = "<script>alert('&')</script>\"><b>"
    sizing = client.size(
        well={"static_water_level": "60 ft"}, tank={"total_volume": "44 gal"}, pressures={"target": "40 psi"}
    )
    first, *others = sizing.candidates
    named = msgspec.structs.replace(first, cylinder=msgspec.structs.replace(first.cylinder, name=hostile))
    changed = msgspec.structs.replace(
        sizing, summary=hostile, verdict=hostile, scope=hostile, candidates=(named, *others)
    )
    page = changed._repr_html_()

    assert "<script>" not in page
    assert "<b>" not in page
    assert page.count("&lt;script&gt;") >= 4
