"""Sizes a pump for one site: from questions, from options, or from a file of facts.

    python -m upstroke.ask
    python -m upstroke.ask --no-questions --fact "well.static_water_level=120 ft" --json

At a terminal it asks what the service says matters most, one question after the other, most important first.
Whatever is not known is left out with the Enter key: the service then assumes it, and its answer says so.

Exit status: 0, a cylinder fits, maybe with limits; 1, no answer, for the reason on standard error; 2, a faulty
option; 3, no cylinder fits; 4, the depth to the water is not known.
"""

import argparse
import io
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

import msgspec

from ._client import Client
from ._entries import Kind, kind_of, read_entry, with_fact
from ._errors import FactError, InvalidRequestError, UpstrokeError
from ._exchange import Form
from ._layout import paragraph
from ._models import Question, Sizing
from ._report import render

Facts = dict[str, object]

STATUS: Final = {"nothing_fits": 3, "needs_facts": 4}
"""Exit status of each verdict that is not good news."""

MOST_QUESTIONS: Final = 10

# What is asked one by one where a question is about more than one value: words, and places in the request.
_PARTS: Final[Mapping[str, Sequence[tuple[str, str]]]] = {
    "/conduit/runs": (
        ("Length", "/conduit/runs/0/length"),
        ("Inside diameter", "/conduit/runs/0/inside_diameter"),
    ),
    "/site/relief_valve": (
        ("Is one fitted?", "/site/relief_valve/fitted"),
        ("It opens at", "/site/relief_valve/set_pressure"),
    ),
    "/site/supply": (
        ("What is it?", "/site/supply/kind"),
        ("The switch starts the pump at", "/site/supply/cut_in"),
        ("The switch stops the pump at", "/site/supply/cut_out"),
        ("The drive holds", "/site/supply/set_pressure"),
    ),
}
# A part that is asked only after this word.
_ONLY_AFTER: Final = {
    "/site/relief_valve/set_pressure": "yes",
    "/site/supply/cut_in": "pressure_switch",
    "/site/supply/cut_out": "pressure_switch",
    "/site/supply/set_pressure": "constant_pressure",
}


class _EnoughError(Exception):
    """The person has answered enough."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit status."""
    options = _parser().parse_args(arguments)
    try:
        facts = _given(options)
        with _client(options) as client:
            asking = sys.stdin.isatty() if options.questions is None else options.questions
            facts, sizing = _asked(client, facts, options.most) if asking else (facts, client.size(facts))
            if options.report is not None:
                form: Form = "html" if options.report.suffix.lower() in {".html", ".htm"} else "pdf"
                options.report.write_bytes(client.report(facts, form=form))
    except (UpstrokeError, OSError, ValueError, msgspec.MsgspecError) as error:
        _say(f"upstroke: {error}")
        return 1
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a terminal without the degree sign shows a question mark
    if options.json:
        print(msgspec.json.format(msgspec.json.encode(sizing), indent=2).decode())
    else:
        print(render(sizing), end="")
    return STATUS.get(sizing.verdict, 0)


def _client(options: argparse.Namespace) -> Client:
    if options.embedded:
        return Client.embedded(units=options.units, language=options.language)
    return Client(options.url, units=options.units, language=options.language)


def _given(options: argparse.Namespace) -> Facts:
    """The facts of the file and of the options."""
    facts: Facts = {}
    if options.facts is not None:
        with sys.stdin.buffer if options.facts == "-" else open(options.facts, "rb") as file:  # noqa: PTH123
            facts = msgspec.json.decode(file.read(), type=Facts)
    for name, text in options.fact:
        pointer = "/" + name.strip("/").replace(".", "/")
        kind = kind_of(pointer)
        if kind is None:
            raise ValueError(f"--fact {name}: a sizing has no such fact, or it holds others")
        try:
            facts = with_fact(facts, pointer, read_entry(text, kind))
        except ValueError as error:
            raise ValueError(f"--fact {name}: {error}; it takes {kind}") from error
    return facts


def _asked(client: Client, facts: Facts, most: int) -> tuple[Facts, Sizing]:
    """Facts and sizing after what the person answered."""
    sizing = client.size(facts)
    asked: set[str] = set()
    _say("Answer with a value and its unit, or a word. Enter: not known. A full stop: enough questions.\n")
    try:
        while len(asked) < most and (question := _next(sizing, asked)):
            asked.add(question.pointer)
            assumed = {one.pointer: one.text for one in sizing.assumptions}.get(question.pointer, "")
            _show(question, len(asked), assumed)
            facts, sizing = _answered(client, facts, sizing, question)
    except _EnoughError:
        _say("")
    return facts, sizing


