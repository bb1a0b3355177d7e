"""The committed contract and the command that writes the SDK's structs from it."""

import importlib.util
import json
from pathlib import Path
from types import ModuleType
from typing import Any

ROOT = Path(__file__).parents[2]
Document = dict[str, Any]


def contract() -> Document:
    document: Document = json.loads((ROOT / "openapi/openapi.json").read_text())
    return document


def generator() -> ModuleType:
    spec = importlib.util.spec_from_file_location("generate", ROOT / "sdk/generate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
