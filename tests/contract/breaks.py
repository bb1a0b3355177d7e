"""What a new contract takes from those who built on an older one.

Requests that were accepted have to stay accepted and mean the same; answers may grow, but nothing in them may go.
Whatever no client can notice is no break: descriptions, examples, new optional facts, new fields and words of answers,
new operations, new kinds of refusals.
"""

from collections.abc import Iterator
from typing import Any

from tests.contract.schema_breaks import Break, Node, SchemaComparison, Side

__all__ = ["Break", "breaks"]

Security = list[dict[str, list[str]]]

METHODS = ("get", "put", "post", "delete", "options", "head", "patch", "trace")


def breaks(old: Node, new: Node) -> list[Break]:
    """Every break from one OpenAPI document to another. Raises ValueError where either can't be compared."""
    for document in (old, new):
        _require_comparable(document)
    return list(dict.fromkeys(_Comparison(old, new).all()))


def _require_comparable(document: Node) -> None:
    """Only schemas may be shared, as in the contract that the service writes."""
    for path, methods in document["paths"].items():
        if unknown := methods.keys() - set(METHODS):
            raise ValueError(f"the comparison of contracts can't read {sorted(unknown)} of {path}")
        for operation in methods.values():
            parts = [operation.get("requestBody", {}), *operation["responses"].values()]
            if any("$ref" in part for part in [*parts, *operation.get("parameters", [])]):
                raise ValueError(f"the comparison of contracts can't read references in {path}")


class _Comparison:
    def __init__(self, old: Node, new: Node) -> None:
        self.old, self.new = old, new
        self.schemas = SchemaComparison(old, new)

    def all(self) -> Iterator[Break]:
        for path, methods in self.old["paths"].items():
            for method, operation in methods.items():
                place = f"{method.upper()} {path}"
                kept = self.new["paths"].get(path, {}).get(method)
                if kept is None:
                    yield Break("operation removed", place, "")
                else:
                    yield from self.operation(operation, kept, place)

    def operation(self, old: Node, new: Node, place: str) -> Iterator[Break]:
        if old.get("operationId") != new.get("operationId"):
            # Generated clients name their methods by it.
            yield Break(
                "operation id changed", place, f"{old.get('operationId')} to {new.get('operationId')}"
            )
        yield from self.security(old, new, place)
        yield from self.parameters(old, new, place)
        yield from self.body(old.get("requestBody", {}), new.get("requestBody", {}), f"{place} body")
        for status, answer in old["responses"].items():
            if status in new["responses"]:
                yield from self.answer(answer, new["responses"][status], f"{place} {status}")
            else:
                yield Break("status removed", place, status)

    def security(self, old: Node, new: Node, place: str) -> Iterator[Break]:
        """Each way in that sufficed has to suffice still."""
        ways = _ways(new, self.new)
        for way in _ways(old, self.old):
            if not any(_suffices(way, other) for other in ways):
                yield Break(
                    "security required", place, f"no longer open with {' and '.join(way) or 'nothing'}"
                )

    def parameters(self, old: Node, new: Node, place: str) -> Iterator[Break]:
        before, after = _by_name(old), _by_name(new)
        for key, parameter in before.items():
            if key not in after:
                yield Break("input removed", place, f"{key[0]} parameter {key[1]}")
            else:
                yield from self.schemas.between(
                    parameter["schema"], after[key]["schema"], f"{place} {key[1]}", "input"
                )
        for key, parameter in after.items():
            if parameter.get("required") and not before.get(key, {}).get("required"):
                yield Break("input required", place, f"{key[0]} parameter {key[1]}")

    def body(self, old: Node, new: Node, place: str) -> Iterator[Break]:
        if new.get("required") and not old.get("required"):
            yield Break("input required", place, "")
        if old and not new:
            yield Break("input removed", place, "")
        else:
            yield from self.content(old, new, place, "input")

    def answer(self, old: Node, new: Node, place: str) -> Iterator[Break]:
        for name in old.get("headers", {}):
            if name not in new.get("headers", {}):
                yield Break("answer field removed", place, f"header {name}")
        yield from self.content(old, new, place, "answer")

    def content(self, old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
        for media_type, media in old.get("content", {}).items():
            if media_type in new.get("content", {}):
                yield from self.schemas.between(
                    media["schema"], new["content"][media_type]["schema"], place, side
                )
            else:
                yield Break("media type removed", place, media_type)


def _ways(operation: Node, document: Node) -> Security:
    """The alternative ways in; one that asks for nothing where none is stated."""
    stated: Security = operation["security"] if "security" in operation else document.get("security", [])
    return stated or [{}]


def _suffices(way: dict[str, list[str]], other: dict[str, list[str]]) -> bool:
    """Whether who has ``way`` has all that ``other`` asks for."""
    return all(name in way and set(scopes) <= set(way[name]) for name, scopes in other.items())


def _by_name(operation: Node) -> dict[tuple[str, str], Node]:
    parameters: list[dict[str, Any]] = operation.get("parameters", [])
    return {(one["in"], one["name"]): one for one in parameters}
