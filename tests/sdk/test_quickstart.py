"""The command that sizes a pump from a file and prints the answer."""

import io
import runpy
import sys
from pathlib import Path

import msgspec
import pytest
from tests.sdk.contract_document import ROOT

import upstroke
from upstroke import quickstart

QUOTES = ROOT / "service/src/upstroke_service/demo/quotes"


@pytest.fixture
def nearby(service: upstroke.Transport, monkeypatch: pytest.MonkeyPatch) -> None:
    def connect(_: str, *, units: upstroke.Units) -> upstroke.Client:
        return upstroke.Client(transport=service, units=units)

    monkeypatch.setattr(quickstart, "Client", connect)


@pytest.mark.usefixtures("nearby")
def test_it_prints_a_page_and_writes_the_answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "answer.json"
    status = quickstart.main(["--request", str(QUOTES / "fits-easily.json"), "--output", str(output)])

    printed = capsys.readouterr().out
    sizing = msgspec.json.decode(output.read_bytes(), type=upstroke.Sizing)
    assert status == 0
    assert "EXAMPLE: the people, the site and every number of this request are invented." in printed
    assert sizing.summary[:60] in printed
    assert printed.endswith(f"The whole answer as JSON: {output}\n")


@pytest.mark.usefixtures("nearby")
def test_it_answers_in_the_unit_system_that_is_asked_for_and_takes_a_customer_s_own_facts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request, output = tmp_path / "request.json", tmp_path / "answer.json"
    request.write_text('{"well": {"static_water_level": "12 m"}}')
    quickstart.main(["--request", str(request), "--output", str(output), "--units", "si"])

    printed = capsys.readouterr().out
    assert "EXAMPLE" not in printed
    assert "12.0 m" in printed


@pytest.mark.usefixtures("nearby")
def test_a_terminal_that_knows_only_ascii_gets_the_page_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", terminal)
    request = tmp_path / "request.json"
    request.write_text('{"client_reference": "größer"}')
    arguments = ["--request", str(request), "--output", str(tmp_path / "größer.json")]

    assert quickstart.main(arguments) == 0
    terminal.seek(0)
    assert terminal.read().endswith("gr??er.json\n")


@pytest.mark.usefixtures("nearby")
@pytest.mark.parametrize(
    ("text", "message"),
    [
        (None, "No such file"),
        ("[]", "Expected `object`"),
        ('{"well": {"static_water_level": 5}}', "/well/static_water_level: 5 is not a value with its unit"),
        ('{"wel": {}}', "/wel"),
    ],
)
def test_a_failure_is_explained_in_a_sentence_and_by_the_status(
    text: str | None, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = tmp_path / "request.json"
    if text is not None:
        request.write_text(text)
    status = quickstart.main(["--request", str(request), "--output", str(tmp_path / "answer.json")])

    printed = capsys.readouterr()
    assert status == 1
    assert "Hand pump" not in printed.out
    assert printed.err.startswith("upstroke: ")
    assert message in printed.err


def test_a_service_that_is_not_there_is_a_failure(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["--url", "http://127.0.0.1:1", "--request", str(QUOTES / "fits-easily.json")]
    monkeypatch.setattr(sys, "argv", ["quickstart", *arguments, "--output", str(tmp_path / "answer.json")])
    monkeypatch.delitem(sys.modules, "upstroke.quickstart")
    with pytest.raises(SystemExit, match="1"):
        runpy.run_module("upstroke.quickstart", run_name="__main__")

    assert "no answer from http://127.0.0.1:1" in capsys.readouterr().err
