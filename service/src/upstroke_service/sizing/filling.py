"""Strokes, time and work of a fill, by integration along the rising pressure."""

import math
from typing import Any

import msgspec
import numpy as np

from upstroke_service.physics import fill
from upstroke_service.physics.real import Array, Real

from . import operation, picking, storage
from .facts import Site
from .operation import Operation

_ORDER = 8
_LEAST_SHARE = 1e-6


class Fill(msgspec.Struct, frozen=True):
    """A fill from ``start`` to ``end`` in Pa: water in m³, cycles, seconds (rests included), work in J.

    Each has the shape (sites, candidates, 1). ``edges`` are the limits of the panels of the integration
    along the last axis; ``along`` holds, at its nodes, the strokes, seconds and work per Pa, the effective
    cadence and the hand force (first axis), but nothing where the fill is not ``curved``. ``cadences`` are
    the effective cadences at the start, at the end and at the target (last axis).
    """

    start: Array
    end: Array
    volume: Array
    strokes: Array
    seconds: Array
    work: Array
    edges: Array
    along: Array
    cadences: Array

    def of(self, place: slice) -> "Fill":
        """The fill of some of the candidates of a single site."""
        values = {name: getattr(self, name)[place] for name in self.__struct_fields__ if name != "along"}
        return Fill(along=self.along[:, place], **values)


class Curve(msgspec.Struct, frozen=True):
    """A fill point by point: the shape is (sites, candidates, points).

    ``cadence`` 1/s with rests, ``hand_force`` N.
    """

    pressure: Array
    volume: Array
    strokes: Array
    seconds: Array
    work: Array
    cadence: Array
    hand_force: Array


def _along(op: Operation, pressure: Array, effective: Array) -> Array:
    """Strokes, seconds and work per Pa, effective cadence and hand force at each tank pressure."""
    pumping = operation.pumping_cadence(op, effective)
    # A fill ends before nothing arrives; where it can't even begin, nothing may become infinite.
    net = np.maximum(operation.net_delivery(op, pressure, effective), _LEAST_SHARE * op.displacement)
    strokes = np.asarray(storage.per_pressure(op.site, pressure) / net)
    along = np.empty((5, *strokes.shape))
    along[0] = strokes
    along[1] = strokes / effective
    along[2] = strokes * operation.work_of_cycle(op, pressure, pumping)
    along[3] = effective
    along[4] = operation.hand_force(op, pressure, pumping)
    return along


def _kinks(op: Operation, start: Array, end: Array) -> list[Array]:
    """Pressures in [start, end] where the rates bend, so that quadrature across them would be wrong.

    The rod begins to need a push; power or force begins to slow the cadence; it no longer falls for
    either of them; the slowing passes from one to the other, roughly.
    """
    kinks = (
        operation.push_begins(op),
        operation.sustained_pressure(op, op.preferred),
        operation.sustained_pressure(op, op.slowest),
        operation.bearable_pressure(op, op.preferred),
        operation.bearable_pressure(op, op.slowest),
    )
    return [np.minimum(np.maximum(kink, start), end) for kink in kinks]


def total(op: Operation, stop: Real, *, curved: bool = True) -> Fill:
    """Fill to ``stop`` in Pa (nothing where it lies below the start of storage); ``curved`` where ``curve`` follows."""
    end = np.maximum(stop, storage.start_of_storage(op.site))
    # Where sites differ in the tank's volume alone, no pressure has their axis yet.
    end = np.broadcast_to(end, np.broadcast_shapes(end.shape, np.shape(op.site.tank_volume)))
    start = np.broadcast_to(storage.start_of_storage(op.site), end.shape)
    edges = np.sort(np.concatenate([start, *_kinks(op, start, end), end], axis=-1), axis=-1)
    reported = np.concatenate([start, end, np.broadcast_to(op.site.target, end.shape)], axis=-1)
    cadences = np.asarray(operation.effective_cadence(op, reported))

    # Most panels between the edges are empty, because most kinks lie outside the fill: there is nothing to evaluate.
    lower, upper = edges[..., :-1], edges[..., 1:]
    filled = lower < upper
    *places, _ = np.nonzero(filled)
    some: Any = picking.Picked(op, picking.Places(lower.shape[:-1], *places))
    nodes, _ = fill.panels(np.stack([lower[filled], upper[filled]], axis=-1), _ORDER)
    # Node by node in memory, so that operations with one value for each candidate run straight through.
    nodes = np.asfortranarray(nodes)
    found = _along(some, nodes, np.asarray(operation.effective_cadence(some, nodes)))
    of_panels = np.zeros((3, *lower.shape))
    of_panels[:, filled] = found[:3] @ fill.panel_weights(_ORDER) * (upper - lower)[filled]
    strokes, seconds, work = of_panels.sum(axis=-1, keepdims=True)

    along = np.zeros((5, *lower.shape, _ORDER if curved else 0))
    if curved:
        forces = np.asarray(operation.hand_force(op, reported, operation.pumping_cadence(op, cadences)))
        # In empty panels they are those of the start or the end.
        for place, values in ((3, cadences), (4, forces)):
            along[place] = np.where(upper <= start, values[..., :1], values[..., 1:2])[..., np.newaxis]
        along[:, filled] = found
    volume = np.asarray(storage.stored_between(op.site, end))
    flat = along.reshape(*along.shape[:-2], math.prod(along.shape[-2:]))
    return Fill(start, end, volume, strokes, seconds, work, edges, flat, cadences)


def curve(site: Site, found: Fill, pressure: Array) -> Curve:
    """The fill ``found`` at ``site`` up to each rising ``pressure`` in Pa between its start and its end.

    Integrates the polynomials through the nodes of the fill's own quadrature, so that the last point
    is the fill's total.
    """
    edges = found.edges
    panels = edges.shape[-1] - 1
    # One row per candidate and site, so that points can be looked up by plain indices.
    rows = np.arange(pressure[..., 0].size).reshape(*pressure.shape[:-1], 1)
    place = (pressure[..., np.newaxis] >= edges[..., np.newaxis, 1:-1]).sum(axis=-1)
    flat = edges.reshape(-1, panels + 1)
    lower = flat[rows, place]
    width = flat[rows, place + 1] - lower
    share = (pressure - lower) / np.where(width > 0.0, width, 1.0)

    values, integrals = fill.basis(share, _ORDER)
    by_panel = found.along.reshape(*found.along.shape[:-1], panels, _ORDER)
    here = by_panel.reshape(len(found.along), -1, panels, _ORDER)[:, rows, place]
    before = np.zeros((3, *edges.shape))
    whole = (by_panel[:3] * fill.panel_weights(_ORDER)).sum(axis=-1) * (edges[..., 1:] - edges[..., :-1])
    np.cumsum(whole, axis=-1, out=before[..., 1:])
    started = before.reshape(3, -1, panels + 1)[:, rows, place]
    whole_here = whole.reshape(3, -1, panels)[:, rows, place]
    # Where next to nothing is delivered, the polynomials swing: within a panel no more than all of it is added.
    added = np.minimum(np.maximum((here[:3] * integrals).sum(axis=-1) * width, 0.0), whole_here)
    strokes, seconds, work = np.maximum.accumulate(started + added, axis=-1)
    cadence, hand_force = (here[3:] * values).sum(axis=-1)
    volume = np.asarray(storage.stored_at(site, pressure) - storage.stored_at(site, found.start))
    return Curve(pressure, volume, strokes, seconds, work, cadence, hand_force)
