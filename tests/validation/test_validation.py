"""The command that prints the record of validation: complete, readable, and wrong where the physics is."""

import collections
import dataclasses
import functools
import re
import subprocess
import sys
from pathlib import Path

import pytest
from tests.physics import sweeps
from tests.physics.published_values import KINDS, PublishedValue, all_values
from tests.validation import __main__ as command
from tests.validation.markdown import COLUMNS, table

ROOT = Path(__file__).parents[2]
VALUES = all_values()


@functools.cache
def printed() -> str:
    """What the command prints in a process of its own."""
    run = [sys.executable, "-m", "tests.validation"]
    return subprocess.run(run, cwd=ROOT, check=True, capture_output=True, encoding="utf-8").stdout  # noqa: S603


def tables() -> list[list[list[str]]]:
    """Every printed table as rows of cells, headings first."""
    blocks = re.findall(r"(?:^\|.*\|\n)+", printed(), re.MULTILINE)
    return [
        [[cell.strip() for cell in line.strip("|").split("|")] for line in block.splitlines()]
        for block in blocks
    ]


def closing(text: str) -> str:
    """The closing line, unwrapped."""
    return " ".join(text.strip().split("\n\n")[-1].split())


def with_values(monkeypatch: pytest.MonkeyPatch, values: list[PublishedValue]) -> None:
    """Let the command compare these values, and no sweep."""
    monkeypatch.setattr(command, "all_values", lambda: values)
    monkeypatch.setattr(command, "SWEEPS", ())


def test_a_model_that_no_answer_uses_is_marked_and_no_other() -> None:
    about = dict(re.findall(r"^## (\w+)\n\n((?:.+\n)+)", printed(), re.MULTILINE))
    marked = {model for model, text in about.items() if "No answer uses this yet." in text}
    assert marked == set()


def test_every_check_value_is_listed_once_with_its_reference() -> None:
    rows = [row for block in tables() if block[0][0] == "check" for row in block[2:]]
    assert sorted(row[0] for row in rows) == sorted(value.id for value in VALUES)
    shown = {row[0]: float(row[-4]) for row in rows}
    assert [
        value.id for value in VALUES if shown[value.id] != float(f"{value.stated_expected.value:.10g}")
    ] == []


def test_every_source_is_named_with_its_edition_and_place() -> None:
    text = " ".join(printed().split())
    for value in VALUES:
        source = value.source
        named = f"{source.author}, {source.title}, {source.edition}; {value.locator}."
        assert f"{value.kind.capitalize()}: {' '.join(named.split())}" in text
        assert f"Tolerance: {value.why_tolerance}." in text


def test_every_argument_is_shown_in_the_unit_of_its_source() -> None:
    text = " ".join(printed().split())
    for value in VALUES:
        for name, stated in value.stated_arguments.items():
            unit = "" if stated.unit == "1" else stated.unit
            heading = f"{name}, {unit} |" if unit else f"{name} |"
            assert f"{name} {stated.value:.10g} {unit}".rstrip() in text or heading in text


def test_every_sweep_is_listed_with_its_number_of_points() -> None:
    (swept,) = [block for block in tables() if block[0][:2] == ["quantity", "reference"]]
    shown = [(row[0], row[1], int(row[2])) for row in swept[2:]]
    assert shown == [(sweep.quantity, sweep.reference, sweeps.run(sweep).points) for sweep in sweeps.SWEEPS]


def test_every_quantity_is_summed_up_by_quantity_ours_reference_difference_and_source() -> None:
    summary = tables()[-1]
    assert summary[0] == ["quantity", "ours", "reference", "difference", "source"]
    keys = collections.defaultdict(set)
    for value in VALUES:
        keys[value.quantity].add(value.source_key)
    shown, model = {}, ""
    for name, *_, key in summary[2:]:
        if name.startswith("**"):
            model = name.strip("*")
        else:
            shown[f"{model}.{name}"] = key
    assert sorted(shown) == sorted(keys)
    assert [quantity for quantity, key in shown.items() if key not in keys[quantity]] == []


