"""Candidates: from a catalogue or from the request, as columns for the sizing."""

import functools
from typing import Any, NamedTuple

import msgspec
import numpy as np
from msgspec import UNSET, UnsetType

from upstroke_service.catalogue.load import demo, load
from upstroke_service.catalogue.model import Catalogue, CatalogueCylinder
from upstroke_service.contract.cylinders import Cylinder, Selection
from upstroke_service.contract.facts import DropPipe, Pump, Rod, WeepHole
from upstroke_service.contract.problems import ProblemError
from upstroke_service.reference.materials import material
from upstroke_service.reference.roughness import roughness
from upstroke_service.settings import Settings, SettingsError
from upstroke_service.sizing import defaults
from upstroke_service.sizing.facts import Lineup
from upstroke_service.wording import said

from .assumed import Assumed, Reading
from .problems import RequestProblem

PLASTICS = {"pvc", "fibreglass"}

METAL_WALL_SHARE = 2.0 / 3.0
"""Wall of a steel pipe over that of a plastic one of the same bore: Schedule 40 against Schedule 80."""


class Catalogues(NamedTuple):
    """The catalogues of this deployment by name; ``default`` names one of them."""

    by_name: dict[str, Catalogue]
    default: str


def load_catalogues(settings: Settings) -> Catalogues:
    """Load what the settings name, or the invented demo catalogue. Raises CatalogueError, SettingsError."""
    loaded = [load(path) for path in settings.catalogues] or [demo()]
    names = [catalogue.name for catalogue in loaded]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise SettingsError(f"UPSTROKE_CATALOGUES: two files have the name {', '.join(sorted(twice))}")
    return Catalogues({catalogue.name: catalogue for catalogue in loaded}, loaded[0].name)


class Candidates(NamedTuple):
    """The cylinders of one request in the order of their ids, and where they come from."""

    cylinders: tuple[CatalogueCylinder, ...]
    lineup: Lineup
    catalogue: Catalogue | None


def select(selection: Selection, pump: Pump, catalogues: Catalogues, reading: Reading) -> Candidates:
    """The candidates that a request asks for. Raises RequestProblem 'unknown-reference'."""
    if selection.cylinders is not UNSET:
        catalogue = None
        if selection.catalogue is not UNSET or selection.ids is not UNSET:
            reading.contradict(
                "own_or_catalogue",
                "/selection/cylinders",
                "/selection/catalogue" if selection.catalogue is not UNSET else "/selection/ids",
            )
        cylinders = _own(selection.cylinders, pump, reading)
    else:
        catalogue = _catalogue(selection.catalogue, catalogues)
        cylinders = _chosen(selection.ids, catalogue)
    if pump.kind is not UNSET:
        cylinders = tuple(one for one in cylinders if one.kind == pump.kind)
        if not cylinders:
            reading.contradict("no_such_kind", "/pump/kind", "/selection")
    overriding = _overrides(pump, reading)
    reading.close()
    if not overriding:
        return Candidates(cylinders, _columns(cylinders), catalogue)
    changed = tuple(_changed(one, overriding, reading) for one in cylinders)
    reading.close()
    return Candidates(changed, _columns(changed), catalogue)


class Selecting:
    """``select`` for one request after another: while their blocks are equal, the candidates are selected once."""

    def __init__(self) -> None:
        """Nothing has been selected."""
        self._blocks: tuple[Selection, Pump] | None = None
        self._found: Candidates | None = None
        self._assumed: dict[str, Assumed] = {}

    def __call__(
        self, selection: Selection, pump: Pump, catalogues: Catalogues, reading: Reading
    ) -> Candidates:
        """The same as ``select``."""
        if self._found is None or self._blocks != (selection, pump):
            alone = Reading()
            try:
                self._found = select(selection, pump, catalogues, alone)
            except RequestProblem:
                # Once more together with what was read before, so that all that is contradictory is told.
                return select(selection, pump, catalogues, reading)
            self._blocks, self._assumed = (selection, pump), alone.assumed
        for pointer, assumed in self._assumed.items():
            reading.assumed.setdefault(pointer, assumed)
        reading.close()
        return self._found


def _catalogue(name: str | UnsetType, catalogues: Catalogues) -> Catalogue:
    if name is UNSET:
        return catalogues.by_name[catalogues.default]
    found = catalogues.by_name.get(name)
    if found is None:
        names = ", ".join(sorted(catalogues.by_name))
        detail = said("fault", "no_catalogue", name=repr(name), names=names)
        raise RequestProblem(
            "unknown-reference", detail, [ProblemError(pointer="/selection/catalogue", detail=detail)]
        )
    return found


