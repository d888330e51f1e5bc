"""Straight beams on rigid ground, for tests of the grillage."""

from __future__ import annotations

import numpy as np

from evenfoot.solvers import grillage

EI = 7.3e10


def beam(*, stops, supports, ei=EI, ga=np.inf, springs=None):
    """A beam with nodes at ``stops`` on one-sided rigid supports, or on springs {place: stiffness}."""
    at = np.array(sorted({*stops, *supports, *(springs or {})}), dtype=float)
    count = len(at)
    node = {float(x): k for k, x in enumerate(at)}
    springs = springs or {}
    upper = [node[float(x)] for x in (*supports, *springs)]
    lower = [grillage.GROUND] * len(supports) + [count + k for k in range(len(springs))]
    grid = grillage.Grillage(
        ends=np.stack((np.arange(count - 1), np.arange(1, count)), axis=1),
        length=np.diff(at),
        ei=np.full(count - 1, ei),
        ga=np.full(count - 1, ga),
        level=np.arange(count),
        n_levels=count + len(springs),
        spring_level=np.arange(count, count + len(springs)),
        spring=np.array(list(springs.values()), dtype=float),
        upper=np.array(upper, dtype=np.int64),
        lower=np.array(lower, dtype=np.int64),
    )
    return grid, node


def loaded(grid, node, *, q=0.0, points=()):
    """Forces and even loads of one case: q [N/mm] everywhere, points as (place, N)."""
    forces = np.zeros((grid.size, 1))
    for place, size in points:
        forces[node[float(place)], 0] += size
    return grillage.respond(grillage.prepare(grid), forces, np.full((len(grid.length), 1), q))
