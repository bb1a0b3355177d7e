"""Tables in files: the same rows give the same results whichever way they come in, and faults are told."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.csv
import pyarrow.ipc
import pyarrow.parquet as pq
import pytest
from tests.tables.rows import table

from upstroke_service.api import sizings
from upstroke_service.tables import files
from upstroke_service.tables.__main__ import ALL_SIZED, NOT_RUN, SOME_REFUSED, main

POINTERS = [
    "/well/static_water_level",
    "/well/well_drawdown",
    "/conduit/rise",
    "/tank/count",
    "/site/freezes",
]
BATCH = table(5, 40, 0.8, POINTERS)


def split(batch: pa.RecordBatch, path: Path, rows: int) -> Path:
    """A file of batches of so many rows."""
    with pa.ipc.new_file(path, batch.schema) as writer:
        for first in range(0, batch.num_rows, rows):
            writer.write(batch.slice(first, rows))
    return path


def write(path: Path, batch: pa.RecordBatch = BATCH) -> Path:
    if path.suffix == ".parquet":
        pq.write_table(pa.Table.from_batches([batch]), path, row_group_size=7)
    elif path.suffix == ".arrow":
        split(batch, path, 9)
    else:
        with files.writing(path, batch.schema) as writer:
            writer.write(batch)
    return path


def template_of_a_tank(folder: Path) -> Path:
    file = folder / "template.json"
    file.write_text(json.dumps({"tank": {"total_volume": {"value": 44, "unit": "gal"}}}))
    return file


def run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


def refuse(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    assert run(*arguments) == NOT_RUN
    return capsys.readouterr().err


@pytest.fixture(scope="module")
def expected(tmp_path_factory: pytest.TempPathFactory) -> pa.Table:
    folder = tmp_path_factory.mktemp("expected")
    assert run(write(folder / "in.parquet"), folder / "out.parquet") == ALL_SIZED
    return pq.read_table(folder / "out.parquet")


@pytest.mark.parametrize("suffix", files.SUFFIXES)
def test_every_kind_of_file_gives_the_same_results(tmp_path: Path, expected: pa.Table, suffix: str) -> None:
    given = write(tmp_path / f"in{suffix}")

    assert run(given, tmp_path / "out.parquet", "--rows", 11) == ALL_SIZED

    assert pq.read_table(tmp_path / "out.parquet").equals(expected, check_metadata=True)
    assert [one.name for one in tmp_path.iterdir() if one != given] == ["out.parquet"]


def test_results_in_arrow_and_csv_hold_the_same(tmp_path: Path, expected: pa.Table) -> None:
    given = write(tmp_path / "in.csv")
    assert run(given, tmp_path / "out.arrow") == run(given, tmp_path / "out.csv") == ALL_SIZED

    with pa.memory_map(str(tmp_path / "out.arrow")) as source:
        assert pa.ipc.open_file(source).read_all().equals(expected)
    text = pa.csv.read_csv(tmp_path / "out.csv")
    assert text["lift_margin [ft]"].to_pylist() == expected["lift_margin"].to_pylist()
    assert text["cautions"].to_pylist() == ["; ".join(codes) for codes in expected["cautions"].to_pylist()]
    assert text["well"].to_pylist() == expected["well"].to_pylist()


def test_a_folder_of_files_is_one_table(tmp_path: Path, expected: pa.Table) -> None:
    (tmp_path / "in").mkdir()
    write(tmp_path / "in" / "a.parquet", BATCH.slice(0, 25))
    write(tmp_path / "in" / "b.parquet", BATCH.slice(25))

    assert run(tmp_path / "in", tmp_path / "out.parquet") == ALL_SIZED

    assert pq.read_table(tmp_path / "out.parquet").equals(expected)


def test_finished_parts_are_not_done_again_unless_something_changed(
    tmp_path: Path, expected: pa.Table, capsys: pytest.CaptureFixture[str]
) -> None:
    given, folder = write(tmp_path / "in.parquet"), tmp_path / "out"
    template = tmp_path / "template.json"
    template.write_text("{}")
    arguments = (given, folder, "--rows", 14, "--template", template)
    assert run(*arguments) == ALL_SIZED
    made = {path: path.stat().st_mtime_ns for path in sorted(folder.iterdir())}
    assert len(made) == 3
    removed = next(iter(made))
    removed.unlink()

    assert run(*arguments) == ALL_SIZED

    assert "parts finished before: 2" in capsys.readouterr().err
    again = {path: path.stat().st_mtime_ns for path in made}
    assert [path for path in made if again[path] != made[path]] == [removed]
    assert pq.read_table(folder).equals(expected)
    template.write_text(json.dumps({"operator": {"people": 2}}))
    assert run(*arguments) == ALL_SIZED
    assert all(path.stat().st_mtime_ns != again[path] for path in again)


def test_a_part_whose_rows_changed_is_done_again(tmp_path: Path) -> None:
    lines = ["/well/static_water_level [ft]", "50", "60", "70", "80", ""]
    given = tmp_path / "in.csv"
    given.write_text("\n".join(lines))
    assert run(given, tmp_path / "out", "--rows", 2) == ALL_SIZED
    made = [path.stat().st_mtime_ns for path in sorted((tmp_path / "out").iterdir())]

    given.write_text("\n".join([*lines[:4], "90", ""]))
    assert run(given, tmp_path / "out", "--rows", 2) == ALL_SIZED

    again = [path.stat().st_mtime_ns for path in sorted((tmp_path / "out").iterdir())]
    assert [one == other for one, other in zip(made, again, strict=True)] == [True, False]


@pytest.mark.parametrize("rows", [[4, 6], [6, 4]])
def test_parts_of_an_arrow_file_that_hold_other_rows_are_done_again(tmp_path: Path, rows: list[int]) -> None:
    """The same file in other parts: of each it is the same bytes that hold other rows."""
    given, folder = split(BATCH.slice(0, 12), tmp_path / "in.arrow", 2), tmp_path / "out"
    assert run(given, tmp_path / "whole.parquet") == ALL_SIZED

    for some in rows:
        assert run(given, folder, "--rows", some) == ALL_SIZED

    assert len(list(folder.iterdir())) == 12 // rows[-1]
    assert pq.read_table(folder).equals(pq.read_table(tmp_path / "whole.parquet"))


def test_a_part_of_an_arrow_file_whose_dictionary_changed_is_done_again(tmp_path: Path) -> None:
    def wells(soil: str) -> Path:
        levels = pa.array([50.0, 60.0, 70.0, 80.0])
        carried = pa.DictionaryArray.from_arrays(pa.array([0, 1, 0, 1], pa.int8()), ["clay", soil])
        units = {"unit": "ft"}
        schema = pa.schema(
            [
                pa.field("/well/static_water_level", pa.float64(), metadata=units),
                pa.field("soil", carried.type),
            ]
        )
        return split(pa.record_batch([levels, carried], schema=schema), tmp_path / "in.arrow", 2)

    assert run(wells("sand"), tmp_path / "out", "--rows", 2) == ALL_SIZED
    assert run(wells("loam"), tmp_path / "out", "--rows", 2) == ALL_SIZED

    assert pq.read_table(tmp_path / "out")["soil"].to_pylist() == ["clay", "loam"] * 2


INTERRUPTIBLE = """
import runpy, signal
# A shell has jobs in the background ignore an interruption, and so does what they start.
signal.signal(signal.SIGINT, signal.default_int_handler)
runpy.run_module("upstroke_service.tables", run_name="__main__", alter_sys=True)
"""


def told_to_end(told: signal.Signals, folder: Path, *arguments: object) -> tuple[int, str]:
    """Exit status and last words of the command where it is told to end while it writes into the ``folder``."""
    command = [sys.executable, "-c", INTERRUPTIBLE, *map(str, arguments)]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as process:  # noqa: S603 - our own
        assert process.stderr
        while not process.stderr.readline().endswith(" a second\n"):
            assert process.poll() is None
        while not list(folder.glob(f".*{files.INCOMPLETE}")):
            assert process.poll() is None
            time.sleep(0.01)
        process.send_signal(told)
        said = process.stderr.read()
        return process.wait(60), said


@pytest.mark.parametrize(("told", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
@pytest.mark.parametrize("workers", [(), ("--workers", 1)], ids=["alone", "with a worker"])
def test_what_is_told_to_end_leaves_no_half_of_a_file(
    tmp_path: Path, workers: tuple[object, ...], told: signal.Signals, status: int
) -> None:
    rows = pa.Table.from_batches([BATCH] * 10_000)
    pq.write_table(rows, tmp_path / "in.parquet", row_group_size=40_000)
    output = tmp_path / "out"
    output.mkdir()

    ended, said = told_to_end(told, output, tmp_path / "in.parquet", output, "--rows", 40_000, *workers)

    assert ended == status
    assert said.splitlines()[-1] == "tables: stopped; finished parts are kept, and the same command goes on"
    assert "Traceback" not in said
    finished = list(output.iterdir())
    assert finished == list(output.glob("part-*.parquet"))
    assert len(finished) < 10


@pytest.mark.parametrize("rows", [1, 2, 3, 5, 100])
def test_lines_are_split_between_lines(tmp_path: Path, rows: int) -> None:
    path = tmp_path / "in.csv"
    path.write_bytes(b"well\r\n" + b"".join(b"W-%d\r\n" % place for place in range(7)) + b"W-7")

    parts = files.parts_of(path, rows)

    found = [[row for batch in files.read(part) for row in batch["well"].to_pylist()] for part in parts]
    assert [row for part in found for row in part] == [f"W-{place}" for place in range(8)]
    assert all(len(part) == rows for part in found[:-1])


def test_rows_with_problems_are_told_by_number(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = tmp_path / "in.csv"
    given.write_text(
        "\ufeffname,/well/static_water_level [ft],/well/well_depth [m],/tank/count,/site/freezes\n"
        "a,60,100,1,no\nb,60 ft,100,1,no\nc,60,10,1,no\nd,60,100,1.5,perhaps\n\ne,,,,\n",
        encoding="utf-8",
    )

    assert run(given, tmp_path / "out.csv", "--rows", 2) == SOME_REFUSED

    told = capsys.readouterr().err
    assert "row 2: invalid-field /well/static_water_level" in told
    assert "row 3: contradictory-facts /well/static_water_level, /well/well_depth" in told
    assert "row 4: invalid-field /tank/count, /site/freezes" in told
    assert "problems: 3" in told
    results = pa.csv.read_csv(tmp_path / "out.csv").to_pylist()
    assert [row["name"] for row in results] == ["a", "b", "c", "d", "e"]
    assert [row["verdict"] for row in results] == ["fits", "", "", "", "needs_facts"]


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("/well/static_water_level", "needs one of the units ft, in, m, cm, mm"),
        ("/well/static_water_level [psi]", "has psi"),
        ("/well/depth [ft]", "no fact that may vary by row"),
        ("/tank/count [ft]", "has no unit"),
        ("/pump/handle_ratio", "no fact that may vary by row"),
        ("/tank/count,/tank/count", "is there twice"),
        ("/tank/count,well.static_water_level [ft]", "name it /well/static_water_level to have it read"),
        ("name,depth", "no column holds a fact"),
        ("time,/tank/count", "time: results have columns of these names"),
        ("name;/tank/count;/conduit/rise [m]", "semicolons or tabs between cells"),
    ],
)
def test_columns_that_cannot_be_read_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], header: str, said: str
) -> None:
    (tmp_path / "in.csv").write_text(f"{header}\n{','.join('1' * (header.count(',') + 1))}\n")

    assert said in refuse(capsys, tmp_path / "in.csv", tmp_path / "out.csv")
    assert not (tmp_path / "out.csv").exists()


@pytest.mark.parametrize(
    "rows",
    ['60,"two\nlines"', '60,6" casing\n61,"not closed\n62,c', '60,x\n61,"A\n99,"\n62,y\n63,"z\n5,"'],
    ids=["two lines", "not closed", "across parts"],
)
def test_cells_with_line_breaks_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], rows: str
) -> None:
    (tmp_path / "in.csv").write_text(f"/well/static_water_level [ft],note\n{rows}\n")

    for arguments in ((), ("--rows", 2)):
        assert "no line break in any" in refuse(capsys, tmp_path / "in.csv", tmp_path / "out.csv", *arguments)


@pytest.mark.parametrize("suffix", [".parquet", ".arrow"])
def test_a_unit_may_stand_in_the_name_of_any_column(tmp_path: Path, suffix: str) -> None:
    pointer = "/well/static_water_level"
    for name, unit in ((f"{pointer} [ft]", None), (pointer, {"unit": "ft"})):
        schema = pa.schema([pa.field(name, pa.float64(), metadata=unit)])
        file = tmp_path / f"{'metadata' if unit else 'name'}{suffix}"
        write(file, pa.record_batch([pa.array([50.0, 60.0])], schema=schema))
        assert run(file, file.with_suffix(".csv"), "--template", template_of_a_tank(tmp_path)) == ALL_SIZED

    assert (tmp_path / "name.csv").read_text() == (tmp_path / "metadata.csv").read_text()


def test_two_units_of_one_column_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    field = pa.field("/well/static_water_level [ft]", pa.float64(), metadata={"unit": "m"})
    pq.write_table(pa.table([[50.0]], schema=pa.schema([field])), tmp_path / "in.parquet")

    said = refuse(capsys, tmp_path / "in.parquet", tmp_path / "out.csv")
    assert "/well/static_water_level: is in ft by its name, in m by its metadata" in said


@pytest.mark.parametrize("detail", ["compact", "candidates", "full"])
def test_of_no_rows_the_columns_are_read_all_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], detail: str
) -> None:
    (tmp_path / "in.csv").write_text("/well/static_water_level [ft],name\n")
    (tmp_path / "wrong.csv").write_text("/well/static_water_lvl [ft],name\n")

    assert run(tmp_path / "in.csv", tmp_path / "out.parquet", "--detail", detail) == ALL_SIZED
    assert pq.read_table(tmp_path / "out.parquet").num_rows == 0
    assert "no fact that may vary" in refuse(
        capsys, tmp_path / "wrong.csv", tmp_path / "wrong.parquet", "--detail", detail, "--workers", 1
    )
    assert not list(tmp_path.glob("wrong.parquet*"))


def test_an_output_without_a_place_is_refused_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = write(tmp_path / "in.csv")
    (tmp_path / "folder.csv").mkdir()
    (tmp_path / "file").touch()

    assert "is a folder, where a file" in refuse(capsys, given, tmp_path / "folder.csv")
    assert "is a file, where a folder" in refuse(capsys, given, tmp_path / "file")
    assert "missing: is no folder" in refuse(capsys, given, tmp_path / "missing" / "out.csv")


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ({"tank": {"count": 0}}, "/tank/count: Must be at least 1"),
        ({"selection": {"catalogue": "none"}}, "/selection/catalogue"),
    ],
)
def test_a_faulty_template_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], template: Any, said: str
) -> None:
    (tmp_path / "template.json").write_text(json.dumps(template))

    arguments = (write(tmp_path / "in.csv"), tmp_path / "out.csv", "--template", tmp_path / "template.json")
    assert said in refuse(capsys, *arguments)


def test_files_that_are_no_tables_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "in.parquet").write_text("no table")
    (tmp_path / "ragged.csv").write_text("a,/tank/count\n1,2\n1\n")

    assert "in.parquet" in refuse(capsys, tmp_path / "in.parquet", tmp_path / "out.csv")
    assert "ragged.csv" in refuse(capsys, tmp_path / "ragged.csv", tmp_path / "out.csv")
    assert "is not there" in refuse(capsys, tmp_path / "missing.csv", tmp_path / "out.csv")
    (tmp_path / "latin.csv").write_bytes("a,/tank/count\nJosé,1\n".encode("latin-1"))
    assert "A CSV file is UTF-8 text" in refuse(capsys, tmp_path / "latin.csv", tmp_path / "out.csv")
    (tmp_path / "in.txt").write_text("a\n1\n")
    assert "no table" in refuse(capsys, tmp_path / "in.txt", tmp_path / "out.csv")


def test_a_folder_that_holds_something_else_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "mine").mkdir()
    own = write(tmp_path / "mine" / "part-000000.parquet")

    assert "is in the way" in refuse(capsys, write(tmp_path / "in.csv"), tmp_path / "mine")
    assert "at the same time" in refuse(capsys, tmp_path / "mine", tmp_path / "mine")
    assert pq.read_table(own)["well"].to_pylist() == BATCH["well"].to_pylist()


def test_an_output_that_is_read_or_seems_to_be_another_file_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = write(tmp_path / "in.csv")
    content = given.read_bytes()

    assert "at the same time" in refuse(capsys, given, given)
    assert "at the same time" in refuse(capsys, tmp_path, tmp_path / "out.csv")
    assert "a file ends in .csv" in refuse(capsys, given, tmp_path / "out.xlsx")
    assert "address" in refuse(capsys, given, tmp_path / "out", "--scheduler", "nowhere")
    assert given.read_bytes() == content


def test_names_of_files_may_be_in_capitals(tmp_path: Path, expected: pa.Table) -> None:
    given = write(tmp_path / "in.csv").rename(tmp_path / "IN.CSV")

    assert run(given, tmp_path / "OUT.PARQUET") == ALL_SIZED
    assert pq.read_table(tmp_path / "OUT.PARQUET").equals(expected)


def test_columns_of_one_name_are_carried_over_each(tmp_path: Path) -> None:
    (tmp_path / "in.csv").write_text("a,a,/tank/count\n1,2,1\n")

    assert run(tmp_path / "in.csv", tmp_path / "out.csv") == ALL_SIZED
    assert (tmp_path / "out.csv").read_text().splitlines()[1].startswith('"1","2","needs_facts"')


@pytest.mark.parametrize("workers", [(), ("--workers", 1)], ids=["alone", "with a worker"])
def test_what_csv_can_not_hold_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], workers: tuple[object, ...]
) -> None:
    nested = pa.array([{"a": 1}, None])
    pq.write_table(pa.table({"/tank/count": [1, 2], "nested": nested}), tmp_path / "in.parquet")

    said = refuse(capsys, tmp_path / "in.parquet", tmp_path / "out.csv", *workers)
    assert "out.csv: can't hold a column that is carried over" in said
    assert [one.name for one in tmp_path.iterdir()] == ["in.parquet"]
    assert run(tmp_path / "in.parquet", tmp_path / "out.parquet") == ALL_SIZED
    assert pq.read_table(tmp_path / "out.parquet")["nested"].to_pylist() == [{"a": 1}, None]


def test_who_reads_only_the_first_columns_gets_no_error() -> None:
    command = [sys.executable, "-m", "upstroke_service.tables", "--columns"]
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, check=False)  # noqa: S603 - our own
    os.close(writing)

    assert (ended.returncode, ended.stderr) == (0, b"")


def test_a_whole_answer_that_fails_costs_no_other_row(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "in.csv").write_text("/well/static_water_level [m]\n20\n21\n22\n")
    whole = sizings.size

    def size(request: Any, context: Any) -> Any:
        if request.well.static_water_level.value == 21.0:
            raise ZeroDivisionError
        return whole(request, context)

    monkeypatch.setattr(sizings, "size", size)
    assert run(tmp_path / "in.csv", tmp_path / "out.parquet", "--detail", "full") == SOME_REFUSED

    first, second, third = pq.read_table(tmp_path / "out.parquet").to_pylist()
    assert second["problem"] == "internal-error"
    assert [second[one] for one in ("verdict", "strokes", "candidate_ids", "answer")] == [None] * 4
    assert first["answer"]
    assert third["answer"]


def test_the_columns_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run("--columns")

    assert ended.value.code == 0
    told = capsys.readouterr().out
    assert "/well/static_water_level [ft, in, m, cm, mm]" in told
    assert "0 to 1968 ft\n" in told
    assert "hand_force [lbf, N]" in told


def test_all_candidates_and_whole_answers(tmp_path: Path) -> None:
    given = write(tmp_path / "in.parquet", BATCH.slice(0, 6))

    assert run(given, tmp_path / "out.parquet", "--detail", "full") == ALL_SIZED

    for row in pq.read_table(tmp_path / "out.parquet").to_pylist():
        answer = json.loads(row["answer"])
        listed = answer["candidates"]
        assert row["verdict"] == answer["verdict"]
        assert (row["candidate_ids"] or []) == [one["cylinder"]["id"] for one in listed]
        assert (row["candidate_outcomes"] or []) == [one["outcome"] for one in listed]
        assert (row["candidate_governed_by"] or []) == [one["governed_by"] for one in listed]
        assert (row["candidate_strokes"] or []) == [one["fill"]["strokes"] for one in listed]
        for name in ("water", "end", "time"):
            assert (row[f"candidate_{name}"] or []) == [one["fill"][name]["value"] for one in listed]
        margins = [one["lift_budget"]["margin"]["value"] for one in listed]
        assert (row["candidate_lift_margin"] or []) == margins
        forces = [one["effort"]["hand_force"]["value"] for one in listed]
        assert (row["candidate_hand_force"] or []) == forces
