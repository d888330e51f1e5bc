"""The floor from outside: from the garden and from the right, as it is seen, with levels and post lines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from evenfoot.geom import Eye
from evenfoot.ink import Line, Pen
from evenfoot.layout import Axis
from evenfoot.plan import Standing
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Manner, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch
from evenfoot.sheets.drafting.view import Point, View
from evenfoot.sheets.parts.sections import levels_at

COARSEST = 50.0
OFFSET = 7.0
AIR = 140.0
"""Real space around what is seen [mm]."""
GROUND_STEPS = 48
HAIR = 0.5
"""Lines nearer to each other than this are one on paper [mm]."""
CELL = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side to look from; ``axis`` runs across the picture, ``sign`` is -1 where it runs to the left."""

    code: str
    eye: Eye
    axis: Axis
    sign: float

    def across(self, x: float, y: float) -> float:
        """Return where a plan point stands across the picture [mm]."""
        return self.sign * (x if self.axis is Axis.X else y)

    def nearness(self, thing: Standing) -> float:
        """Return how far toward the eye a thing reaches [mm]."""
        return thing.solid.bounds[1][1 if self.axis is Axis.X else 0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is seen: pieces of edges across and up the picture [mm], each with the thing that it belongs to."""

    edges: tuple[tuple[Standing, Point, Point], ...]


GARDEN = Side(code="from-garden", eye=Eye(azimuth_deg=90.0, elevation_deg=0.0), axis=Axis.X, sign=-1.0)
RIGHT = Side(code="from-right", eye=Eye(azimuth_deg=0.0, elevation_deg=0.0), axis=Axis.Y, sign=1.0)


def elevation_sheets(bench: Bench, things: tuple[Standing, ...]) -> tuple[Draft, ...]:
    """Return the floor from the garden and from the right; nothing where no post is cut."""
    if not any(c.is_cut for c in bench.plan.posts.cuts):
        return ()
    meshes = [t.solid.mesh() for t in things]
    out: list[Draft] = []
    for side in (GARDEN, RIGHT):
        edges = ((things[s.body], s.a, s.b) for s in side.eye.edges(meshes))
        nearest = sorted(edges, key=lambda e: -side.nearness(e[0]))
        out += _sheets(bench, side, Seen(edges=tuple(nearest)))
    return tuple(out)


def _sheets(bench: Bench, side: Side, seen: Seen) -> tuple[Draft, ...]:
    figures = bench.figures
    notes = Notes((bench.say(f"sheet-note.{side.code}"), bench.say("sheet-note.section-levels")), bench.area)
    body = shrunk(bench.area, notes)
    rod, foot = _rod(bench, side), _foot(bench, side)
    bands = Bands(
        left=OFFSET + reach_of(rod, figures, Manner.LEVELS) + 2.0,
        right=8.0,
        top=12.0,
        bottom=OFFSET + reach_of(foot, figures) + 2.0,
    )
    us = [p[0] for _, *ends in seen.edges for p in ends]
    vs = [p[1] for _, *ends in seen.edges for p in ends] + [s.distance for s in rod]
    zero = _zero(bench, side)
    subject = Subject(
        code=side.code,
        u=(min(us) - AIR, max(us) + AIR),
        v=(min(vs) - AIR / 2, max(vs) + AIR / 2),
        stops_u=between(tuple(zero + side.sign * s.distance for s in foot)),
    )
    found = windows(subject, bands, body, scales(figures), coarsest=COARSEST)
    return tuple(
        replace(draft, shapes=(*draft.shapes, *notes.shapes()))
        for draft in (_sheet(replace(bench, area=body), side, window, seen) for window in found)
    )


def _zero(bench: Bench, side: Side) -> float:
    """Return where running dimensions begin across the picture: the left edge of the floor, or the wall line."""
    return side.sign * bench.outline_x[0] if side.axis is Axis.X else 0.0


def _nearest_posts(bench: Bench, side: Side) -> list[float]:
    """Return the lines across the picture on which the outermost posts toward the eye stand [plan mm], rising."""
    return sorted({round(c.x if side.axis is Axis.X else c.y, 3) for c in bench.plan.posts.cuts if c.is_cut})


def _foot(bench: Bench, side: Side) -> tuple[Station, ...]:
    """Return the lines of the posts from the zero of the chain, with their grid marks."""
    zero = bench.outline_x[0] if side.axis is Axis.X else 0.0
    tags = {round(g.position): bench.figures.mark(g.label) for g in bench.plan.frame.grid if g.axis is side.axis}
    lines = (Station(distance=p - zero, tag=tags.get(round(p), "")) for p in _nearest_posts(bench, side))
    return merged((Station(distance=0.0), *lines))


def _rod(bench: Bench, side: Side) -> tuple[Station, ...]:
    """Return the levels at the post that stands outermost at the left of the picture."""
    outer = max(
        (c for c in bench.plan.posts.cuts if c.is_cut),
        key=lambda c: (c.y, c.x) if side.axis is Axis.X else (c.x, -c.y),
    )
    return levels_at(bench, outer)


def _sheet(bench: Bench, side: Side, window: Window, seen: Seen) -> Draft:
    view, figures = window.view, bench.figures
    sketch = Sketch(view, bench.area)
    sketch.add(*_lines(seen, view))
    _ground(sketch, bench, side)
    foot = course(view, "across", zero=_zero(bench, side), offset=-OFFSET, sign=side.sign)
    sketch.add(*chain(replace(foot, edge=view.bottom), _foot(bench, side), figures))
    sketch.add(*chain(course(view, "up", zero=0.0, offset=-OFFSET), _rod(bench, side), figures, Manner.LEVELS))
    lines, texts = matches(window, bench.area, figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    return Draft(
        code=window.code,
        group=bench.title(side.code, number=1, count=1),
        title=bench.title(side.code, number=window.number, count=window.count),
        shapes=sketch.finish(),
        scale=window.scale,
        house="beyond" if side.axis is Axis.X else "left",
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _lines(seen: Seen, view: View) -> Iterator[Line]:
    """Yield the edges on paper; one that runs within a hair of another already drawn would only blot it."""
    drawn: dict[tuple[int, int], list[tuple[Point, Point]]] = {}
    for thing, p, q in seen.edges:
        kept = view.clip_line(p, q)
        if kept is None:
            continue
        a, b = view.at(kept[0]), view.at(kept[1])
        places = {(int(x // CELL), int(y // CELL)) for x, y in (a, b)}
        if any(_runs_along(a, b, line) for cell in places for line in drawn.get(cell, ())):
            continue
        for cell in _cells(a, b):
            drawn.setdefault(cell, []).append((a, b))
        yield Line(a=a, b=b, pen=Pen.FINE, layer=thing.thing, member=thing.mark)


def _runs_along(a: Point, b: Point, line: tuple[Point, Point]) -> bool:
    """Return whether both ends of a line lie within a hair of another line."""
    (x0, y0), (x1, y1) = line
    run = math.hypot(x1 - x0, y1 - y0)
    if run < HAIR:
        return False
    c, s = (x1 - x0) / run, (y1 - y0) / run
    for x, y in (a, b):
        along, off = c * (x - x0) + s * (y - y0), c * (y - y0) - s * (x - x0)
        if abs(off) > HAIR or not -HAIR <= along <= run + HAIR:
            return False
    return True


def _cells(a: Point, b: Point) -> set[tuple[int, int]]:
    """Return the cells that a line and a hair around it pass."""
    count = max(1, math.ceil(math.dist(a, b) / (CELL / 2)))
    points = [(a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count) for k in range(count + 1)]
    return {
        (int((x + dx) // CELL), int((y + dy) // CELL))
        for x, y in points
        for dx in (-HAIR, HAIR)
        for dy in (-HAIR, HAIR)
    }


def _ground(sketch: Sketch, bench: Bench, side: Side) -> None:
    """Draw the ground along the edge of the floor that is nearest to the eye."""
    (x0, x1), (y0, y1) = bench.outline_x, bench.outline_y
    if side.axis is Axis.X:
        plan = [(x0 - AIR + (x1 - x0 + 2 * AIR) * k / GROUND_STEPS, y1) for k in range(GROUND_STEPS + 1)]
    else:
        low = max(0.0, y0 - AIR) if bench.has_house else y0 - AIR
        plan = [(x1, low + (y1 + AIR - low) * k / GROUND_STEPS) for k in range(GROUND_STEPS + 1)]
    heights = bench.plan.ground.heights(plan)
    points = [(side.across(x, y), z) for (x, y), z in zip(plan, heights, strict=True)]
    for k, (a, b) in enumerate(pairwise(points)):
        sketch.line(a, b, Pen.OBJECT, layer="ground")
        stroke = 2.2 * sketch.view.ratio
        if k % 2 == 0:
            sketch.line(a, (a[0] - stroke, a[1] - stroke), Pen.PENCIL, layer="ground")
