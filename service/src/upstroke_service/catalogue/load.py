"""Loading a catalogue file as a whole."""

import hashlib
import tomllib
from functools import cache
from importlib import resources
from pathlib import Path

import msgspec

from .components import read_all, read_drive, read_drop_pipe, read_kit, read_rod
from .cylinders import Components, read_cylinder
from .entry import Entry
from .faults import CatalogueError, Fault, Faults
from .model import Catalogue, CatalogueCylinder


def load(path: Path) -> Catalogue:
    """The catalogue in the file at ``path``; raises CatalogueError with all that is wrong with it."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise CatalogueError(
            [Fault(path.name, "", "", f"can't be read as a text file in UTF-8: {fault}")]
        ) from fault
    return load_text(text, path.name)


def load_text(text: str, file_name: str) -> Catalogue:
    """The catalogue that ``text`` holds; raises CatalogueError, whose faults name ``file_name``."""
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise CatalogueError([Fault(file_name, "", "", f"is not TOML: {fault}")]) from fault
    faults = Faults(file_name)
    catalogue = _read(Entry(content, "", faults))
    faults.raise_any()
    return msgspec.structs.replace(catalogue, digest=_digest(catalogue))


@cache
def demo() -> Catalogue:
    """The invented catalogue of this package."""
    file = resources.files("upstroke_service").joinpath("demo", "catalogue.toml")
    return load_text(file.read_text(encoding="utf-8"), file.name)


def _read(top: Entry) -> Catalogue:
    name, title = top.identifier("name"), top.text("title")
    invented = top.flag("invented")
    notice = top.text("notice") if invented else top.text("notice", "")
    components = Components(
        drives=read_all(top, "drives", read_drive),
        rods=read_all(top, "rods", read_rod),
        drop_pipes=read_all(top, "drop_pipes", read_drop_pipe),
        kits=read_all(top, "kits", read_kit),
    )
    cylinders = read_all(top, "cylinders", lambda entry: read_cylinder(entry, components))
    top.finish()
    return Catalogue(
        name=name,
        title=title,
        invented=invented,
        notice=notice,
        digest="",
        drives=tuple(components.drives.values()),
        rods=tuple(components.rods.values()),
        drop_pipes=tuple(components.drop_pipes.values()),
        cylinders=tuple(one for one in cylinders.values() if isinstance(one, CatalogueCylinder)),
        kits=tuple(components.kits.values()),
    )


def _digest(catalogue: Catalogue) -> str:
    """SHA-256 of the content in SI units: layout and comments don't count."""
    return hashlib.sha256(msgspec.json.encode(catalogue, order="deterministic")).hexdigest()
