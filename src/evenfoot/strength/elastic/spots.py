"""Loads at places between the joints of timbers: what they press with, and how far they sink."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.solvers import beam_element, nearby
from evenfoot.strength.findings import Batch
from evenfoot.strength.statics import SAME, FloatArray, IntArray, Spot, Statics


def stand(statics: Statics, spots: Sequence[Spot], force: float, patch: float = 0.0) -> nearby.Points:
    """Return a load on each of some spots [N], spread along the timber over ``patch`` mm; beside a node it is on it.

    Two halves a quarter of the patch to either side press as the even patch does: the same moment at its middle, the
    same forces beyond it. Past the timber's end no half is set: at a tip one stands on the tip. Across the timber the
    load is not spread: one timber bears all of it.
    """
    if patch <= 0.0:
        element, at = _lie(statics, spots)
        place = np.arange(len(spots))
        return nearby.Points(place=place, element=element, at=at, force=np.full(len(spots), float(force)))
    lengths = [t.member.length for t in statics.skeleton.timbers]
    halves = [(n, min(max(at + side * patch / 4.0, 0.0), lengths[n])) for side in (-1.0, 1.0) for n, at in spots]
    element, at = _lie(statics, halves)
    place = np.tile(np.arange(len(spots)), 2)
    return nearby.Points(place=place, element=element, at=at, force=np.full(len(halves), force / 2.0))


def press(statics: Statics, spots: Sequence[Spot], force: float) -> FloatArray:
    """Return the forces on the freedoms of a load [N] at each of some spots alone, shape (size, n_spots)."""
    element, at = _lie(statics, spots)
    out = np.zeros((statics.grid.size, len(spots)))
    nodal = force * beam_element.point_load(at=at, **_part(statics, element))
    np.add.at(out, (statics.grid.freedoms()[element], np.arange(len(spots))[:, None]), nodal)
    return out


def sink(statics: Statics, spots: Sequence[Spot], moved: FloatArray, force: float) -> FloatArray:
    """Return how far each spot goes down where a load [N] stands on it [mm], even loads apart.

    Args: moved, all freedoms, one column for each spot, shape (size, n_spots).
    """
    element, at = _lie(statics, spots)
    four = moved[statics.grid.freedoms()[element], np.arange(len(spots))[:, None]]
    return _sunk(statics, (element, at), four, force)


def sink_under(statics: Statics, batch: Batch) -> FloatArray:
    """Return how far each place of a walked load goes down under it, beyond where it rests without it [mm]."""
    assert batch.elements is not None, "a batch of a walk tells what lies near"
    element, at = _lie(statics, batch.spots)
    row = np.full(len(statics.begin), -1, dtype=np.int64)
    row[batch.elements] = np.arange(len(batch.elements))
    four = batch.response.moved[row[element], :, np.arange(len(batch.spots))]
    return _sunk(statics, (element, at), four, batch.case.point)


def _sunk(statics: Statics, lies: tuple[IntArray, FloatArray], four: FloatArray, force: float) -> FloatArray:
    element, at = lies
    part = _part(statics, element)
    shape = beam_element.point_load(at=at, **part)
    out: FloatArray = (shape * four).sum(axis=1) + force * beam_element.point_give(at=at, **part)
    return out


def _part(statics: Statics, element: IntArray) -> dict[str, FloatArray]:
    g = statics.grid
    return {"length": g.length[element], "ei": g.ei[element], "ga": g.ga[element]}


def _lie(statics: Statics, spots: Sequence[Spot]) -> tuple[IntArray, FloatArray]:
    """Return the element of each spot and the distance into it [mm]."""
    timber = np.array([number for number, _ in spots], dtype=np.int64)
    element, at = statics.elements_at(timber, np.array([place for _, place in spots]), is_before=False)
    length = statics.grid.length[element]
    return element, np.where(at < SAME, 0.0, np.where(length - at < SAME, length, at))
