"""The circumstances of premises and of a place to connect that decide how a hand pump may be joined."""

from typing import Literal

import msgspec

Answer = Literal["yes", "no", "unknown"]

FAR = 30.48
"""Distance in m (100 ft) from which a hose's friction counts against a place. Common practice, no source."""

HIGH = 3.048
"""Rise in m (10 ft) beyond the pump outlet from which a check valve is due even without pressure.
Common practice, no source."""

LEAST_CASING_ROOM = 0.0381
"""Room in m (1.5 in) below which neither a cylinder nor a suction pipe passes. Common practice, no source."""

LEAST_AIR_GAP = 0.0254
"""Least air gap in m (1 in); otherwise twice the inside diameter. ASME A112.1.2."""

HOSE_MARGIN = 1.5
"""Least pressure rating of hose and fittings over the highest pressure. Common practice, no source."""

HOSE_SLACK = 1.1
"""Length of a hose over the distance that it covers. Common practice, no source."""

GAUGE_RANGE = 2.0
"""Full scale of a gauge over the pressure to be read: the middle of a scale reads best (ASME B40.100)."""


class Outlet(msgspec.Struct, frozen=True, kw_only=True):
    """A place to connect, as a caller lists it; m, None where unknown."""

    kind: str
    vacuum_breaker: Answer = "unknown"
    sanitary: Answer = "unknown"
    distance: float | None = None
    rise: float | None = None


class Premises(msgspec.Struct, frozen=True, kw_only=True):
    """What a hookup depends on; SI, gauge pressures, None where unknown.

    ``relief_valve`` is 'yes' only with a known setting, ``relief_setting``. ``limit`` is the highest
    pressure that tank, relief valve, hose and supply are known to allow, ``stop`` the one to stop at.
    ``casing_room`` is left beside whatever hangs in the casing; ``hose_length`` is the length planned.
    ``outlets`` are the connections listed; ``unlisted`` is what is known of a way that none of them is.
    """

    pump: Literal["lift", "suction", "unknown"] = "unknown"
    open_tank: bool = False
    tank_kind_known: bool = True
    tank_condition: Literal["sound", "corroded", "unknown"] = "unknown"
    tank_rating_known: bool = False
    public_main: Answer = "unknown"
    electric_pump: Answer = "unknown"
    discharge: Literal["pitless_adapter", "above_grade", "unknown"] = "unknown"
    freezes: Answer = "unknown"
    frost_depth: float | None = None
    well_pit: Answer = "unknown"
    water_heater: Literal["electric", "gas", "none", "unknown"] = "unknown"
    relief_valve: Answer = "unknown"
    relief_setting: float | None = None
    check_valve: Answer = "unknown"
    supply_known: bool = False
    casing_room: float | None = None
    hose_length: float | None = None
    bore: float | None = None
    start: float = 0.0
    target: float
    limit: float
    stop: float
    outlets: tuple[Outlet, ...] = ()
    unlisted: tuple[Outlet, ...] = ()


def of_premises(premises: Premises) -> set[str]:
    """Circumstances that are the same for every way."""
    return {name for name, true in _of_premises(premises).items() if true}


def of_outlet(outlet: Outlet, *, stated: bool, length_known: bool) -> set[str]:
    """Circumstances of one place to connect; ``stated``: the caller says that it is there."""
    holds = _of_outlet(outlet, stated=stated, length_known=length_known)
    return {name for name, true in holds.items() if true}


def figures(premises: Premises, outlet: Outlet) -> dict[str, float]:
    """The numbers that sentences about one place may name, SI: those of FIGURES that are known."""
    return {name: value for name, value in _figures(premises, outlet).items() if value is not None}


