"""Members that a JSON object has twice: whichever counted would be a guess (RFC 8259, section 4)."""

import json
from typing import Any


class _Repeated(Exception):
    """Some object has a member twice."""


class _Members(list[tuple[str, Any]]):
    """All members of an object as they came."""


def _once(members: list[tuple[str, Any]]) -> None:
    if len({name for name, _ in members}) < len(members):
        raise _Repeated


# Whole numbers as floats: Python refuses to read thousands of digits.
_FAST = json.JSONDecoder(object_pairs_hook=_once, parse_int=float)
_EXACT = json.JSONDecoder(object_pairs_hook=_Members, parse_int=float)

Step = tuple["Step | None", str | int]


def members(document: Any) -> int:
    """How many members all objects of a ``document`` have."""
    count = 0
    pending = [document]
    while pending:
        node = pending.pop()
        if isinstance(node, dict):
            count += len(node)
            pending += node.values()
        elif isinstance(node, list):
            pending += node
    return count


def repeated(text: str) -> list[list[str | int]]:
    """Path to every member of ``text``, which is JSON, that comes again. Raises RecursionError."""
    try:
        _FAST.decode(text)
    except _Repeated:
        return _paths(_EXACT.decode(text))
    return []


def _paths(document: Any) -> list[list[str | int]]:
    found: list[list[str | int]] = []
    pending: list[tuple[Step | None, Any]] = [(None, document)]
    while pending:
        place, node = pending.pop()
        if isinstance(node, _Members):
            seen: set[str] = set()
            for name, value in node:
                if name in seen:
                    found.append(_path((place, name)))
                seen.add(name)
                pending.append(((place, name), value))
        elif isinstance(node, list):
            pending += [((place, index), value) for index, value in enumerate(node)]
    return found


def _path(place: Step | None) -> list[str | int]:
    path: list[str | int] = []
    while place is not None:
        place, name = place
        path.append(name)
    return path[::-1]
