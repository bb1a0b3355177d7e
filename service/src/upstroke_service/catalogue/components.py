"""What goes with a cylinder: drives, rods, drop pipes and kits, read from a catalogue file."""

import math
from collections.abc import Callable
from typing import Final, Protocol, TypeVar

from upstroke_service.reference.materials import ROD_MATERIALS
from upstroke_service.reference.roughness import roughness

from .entry import Entry
from .model import Drive, DropPipe, Kit, Part, Rod

MATERIALS: Final = tuple(ROD_MATERIALS)
"""Materials of rods and drop pipes."""

MODULUS: Final = (1e8, 1e12)
"""Believable Young's moduli of a rod or a pipe in Pa."""

DENSITY: Final = (500.0, 20_000.0)
"""Believable densities of a rod in kg/m³."""

_LONGEST_LEAD_TIME = 1_000
_LONGEST_PIECE = 50.0


class Named(Protocol):
    """A thing with an id."""

    @property
    def id(self) -> str: ...  # noqa: D102 - the protocol's one member


Component = TypeVar("Component", bound=Named)


def read_all(top: Entry, field: str, read: Callable[[Entry], Component]) -> dict[str, Component]:
    """Every component of the list in ``field`` by its id; notes an id that comes twice."""
    found: dict[str, Component] = {}
    for entry in top.tables(field):
        component = read(entry)
        entry.finish()
        if component.id in found:
            entry.refuse(
                "id", f"{component.id!r} is taken by another of the {field}; accepted: an id of its own"
            )
        elif component.id:
            found[component.id] = component
    return found


def read_part(
    entry: Entry, identifier: str | None, name: str, quantity: int = 1, piece_length: float | None = None
) -> Part:
    """The part that ``entry`` is ordered as: its sku, or its ``identifier`` where it has none."""
    sku = entry.text("sku", identifier)
    return Part(
        sku=sku,
        name=name,
        quantity=quantity,
        price=entry.price(),
        lead_time_days=entry.optional_whole("lead_time_days", 0, _LONGEST_LEAD_TIME),
        piece_length=piece_length,
    )


def _piece_length(entry: Entry) -> float | None:
    """Length in m of one piece of what is sold by length."""
    length = entry.optional_quantity("piece_length", "length", 0.1, _LONGEST_PIECE)
    return None if math.isnan(length) else length


def _modulus(entry: Entry, material: str) -> float:
    """Young's modulus in Pa: as stated, or the material's."""
    stated = entry.optional_quantity("elastic_modulus", "modulus", *MODULUS)
    if math.isnan(stated) and material:
        return ROD_MATERIALS[material].youngs_modulus
    return stated


def read_drive(entry: Entry) -> Drive:
    """A drive."""
    identifier, name = entry.identifier(), entry.text("name")
    return Drive(
        id=identifier,
        name=name,
        handle_ratio=entry.number("handle_ratio", 1.0, 20.0),
        handle_efficiency=entry.number("handle_efficiency", 0.5, 1.0),
        upstroke_share=entry.number("upstroke_share", 0.2, 0.8),
        part=read_part(entry, identifier, name),
    )


def read_rod(entry: Entry) -> Rod:
    """A pump rod; its material sets density and stiffness where the file doesn't."""
    identifier, name = entry.identifier(), entry.text("name")
    material = entry.choice("material", MATERIALS)
    density = entry.optional_quantity("density", "density", *DENSITY)
    if math.isnan(density) and material:
        density = ROD_MATERIALS[material].density
    return Rod(
        id=identifier,
        name=name,
        material=material,
        diameter=entry.quantity("diameter", "length", 0.003, 0.06),
        density=density,
        modulus=_modulus(entry, material),
        part=read_part(entry, identifier, name, piece_length=_piece_length(entry)),
    )


def read_drop_pipe(entry: Entry) -> DropPipe:
    """A drop pipe, narrower inside than outside."""
    identifier, name = entry.identifier(), entry.text("name")
    material = entry.choice("material", MATERIALS)
    inside = entry.quantity("inside_diameter", "length", 0.01, 0.25)
    outside = entry.quantity("outside_diameter", "length", 0.01, 0.3)
    if inside >= outside:
        entry.refuse(
            "inside_diameter", f"is {inside:.4g} m; accepted: less than outside_diameter, {outside:.4g} m"
        )
    return DropPipe(
        id=identifier,
        name=name,
        material=material,
        inside_diameter=inside,
        outside_diameter=outside,
        roughness=roughness(material) if material else math.nan,
        modulus=_modulus(entry, material),
        poisson_ratio=ROD_MATERIALS[material].poisson_ratio if material else math.nan,
        part=read_part(entry, identifier, name, piece_length=_piece_length(entry)),
    )


def read_kit(entry: Entry) -> Kit:
    """A kit and its parts."""
    parts: list[Part] = []
    for item in entry.tables("parts"):
        parts.append(read_part(item, None, item.text("name"), item.whole("quantity", 1, 1_000)))
        item.finish()
    return Kit(
        id=entry.identifier(),
        name=entry.text("name"),
        parts=tuple(parts),
        check_valve=entry.flag("check_valve"),
        gauge=entry.flag("gauge"),
    )
