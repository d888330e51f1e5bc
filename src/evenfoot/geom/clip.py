"""What is left of outlines when they are cut by bands or by other outlines, many at once."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from evenfoot.geom.polygon import Point, box_of, signed_area, without_flat_corners

_FLAT = 1e-7
"""A corner nearer than this to the line through its neighbours is no corner [mm]."""


def clip_to_bands(
    outline: Sequence[Point], bands: Sequence[tuple[float, float]]
) -> tuple[tuple[tuple[Point, ...], ...], ...]:
    """Return for each band (low, high) along y the parts of a simple ``outline`` inside it, counter-clockwise."""
    import shapely

    box = box_of(outline)
    shape = shapely.Polygon(outline)
    shapely.prepare(shape)
    lows, highs = [low for low, _ in bands], [high for _, high in bands]
    strips = shapely.box(box.x0 - 1.0, lows, box.x1 + 1.0, highs)
    return _polygons(shapely.intersection(strips, shape), len(bands))


def clip_each(
    outlines: Sequence[Sequence[Point]], cutters: Sequence[Sequence[Point]]
) -> tuple[tuple[tuple[Point, ...], ...], ...]:
    """Return the parts of each outline inside the cutter with the same index, counter-clockwise."""
    import shapely

    shapes = [shapely.Polygon(outline) for outline in outlines]
    tools = [shapely.Polygon(cutter) for cutter in cutters]
    return _polygons(shapely.intersection(shapes, tools), len(outlines))


def _polygons(shapes: Any, count: int) -> tuple[tuple[tuple[Point, ...], ...], ...]:  # noqa: ANN401 - an array of geometries
    """Return the corners of every polygon among ``shapes``, by the shape that it comes from."""
    import shapely

    parts, owners = shapely.get_parts(shapes, return_index=True)
    areal = shapely.get_type_id(parts) == shapely.GeometryType.POLYGON
    parts, owners = parts[areal], owners[areal]
    rings, places = shapely.get_coordinates(shapely.get_exterior_ring(parts), return_index=True)
    corners: list[list[Point]] = [[] for _ in range(len(parts))]
    for place, (x, y) in zip(places.tolist(), rings.tolist(), strict=True):
        corners[place].append((x, y))
    out: list[list[tuple[Point, ...]]] = [[] for _ in range(count)]
    for owner, ring in zip(owners.tolist(), corners, strict=True):
        out[owner].extend(_tidy(ring))
    return tuple(tuple(sorted(group)) for group in out)


def _tidy(ring: Sequence[Point]) -> list[tuple[Point, ...]]:
    """Return the ring counter-clockwise from its lowest corner, straight corners left out; nothing when it is flat."""
    corners = without_flat_corners(ring, within=_FLAT)
    if len(corners) < 3:
        return []
    if signed_area(corners) < 0.0:
        corners = corners[::-1]
    first = corners.index(min(corners))
    return [(*corners[first:], *corners[:first])]
