"""The command as a whole: a table goes in, a workbook comes out, and no row is lost on the way."""

import datetime as dt
import re
import runpy
import sys
import time
import zipfile
from pathlib import Path

import openpyxl
import pytest
from tests.sheets.canned import Canned, Connect, problem, run
from tests.sheets.tables import ENDINGS, Cell, read_sheets, records, write_table

import upstroke
from upstroke.sheets import __main__ as command
from upstroke.sheets._template import EXAMPLE

HEADERS: list[Cell] = [
    "Client reference",
    "Static water level [ft]",
    "Tank kind",
    "Total volume [gal]",
    "Customer",
]
GOOD: list[list[Cell]] = [
    HEADERS,
    ["north well", 60.0, "bladder", 20.0, "A"],
    ["south well", 140.5, "diaphragm", 44.0, "B"],
    ["trough", 30.0, "open", 100.0, None],
]
BAD: list[list[Cell]] = [
    HEADERS,
    ["words", "deep", "bladder", 20.0, "A"],
    ["comma", "60,5", "bladder", 20.0, "A"],
    ["wrong unit", "60 psi", "bladder", 20.0, "A"],
    ["wrong word", 60.0, "barrel", 20.0, "A"],
    ["range", "60-70", "bladder", 20.0, "A"],
    ["formula's error", "#DIV/0!", "bladder", 20.0, "A"],
    ["date", dt.date(2026, 3, 4), "bladder", 20.0, "A"],
    ["two", "deep", "barrel", "big", "A"],
    ["stray", 60.0, "bladder", 20.0, "A", "beyond the headers"],
    [None, None, None, None, "no fact at all"],
    [None, None, None, None, None],
    ["=1+1", 60.0, "bladder", 20.0, "@A"],
    ["good", 60.0, "bladder", 20.0, "A"],
]
ROWS = [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 14]  # row 12 is blank
LIVE = {13: "=1+1", 14: "good"}


def with_bad_cells(folder: Path, ending: str) -> Path:
    return write_table(folder / f"sites{ending}", BAD)


@pytest.mark.parametrize("ending", ENDINGS)
def test_no_kind_of_bad_cell_loses_a_row(ending: str, tmp_path: Path, canned: Canned) -> None:
    output = tmp_path / "out.xlsx"
    status = run(with_bad_cells(tmp_path, ending), output, canned)

    results = records(output, "Results")
    assert status == command.SOME_NOT_SIZED
    assert [record["Row"] for record in results] == ROWS
    assert [record["Row"] for record in results if record["Status"] == "sized"] == list(LIVE)
    assert canned.sized == len(LIVE)
    faults = records(output, "Unreadable cells")
    assert [(fault["Row"], fault["Cell"]) for fault in faults] == [
        (2, "B2"), (3, "B3"), (4, "B4"), (5, "C5"), (6, "B6"), (7, "B7"), (8, "B8"),
        (9, "B9"), (9, "C9"), (9, "D9"), (10, "F10"), (11, None),
    ]  # fmt: skip
    assert faults[0]["Sheet"] == ("sites.csv" if ending == ".csv" else "Sites")
    assert (faults[0]["Site"], faults[0]["Header or field"]) == ("words", "Static water level [ft]")
    assert (faults[0]["What stands there"], faults[10]["What stands there"]) == ("deep", "beyond the headers")
    assert faults[0]["What is wrong"].startswith("not a number; accepted units: ft")


def test_a_bad_cell_is_marked_beside_the_results(tmp_path: Path, canned: Canned) -> None:
    output = tmp_path / "out.xlsx"
    run(with_bad_cells(tmp_path, ".xlsx"), output, canned)

    sheet = openpyxl.load_workbook(output)["Results"]
    colours = {cell.coordinate: cell.fill.fgColor.rgb for row in sheet["A2:H13"] for cell in row}
    plain = colours["A2"]
    marked = {name for name, colour in colours.items() if colour != plain}
    # Two columns stand in front of the inputs; column H is the status.
    assert marked == {
        "D2", "H2", "D3", "H3", "D4", "H4", "E5", "H5", "D6", "H6", "D7", "H7", "D8", "H8",
        "D9", "E9", "F9", "H9", "H10", "H11",
    }  # fmt: skip


