"""A catalogue in memory: everything resolved, SI units."""

from typing import Literal

from msgspec import Struct

CylinderKind = Literal["lift", "suction"]


class Price(Struct, frozen=True, kw_only=True):
    """An ``amount`` of a ``currency`` (three letters, ISO 4217)."""

    amount: float
    currency: str


class Part(Struct, frozen=True, kw_only=True):
    """A thing to order: so many pieces, and where they are sold by length, how long one piece is in m.

    The number of pieces of a part with a ``piece_length`` follows from the depth of the cylinder, not
    from ``quantity``.
    """

    sku: str
    name: str
    quantity: int
    price: Price | None = None
    lead_time_days: int | None = None
    piece_length: float | None = None


class Drive(Struct, frozen=True, kw_only=True):
    """Handle and stand.

    ``handle_ratio``: travel of the hands over that of the plunger; ``handle_efficiency`` of the
    linkage; ``upstroke_share`` of a cycle's time.
    """

    id: str
    name: str
    handle_ratio: float
    handle_efficiency: float
    upstroke_share: float
    part: Part


class Rod(Struct, frozen=True, kw_only=True):
    """A pump rod: diameter m, density kg/m³, Young's modulus Pa."""

    id: str
    name: str
    material: str
    diameter: float
    density: float
    modulus: float
    part: Part


class DropPipe(Struct, frozen=True, kw_only=True):
    """A drop pipe, or the suction pipe of a suction pump: diameters and roughness in m, modulus in Pa."""

    id: str
    name: str
    material: str
    inside_diameter: float
    outside_diameter: float
    roughness: float
    modulus: float
    poisson_ratio: float
    part: Part


class Kit(Struct, frozen=True, kw_only=True):
    """Parts that are sold together, and whether a check valve and a gauge are among them."""

    id: str
    name: str
    parts: tuple[Part, ...]
    check_valve: bool
    gauge: bool


class CatalogueCylinder(Struct, frozen=True, kw_only=True):
    """A cylinder with all that drives and carries it, SI units.

    ``rated_lift`` m is the greatest total dynamic head that it is sold for, ``seal_drag`` N,
    ``rod_density`` kg/m³, moduli Pa. A ``weep_hole_diameter`` of 0 is no weep hole; ``weep_hole_depth`` m is
    counted from the pump outlet down. ``parts`` begins with the cylinder itself, then drive, rod,
    drop pipe and the parts of its kits.
    """

    id: str
    name: str
    kind: CylinderKind
    bore: float
    stroke: float
    rated_lift: float
    outside_diameter: float
    volumetric_efficiency: float
    seal_drag: float
    drive: str
    handle_ratio: float
    handle_efficiency: float
    upstroke_share: float
    rod_diameter: float
    rod_density: float
    rod_modulus: float
    rod_material: str
    drop_pipe_inside_diameter: float
    drop_pipe_outside_diameter: float
    drop_pipe_material: str
    drop_pipe_roughness: float
    drop_pipe_modulus: float
    drop_pipe_poisson_ratio: float
    weep_hole_diameter: float
    weep_hole_depth: float
    weep_hole_coefficient: float
    kits: tuple[str, ...]
    parts: tuple[Part, ...]


class Catalogue(Struct, frozen=True, kw_only=True):
    """What a dealer sells.

    ``notice`` is what to say wherever it is shown; ``digest`` is the SHA-256 of the content, whatever
    the layout of its file.
    """

    name: str
    title: str
    invented: bool
    notice: str
    digest: str
    drives: tuple[Drive, ...]
    rods: tuple[Rod, ...]
    drop_pipes: tuple[DropPipe, ...]
    cylinders: tuple[CatalogueCylinder, ...]
    kits: tuple[Kit, ...]
