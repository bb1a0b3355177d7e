"""Strokes, time and work of a fill, by integration along the rising pressure."""

import msgspec
import numpy as np

from upstroke_service.physics import fill, tank
from upstroke_service.physics.real import Array, Real

from . import operation
from .facts import Site
from .operation import Operation

_ORDER = 8
_CURVE_ORDER = 4


class Fill(msgspec.Struct, frozen=True):
    """A fill from ``start`` to ``end`` in Pa: water in m³, cycles, seconds (rests included), work in J.

    Each has the shape (sites, candidates, 1), or (sites, candidates, points) along a curve.
    """

    start: Array
    end: Array
    volume: Array
    strokes: Array
    seconds: Array
    work: Array


def start_of_storage(op: Operation) -> Real:
    """Pressure in Pa at which water begins to be stored: the start, or the precharge if higher."""
    return np.maximum(op.site.start, op.site.precharge)


def _rates(op: Operation, pressure: Array) -> tuple[Array, Array, Array]:
    """Strokes, seconds and work per Pa at each tank pressure."""
    site = op.site
    effective = operation.effective_cadence(op, pressure)
    storage = tank.storage_per_pressure(
        pressure, site.tank_volume, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    strokes = np.asarray(storage / operation.net_delivery(op, pressure, effective))
    work = operation.work_of_cycle(op, pressure, operation.pumping_cadence(op, effective))
    return strokes, strokes / effective, strokes * work


def _kinks(op: Operation, start: Array, end: Array) -> list[Array]:
    """Pressures in [start, end] where the rates bend, so that quadrature across them would be wrong.

    The rod begins to need a push, the cadence begins to fall, rests begin.
    """
    kinks = (
        operation.push_begins(op),
        operation.sustained_pressure(op, op.preferred),
        operation.sustained_pressure(op, op.slowest),
    )
    return [np.minimum(np.maximum(kink, start), end) for kink in kinks]


def stored_at(site: Site, pressure: Real) -> Real:
    """Water in m³ in the tank of ``site`` at a gauge ``pressure`` in Pa."""
    return tank.stored_volume(
        pressure, site.tank_volume, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )


def stored_between(op: Operation, pressure: Real) -> Real:
    """Water in m³ that a fill from the start up to ``pressure`` in Pa stores."""
    return stored_at(op.site, pressure) - stored_at(op.site, start_of_storage(op))


def total(op: Operation, stop: Real) -> Fill:
    """Fill to ``stop`` in Pa (nothing where it lies below the start of storage)."""
    end = np.maximum(stop, start_of_storage(op))
    start = np.broadcast_to(start_of_storage(op), end.shape)
    edges = np.sort(np.concatenate([start, *_kinks(op, start, end), end], axis=-1), axis=-1)
    pressure, weights = fill.panels(edges, _ORDER)
    strokes, seconds, work = ((rate * weights).sum(axis=-1, keepdims=True) for rate in _rates(op, pressure))
    return Fill(start, end, np.asarray(stored_between(op, end)), strokes, seconds, work)


def curve(op: Operation, pressure: Array) -> Fill:
    """The same fill up to each of ``pressure`` in Pa, ascending along the last axis from the start."""
    start, end = pressure[..., :1], pressure[..., -1:]
    kinks = _kinks(op, start, end)
    edges = np.concatenate([pressure, *kinks], axis=-1)
    order = np.argsort(edges, axis=-1, kind="stable")
    edges = np.take_along_axis(edges, order, axis=-1)
    nodes, weights = fill.panels(edges, _CURVE_ORDER)
    # Where each requested pressure ended up among the sorted edges.
    places = np.argsort(order, axis=-1, kind="stable")[..., : pressure.shape[-1]]

    def cumulative(rate: Array) -> Array:
        panels = (rate * weights).reshape(*rate.shape[:-1], edges.shape[-1] - 1, _CURVE_ORDER).sum(axis=-1)
        sums = np.concatenate([np.zeros_like(panels[..., :1]), np.cumsum(panels, axis=-1)], axis=-1)
        return np.take_along_axis(sums, places, axis=-1)

    strokes, seconds, work = (cumulative(rate) for rate in _rates(op, nodes))
    return Fill(start, pressure, np.asarray(stored_between(op, pressure)), strokes, seconds, work)
