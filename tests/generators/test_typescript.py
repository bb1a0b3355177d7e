"""Types that openapi-typescript makes of the contract compile strictly and fit what the service answers."""

import json
import shutil
from pathlib import Path

import httpx
from tests.contract.documents import DOCUMENT, FILE
from tests.node import tools

SNIPPET = Path(__file__).parent


def made(tool: str | Path, *arguments: str | Path, folder: Path) -> str:
    """What a tool prints; it has to succeed."""
    done = tools.run(tool, *arguments, folder=folder)
    assert done.returncode == 0, f"{done.stdout}\n{done.stderr}"
    return done.stdout


def test_a_page_in_typescript_asks_the_running_service(address: str, tmp_path: Path) -> None:
    for name in ("quote.ts", "tsconfig.json"):
        shutil.copy(SNIPPET / name, tmp_path)
    (tmp_path / "address.ts").write_text(f"export const ADDRESS = {json.dumps(address)};\n")
    (tmp_path / "package.json").write_text('{"type": "module"}')

    # What has a default may be left out of a request.
    made(tools.TYPES, FILE, "--output", "contract.d.ts", "--default-non-nullable=false", folder=tmp_path)
    made(tools.COMPILER, "--project", ".", folder=tmp_path)
    printed = json.loads(made(tmp_path / "quote.js", folder=tmp_path))

    answer = httpx.post(f"{address}/v1/sizings?units=si", json=printed["facts"], trust_env=False).json()
    assert printed["sizing"] == answer
    assert printed["recommended"] == answer["recommended"]
    assert printed["unit"] == "kPa"
    assert printed["reached"] > 0.0
    assert printed["pointers"] == [["/pressures/target/unit"], ["/wel"]]
    units = DOCUMENT["paths"]["/v1/units"]["get"]["responses"]["200"]["content"]["application/json"]
    listed = units["examples"]["default"]["value"]["dimensions"]
    assert printed["dimensions"] == [one["dimension"] for one in listed]