def _of_premises(pre: Premises) -> dict[str, bool]:
    pressurised = not pre.open_tank
    room = pre.casing_room
    return {
        "above_grade": pre.discharge == "above_grade",
        "casing_full": room is not None and room < LEAST_CASING_ROOM,
        "casing_known": room is not None and room >= LEAST_CASING_ROOM,
        "casing_unknown": room is None,
        "check_valve_absent": pre.check_valve == "no",
        "check_valve_unknown": pre.check_valve == "unknown",
        "connections_unlisted": not pre.outlets,
        "discharge_unknown": pre.discharge == "unknown",
        "electric_pump_possible": pre.electric_pump != "no",
        "electric_pump_present": pre.electric_pump == "yes",
        "electric_pump_unknown": pre.electric_pump == "unknown",
        "freezing_unknown": pre.freezes == "unknown",
        "frost_depth_known": pre.frost_depth is not None,
        "frost_possible": pre.freezes != "no",
        "heater_electric": pre.water_heater == "electric",
        "heater_gas": pre.water_heater == "gas",
        "heater_unknown": pre.water_heater == "unknown",
        "no_pressure_room": pressurised and pre.limit <= pre.start,
        "open_tank": pre.open_tank,
        "pitless_adapter": pre.discharge == "pitless_adapter",
        "public_main_connected": pre.public_main == "yes",
        "public_main_unknown": pre.public_main == "unknown",
        "pump_kind_unknown": pre.pump == "unknown",
        "relief_valve_absent": pre.relief_valve == "no",
        "relief_valve_unknown": pre.relief_valve == "unknown",
        "stop_below_target": pressurised and pre.limit < pre.target * (1.0 - 1e-9),
        "suction_pump": pre.pump == "suction",
        "supply_unknown": not pre.supply_known,
        "tank_condition_unknown": pre.tank_condition == "unknown",
        "tank_corroded": pre.tank_condition == "corroded",
        "tank_kind_unknown": not pre.tank_kind_known,
        "tank_rating_unknown": not pre.tank_rating_known,
        "well_pit": pre.well_pit == "yes",
        "well_pit_unknown": pre.well_pit == "unknown",
    }


def _of_outlet(outlet: Outlet, *, stated: bool, length_known: bool) -> dict[str, bool]:
    distance, rise = outlet.distance, outlet.rise
    return {
        "distance_known": distance is not None,
        "far": distance is not None and distance >= FAR,
        "high": rise is not None and rise >= HIGH,
        "length_known": length_known,
        "rise_known": rise is not None,
        "sanitary": outlet.sanitary == "yes",
        "sanitary_unknown": outlet.sanitary == "unknown",
        "stated": stated,
        "vacuum_breaker": outlet.vacuum_breaker == "yes",
        "vacuum_breaker_unknown": outlet.vacuum_breaker == "unknown",
    }


def _figures(pre: Premises, outlet: Outlet) -> dict[str, float | None]:
    length = pre.hose_length if outlet.distance is None else HOSE_SLACK * outlet.distance
    return {
        "air_gap": max(LEAST_AIR_GAP, 2.0 * (pre.bore or 0.0)),
        "casing_room": None if pre.casing_room is None else max(pre.casing_room, 0.0),
        "distance": outlet.distance,
        "frost_depth": pre.frost_depth,
        "gauge_range": GAUGE_RANGE * pre.stop,
        "hose_length": length,
        "hose_rating": max(HOSE_MARGIN * pre.stop, pre.relief_setting or 0.0),
        "limit": pre.limit,
        "relief_setting": pre.relief_setting,
        "rise": outlet.rise,
        "start": pre.start,
        "stop": pre.stop,
        "target": pre.target,
    }


_NOWHERE = Outlet(kind="")
_NOTHING = Premises(target=0.0, limit=0.0, stop=0.0)
CIRCUMSTANCES = frozenset(_of_premises(_NOTHING)) | frozenset(
    _of_outlet(_NOWHERE, stated=False, length_known=False)
)
"""Every circumstance that a rule may name."""
FIGURES = frozenset(_figures(_NOTHING, _NOWHERE))
"""Every number that a rule may name."""