def _next(sizing: Sizing, asked: set[str]) -> Question | None:
    """The most important question that has not been asked and can be answered by typing."""
    for question in sizing.questions:
        if question.pointer not in asked and (question.pointer in _PARTS or kind_of(question.pointer)):
            return question
    return None


def _show(question: Question, number: int, assumed: str) -> None:
    lines = [*paragraph(f"{number}. {question.text}"), *paragraph(question.why)]
    lines += paragraph(question.consequence or "")
    lines += paragraph(f"Until then: {assumed}" if assumed else "")
    _say("\n".join(lines))


def _answered(client: Client, facts: Facts, sizing: Sizing, question: Question) -> tuple[Facts, Sizing]:
    """Facts and sizing with the answer to a question, asked again while it does not agree with the others."""
    while True:
        tried = facts
        for pointer, value in _values(question.pointer):
            tried = with_fact(tried, pointer, value)
        if tried == facts:
            return facts, sizing
        try:
            return tried, client.size(tried)
        except FactError as error:
            _say(str(error))
        except InvalidRequestError as error:
            _say("\n".join(fault.detail for fault in error.errors) or str(error))


def _values(pointer: str) -> Iterator[tuple[str, object]]:
    """What the person answers, each with its place; nothing where it is not known."""
    last: object = None
    for position, (words, place) in enumerate(_PARTS.get(pointer, (("", pointer),))):
        if place in _ONLY_AFTER and last != _ONLY_AFTER[place]:
            continue
        kind = kind_of(place)
        value = None if kind is None else _typed(words, kind)
        if value is None and position == 0:
            return
        if value is not None:
            yield place, value
        if isinstance(value, str):
            last = value


def _typed(words: str, kind: Kind) -> object:
    """One value as typed, or None for not known.

    Raises:
        _EnoughError: where the person wants no more questions.
    """
    while True:
        _say(f"{words} [{kind}] > ".lstrip(), end="")
        line = sys.stdin.readline()
        text = line.strip()
        if not line or text == ".":
            raise _EnoughError
        if not text:
            return None
        try:
            return read_entry(text, kind)
        except ValueError as error:
            _say(f"{error}: it takes {kind}")


def _say(text: str, end: str = "\n") -> None:
    """Speak beside the answer, which alone goes to standard output."""
    print(text, end=end, file=sys.stderr, flush=True)


def _fact(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not (name.strip() and sign and value.strip()):
        raise argparse.ArgumentTypeError("a fact is NAME=VALUE, such as 'well.static_water_level=120 ft'")
    return name.strip(), value


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m upstroke.ask",
        description="Sizes a hand-operated well pump for one site.",
        epilog="Exit status: 0 a cylinder fits, maybe with limits; 1 no answer; 2 a faulty option; 3 no cylinder "
        "fits; 4 the depth to the water is not known.",
    )
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--url", help="address of the service (default: UPSTROKE_URL, or this machine)")
    where.add_argument("--embedded", action="store_true", help="calculate here, with the installed service")
    parser.add_argument(
        "--facts", metavar="FILE", help="JSON file with facts of a sizing; - is standard input"
    )
    parser.add_argument(
        "--fact", metavar="NAME=VALUE", action="append", type=_fact, default=[],
        help="one fact, such as 'tank.total_volume=44 gal'; may be repeated",
    )  # fmt: skip
    parser.add_argument(
        "--questions", action=argparse.BooleanOptionalAction, default=None,
        help="whether to ask for what matters most (default: at a terminal)",
    )  # fmt: skip
    parser.add_argument(
        "--most",
        type=int,
        default=MOST_QUESTIONS,
        help=f"questions to ask at most (default: {MOST_QUESTIONS})",
    )
    parser.add_argument("--units", choices=("us", "si"), default="us", help="unit system of the answer")
    parser.add_argument(
        "--language", metavar="TAG", help="language of the answer's sentences and of the report, such as es"
    )
    parser.add_argument(
        "--report", metavar="FILE", type=Path,
        help="also write the report to print: a page where FILE ends in .html, else a PDF",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="print the whole answer as JSON")
    return parser


if __name__ == "__main__":
    sys.exit(main())
