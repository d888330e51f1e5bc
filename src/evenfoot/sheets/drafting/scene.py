"""A picture in space: bodies seen from a corner, hidden edges left out, and the marks that name them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.geom import Eye, Mesh, Solid
from evenfoot.ink import Anchor, Line, Pen
from evenfoot.sheets.drafting.paper import FIGURE, Area
from evenfoot.sheets.drafting.placing import Label, Spot
from evenfoot.sheets.drafting.sketch import Shape, Sketch
from evenfoot.sheets.drafting.view import Point, View

Point3 = tuple[float, float, float]
OUTSIDE = Eye(azimuth_deg=52.0, elevation_deg=27.0)
"""From the garden, to the right of the middle: the house is behind the floor."""
AIR = 4.0
"""Clear paper around a picture, for marks that are led out [mm]."""
TRACE = (1.6, 1.2)
"""Dash of the line that shows the way of a timber into its place [mm]."""
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """One body in a picture: its pen, its name (empty for none), and how far it is held above its place [mm]."""

    solid: Solid
    layer: str
    mark: str
    pen: Pen = Pen.FINE
    name: str = ""
    raised: float = 0.0
    has_way: bool = True
    """Whether the way down into its place is shown."""

    def mesh(self) -> Mesh:
        """Return its surface where it is held."""
        mesh = self.solid.mesh()
        return mesh.moved((0.0, 0.0, self.raised)) if self.raised else mesh

    def spine(self) -> tuple[Point3, Point3]:
        """Return the middle line of its upper side, along its longest extent [mm]."""
        (x0, y0, z0), (x1, y1, z1) = self.solid.bounds
        x, y, top = (x0 + x1) / 2, (y0 + y1) / 2, z1 + self.raised
        if x1 - x0 >= max(y1 - y0, z1 - z0):
            return (x0, y, top), (x1, y, top)
        if y1 - y0 >= z1 - z0:
            return (x, y0, top), (x, y1, top)
        return (x, y, z0 + self.raised), (x, y, top)


def picture(pieces: Sequence[Piece], area: Area, eye: Eye = OUTSIDE) -> tuple[tuple[Shape, ...], tuple[str, ...]]:
    """Return the marks of a picture as large as the area allows, and the names that found no room."""
    strokes = eye.edges([p.mesh() for p in pieces])
    us = [u for s in strokes for u in (s.a[0], s.b[0])]
    vs = [v for s in strokes for v in (s.a[1], s.b[1])]
    view = _filling(area, (min(us), max(us)), (min(vs), max(vs)))
    sketch = Sketch(view, area)
    for stroke in strokes:
        piece = pieces[stroke.body]
        line = Line(a=view.at(stroke.a), b=view.at(stroke.b), pen=piece.pen, layer=piece.layer, member=piece.mark)
        sketch.add(line)
    for piece in pieces:
        if piece.raised and piece.name and piece.has_way:
            sketch.add(*_way(piece, view, eye))
        if piece.name:
            sketch.label(_label(piece, view, eye))
    shapes = sketch.finish()
    return shapes, tuple(sketch.homeless)


def _filling(area: Area, u: Point, v: Point) -> View:
    """Return the view that fills the middle of an area."""
    wide, high = area.width - 2 * AIR, area.height - 2 * AIR
    ratio = max((u[1] - u[0]) / wide, (v[1] - v[0]) / high, 1e-6)
    return View(
        ratio=ratio,
        u=u,
        v=v,
        left=(area.left + area.right - (u[1] - u[0]) / ratio) / 2,
        bottom=(area.top + area.bottom + (v[1] - v[0]) / ratio) / 2,
    )


def _way(piece: Piece, view: View, eye: Eye) -> tuple[Line, ...]:
    """Return the lines down which a raised timber goes to its place, one at each end."""
    (_, _, z0), (_, _, z1) = piece.solid.bounds
    ends = piece.spine()
    if ends[0][:2] == ends[1][:2]:
        ends = ends[:1] * 2
    out: list[Line] = []
    for x, y, _ in dict.fromkeys(ends):
        a, b = view.at(eye.see((x, y, z0 + piece.raised))), view.at(eye.see((x, y, z1)))
        if a[1] < b[1]:
            out.append(Line(a=a, b=b, pen=Pen.ALARM, dash=TRACE, layer="way", member=piece.mark))
    return tuple(out)


def _label(piece: Piece, view: View, eye: Eye) -> Label:
    a, b = (view.at(eye.see(end)) for end in piece.spine())
    drop = 0.765 * FIGURE / 2
    spots = tuple(
        Spot(at=(a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k + drop), anchor=Anchor.MIDDLE) for k in SHARES
    )
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    return Label(text=piece.name, point=middle, spots=spots, size=FIGURE, member=piece.mark)
