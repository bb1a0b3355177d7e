"""Cylinders of a catalogue file, each resolved with the drive, rod and drop pipe that it names."""

import math
from collections.abc import Mapping
from typing import Final, NamedTuple, TypeVar, cast

from .components import read_part
from .entry import Entry
from .model import CatalogueCylinder, CylinderKind, Drive, DropPipe, Kit, Part, Rod

_KINDS: Final = ("lift", "suction")

_HAND_TRAVEL: Final = (0.15, 2.0)
"""Believable travel of the hands in m; a sizing shortens strokes to what is comfortable."""

_DEFAULT_WEEP_HOLE_COEFFICIENT: Final = 0.80
"""A hole drilled through a thick wall. Common practice, no source: 0.62 would be a sharp edge."""

Component = TypeVar("Component")


class Components(NamedTuple):
    """What the cylinders of a file can name."""

    drives: Mapping[str, Drive]
    rods: Mapping[str, Rod]
    drop_pipes: Mapping[str, DropPipe]
    kits: Mapping[str, Kit]


class _Barrel(NamedTuple):
    bore: float
    stroke: float
    outside_diameter: float


class _WeepHole(NamedTuple):
    diameter: float
    depth: float
    coefficient: float


class Unresolved(NamedTuple):
    """A cylinder that names something unknown: only its id is good."""

    id: str


def read_cylinder(entry: Entry, components: Components) -> CatalogueCylinder | Unresolved:
    """A cylinder and what goes with it."""
    identifier, name = entry.identifier(), entry.text("name")
    kind = entry.choice("kind", _KINDS)
    barrel = _barrel(entry)
    rated_lift = entry.quantity("rated_lift", "length", 1.0, 250.0)
    efficiency = entry.number("volumetric_efficiency", 0.5, 1.0)
    drag = entry.quantity("seal_drag", "force", 0.0, 1_000.0)
    hole = _weep_hole(entry, kind)
    own = read_part(entry, identifier, name)
    drive = _named(entry, "drive", components.drives)
    rod = _named(entry, "rod", components.rods)
    pipe = _named(entry, "drop_pipe", components.drop_pipes)
    kits = _kits(entry, components.kits)
    _check_fit(entry, barrel, drive, rod, pipe)
    if drive is None or rod is None or pipe is None:
        return Unresolved(identifier)
    return CatalogueCylinder(
        id=identifier,
        name=name,
        kind=cast("CylinderKind", kind),
        bore=barrel.bore,
        stroke=barrel.stroke,
        rated_lift=rated_lift,
        outside_diameter=barrel.outside_diameter,
        volumetric_efficiency=efficiency,
        seal_drag=drag,
        drive=drive.id,
        handle_ratio=drive.handle_ratio,
        handle_efficiency=drive.handle_efficiency,
        upstroke_share=drive.upstroke_share,
        rod_diameter=rod.diameter,
        rod_density=rod.density,
        rod_modulus=rod.modulus,
        rod_material=rod.material,
        drop_pipe_inside_diameter=pipe.inside_diameter,
        drop_pipe_outside_diameter=pipe.outside_diameter,
        drop_pipe_material=pipe.material,
        drop_pipe_roughness=pipe.roughness,
        drop_pipe_modulus=pipe.modulus,
        drop_pipe_poisson_ratio=pipe.poisson_ratio,
        weep_hole_diameter=hole.diameter,
        weep_hole_depth=hole.depth,
        weep_hole_coefficient=hole.coefficient,
        kits=tuple(kit.id for kit in kits),
        parts=_parts(own, drive, rod, pipe, kits),
    )


def _barrel(entry: Entry) -> _Barrel:
    return _Barrel(
        bore=entry.quantity("bore", "length", 0.015, 0.2),
        stroke=entry.quantity("stroke", "length", 0.02, 1.0),
        outside_diameter=entry.quantity("outside_diameter", "length", 0.015, 0.3),
    )


def _weep_hole(entry: Entry, kind: str) -> _WeepHole:
    hole = entry.optional_table("weep_hole")
    if hole is None:
        return _WeepHole(0.0, 0.0, _DEFAULT_WEEP_HOLE_COEFFICIENT)
    if kind == "suction":
        entry.refuse("weep_hole", "would let air into a suction pipe; accepted: none where kind is suction")
    found = _WeepHole(
        diameter=hole.quantity("diameter", "length", 0.0002, 0.02),
        depth=hole.quantity("depth_below_outlet", "length", 0.0, 10.0),
        coefficient=hole.number("discharge_coefficient", 0.4, 1.0, _DEFAULT_WEEP_HOLE_COEFFICIENT),
    )
    hole.finish()
    return found


def _named(entry: Entry, field: str, known: Mapping[str, Component]) -> Component | None:
    key = entry.text(field)
    if key and key not in known:
        entry.refuse(field, f"{key!r} is not in this catalogue; accepted: {', '.join(known)}")
    return known.get(key)


def _kits(entry: Entry, known: Mapping[str, Kit]) -> list[Kit]:
    keys = entry.words("kits")
    for key in keys:
        if key not in known:
            entry.refuse("kits", f"{key!r} is not in this catalogue; accepted: {', '.join(known)}")
    if len(set(keys)) < len(keys):
        entry.refuse("kits", "names a kit twice; accepted: each once")
    return [known[key] for key in keys if key in known]


def _check_fit(
    entry: Entry, barrel: _Barrel, drive: Drive | None, rod: Rod | None, pipe: DropPipe | None
) -> None:
    """Note where the pieces can't go together; what is missing or faulty compares as fitting."""
    if barrel.bore >= barrel.outside_diameter:
        entry.refuse("bore", f"is {barrel.bore:.4g} m; accepted: less than outside_diameter")
    if rod and rod.diameter >= barrel.bore:
        entry.refuse(
            "rod", f"is {rod.diameter:.4g} m thick; accepted: thinner than the bore, {barrel.bore:.4g} m"
        )
    inside = pipe.inside_diameter if pipe else math.nan
    if rod and rod.diameter >= inside:
        entry.refuse(
            "rod",
            f"is {rod.diameter:.4g} m thick; accepted: thinner than the drop pipe's {inside:.4g} m inside",
        )
    if drive:
        travel = barrel.stroke * drive.handle_ratio
        shortest, longest = _HAND_TRAVEL
        if travel < shortest or travel > longest:
            entry.refuse(
                "stroke",
                f"with handle_ratio {drive.handle_ratio:g} moves the hands {travel:.3g} m; "
                f"accepted: {shortest:g} to {longest:g} m",
            )


def _parts(own: Part, drive: Drive, rod: Rod, pipe: DropPipe, kits: list[Kit]) -> tuple[Part, ...]:
    return (own, drive.part, rod.part, pipe.part, *(part for kit in kits for part in kit.parts))