@pytest.mark.parametrize("rows", [GOOD, [row for row in BAD if row[0] != "date"]], ids=["good", "bad"])
def test_the_three_formats_give_the_same_workbook(
    rows: list[list[Cell]], tmp_path: Path, answer: bytes
) -> None:
    written, asked = [], []
    for ending in ENDINGS:
        output, transport = tmp_path / f"out{ending}.xlsx", Canned(answer)
        run(write_table(tmp_path / f"sites{ending}", rows), output, transport, ["--jobs", "1"])
        sheets = read_sheets(output)
        del sheets["Overview"]
        sheets["Unreadable cells"] = [(*row[:2], *row[3:]) for row in sheets["Unreadable cells"]]
        written.append(sheets)
        asked.append(transport.asked)

    assert len(written[0]["Results"]) == 1 + sum(any(row) for row in rows[1:])
    assert written[1] == written[0]
    assert written[2] == written[0]
    assert len(asked[0]) in {len(GOOD) - 1, len(LIVE)}
    assert asked[1] == asked[0]
    assert asked[2] == asked[0]


def test_the_sheets_say_what_the_answers_say(tmp_path: Path, service: upstroke.Client, near: Connect) -> None:
    table, output = write_table(tmp_path / "sites.csv", GOOD[:2]), tmp_path / "out.xlsx"
    command.main(
        [str(table), "--output", str(output), "--units", "si"],
        near,
    )

    sizing = service.size(
        client_reference="north well",
        well={"static_water_level": "60 ft"},
        tank={"kind": "bladder", "total_volume": "20 gal"},
        units="si",
    )
    (result,) = records(output, "Results")
    best = sizing.candidates[0]
    assert result["Static water level [ft]"] == 60.0
    assert (result["Verdict"], result["Summary"]) == (sizing.verdict, sizing.summary)
    assert (result["Cylinder"], result["Recommended"]) == (sizing.recommended, "yes")
    assert result["Hand force [N]"] == best.effort.hand_force.value
    assert result["Margin [m]"] == best.lift_budget.margin.value
    assert result["Strokes"] == best.fill.strokes
    listed = records(output, "Candidates")
    assert [one["Cylinder"] for one in listed] == [one.cylinder.id for one in sizing.candidates]
    assert [one["Total head [m]"] for one in listed] == [
        one.lift_budget.total_head.value for one in sizing.candidates
    ]
    notes = records(output, "Assumptions and cautions")
    said = {
        kind: [note["Text"] for note in notes if note["What"] == kind] for kind in ("caution", "assumption")
    }
    assert said["caution"] == [one.text for one in sizing.cautions]
    assert said["assumption"] == [one.text for one in sizing.assumptions]
    overview = str(read_sheets(output)["Overview"])
    assert sizing.scope in overview
    assert sizing.catalogue.notice in overview


def test_the_charts_are_those_of_a_spreadsheet(tmp_path: Path, canned: Canned) -> None:
    output = tmp_path / "out.xlsx"
    run(write_table(tmp_path / "sites.csv", GOOD), output, canned)

    with zipfile.ZipFile(output) as archive:
        charts = [
            archive.read(name).decode() for name in sorted(archive.namelist()) if "/charts/chart" in name
        ]
    titles = next(iter(read_sheets(output)["Results"]))
    ranges = [re.findall(r"<c:f>'Results'!\$(\w+)\$2:\$\w+\$4</c:f>", chart) for chart in charts]
    named = [
        [titles[openpyxl.utils.column_index_from_string(letters) - 1] for letters in found]
        for found in ranges
    ]
    assert named == [
        ["Site", "Hand force [lbf]", "Site", "Strokes"],
        ["Site", "Margin [ft]"],
        ["Total head [ft]", "Hand force [lbf]"],
    ]
    assert "<c:barChart>" in charts[0]
    assert "<c:lineChart>" in charts[0]
    assert "<c:scatterChart>" in charts[2]
    assert all("Hand force [lbf]" in chart or "Margin [ft]" in chart for chart in charts)