def _chosen(ids: list[str] | UnsetType, catalogue: Catalogue) -> tuple[CatalogueCylinder, ...]:
    everything = _sorted(catalogue.cylinders)
    if ids is UNSET:
        return everything
    names = {one.id for one in everything}
    errors = [
        ProblemError(
            pointer=f"/selection/ids/{place}",
            detail=said("fault", "no_cylinder", catalogue=repr(catalogue.name), name=repr(name)),
        )
        for place, name in enumerate(ids)
        if name not in names
    ]
    if errors:
        raise RequestProblem("unknown-reference", said("fault", "unknown_cylinders"), errors)
    return tuple(one for one in everything if one.id in set(ids))


@functools.lru_cache(maxsize=64)
def _sorted(cylinders: tuple[CatalogueCylinder, ...]) -> tuple[CatalogueCylinder, ...]:
    return tuple(sorted(cylinders, key=lambda one: one.id))


@functools.lru_cache(maxsize=256)
def _columns(cylinders: tuple[CatalogueCylinder, ...]) -> Lineup:
    """The cylinders as columns; cached, since most requests take a whole catalogue as it is."""

    def column(name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        return np.array([[getattr(one, name)] for one in cylinders], dtype=np.float64)

    names = [field for field in Lineup.__struct_fields__ if field != "suction"]
    suction = np.array([[one.kind == "suction"] for one in cylinders])
    return Lineup(suction=suction, **{name: column(name) for name in names})


def _overrides(pump: Pump, reading: Reading) -> dict[str, float | str]:
    """What the request says of every pump, by the name of a cylinder's attribute."""
    changes: dict[str, float | str] = {}
    if pump.rod is not UNSET:
        diameter = reading.required(pump.rod.diameter)
        density = reading.given(pump.rod.density)
        changes["rod_diameter"] = diameter
        changes["rod_density"] = material(pump.rod.material).density if density is None else density
        changes["rod_material"] = pump.rod.material
        changes["rod_modulus"] = _modulus(pump.rod, reading)
    if pump.drop_pipe is not UNSET:
        changes |= _drop_pipe(pump.drop_pipe, reading, "/pump/drop_pipe")
    if pump.weep_hole is not UNSET:
        changes |= _hole(pump.weep_hole, reading, "/pump/weep_hole")
    for name in ("handle_ratio", "handle_efficiency", "upstroke_share"):
        value = getattr(pump, name)
        if value is not UNSET:
            changes[name] = value
    return changes


def _modulus(piece: Rod | DropPipe, reading: Reading) -> float:
    stated = reading.given(piece.elastic_modulus)
    return material(piece.material).youngs_modulus if stated is None else stated


def _drop_pipe(pipe: DropPipe, reading: Reading, pointer: str) -> dict[str, float | str]:
    inside = reading.required(pipe.inside_diameter)
    outside = reading.given(pipe.outside_diameter)
    if outside is None:
        table = "/pump/drop_pipe/outside_diameter"
        wall = defaults.number(table)
        if pipe.material not in PLASTICS:
            wall = 1.0 + METAL_WALL_SHARE * (wall - 1.0)
        outside = inside * wall
        reading.assume(table, wall, pointer=f"{pointer}/outside_diameter")
    elif outside <= inside:
        reading.contradict(
            "pipe_diameters",
            f"{pointer}/outside_diameter",
            f"{pointer}/inside_diameter",
        )
    return {
        "drop_pipe_inside_diameter": inside,
        "drop_pipe_outside_diameter": outside,
        "drop_pipe_material": pipe.material,
        "drop_pipe_roughness": roughness(pipe.material),
        "drop_pipe_modulus": _modulus(pipe, reading),
        "drop_pipe_poisson_ratio": material(pipe.material).poisson_ratio,
    }


def _hole(hole: WeepHole, reading: Reading, pointer: str) -> dict[str, float | str]:
    if not hole.present:
        stated = ("diameter", "depth_below_outlet", "discharge_coefficient")
        given = [f"{pointer}/{name}" for name in stated if getattr(hole, name) is not UNSET]
        if given:
            reading.contradict("weep_hole_absent", f"{pointer}/present", *given)
        return {"weep_hole_diameter": 0.0}
    table = "/pump/weep_hole"
    return {
        "weep_hole_diameter": reading.number(hole.diameter, f"{table}/diameter", f"{pointer}/diameter"),
        "weep_hole_depth": reading.number(
            hole.depth_below_outlet, f"{table}/depth_below_outlet", f"{pointer}/depth_below_outlet"
        ),
        "weep_hole_coefficient": reading.number(
            hole.discharge_coefficient, f"{table}/discharge_coefficient", f"{pointer}/discharge_coefficient"
        ),
    }


def _changed(one: CatalogueCylinder, changes: dict[str, float | str], reading: Reading) -> CatalogueCylinder:
    if one.kind == "suction":
        # A suction pump's rod is short and its pipe holds no rod and no weep hole.
        changes = {
            name: value for name, value in changes.items() if not name.startswith(("rod_", "weep_hole_"))
        }
    changed = msgspec.structs.replace(one, **changes)
    _require_rod_fits(changed, reading, "/pump/rod/diameter", "/pump/drop_pipe/inside_diameter", changes)
    return changed


def _require_rod_fits(
    one: CatalogueCylinder, reading: Reading, rod: str, pipe: str, changes: dict[str, float | str]
) -> None:
    """A rod has to pass the bore and leave room in the drop pipe."""
    pointers = [rod] if "rod_diameter" in changes else []
    if one.rod_diameter >= one.bore and pointers:
        reading.contradict("rod_and_bore", rod, cylinder=repr(one.id))
    if one.kind == "lift" and one.rod_diameter >= one.drop_pipe_inside_diameter:
        pointers += [pipe] if "drop_pipe_inside_diameter" in changes else []
        reading.contradict("rod_and_drop_pipe", *pointers, cylinder=repr(one.id))


def _own(cylinders: list[Cylinder], pump: Pump, reading: Reading) -> tuple[CatalogueCylinder, ...]:
    read: list[CatalogueCylinder] = []
    seen: set[str] = set()
    for place, cylinder in enumerate(cylinders):
        pointer = f"/selection/cylinders/{place}"
        if cylinder.id in seen:
            reading.contradict("same_id", f"{pointer}/id")
        seen.add(cylinder.id)
        read.append(_own_cylinder(cylinder, pump, reading, pointer))
    return _sorted(tuple(read))


def _own_cylinder(cylinder: Cylinder, pump: Pump, reading: Reading, pointer: str) -> CatalogueCylinder:
    table = "/selection/cylinders"
    bore = reading.required(cylinder.bore)
    outside = reading.given(cylinder.outside_diameter)
    if outside is None:
        outside = bore + reading.number(UNSET, f"{table}/outside_diameter", f"{pointer}/outside_diameter")
    elif outside <= bore:
        reading.contradict("cylinder_diameters", f"{pointer}/outside_diameter", f"{pointer}/bore")
    rest: dict[str, Any] = {"weep_hole_diameter": 0.0, "weep_hole_depth": 0.0, "weep_hole_coefficient": 0.8}
    rest |= _drop_pipe(cylinder.drop_pipe, reading, f"{pointer}/drop_pipe")
    if cylinder.kind == "suction" and cylinder.weep_hole is not UNSET and cylinder.weep_hole.present:
        reading.contradict("suction_weep_hole", f"{pointer}/weep_hole/present", f"{pointer}/kind")
    if cylinder.weep_hole is UNSET:
        reading.assume(f"{table}/weep_hole", pointer=f"{pointer}/weep_hole")
    else:
        rest |= _hole(cylinder.weep_hole, reading, f"{pointer}/weep_hole")
    density = reading.given(cylinder.rod.density)
    own = CatalogueCylinder(
        id=cylinder.id,
        name=cylinder.id if cylinder.name is UNSET else cylinder.name,
        kind=cylinder.kind,
        bore=bore,
        stroke=reading.required(cylinder.stroke),
        rated_lift=reading.required(cylinder.rated_lift),
        outside_diameter=outside,
        volumetric_efficiency=reading.number(
            cylinder.volumetric_efficiency,
            f"{table}/volumetric_efficiency",
            f"{pointer}/volumetric_efficiency",
        ),
        seal_drag=reading.number(cylinder.seal_drag, f"{table}/seal_drag", f"{pointer}/seal_drag"),
        drive="",
        handle_ratio=cylinder.handle_ratio,
        handle_efficiency=reading.number(pump.handle_efficiency, "/pump/handle_efficiency"),
        upstroke_share=reading.number(pump.upstroke_share, "/pump/upstroke_share"),
        rod_diameter=reading.required(cylinder.rod.diameter),
        rod_density=material(cylinder.rod.material).density if density is None else density,
        rod_modulus=_modulus(cylinder.rod, reading),
        rod_material=cylinder.rod.material,
        kits=(),
        parts=(),
        **rest,
    )
    _require_rod_fits(
        own,
        reading,
        f"{pointer}/rod/diameter",
        f"{pointer}/drop_pipe/inside_diameter",
        {"rod_diameter": own.rod_diameter, "drop_pipe_inside_diameter": own.drop_pipe_inside_diameter},
    )
    return own
