"""What the README says about spreadsheets is so."""

import re
import sys
from pathlib import Path

import pytest
from tests.docs import served
from tests.docs.markdown import read
from tests.sheets.tables import read_sheets

from upstroke.sheets import __main__ as command
from upstroke.sheets._headers import match_header, match_headers, read_mapping

README = read("README.md")


def test_the_example_prints_what_is_shown_and_writes_the_sheets_that_are_named(tmp_path: Path) -> None:
    (block,) = [one for one in README.blocks if "-m upstroke.sheets" in one.text]
    assert block.following is not None
    script = block.text.replace(".venv/bin/python", f"'{sys.executable}'")
    printed = served.printed(["bash", "-euo", "pipefail", "-c", script], tmp_path)

    assert printed == block.following.text
    assert set(read_sheets(tmp_path / "results.xlsx")) <= set(README.code)
    assert "Columns" in read_sheets(tmp_path / "sites.xlsx")


def test_the_mapping_that_is_shown_is_understood(tmp_path: Path) -> None:
    (block,) = [one for one in README.blocks if one.text.startswith("[columns]")]
    file = tmp_path / "mapping.toml"
    file.write_text(block.text, "utf-8")

    level, kind = match_headers(["Depth to water (m)", "Tank kind"], read_mapping(file))
    assert level is not None
    assert (level.pointer, level.unit, kind) == ("/well/static_water_level", "m", None)


def test_the_headers_that_are_shown_name_fields() -> None:
    shown = [span for span in README.code if re.fullmatch(r"[A-Z][\w ]+ \[\w+\]", span)]

    assert len(shown) == 3
    assert all(match_header(header) for header in shown)


def test_the_exit_codes_are_those_that_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    codes = [int(row[0].strip("`")) for row in README.table("exit code")]
    with pytest.raises(SystemExit, match=str(command.ALL_SIZED)):
        command.main(["--help"])

    assert codes == [
        command.ALL_SIZED, command.SOME_NOT_SIZED, command.UNUSABLE, command.STOPPED, command.INTERRUPTED
    ]  # fmt: skip
    usage = capsys.readouterr().out
    named = {
        span.split()[0]
        for span in README.code
        if span.split()[0] in {"--mapping", "--decimal", "--jobs", "--url"}
    }
    assert len(named) == 4
    assert all(option in usage for option in named)