def test_text_that_begins_like_a_formula_stays_text(tmp_path: Path, canned: Canned) -> None:
    output = tmp_path / "out.xlsx"
    names = ["=1+1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x")', "http://example.com", "plain"]
    rows: list[list[Cell]] = [[name, 60.0, "bladder", 20.0, name] for name in names]
    run(write_table(tmp_path / "a.csv", [HEADERS, *rows]), output, canned)

    expected = [*(f"'{name}" for name in names[:5]), *names[5:]]
    for record, name in zip(records(output, "Results"), expected, strict=True):
        assert [record[title] for title in ("Site", "Client reference", "Customer")] == [name] * 3
    with zipfile.ZipFile(output) as archive:
        formulas = {
            name: archive.read(name).count(b"<f>")
            for name in archive.namelist()
            if "/worksheets/sheet" in name
        }
    assert set(formulas.values()) == {0, formulas["xl/worksheets/sheet1.xml"]}
    assert formulas["xl/worksheets/sheet1.xml"] == 2  # counts of the first sheet


def test_a_formula_without_a_result_is_not_taken_for_a_blank_cell(tmp_path: Path, canned: Canned) -> None:
    book = openpyxl.Workbook()
    book.active.append(HEADERS)
    book.active.append(["a", "=40+20", "bladder", 20.0, "A"])
    book.save(tmp_path / "sites.xlsx")
    output = tmp_path / "out.xlsx"
    run(tmp_path / "sites.xlsx", output, canned)

    (fault,) = records(output, "Unreadable cells")
    assert (fault["Cell"], canned.sized) == ("B2", 0)
    assert fault["What is wrong"].startswith("a formula without a stored result")


@pytest.mark.parametrize("delimiter", [";", "\t"])
def test_decimal_commas_are_read_on_purpose(delimiter: str, tmp_path: Path, canned: Canned) -> None:
    table = write_table(tmp_path / "a.csv", [HEADERS, ["a", "60,5", "bladder", "20", "A"]], delimiter)
    output = tmp_path / "out.xlsx"

    assert run(table, output, canned) == command.SOME_NOT_SIZED
    assert run(table, output, canned, ["--decimal", "comma"]) == command.ALL_SIZED
    assert records(output, "Results")[0]["Static water level [ft]"] == 60.5


def test_bytes_of_another_encoding_lose_no_row(tmp_path: Path, canned: Canned) -> None:
    table, output = tmp_path / "a.csv", tmp_path / "out.xlsx"
    table.write_bytes("Customer,Static water level [ft]\nMüller,60\n".encode("cp1252"))

    run(table, output, canned)
    assert records(output, "Results")[0]["Status"] == "sized"
    assert records(output, "Unreadable cells")[0]["Cell"] == "A2"
    run(table, output, canned, ["--encoding", "cp1252"])
    assert records(output, "Results")[0]["Customer"] == "Müller"


def test_what_the_service_refuses_is_marked_in_its_cell(tmp_path: Path, answer: bytes) -> None:
    refusal = problem(422, "invalid-field", ("/tank/total_volume/value", "too big"), ("/site", "a reason"))
    transport = Canned(answer, lambda count: refusal if count == 1 else None)
    output = tmp_path / "out.xlsx"
    status = run(write_table(tmp_path / "a.csv", GOOD), output, transport, ["--jobs", "1"])

    assert status == command.SOME_NOT_SIZED
    assert [record["Status"] for record in records(output, "Results")] == [
        "not sized: refused",
        "sized",
        "sized",
    ]
    faults = records(output, "Unreadable cells")
    assert [(fault["Cell"], fault["Header or field"], fault["What is wrong"]) for fault in faults] == [
        ("D2", "Total volume [gal]", "too big"),
        (None, "/site", "a reason"),
    ]


def test_items_of_lists_are_filled_by_number_and_a_supply_is_named_by_its_pressures(
    tmp_path: Path, service: upstroke.Client, near: Connect
) -> None:
    headers = [
        "Static water level [ft]",
        "Run 1 length [ft]",
        "Run 2 length [ft]",
        "Run 2 inside diameter [in]",
        "Supply cut in [psi]",
    ]
    table = write_table(tmp_path / "a.csv", [headers, [60.0, None, 75.0, 0.75, 40.0]])
    output = tmp_path / "out.xlsx"

    assert command.main([str(table), "--output", str(output)], near) == 0
    direct = service.size(
        well={"static_water_level": "60 ft"},
        conduit={"runs": [{"length": "75 ft", "inside_diameter": "0.75 in"}]},
        site={"supply": {"kind": "pressure_switch", "cut_in": "40 psi"}},
    )
    assert records(output, "Results")[0]["Calculation"] == direct.calculation_id