def test_no_line_is_wider_than_a_terminal_of_120_columns() -> None:
    assert [line for line in printed().splitlines() if len(line) > COLUMNS] == []


def test_the_tables_are_markdown() -> None:
    for headings, rule, *rows in tables():
        assert rows
        assert all(re.fullmatch(r"-{2,}[-:]", cell) for cell in rule)
        assert {len(row) for row in (rule, *rows)} == {len(headings)}


def test_no_sign_of_a_formula_is_taken_for_markdown() -> None:
    prose = re.sub(r"`[^`]*`|^\| \*\*\w+\*\* ", "", printed(), flags=re.MULTILINE)
    assert re.findall(r".*\*.*", prose) == []
    assert re.findall(r"^ *(?:[+>]|\d+[.)]) .*", printed(), re.MULTILINE) == []


def test_the_closing_line_counts_the_values_of_each_kind() -> None:
    line = closing(printed())
    for kind in KINDS:
        assert f"{sum(value.kind == kind for value in VALUES)} {kind}" in line
    assert line.startswith(f"{len(VALUES)} check values")
    assert line.endswith("All are within their tolerance.")


def test_the_closing_line_names_the_value_closest_to_its_tolerance(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tight = dataclasses.replace(VALUES[0], expected=VALUES[0].expected + 0.97 * VALUES[0].tolerance)
    loose = dataclasses.replace(VALUES[1], tolerance=1e9)
    with_values(monkeypatch, [loose, tight])
    assert command.main([]) == 0
    assert re.search(rf"used by a check value is 9\d % \({tight.id}\)", closing(capsys.readouterr().out))


@pytest.mark.parametrize("expected", [1.0, -1.0, float("nan")], ids=["above", "below", "not-a-number"])
def test_a_value_outside_its_tolerance_is_named_and_ends_in_failure(
    expected: float, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = dataclasses.replace(
        VALUES[0], expected=VALUES[0].expected + 1.01 * expected * VALUES[0].tolerance
    )
    with_values(monkeypatch, [wrong, *VALUES[1:4]])
    assert command.main([]) == 1
    text = capsys.readouterr().out
    assert closing(text).endswith(f"OUTSIDE their tolerance: {wrong.id}.")
    assert re.search(rf"^\| {wrong.id} .* OUTSIDE \|$", text, re.MULTILINE)


def test_a_sweep_outside_its_tolerance_is_named_and_ends_in_failure(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    sweep = sweeps.SWEEPS[0]
    ours, reference, _ = sweep.compare()
    wrong = dataclasses.replace(sweep, compare=lambda: (ours * 1.001, reference, 1e-4))
    with_values(monkeypatch, VALUES[:3])
    monkeypatch.setattr(command, "SWEEPS", (wrong,))
    assert command.main([]) == 1
    assert closing(capsys.readouterr().out).endswith(f"OUTSIDE their tolerance: {wrong.id}.")


def test_the_record_is_written_to_a_file_as_it_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "validation.md"
    assert command.main(["--output", str(file)]) == 0
    assert file.read_text("utf-8") == printed()
    assert capsys.readouterr().out.strip() == closing(printed())


def test_a_file_that_cannot_be_written_is_refused_by_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with_values(monkeypatch, VALUES[:3])
    with pytest.raises(SystemExit) as ended:
        command.main(["--output", str(tmp_path)])
    assert ended.value.code == 2
    assert f"cannot write {tmp_path}" in capsys.readouterr().err


def test_numbers_stand_to_the_right_in_a_table() -> None:
    assert table(["name", "n"], [["a", "1"], ["long name", "1000"]], [1]) == [
        "| name      |    n |",
        "| --------- | ---: |",
        "| a         |    1 |",
        "| long name | 1000 |",
    ]
