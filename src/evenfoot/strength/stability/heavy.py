"""How heavy things on the floor reach the joists, and how hard they press."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np

from evenfoot.checks import Check, Verdict
from evenfoot.job import Job
from evenfoot.strength.loads import joist_lines
from evenfoot.strength.statics import FloatArray, Skeleton, Spot, Statics, Timber

_CELL = 150.0
"""Along a joist a heavy thing is set down in parts no longer than this [mm]."""
Part = tuple[Spot, float]
"""A place on a joist and the force there [N]."""


def set_down(skeleton: Skeleton, job: Job) -> tuple[Part, ...]:
    """Return the forces of all heavy things on the joists under them; together they are all of their weight.

    Each line of joists takes what lies nearer to it than to the next.
    """
    lines = joist_lines(skeleton.timbers)
    out: list[Part] = []
    for thing in job.loads.heavy:
        out += _parts(lines, x=(thing.x, thing.width), y=(thing.y, thing.depth), weight=thing.weight)
    return tuple(out)


def _parts(
    lines: Sequence[tuple[float, list[Timber]]], *, x: tuple[float, float], y: tuple[float, float], weight: float
) -> list[Part]:
    """Return the forces of one thing that begins at x[0] and y[0] and is x[1] by y[1] large."""
    is_y = lines[0][1][0].member.axis == "y"
    (left, width), (near, depth) = (x, y) if is_y else (y, x)
    across, along = (left, left + width), (near, near + depth)
    places = [place for place, _ in lines]
    borders = [-np.inf, *((a + b) / 2.0 for a, b in itertools.pairwise(places)), np.inf]
    out: list[Part] = []
    for k, (_, line) in enumerate(lines):
        covered = min(across[1], borders[k + 1]) - max(across[0], borders[k])
        if covered > 0.0:
            out += _on_line(line, along, weight * covered / width, axis=1 if is_y else 0)
    return out


def _on_line(line: Sequence[Timber], along: tuple[float, float], force: float, *, axis: int) -> list[Part]:
    """Return the force of one thing on one line of joists, in equal parts along it."""
    count = max(2, int(np.ceil((along[1] - along[0]) / _CELL)))
    step = (along[1] - along[0]) / count
    out: list[Part] = []
    for k in range(count):
        at = along[0] + (k + 0.5) * step
        timber = min(line, key=lambda t: _off(t, at, axis))
        start = timber.member.start[axis]
        place = min(max((at - start) / timber.level_share, 0.0), timber.member.length)
        out.append(((timber.number, place), force / count))
    return out


def _off(timber: Timber, at: float, axis: int) -> float:
    m = timber.member
    return max(m.start[axis] - at, at - m.end[axis], 0.0)


def on_levels(statics: Statics, parts: Sequence[Part]) -> FloatArray:
    """Return the forces of heavy things on the freedoms [N], shape (size,)."""
    out = np.zeros(statics.grid.size)
    for spot, force in parts:
        out[statics.level(spot)] += force
    return out


def check_heavy(job: Job, live: float) -> tuple[Check, ...]:
    """Return how hard each heavy thing presses [kN/m2] beside the live load that the floor is reckoned for [N/mm2]."""
    return tuple(
        Check(
            subject="floor",
            rule="heavy-thing",
            verdict=Verdict.OK,
            demand=1000.0 * thing.weight / (thing.width * thing.depth),
            capacity=1000.0 * live,
            unit="kN/m2",
            source=thing.where,
            facts=(
                ("name", thing.name),
                ("weight_n", float(round(thing.weight))),
            ),
        )
        for thing in job.loads.heavy
    )
