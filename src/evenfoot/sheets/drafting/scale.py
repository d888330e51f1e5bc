"""Which scale a drawing gets, and into how many sheets it is cut so that it stays readable."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from evenfoot.sheets.figures import Figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Real mm per paper mm, and its name as written on the sheet."""

    ratio: float
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Clear paper for the drawing itself [mm]."""

    width: float
    height: float


METRIC = tuple(Scale(ratio=float(r), name=f"1:{r}") for r in (5, 10, 20, 25, 50, 100, 200, 500))
INCH = tuple(
    Scale(ratio=float(ratio), name=f"{inches}\" = 1' (1:{ratio})")
    for inches, ratio in (
        ("3", 4),
        ("1 1/2", 8),
        ("1", 12),
        ("3/4", 16),
        ("1/2", 24),
        ("3/8", 32),
        ("1/4", 48),
        ("1/8", 96),
        ("1/16", 192),
        ("1/32", 384),
    )
)


def scales(figures: Figures) -> tuple[Scale, ...]:
    """Return the usual scales of the job's unit, the largest drawing first."""
    return INCH if figures.is_inch else METRIC


def fitting(choices: tuple[Scale, ...], room: Room, *, width: float, height: float, coarsest: float) -> Scale:
    """Return the largest scale at which ``width`` x ``height`` [real mm] fits, or the coarsest that is still read."""
    allowed = [s for s in choices if s.ratio <= coarsest] or [choices[0]]
    for scale in allowed:
        if width / scale.ratio <= room.width + 1e-9 and height / scale.ratio <= room.height + 1e-9:
            return scale
    return allowed[-1]


def spans(low: float, high: float, capacity: float, stops: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
    """Return [low, high] cut into stretches of at most ``capacity``, evenly, at the ``stops`` nearest to even.

    ``stops`` are the places where a cut harms nothing (between two lines).
    """
    count = max(1, ceil((high - low) / capacity - 1e-9))
    while True:
        edges = [low]
        for index in range(1, count):
            ideal = low + (high - low) * index / count
            open_stops = [s for s in stops if edges[-1] < s < high]
            edges.append(min(open_stops, key=lambda s: (abs(s - ideal), s)) if open_stops else ideal)
        edges.append(high)
        parts = tuple(pairwise(edges))
        if all(b - a <= capacity + 1e-9 for a, b in parts) and all(b > a for a, b in parts):
            return parts
        count += 1
        if count > 2 * ceil((high - low) / capacity) + 2:
            even = [low + (high - low) * k / count for k in range(count + 1)]
            return tuple(pairwise(even))


def between(positions: tuple[float, ...]) -> tuple[float, ...]:
    """Return the middles between neighbouring positions."""
    ordered = sorted(set(positions))
    return tuple((a + b) / 2 for a, b in pairwise(ordered))
