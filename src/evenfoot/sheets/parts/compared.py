"""Two plans of one floor on one drawing: as it was in pencil, as it is now in ink."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import hypot

from evenfoot.ink import Fill, Pen, Polygon
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.paper import FIGURE
from evenfoot.sheets.drafting.placing import Label
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, house, shrunk, windows
from evenfoot.sheets.drafting.scale import scales
from evenfoot.sheets.drafting.sketch import Sketch, along, right_of
from evenfoot.sheets.drafting.view import Point
from evenfoot.sheets.parts.framing import outline_of

GONE = (2.2, 1.2)
"""Dashes of what was [mm]."""
SAME = 0.5
"""What lies nearer than this to where it was did not move [mm]."""
LARGEST = 8.0
BAND = 14.0
"""Paper around the floor [mm]."""

Box = tuple[Point, Point]


def compared_draft(before: Bench, after: Bench) -> Draft:
    """Return both frames on one plan; timbers and posts that moved or are new carry their marks."""
    notes = Notes((after.say("sheet-note.compared"),), after.area)
    spans = [(b.outline_x, b.outline_y) for b in (before, after)]
    subject = Subject(
        code="compared",
        u=(min(x[0] for x, _ in spans), max(x[1] for x, _ in spans)),
        v=(min(0.0, *(y[0] for _, y in spans)), max(y[1] for _, y in spans)),
    )
    bands = Bands(left=BAND, right=BAND, top=BAND, bottom=BAND)
    choices = tuple(s for s in scales(after.figures) if s.ratio >= LARGEST)
    (window,) = windows(subject, bands, shrunk(after.area, notes), choices, coarsest=float("inf"))
    sketch = Sketch(window.view, after.area)
    old = tuple(_boxes(before))
    for box, _, layer, _ in old:
        sketch.area_of(_corners(box), Polygon(points=(), pen=Pen.PENCIL, dash=GONE, layer=f"before-{layer}"))
    _outline(sketch, before, Pen.PENCIL, layer="before-floor")
    _outline(sketch, after, Pen.OBJECT, layer="floor")
    for box, mark, layer, is_post in _boxes(after):
        is_new = not any(_same(box, other) for other, _, kind, _ in old if kind == layer)
        fill = Fill.INK if is_new and is_post else None
        sketch.area_of(_corners(box), Polygon(points=(), pen=Pen.OBJECT, fill=fill, layer=layer, member=mark))
        if is_new:
            sketch.label(_label(sketch, after, box, (mark, layer)))
    sketch.add(*house(window.view, after.figures, stands=after.has_house, lines=after.post_lines))
    title = after.title("compared", number=1, count=1)
    return Draft(
        code="compared",
        group=title,
        title=title,
        shapes=(*sketch.finish(), *notes.shapes()),
        scale=window.scale,
        house="below",
        origin=window.view.at((0.0, 0.0)),
        homeless=tuple(sketch.homeless),
    )


def _boxes(bench: Bench) -> Iterator[tuple[Box, str, str, bool]]:
    """Yield every timber and post of a frame in plan: its box, mark, layer, and whether it is a post."""
    for member in bench.plan.frame.members:
        yield outline_of(member), member.mark, member.role.value, False
    for post in bench.plan.frame.posts:
        half = (post.width / 2, post.depth / 2)
        low, high = (post.x - half[0], post.y - half[1]), (post.x + half[0], post.y + half[1])
        yield (low, high), post.mark, "post", True


def _corners(box: Box) -> tuple[Point, ...]:
    (x0, y0), (x1, y1) = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _same(one: Box, other: Box) -> bool:
    return all(hypot(a[0] - b[0], a[1] - b[1]) <= SAME for a, b in zip(one, other, strict=True))


def _outline(sketch: Sketch, bench: Bench, pen: Pen, *, layer: str) -> None:
    corners = bench.plan.layout.outline
    pairs: Iterable[tuple[Point, Point]] = zip(corners, (*corners[1:], corners[0]), strict=True)
    for a, b in pairs:
        sketch.line(a, b, pen, dash=GONE if pen is Pen.PENCIL else (), layer=layer)


def _label(sketch: Sketch, bench: Bench, box: Box, named: tuple[str, str]) -> Label:
    (x0, y0), (x1, y1) = box
    view = sketch.view
    middle = view.at(((x0 + x1) / 2, (y0 + y1) / 2))
    if named[1] == "post":
        spots = right_of(middle, view.paper(max(x1 - x0, y1 - y0)) / 2, FIGURE)
    else:
        is_along = x1 - x0 >= y1 - y0
        ends = ((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)) if is_along else (((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1))
        half = view.paper(min(x1 - x0, y1 - y0)) / 2
        spots = along(view.at(ends[0]), view.at(ends[1]), lift=half, size=FIGURE)
    label = Label(text=bench.figures.mark(named[0]), point=middle, spots=spots, size=FIGURE, member=named[0])
    return replace(label, may_go=True)
