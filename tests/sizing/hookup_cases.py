"""Invented premises for the rules of hookups: harmless ones, changes to them, and random ones."""

from dataclasses import dataclass, field
from typing import Any, get_args

import msgspec
from hypothesis import strategies as st

from upstroke_service.sizing import hookups
from upstroke_service.sizing.hookup_circumstances import Answer, Outlet, Premises
from upstroke_service.sizing.hookups import Judged

PSI = 6_894.757
FOOT = 0.3048

HARMLESS_OUTLET = Outlet(kind="", vacuum_breaker="no", sanitary="no", distance=12.0, rise=1.0)
UNKNOWN = Outlet(kind="")
HARMLESS = Premises(
    pump="lift",
    tank_condition="sound",
    tank_rating_known=True,
    public_main="no",
    electric_pump="yes",
    discharge="pitless_adapter",
    freezes="yes",
    frost_depth=1.2,
    well_pit="no",
    water_heater="electric",
    relief_valve="yes",
    relief_setting=75 * PSI,
    check_valve="yes",
    supply_known=True,
    casing_room=0.08,
    start=28 * PSI,
    target=50 * PSI,
    limit=67.5 * PSI,
    stop=50 * PSI,
)


@dataclass(frozen=True)
class Case:
    """A way at harmless premises, with what is different from them; ``listed``: the caller says it is there."""

    way: str
    listed: bool = True
    outlet: dict[str, Any] = field(default_factory=dict)
    premises: dict[str, Any] = field(default_factory=dict)

    def but(self, **changes: Any) -> "Case":
        """The same with other facts, of the connection or of the premises."""
        own = {name: value for name, value in changes.items() if name in Outlet.__struct_fields__}
        rest = {name: value for name, value in changes.items() if name not in own}
        return Case(self.way, self.listed, self.outlet | own, self.premises | rest)

    def decide(self) -> hookups.Decision:
        """What is decided."""
        outlet = msgspec.structs.replace(HARMLESS_OUTLET, kind=self.way, **self.outlet)
        unlisted = (
            ()
            if self.listed or not self.outlet
            else (msgspec.structs.replace(UNKNOWN, kind=self.way, **self.outlet),)
        )
        premises = msgspec.structs.replace(
            HARMLESS, outlets=(outlet,) if self.listed else (), unlisted=unlisted
        )
        return hookups.decide(msgspec.structs.replace(premises, **self.premises))

    def judged(self) -> Judged:
        """What is decided of this way."""
        decision = self.decide()
        return next(one for one in (*decision.ways, *decision.refused) if one.way == self.way)

    def codes(self, table: str) -> list[str]:
        """Codes of the rows of a table that apply, in their order."""
        return [row.code for row in getattr(self.judged(), PLURALS[table])]


PLURALS = {
    "refusal": "refusals",
    "condition": "conditions",
    "advantage": "advantages",
    "drawback": "drawbacks",
    "check": "checks",
    "part": "parts",
    "step": "steps",
}
TEE = Case("tee")
DRAIN = Case("tank_drain")
HYDRANT = Case("yard_hydrant")
SPIGOT = Case("spigot")
OPEN = Case("open_end", listed=False, premises={"open_tank": True})
"""Each way as such premises have it."""

ANSWERS: st.SearchStrategy[Answer] = st.sampled_from(get_args(Answer))
KINDS = st.sampled_from(["yard_hydrant", "spigot", "tank_drain", "tee"])


def _maybe(lowest: float, highest: float) -> st.SearchStrategy[float | None]:
    return st.none() | st.floats(lowest, highest)


OUTLETS = st.builds(
    Outlet,
    kind=KINDS,
    vacuum_breaker=ANSWERS,
    sanitary=ANSWERS,
    distance=_maybe(0.0, 200.0),
    rise=_maybe(-30.0, 30.0),
)


@st.composite
def premises(draw: st.DrawFn) -> Premises:
    """Any premises; what hangs together does so: a known relief valve has a setting, and no limit is passed."""
    relief = draw(ANSWERS)
    limit, target = draw(st.floats(0.0, 1e6)), draw(st.floats(1.0, 1e6))
    return Premises(
        pump=draw(st.sampled_from(["lift", "suction", "unknown"])),
        open_tank=draw(st.booleans()),
        tank_kind_known=draw(st.booleans()),
        tank_condition=draw(st.sampled_from(["sound", "corroded", "unknown"])),
        tank_rating_known=draw(st.booleans()),
        public_main=draw(ANSWERS),
        electric_pump=draw(ANSWERS),
        discharge=draw(st.sampled_from(["pitless_adapter", "above_grade", "unknown"])),
        freezes=draw(ANSWERS),
        frost_depth=draw(_maybe(0.0, 3.0)),
        well_pit=draw(ANSWERS),
        water_heater=draw(st.sampled_from(["electric", "gas", "none", "unknown"])),
        relief_valve=relief,
        relief_setting=draw(st.floats(1.0, 1e6)) if relief == "yes" else None,
        check_valve=draw(ANSWERS),
        supply_known=draw(st.booleans()),
        casing_room=draw(_maybe(-0.1, 0.5)),
        hose_length=draw(_maybe(0.0, 100.0)),
        bore=draw(_maybe(0.005, 0.1)),
        start=draw(st.floats(0.0, 6e5)),
        target=target,
        limit=limit,
        stop=min(limit, target),
        outlets=tuple(draw(st.lists(OUTLETS, max_size=4))),
    )
