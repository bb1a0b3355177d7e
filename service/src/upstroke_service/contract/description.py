"""Descriptions of fields, as the OpenAPI document shows them."""

from msgspec import Meta


def about(description: str) -> Meta:
    """Annotation of a field with what it means."""
    return Meta(description=description)
