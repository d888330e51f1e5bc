"""How everything that a section meets is drawn: ground, house, footings, posts, timbers and boards."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from evenfoot.frame import Member
from evenfoot.ink import Fill, Pen, Polygon
from evenfoot.layout import Axis
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.grain import end_grain, long_grain
from evenfoot.sheets.drafting.paper import FIGURE
from evenfoot.sheets.drafting.placing import Label
from evenfoot.sheets.drafting.plans import BASE_DASH, HATCH_STEP
from evenfoot.sheets.drafting.sketch import Sketch, along, beside, paper_box
from evenfoot.sheets.parts.cutting_plane import Plane, Point, crossed, ends_of, seen_behind, surface_at
from evenfoot.sheets.parts.framing import is_along_x

WALL = 100.0
"""Thickness of the house wall as drawn [mm]; where it ends is not the floor's business."""
SILL = 20.0
"""Thickness of the sill as drawn [mm]."""
GROUND_STEPS = 48
MARK = 3.6


def draw_section(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw what the cut meets and what is seen just behind it."""
    _ground(sketch, bench, plane)
    if plane.axis is Axis.Y and sketch.view.u[0] <= -1.0:
        draw = _house if bench.has_house else _base_line
        draw(sketch, bench, plane)
    for post in plane.posts:
        _post(sketch, post, plane, bench)
    _timbers(sketch, bench, plane)
    _boards(sketch, bench, plane)


def _ground(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the ground along the cut, with strokes under it."""
    low, high = sketch.view.u
    low = max(low, 0.0) if plane.axis is Axis.Y and bench.has_house else low
    places = [low + (high - low) * k / GROUND_STEPS for k in range(GROUND_STEPS + 1)]
    heights = bench.plan.ground.heights([(plane.line, u) if plane.axis is Axis.Y else (u, plane.line) for u in places])
    points: list[Point] = list(zip(places, heights, strict=True))
    for index, (a, b) in enumerate(pairwise(points)):
        sketch.line(a, b, Pen.OBJECT, layer="ground")
        stroke = 2.2 * sketch.view.ratio
        if index % 2 == 0:
            sketch.line(a, (a[0] - stroke, a[1] - stroke), Pen.PENCIL, layer="ground")


def _house(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the wall in hatching, the sill on it, and the level of the finished floor indoors."""
    view, sill = sketch.view, bench.plan.job.site.sill
    low, high = bench.plan.ground.level(plane.line, 0.0).z, sill - SILL
    sketch.area_of(((-WALL, low), (0.0, low), (0.0, high), (-WALL, high)), paper_box(layer="house"))
    place = low
    while place < high + WALL:
        cut = _between((-WALL, place - WALL), (0.0, place), low, high)
        if cut is not None:
            sketch.line(*cut, Pen.FINE, layer="house")
        place += HATCH_STEP * view.ratio
    top = ((-WALL, high), (0.0, high), (0.0, sill), (-WALL, sill))
    sketch.area_of(top, paper_box(Fill.SHADE, layer="house"))
    sketch.line((-WALL, 0.0), (-WALL * 0.4, 0.0), Pen.WATER, dash=(2.0, 1.0), layer="house")


def _base_line(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw where the base line is, from the ground up to the datum, and the height of the datum."""
    low = bench.plan.ground.level(plane.line, 0.0).z
    sketch.line((0.0, low), (0.0, 0.0), Pen.FINE, dash=BASE_DASH, layer="house")
    sketch.line((-WALL, 0.0), (WALL, 0.0), Pen.WATER, dash=(2.0, 1.0), layer="house")


def _between(a: Point, b: Point, low: float, high: float) -> tuple[Point, Point] | None:
    """Return the part of a rising stroke between two levels."""
    start, end = max(a[1], low), min(b[1], high)
    if start >= end:
        return None
    run = (b[0] - a[0]) / (b[1] - a[1])
    return (a[0] + (start - a[1]) * run, start), (a[0] + (end - a[1]) * run, end)


def _post(sketch: Sketch, cut: PostCut, plane: Plane, bench: Bench) -> None:
    """Draw a post on its footing, seen from the side."""
    place = next(p for p in bench.plan.frame.posts if p.mark == cut.mark)
    u, wide = (cut.y, cut.depth) if plane.axis is Axis.Y else (cut.x, cut.width)
    slope = place.underside_slope[1] if plane.axis is Axis.Y else place.underside_slope[0]
    size, half = bench.plan.job.frame.footing.size / 2, wide / 2
    base = ((u - size, cut.ground), (u + size, cut.ground), (u + size, cut.footing_top), (u - size, cut.footing_top))
    sketch.area_of(base, paper_box(Fill.SHADE, layer="footing", member=cut.mark))
    if not cut.is_cut:
        return
    top = (cut.underside - slope * half, cut.underside + slope * half)
    body = ((u - half, cut.footing_top), (u + half, cut.footing_top), (u + half, top[1]), (u - half, top[0]))
    low, high = (u - half, cut.footing_top), (u + half, min(top))
    sketch.timber(low, high, paper_box(layer="post", member=cut.mark))
    sketch.area_of(body, Polygon(points=(), pen=Pen.OBJECT, layer="post", member=cut.mark))
    a, b = sketch.view.at((u, cut.footing_top)), sketch.view.at((u, cut.underside))
    if sketch.view.holds((u, cut.underside)):
        lift = sketch.view.paper(half)
        text = f"{bench.figures.mark(cut.mark)}  {bench.figures.cut(cut.length)}"
        spots = (*beside(a, b, lift=lift, size=FIGURE), *along(a, b, lift=lift, size=FIGURE))
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        sketch.label(Label(text=text, point=middle, spots=spots, size=FIGURE, layer="post", member=cut.mark))


def _timbers(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the timbers seen behind the cut, then those that are cut, with their rings."""
    members = bench.plan.frame.members
    for member in seen_behind(members, plane):
        _side(sketch, member, plane)
        _name(sketch, member, plane, bench)
    for member in members:
        if is_along_x(member) is (plane.axis is Axis.X):
            continue
        ends = sorted((member.start[0], member.end[0]) if plane.axis is Axis.Y else (member.start[1], member.end[1]))
        if ends[0] <= plane.at <= ends[1]:
            _cut_end(sketch, member, plane)


def _side(sketch: Sketch, member: Member, plane: Plane) -> None:
    a, b = ends_of(member, plane)
    body = (a, b, (b[0], b[1] - member.depth), (a[0], a[1] - member.depth))
    look = paper_box(layer=member.role.value, member=member.mark)
    if abs(a[1] - b[1]) < 0.5:
        sketch.timber((a[0], a[1] - member.depth), b, look)
        return
    if sketch.area_of(body, look):
        _sloping_grain(sketch, member, a, b)


def _sloping_grain(sketch: Sketch, member: Member, a: Point, b: Point) -> None:
    """Draw long grain that falls with the timber."""
    left, right = max(a[0], sketch.view.u[0]), min(b[0], sketch.view.u[1])
    slope = (b[1] - a[1]) / (b[0] - a[0])
    corner = sketch.view.at((left, a[1] + slope * (left - a[0])))
    for line in long_grain(corner, sketch.view.paper(right - left), sketch.view.paper(member.depth), seed=member.mark):
        ends = [(x, y - slope * (x - corner[0])) for x, y in (line.a, line.b)]
        sketch.shapes.append(replace(line, a=ends[0], b=ends[1], member=member.mark))


def _name(sketch: Sketch, member: Member, plane: Plane, bench: Bench) -> None:
    a, b = ends_of(member, plane)
    middle = member.depth / 2
    kept = sketch.view.clip_line((a[0], a[1] - middle), (b[0], b[1] - middle))
    if kept is None:
        return
    ends = sketch.view.at(kept[0]), sketch.view.at(kept[1])
    spots = along(*ends, lift=sketch.view.paper(middle), size=MARK)
    point = ((ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2)
    text = bench.figures.mark(member.mark)
    sketch.label(Label(text=text, point=point, spots=spots, size=MARK, member=member.mark))


def _cut_end(sketch: Sketch, member: Member, plane: Plane) -> None:
    axis = 1 if plane.axis is Axis.Y else 0
    u, run = member.start[axis], member.end[1 - axis] - member.start[1 - axis]
    share = (plane.at - member.start[1 - axis]) / run if run else 0.0
    top = member.start[2] + share * (member.end[2] - member.start[2])
    half = member.width / 2
    corners = ((u - half, top - member.depth), (u + half, top - member.depth), (u + half, top), (u - half, top))
    if sketch.area_of(corners, paper_box(layer=member.role.value, member=member.mark)):
        kept = sketch.view.clip_area(corners)
        _rings(sketch, kept, member.mark, is_board=False)


def _rings(sketch: Sketch, kept: tuple[Point, ...], seed: str, *, is_board: bool) -> None:
    us, vs = [p[0] for p in kept], [p[1] for p in kept]
    corner = sketch.view.at((min(us), max(vs)))
    wide, high = sketch.view.paper(max(us) - min(us)), sketch.view.paper(max(vs) - min(vs))
    sketch.shapes += end_grain(corner, wide, high, seed=seed, is_board=is_board)


def _boards(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw what the cut meets of every board: ends with rings, or a long face."""
    floor, layout = bench.plan.job.floor, bench.plan.layout
    along_wall = abs(layout.direction_deg) <= 45.0
    for piece in layout.pieces:
        kept = crossed(piece.outline, plane)
        if kept is None:
            continue
        a, b = kept
        lifts = [
            surface_at(bench, a if plane.axis is Axis.Y else plane.at),
            surface_at(bench, b if plane.axis is Axis.Y else plane.at),
        ]
        corners = (
            (a, lifts[0] - floor.board.thickness),
            (b, lifts[1] - floor.board.thickness),
            (b, lifts[1]),
            (a, lifts[0]),
        )
        if sketch.area_of(corners, paper_box(layer="board", member=piece.mark)) and along_wall is (
            plane.axis is Axis.Y
        ):
            _rings(sketch, sketch.view.clip_area(corners), piece.mark, is_board=True)
