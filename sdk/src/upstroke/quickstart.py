"""Sizes a pump from a file of facts and prints the answer as a page to read.

python -m upstroke.quickstart --url URL --request FILE --output FILE [--units us|si]
"""

import argparse
import io
import sys
from collections.abc import Sequence
from pathlib import Path

import msgspec

from ._client import Client
from ._errors import UpstrokeError
from ._exchange import Units
from ._models import Sizing
from ._report import render

_INVENTED = "demo-"
_NOTE = "EXAMPLE: the people, the site and every number of this request are invented."


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; 0 is success, 1 is a failure that is explained on standard error."""
    options = _parser().parse_args(arguments)
    try:
        request = msgspec.json.decode(options.request.read_bytes(), type=dict[str, object])
        sizing = _size(options.url, request, options.units)
        text = msgspec.json.format(msgspec.json.encode(sizing), indent=2)
        options.output.write_bytes(text + b"\n")
    except (UpstrokeError, OSError, msgspec.MsgspecError) as error:
        print(f"upstroke: {error}", file=sys.stderr)
        return 1
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a terminal without the degree sign shows a question mark
    invented = str(request.get("client_reference", "")).startswith(_INVENTED)
    print(render(sizing, [_NOTE] if invented else []))
    print(f"The whole answer as JSON: {options.output}")
    return 0


def _size(url: str, request: dict[str, object], units: Units) -> Sizing:
    with Client(url, units=units) as client:
        return client.size(request)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m upstroke.quickstart", description="Sizes a pump from a file of facts."
    )
    parser.add_argument("--url", default="http://127.0.0.1:8080", help="address of the service")
    parser.add_argument("--request", type=Path, required=True, help="JSON file with the facts of a sizing")
    parser.add_argument("--output", type=Path, required=True, help="file that the JSON answer is written to")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="unit system of the answer")
    return parser


if __name__ == "__main__":
    sys.exit(main())
