"""How high the top of a footing comes and on which edge a square foot stands on it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.frame import PostPlace
from evenfoot.job import FrameSpec
from evenfoot.site import Ground, Level


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """A footing under one post [mm].

    ``top`` is the level of the footing's top on the post axis, ``slope`` its dz/dx and dz/dy [-]. A square foot stands
    ``lift`` above that, on the edge or corner toward ``high_toward_deg``, with ``gap`` of air under the one opposite.
    """

    ground: Level
    top: float
    slope: tuple[float, float]
    lift: float
    gap: float
    high_toward_deg: float


def footing_under(place: PostPlace, ground: Ground, spec: FrameSpec) -> Foot:
    """Return how the footing lies on the ground and how a square-cut foot stands on it.

    A footing that is bedded level has its top ``height`` above the ground on the post axis. One that is laid on the
    ground tilts with it: its base rests on the highest of five spots (four corners of ``size`` and the axis) with the
    slope that the corners show, and its top is parallel to its base.
    """
    footing, here = spec.footing, ground.level(place.x, place.y)
    if footing.is_bedded_level:
        return Foot(ground=here, top=here.z + footing.height, slope=(0.0, 0.0), lift=0.0, gap=0.0, high_toward_deg=0.0)
    rise, (sx, sy) = _base(place, ground, footing.size)
    lift = (abs(sx) * place.width + abs(sy) * place.depth) / 2
    return Foot(
        ground=here,
        top=rise + footing.height,
        slope=(sx, sy),
        lift=lift,
        gap=2 * lift,
        high_toward_deg=_toward(sx * place.width, sy * place.depth),
    )


def _base(place: PostPlace, ground: Ground, size: float) -> tuple[float, tuple[float, float]]:
    """Return the level of a rigid base on the post axis and its slopes."""
    half = size / 2
    steps = [(p * half, q * half) for p in (-1, 1) for q in (-1, 1)]
    *rises, middle = ground.heights([(place.x + dx, place.y + dy) for dx, dy in (*steps, (0.0, 0.0))])
    corners = [(dx, dy, z) for (dx, dy), z in zip(steps, rises, strict=True)]
    if size > 0:
        sx = sum(z * math.copysign(1.0, dx) for dx, _, z in corners) / (2 * size)
        sy = sum(z * math.copysign(1.0, dy) for _, dy, z in corners) / (2 * size)
    else:
        sx, sy = 0.0, 0.0
    spots = [*corners, (0.0, 0.0, middle)]
    return max(z - sx * dx - sy * dy for dx, dy, z in spots), (sx, sy)


def _toward(rise_x: float, rise_y: float) -> float:
    """Return the direction of the high edge, or corner when both ways rise alike, in steps of 45 degrees."""
    if max(abs(rise_x), abs(rise_y)) < 1e-9:
        return 0.0
    return 45.0 * round(math.degrees(math.atan2(rise_y, rise_x)) / 45.0) % 360.0
