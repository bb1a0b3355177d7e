"""The air in a tank: what the caller said of it, and what precharge that is worth."""

from typing import NamedTuple

from msgspec import UNSET

from upstroke_service.contract.premises import Tank
from upstroke_service.physics import tank as physics

from .assumed import Reading


class Cushion(NamedTuple):
    """A tank's air: at ``pressure`` (Pa gauge) it takes up ``share`` of the tank.

    Temperatures in K, equal where one of them is not known. ``found`` is true where the air of an
    air-over-water tank was measured rather than taken to fill the tank.
    """

    pressure: float
    share: float = 1.0
    temperature_when_set: float = 1.0
    temperature: float = 1.0
    found: bool = False

    def as_set(self, atmospheric_pressure: float, gas_exponent: float) -> float:
        """Precharge in Pa gauge at the temperature when it was set."""
        if self.share == 1.0:
            return self.pressure
        return float(physics.precharge_of_air(self.share, self.pressure, atmospheric_pressure, gas_exponent))

    def precharge(self, atmospheric_pressure: float, gas_exponent: float) -> float:
        """Precharge in Pa gauge now; the tank's pressure ``atmospheric_pressure`` around it in Pa."""
        as_set = self.as_set(atmospheric_pressure, gas_exponent)
        if self.temperature == self.temperature_when_set:
            return as_set
        return float(
            physics.precharge_at_temperature(
                as_set, self.temperature_when_set, self.temperature, atmospheric_pressure
            )
        )


def kind_of(tank: Tank) -> str:
    """The tank's kind; where it was left out, what is said of its air tells, else it has a bladder."""
    if tank.kind is not UNSET:
        return tank.kind
    touching = tank.air_volume is not UNSET or tank.air_pressure is not UNSET
    return "air_over_water" if touching else "bladder"


def read_total_volume(tank: Tank, reading: Reading) -> float:
    """Volume in m³ of one tank; one that nobody knows holds at least the air that was found in it."""
    air = reading.given(tank.air_volume)
    if tank.total_volume is UNSET and air is not None:
        usual = Reading().number(UNSET, "/tank/total_volume")
        reading.assume("/tank/total_volume", max(usual, air))
        return max(usual, air)
    return reading.number(tank.total_volume, "/tank/total_volume")


def read_cushion(tank: Tank, total_volume: float, usual: float, reading: Reading) -> Cushion:
    """The air of one tank of ``total_volume`` in m³; ``usual`` is the precharge in Pa if nobody knows it."""
    _require_consistent_air(tank, total_volume, reading)
    precharge = reading.given(tank.precharge)
    found = False
    share = 1.0
    if precharge is not None:
        pressure = precharge
    elif kind_of(tank) == "air_over_water":
        pressure, share = _read_air(tank, total_volume, reading)
        found = tank.air_volume is not UNSET or tank.air_pressure is not UNSET
    else:
        pressure = usual
        reading.assume("/tank/precharge", usual)
    when_set, now = _read_temperatures(tank, reading, stated=precharge is not None or found)
    return Cushion(pressure, share, when_set, now, found)


def _read_air(tank: Tank, total_volume: float, reading: Reading) -> tuple[float, float]:
    """Gauge pressure in Pa of the air in an air-over-water tank, and the share of it that it takes up."""
    volume = reading.given(tank.air_volume)
    if volume is None:
        reading.assume("/tank/air_volume", total_volume)
        volume = total_volume
    return reading.number(tank.air_pressure, "/tank/air_pressure"), min(volume / total_volume, 1.0)


def _read_temperatures(tank: Tank, reading: Reading, *, stated: bool) -> tuple[float, float]:
    """Temperatures in K when the precharge was set and now; ``stated``: somebody knows that precharge."""
    when_set, now = reading.given(tank.precharge_temperature), reading.given(tank.air_temperature)
    if when_set is not None and now is not None:
        return when_set, now
    if now is not None:
        reading.assume("/tank/precharge_temperature", now)
    elif stated or when_set is not None:
        reading.assume("/tank/air_temperature", when_set)
    return 1.0, 1.0


def _require_consistent_air(tank: Tank, total_volume: float, reading: Reading) -> None:
    stated = [
        f"/tank/{name}"
        for name, fact in (("air_volume", tank.air_volume), ("air_pressure", tank.air_pressure))
        if fact is not UNSET
    ]
    if stated and kind_of(tank) != "air_over_water":
        reading.contradict(
            "cushion_kind",
            "/tank/kind",
            *stated,
        )
    elif stated and tank.precharge is not UNSET:
        reading.contradict(
            "cushion_twice",
            "/tank/precharge",
            *stated,
        )
    elif (reading.given(tank.air_volume) or 0.0) > total_volume:
        reading.contradict(
            "air_and_total_volume",
            "/tank/air_volume",
            "/tank/total_volume",
        )
    air, volume = reading.given(tank.air_volume), reading.given(tank.total_volume)
    if air is not None and volume is not None and air > volume:
        reading.contradict("air_and_tank", "/tank/air_volume", "/tank/total_volume")