def test_the_template_is_a_table_that_can_be_sized(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], service: upstroke.Client, near: Connect
) -> None:
    template, output = tmp_path / "sites.xlsx", tmp_path / "out.xlsx"

    assert command.main(["--template", str(template)]) == command.ALL_SIZED
    assert command.main([str(template), "--output", str(output)], near) == 0
    (result,) = records(output, "Results")
    assert {header: result[header] for header in EXAMPLE} == EXAMPLE
    assert result["Verdict"] in {"fits", "fits_with_limits"}
    assert not service.size(client_reference="x").candidates  # without facts there would be none
    sheets = read_sheets(template)
    assert list(sheets) == ["Sites", "Columns"]
    assert any("Static water level [ft]" in row for row in sheets["Columns"])
    assert f"1 sized\nWorkbook: {output}\n" in capsys.readouterr().out


def test_the_sheet_that_is_named_is_read(tmp_path: Path, canned: Canned) -> None:
    table, output = write_table(tmp_path / "a.xlsx", GOOD), tmp_path / "out.xlsx"

    assert run(table, output, canned, ["--sheet", "Sites"]) == command.ALL_SIZED
    assert run(table, output, canned, ["--sheet", "Other"]) == command.UNUSABLE


@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("a.csv", None, "No such file"),
        ("a.txt", b"", "ends in none of .csv, .xlsx, .ods"),
        ("a.xlsx", b"not a workbook", "can't be read"),
        ("a.ods", b"not a workbook", "can't be read"),
        ("a.csv", b"", "no header names a fact"),
        ("a.csv", b"Static water level [psi]\n60\n", "accepted units"),
        ("a.csv", b"\xef\xbb\xbfCustomer\nA\n", "no header names a fact"),
    ],
)
def test_a_table_that_can_not_be_used_is_explained_and_nothing_is_written(
    name: str,
    content: bytes | None,
    message: str,
    tmp_path: Path,
    canned: Canned,
    capsys: pytest.CaptureFixture[str],
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    status = run(tmp_path / name, tmp_path / "out.xlsx", canned)

    assert (status, canned.sized) == (command.UNUSABLE, 0)
    assert message in capsys.readouterr().err
    assert not (tmp_path / "out.xlsx").exists()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path, canned: Canned) -> None:
    table = write_table(tmp_path / "a.csv", GOOD)

    assert command.main(["--template", str(tmp_path / "none/sites.xlsx")]) == command.UNUSABLE
    assert run(table, tmp_path / "none/out.xlsx", canned) == command.UNUSABLE
    assert canned.sized == 0


def test_a_terminal_shows_one_line_that_moves(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = iter(float(second) for second in range(100))
    monkeypatch.setattr(time, "monotonic", lambda: next(clock))
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    progress = command.Progress(4)
    progress.step()
    progress.step()
    progress.close()

    lines = capsys.readouterr().err.split("\r")
    assert [line.strip() for line in lines] == [
        "",
        "1 of 4 rows, 1 a second, 3 s left",
        "2 of 4 rows, 1 a second, 2 s left",
        "2 of 4 rows, 1 a second, 3 s left",
    ]


def test_an_output_that_is_no_workbook_or_the_table_itself_is_refused(
    tmp_path: Path, canned: Canned, capsys: pytest.CaptureFixture[str]
) -> None:
    table = write_table(tmp_path / "a.xlsx", GOOD)

    assert run(table, tmp_path / "out.csv", canned) == command.UNUSABLE
    assert run(table, table, canned) == command.UNUSABLE
    assert "would overwrite the table" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [[], ["a.csv"], ["a.csv", "--output", "b.xlsx", "--jobs", "0"]])
def test_options_that_can_not_be_used_are_explained(arguments: list[str]) -> None:
    with pytest.raises(SystemExit, match=str(command.UNUSABLE)):
        command.main(arguments)


def test_a_service_that_is_not_there_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    table = write_table(tmp_path / "a.csv", GOOD)
    arguments = ["sheets", str(table), "--output", str(tmp_path / "out.xlsx"), "--url", "http://127.0.0.1:1"]
    monkeypatch.setattr(sys, "argv", arguments)
    monkeypatch.delitem(sys.modules, "upstroke.sheets.__main__")
    with pytest.raises(SystemExit, match=str(command.STOPPED)):
        runpy.run_module("upstroke.sheets", run_name="__main__")
