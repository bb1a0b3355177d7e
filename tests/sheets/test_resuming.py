"""A run that was stopped goes on where it was."""

import time
from pathlib import Path

import pytest
from tests.sheets.canned import Canned, problem, run
from tests.sheets.tables import Cell, records, write_table

import upstroke
from upstroke.sheets import __main__ as command
from upstroke.sheets._findings import Findings
from upstroke.sheets._journal import Journal
from upstroke.sheets._writing import Book, Listing

COUNT = 8


@pytest.fixture
def table(tmp_path: Path) -> Path:
    rows: list[list[Cell]] = [[f"site {number}", 40.0 + number] for number in range(COUNT)]
    return write_table(tmp_path / "sites.csv", [["Client reference", "Static water level [ft]"], *rows])


def journal_of(output: Path) -> Path:
    return output.with_name(f"{output.name}.journal")


@pytest.mark.parametrize(
    ("failure", "status"),
    [
        (upstroke.TransportError("the line is cut"), command.STOPPED),
        (problem(401, "unauthenticated"), command.STOPPED),
        (upstroke.Reply(502, {}, b"<html>"), command.STOPPED),
        (KeyboardInterrupt(), command.INTERRUPTED),
    ],
)
def test_it_goes_on_where_it_was_stopped(
    failure: upstroke.Reply | Exception | KeyboardInterrupt,
    status: int,
    table: Path,
    tmp_path: Path,
    answer: bytes,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(time, "sleep", lambda _: None)
    output = tmp_path / "out.xlsx"

    def fail(count: int) -> upstroke.Reply | Exception | None:
        if count < 6:
            return None
        if isinstance(failure, KeyboardInterrupt):
            raise failure
        return failure

    first = Canned(answer, fail)
    assert run(table, output, first, ["--jobs", "1"]) == status
    assert not output.exists()
    kept = journal_of(output).read_bytes()
    assert kept.count(b"\n") == 5

    # As if it had been killed while it wrote.
    journal_of(output).write_bytes(kept + kept[:200])
    second = Canned(answer)
    assert run(table, output, second) == command.ALL_SIZED
    assert second.sized == COUNT - 5
    assert [record["Site"] for record in records(output, "Results")] == [f"site {n}" for n in range(COUNT)]
    assert {record["Status"] for record in records(output, "Results")} == {"sized"}
    assert not journal_of(output).exists()


def test_a_changed_row_is_sized_anew_and_one_that_moved_is_not(
    table: Path, tmp_path: Path, answer: bytes
) -> None:
    output = tmp_path / "out.xlsx"
    run(
        table,
        output,
        Canned(answer, lambda n: upstroke.TransportError("cut") if n == COUNT else None),
        ["--jobs", "1"],
    )
    head, *rows = table.read_text("utf-8").splitlines()
    rows[0] = "site 0,99.0"
    table.write_text("\n".join([head, *reversed(rows)]), "utf-8")
    again = Canned(answer)
    run(table, output, again)

    assert again.sized == 2  # the changed one and the one that was cut off


def test_findings_in_other_units_are_not_taken_over(table: Path, tmp_path: Path, answer: bytes) -> None:
    output = tmp_path / "out.xlsx"
    run(table, output, Canned(answer, lambda n: upstroke.TransportError("cut") if n == COUNT else None))
    again = Canned(answer)
    run(table, output, again, ["--units", "si"])

    assert again.sized == COUNT


def test_findings_of_another_model_are_not_taken_over(tmp_path: Path) -> None:
    with Journal(tmp_path / "j", "2026.1 us") as journal:
        journal.add("k", Findings(scope="old"))
    with Journal(tmp_path / "j", "2026.2 us") as journal:
        assert "k" not in journal
        journal.add("k", Findings(scope="new"))
    with Journal(tmp_path / "j", "2026.1 us") as journal:
        assert journal.get("k").scope == "old"


def test_a_row_without_an_answer_does_not_stop_the_others_and_is_asked_again(
    table: Path, tmp_path: Path, answer: bytes
) -> None:
    output = tmp_path / "out.xlsx"
    failures: dict[int, upstroke.Reply | Exception] = {
        2: problem(500, "internal"),
        3: upstroke.RequestTimeoutError("too slow"),
    }
    status = run(table, output, Canned(answer, failures.get), ["--jobs", "1"])

    assert status == command.SOME_NOT_SIZED
    statuses = [record["Status"] for record in records(output, "Results")]
    assert statuses == ["sized", "not sized: no answer", "not sized: no answer", *["sized"] * (COUNT - 3)]
    reasons = [fault["What is wrong"] for fault in records(output, "Unreadable cells")]
    assert reasons[0].startswith("A title (500)")
    assert reasons[1] == "too slow"
    again = Canned(answer)
    assert run(table, output, again) == command.ALL_SIZED
    assert again.sized == 2


def test_it_waits_as_long_as_a_busy_service_asks(
    table: Path, tmp_path: Path, answer: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    waited: list[float] = []
    monkeypatch.setattr(time, "sleep", waited.append)
    busy = problem(429, "rate-limited")
    slow = upstroke.Reply(429, {"retry-after": "7"}, busy.body)
    transport = Canned(answer, {1: slow, 2: busy}.get)

    assert run(table, tmp_path / "out.xlsx", transport, ["--jobs", "1"]) == command.ALL_SIZED
    assert waited == [7.0, 1.0]
    assert run(table, tmp_path / "out.xlsx", Canned(answer, lambda _: busy)) == command.STOPPED


def test_a_full_sheet_goes_on_in_another(tmp_path: Path) -> None:
    file = tmp_path / "a.xlsx"
    with Book(file, "A") as book:
        listing = Listing(book, "Candidates", ["Number"], last_row=3)
        for number in range(7):
            listing.write([float(number)])
        listing.close()

    sheets = [
        [record["Number"] for record in records(file, name)]
        for name in ("Candidates", "Candidates 2", "Candidates 3")
    ]
    assert sheets == [[0, 1, 2], [3, 4, 5], [6]]
