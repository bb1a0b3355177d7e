"""The contract as pages for people, made from the OpenAPI document: plain HTML, nothing from elsewhere, no scripts."""

import json
import re
from collections.abc import Iterator, Sequence
from html import escape
from typing import Any

Schema = dict[str, Any]

FOLDER = "/docs"
STYLE = f"{FOLDER}/style.css"
SCHEMAS = "schemas"

_WORDS = {"string": "text", "integer": "whole number", "boolean": "true or false", "object": "object"}
_BOUNDS = {
    "minimum": " from {}",
    "maximum": " to {}",
    "minLength": ", at least {} characters",
    "maxLength": ", at most {} characters",
    "minItems": ", at least {} entries",
    "maxItems": ", at most {} entries",
    "pattern": ", matching <code>{}</code>",
    "default": ", if left out <code>{}</code>",
}


def pages(document: Schema) -> dict[str, str]:
    """Every page by its name: '' lists the operations, each of which has a page named by its id."""
    operations = list(_operations(document))
    schemas = document["components"]["schemas"]
    found = {"": _overview(document, operations), SCHEMAS: _schemas(schemas)}
    for method, path, operation in operations:
        found[operation["operationId"]] = _operation(method, path, operation)
    return found


def page(title: str, content: str) -> str:
    """A page around ``content``, which is HTML; ``title`` is text."""
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)} – upstroke</title>
<link rel="stylesheet" href="{STYLE}">
</head>
<body>
<a class="skip" href="#content">Skip to the content</a>
<header>
<a class="home" href="{FOLDER}">upstroke</a>
<nav aria-label="Pages"><a href="{FOLDER}">Operations</a> <a href="{FOLDER}/{SCHEMAS}">Schemas</a>
<a href="/openapi.json">OpenAPI document</a></nav>
</header>
<main id="content">
<h1>{escape(title)}</h1>
{content}
</main>
</body>
</html>
"""


def _operations(document: Schema) -> Iterator[tuple[str, str, Schema]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield method.upper(), path, operation


def _overview(document: Schema, operations: list[tuple[str, str, Schema]]) -> str:
    about = document["info"]
    parts = [prose(about["summary"], "lead"), prose(about["description"])]
    parts.append(f'<p class="quiet">Version {escape(about["version"])} of the contract.</p>')
    for tag in document["tags"]:
        parts += [f"<h2>{escape(tag['name'].capitalize())}</h2>", prose(tag["description"]), "<dl>"]
        for method, path, operation in operations:
            if tag["name"] in operation["tags"]:
                address = f"{FOLDER}/{operation['operationId']}"
                parts.append(
                    f'<dt><a href="{address}">{escape(operation["summary"])}</a> {_call(method, path)}</dt>'
                    f"<dd>{_inline(operation['description'])}</dd>"
                )
        parts.append("</dl>")
    return page("Sizing hand-operated well pumps: the interface", "\n".join(parts))


def _operation(method: str, path: str, operation: Schema) -> str:
    parts = [f'<p class="call">{_call(method, path)}</p>', prose(operation["description"], "lead")]
    if operation["parameters"]:
        parts += ["<h2>Parameters</h2>", _parameters(operation["parameters"])]
    if "requestBody" in operation:
        body = operation["requestBody"]
        parts += ["<h2>Request</h2>", prose(body["description"]), *_content(body["content"])]
    parts.append("<h2>Answers</h2>")
    for status, response in operation["responses"].items():
        parts += [f"<h3>{status}</h3>", prose(response["description"])]
        if response.get("headers"):
            parts.append(_headers(status, response["headers"]))
        parts += _content(response.get("content", {}))
    return page(operation["summary"], "\n".join(parts))


def _parameters(parameters: list[Schema]) -> str:
    rows = [
        (
            f"<code>{escape(one['name'])}</code>",
            f"{escape(one['in'])}, {'needed' if one.get('required') else 'may be left out'}",
            _type(one["schema"]),
            _inline(one["description"]),
        )
        for one in parameters
    ]
    return _table("Parameters", ("name", "where", "value", "meaning"), rows)


def _headers(status: str, headers: dict[str, Schema]) -> str:
    rows = [
        (f"<code>{escape(name)}</code>", _inline(header["description"])) for name, header in headers.items()
    ]
    return _table(f"Headers of {status}", ("header", "meaning"), rows)


def _content(content: dict[str, Schema]) -> Iterator[str]:
    for media_type, described in content.items():
        yield f"<p>{_type(described['schema'])} as <code>{escape(media_type)}</code></p>"
        for name, one in described.get("examples", {}).items():
            yield _example(name, one["value"])


def _schemas(schemas: dict[str, Schema]) -> str:
    parts = ['<p class="lead">What requests and answers are made of.</p>']
    parts.append('<ul class="names">')
    parts += [f'<li><a href="#{escape(name)}">{escape(name)}</a></li>' for name in sorted(schemas)]
    parts.append("</ul>")
    for name in sorted(schemas):
        schema = schemas[name]
        parts += [f'<h2 id="{escape(name)}">{escape(name)}</h2>', prose(schema.get("description", ""))]
        variants = schema.get("anyOf", [schema])
        if all(_is_quantity(one) for one in variants):
            parts.append(_table(f"Units of {name}", ("unit", "value"), [_quantity(one) for one in variants]))
        elif "properties" in schema:
            parts.append(_fields(name, schema))
        else:
            parts.append(f"<p>{_type(schema)}</p>")
    return page("Schemas", "\n".join(parts))


def _is_quantity(schema: Schema) -> bool:
    return (
        schema.get("properties", {}).keys() == {"value", "unit"} and "const" in schema["properties"]["unit"]
    )


def _quantity(schema: Schema) -> tuple[str, str]:
    members = schema["properties"]
    return f"<code>{escape(members['unit']['const'])}</code>", _type(members["value"])


def _fields(name: str, schema: Schema) -> str:
    needed = schema.get("required", ())
    rows = [
        (
            f"<code>{escape(field)}</code>{'' if field in needed else ' <span>may be left out</span>'}",
            _type(one),
            _inline(one.get("description", "")),
        )
        for field, one in schema["properties"].items()
    ]
    return _table(f"Fields of {name}", ("field", "value", "meaning"), rows)


def _type(schema: Schema) -> str:
    """What a value may be, in words."""
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="{FOLDER}/{SCHEMAS}#{name}">{name}</a>'
    if "const" in schema:
        return f"<code>{escape(json.dumps(schema['const']))}</code>"
    if "enum" in schema:
        words = "one of " + ", ".join(f"<code>{escape(str(one))}</code>" for one in schema["enum"])
    elif "anyOf" in schema:
        words = " or ".join(_type(one) for one in schema["anyOf"])
    elif schema.get("type") == "array":
        words = f"list of {_type(schema['items'])}"
    elif _is_quantity(schema):
        unit, value = _quantity(schema)
        words = f"{value} in {unit}"
    elif isinstance(schema.get("additionalProperties"), dict):
        words = f"object of {_type(schema['additionalProperties'])}"
    else:
        kind: str = schema.get("type", "any value")
        words = _WORDS.get(kind, kind)
    return words + "".join(text.format(_value(schema[key])) for key, text in _BOUNDS.items() if key in schema)


def _value(value: Any) -> str:
    return escape(f"{value:g}" if isinstance(value, float) else str(value))


def _example(name: str, value: Any) -> str:
    label = f"Example: {name.replace('-', ' ')}"
    text = escape(json.dumps(value, indent=2, ensure_ascii=False))
    shown = _scrolling(label, f"<pre><code>{text}</code></pre>")
    return f"<details><summary>{escape(label)}</summary>{shown}</details>"


def _call(method: str, path: str) -> str:
    return f"<code><b>{method}</b> {escape(path)}</code>"


def _table(caption: str, heads: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    head = "".join(f'<th scope="col">{one}</th>' for one in heads)
    lines = "".join(
        f'<tr><th scope="row">{first}</th>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>'
        for first, *rest in rows
    )
    return _scrolling(
        caption,
        f"<table><caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead><tbody>{lines}</tbody></table>",
    )


def _scrolling(label: str, content: str) -> str:
    """What may be wider than a telephone: reachable by keyboard, so that it can be scrolled without a mouse."""
    return f'<div class="wide" role="region" aria-label="{escape(label)}" tabindex="0">{content}</div>'


def prose(text: str, kind: str = "") -> str:
    """A paragraph of text."""
    named = f' class="{kind}"' if kind else ""
    return f"<p{named}>{_inline(text)}</p>" if text else ""


def _inline(text: str) -> str:
    """Text as HTML, with what is set as code in it."""
    return re.sub(r"``?([^`]+)``?", r"<code>\1</code>", escape(text))
