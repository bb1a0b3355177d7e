"""The command for one site: questions, options, files, and what its exit status says."""

import io
import json
import runpy
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import upstroke
from upstroke import ask
from upstroke._embedded import InProcess

LEVEL = ["--fact", "well.static_water_level=60 ft"]


@pytest.fixture(scope="module")
def service() -> Iterator[upstroke.Transport]:
    """A service that does not log: what is printed is the command's alone."""
    transport = InProcess(())
    yield transport
    transport.close()


@pytest.fixture(autouse=True)
def nearby(service: upstroke.Transport, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every client that the command makes talks to the service of the tests."""

    class Nearby(upstroke.Client):
        def __init__(
            self, _: str | None = None, *, units: upstroke.Units = "us", language: str | None = None
        ) -> None:
            super().__init__(transport=service, units=units, language=language)

        def close(self) -> None:
            """The service goes on for other tests."""

    monkeypatch.setattr(ask, "Client", Nearby)


class Typist:
    """Types prepared lines, each to the question that has its words in it, and Enter to every other."""

    def __init__(self, answers: dict[str, list[str]], capsys: pytest.CaptureFixture[str]) -> None:
        self.answers = answers
        self.capsys = capsys
        self.heard = ""

    def isatty(self) -> bool:
        return True

    def readline(self) -> str:
        shown = self.capsys.readouterr().err
        self.heard += shown
        for words, lines in self.answers.items():
            if words in " ".join(shown.split()) and lines:
                return lines.pop(0) + "\n"
        return "\n"


def asked(
    answers: dict[str, list[str]],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    *options: str,
) -> tuple[int, str, dict[str, object]]:
    """Exit status, what was said, and the answer, of a conversation that may ask everything."""
    typist = Typist(answers, capsys)
    monkeypatch.setattr(sys, "stdin", typist)
    status = ask.main(["--json", "--most", "40", *options])
    printed = capsys.readouterr()
    return status, typist.heard + printed.err, json.loads(printed.out)


def pointers(answer: dict[str, object]) -> set[str]:
    listed = answer["assumptions"]
    assert isinstance(listed, list)
    return {one["pointer"] for one in listed}


def test_it_asks_what_matters_most_first_and_uses_what_is_answered(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], client: upstroke.Client
) -> None:
    first = client.size().questions[0]
    status, said, answer = asked({"How deep is the water": ["60 ft"]}, monkeypatch, capsys)

    assert status == 0
    assert f"1. {first.text}" in " ".join(said.split())
    assert answer["recommended"] == client.size(well={"static_water_level": "60 ft"}).recommended


def test_a_question_about_several_values_is_asked_in_parts(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = {
        "What is it?": ["pressure switch"],
        "starts the pump at": ["30 psi"],
        "stops the pump at": ["50 psi"],
        "Is one fitted?": ["y"],
        "It opens at": ["75 psi"],
        "Inside diameter": ["0.75 in"],
        "Length": ["25 ft"],
    }
    status, said, answer = asked(answers, monkeypatch, capsys, *LEVEL)

    assert status == 0
    assert "The drive holds" not in said
    assert [lines for lines in answers.values() if lines] == []
    assert not pointers(answer) & {
        *(
            "/site/supply",
            "/site/supply/cut_in",
            "/site/supply/cut_out",
            "/site/relief_valve",
            "/conduit/runs",
        ),
    }


def test_what_can_not_be_read_or_does_not_agree_is_asked_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = {"To which pressure": ["50"], "it takes": ["10 psi"], "precharge": ["55 psi"]}
    status, said, answer = asked(answers, monkeypatch, capsys, *LEVEL, "--fact", "tank.precharge=40 psi")

    assert status == 0
    assert "it takes a number and its unit: psi, kPa, bar" in said
    assert "above" in said
    assert "/pressures/target" not in pointers(answer)


@pytest.mark.parametrize("script", [".\n", ""])
def test_a_full_stop_or_the_end_of_input_ends_the_questions(
    script: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(script))
    status = ask.main(["--questions", *LEVEL])
    printed = capsys.readouterr()

    assert status == 0
    assert printed.out.startswith("Hand pump for filling a")
    assert "1. " in printed.err
    assert "2. " not in printed.err


def test_no_more_is_asked_than_wanted(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n" * 20))
    ask.main(["--questions", "--most", "2"])
    said = capsys.readouterr().err

    assert "2. " in said
    assert "3. " not in said


def test_without_a_terminal_nothing_is_asked_and_the_page_is_printed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    status = ask.main([*LEVEL, "--units", "si"])
    printed = capsys.readouterr()

    assert (status, printed.err) == (0, "")
    assert "Total head" in printed.out
    assert " kPa" in printed.out


def test_a_file_of_facts_and_options_go_together(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], client: upstroke.Client
) -> None:
    file = tmp_path / "facts.json"
    file.write_text('{"well": {"static_water_level": {"value": 60, "unit": "ft"}}, "client_reference": "17"}')
    options = ["--no-questions", "--json", "--facts", str(file), "--fact", "tank.total_volume=44 gal"]
    status = ask.main(options)
    answer = json.loads(capsys.readouterr().out)
    sizing = client.size(
        well={"static_water_level": "60 ft"}, tank={"total_volume": "44 gal"}, client_reference="17"
    )

    assert status == 0
    assert (answer["calculation_id"], answer["client_reference"]) == (sizing.calculation_id, "17")


@pytest.mark.parametrize(
    ("options", "status"),
    [(LEVEL, 0), (["--fact", "well.static_water_level=900 ft"], 3), ([], 4)],
    ids=["fits", "nothing fits", "needs facts"],
)
def test_the_exit_status_says_what_came_of_it(options: list[str], status: int) -> None:
    assert ask.main(["--no-questions", *options]) == status


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--fact", "well.depth=3 ft"], "--fact well.depth: a sizing has no such fact"),
        (["--fact", "well.static_water_level=60"], "it takes a number and its unit"),
        (["--facts", "missing.json"], "missing.json"),
        ([*LEVEL, "--fact", "tank.precharge=60 psi", "--fact", "pressures.target=50 psi"], "/tank/precharge"),
    ],
)
def test_what_keeps_it_from_answering_is_said(
    options: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask.main(["--no-questions", *options]) == 1
    printed = capsys.readouterr()

    assert printed.out == ""
    assert printed.err.startswith("upstroke: ")
    assert said in printed.err


@pytest.mark.parametrize("options", [["--fact", "60 ft"], ["--url", "http://a.test", "--embedded"]])
def test_a_faulty_option_is_refused(options: list[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        ask.main(options)

    assert ended.value.code == 2


@pytest.mark.parametrize(("name", "begins"), [("pump.pdf", b"%PDF-"), ("pump.HTML", b"<!DOCTYPE html>")])
def test_the_report_is_written_beside_the_answer(
    name: str, begins: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask.main(["--no-questions", "--json", "--report", str(tmp_path / name), *LEVEL]) == 0

    answer = json.loads(capsys.readouterr().out)
    written = (tmp_path / name).read_bytes()
    assert written.startswith(begins)
    assert begins == b"%PDF-" or answer["calculation_id"] in written.decode()


def test_sentences_are_in_the_language_that_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert ask.main([*LEVEL, "--language", "es", "--json"]) == 0
    assert "Llena el tanque" in json.loads(capsys.readouterr().out)["summary"]


def test_a_report_that_cannot_be_written_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ask.main(["--no-questions", "--report", str(tmp_path / "none" / "a.pdf"), *LEVEL]) == 1
    assert "none" in capsys.readouterr().err


def test_it_runs_as_a_module(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "argv", ["ask", "--no-questions", "--embedded", "--json", *LEVEL])
    monkeypatch.delitem(sys.modules, "upstroke.ask")
    with pytest.raises(SystemExit) as ended:
        runpy.run_module("upstroke.ask", run_name="__main__")

    assert ended.value.code == 0
    assert json.loads(capsys.readouterr().out)["verdict"] == "fits"
