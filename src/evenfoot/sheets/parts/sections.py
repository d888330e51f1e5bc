"""The two sections: away from the house through the height stack, and along the house through a row of posts."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise

from evenfoot.frame import Member, Role
from evenfoot.ink import Anchor, Fill, Pen, Polygon, Text
from evenfoot.layout import Axis
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Station, chain, merged, reach_of, thinned
from evenfoot.sheets.drafting.grain import end_grain
from evenfoot.sheets.drafting.paper import FIGURE
from evenfoot.sheets.drafting.placing import Label
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch, along, paper_box
from evenfoot.sheets.parts.framing import faces, is_along_x

COARSEST = 50.0
OFFSET = 7.0
WALL = 100.0
"""Thickness of the house wall as drawn [mm]; where it ends is not the floor's business."""
AIR = 140.0
"""Drawn above the highest and below the lowest thing [mm]."""
GROUND_STEPS = 48
MARK = 3.6

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Where the floor is cut: at ``at`` on the axis across it, seen towards lower (higher) values of that axis.

    ``axis`` is the direction that runs to the right on the sheet: y away from the house, x along it.
    """

    axis: Axis
    at: float
    line: float
    """The line of timbers or posts seen just behind the cut."""
    posts: tuple[PostCut, ...]
    label: str
    """Mark of the grid line behind the cut, empty when there is none."""


def section_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the section away from the house, then the one along it."""
    planes = (_plane(bench, Axis.Y), _plane(bench, Axis.X))
    return tuple(draft for plane in planes if plane is not None for draft in _sheets(bench, plane))


def _plane(bench: Bench, axis: Axis) -> Plane | None:
    """Return a cut just beside the line with the most posts, an inner line before an outer one."""
    across = Axis.X if axis is Axis.Y else Axis.Y
    cuts = bench.plan.posts.cuts
    if not cuts:
        return None
    where = [round(c.x if across is Axis.X else c.y, 1) for c in cuts]
    counts = Counter(where)
    low, high = faces(bench, across)
    middle = (low + high) / 2
    line = max(counts, key=lambda p: (counts[p], -abs(p - middle)))
    widths = [m.width for m in bench.plan.frame.members if _position(m) == line and is_along_x(m) is (axis is Axis.X)]
    beside = max(widths, default=0.0) / 2 + 1.0
    # The section away from the house is seen from the right, the one along it from the house.
    at = line + beside if axis is Axis.Y else line - beside
    grid = [g.label for g in bench.plan.frame.grid if g.axis is across and abs(g.position - line) < 0.6]
    posts = tuple(
        sorted(
            (c for c, w in zip(cuts, where, strict=True) if w == line),
            key=lambda c: c.y if axis is Axis.Y else c.x,
        )
    )
    return Plane(axis=axis, at=at, line=line, posts=posts, label=grid[0] if grid else "")


def _position(member: Member) -> float:
    """Return where a timber's axis lies across its own direction."""
    return round(member.start[1] if is_along_x(member) else member.start[0], 1)


def _sheets(bench: Bench, plane: Plane) -> tuple[Draft, ...]:
    figures = bench.figures
    notes = Notes(_notes(bench, plane), bench.area)
    body = shrunk(bench.area, notes)
    left, right = _levels(bench, plane.posts[0]), _levels(bench, plane.posts[-1])
    foot = _foot_stations(bench, plane)
    bands = Bands(
        left=OFFSET + reach_of(left, figures, is_level=True) + 2.0,
        right=OFFSET + reach_of(right, figures, is_level=True) + 2.0,
        top=7.0,
        bottom=OFFSET + reach_of(foot, figures) + 2.0,
    )
    is_away = plane.axis is Axis.Y
    edges = bench.outline_y if is_away else bench.outline_x
    levels = [s.distance for s in (*left, *right)]
    subject = Subject(
        code="section-away" if is_away else "section-along",
        u=(min(0.0, edges[0]) - WALL if is_away else edges[0] - AIR, edges[1] + AIR),
        v=(min(levels) - AIR, max(levels) + AIR),
        stops_u=between(tuple(s.distance + _zero(bench, plane) for s in foot)),
    )
    drafts = (
        _sheet(replace(bench, area=body), plane, window, (left, right, foot))
        for window in windows(subject, bands, body, scales(figures), coarsest=COARSEST)
    )
    return tuple(replace(draft, shapes=(*draft.shapes, *notes.shapes())) for draft in drafts)


def _zero(bench: Bench, plane: Plane) -> float:
    """Return where running dimensions under the section begin: the wall line, or the left face of the frame."""
    return 0.0 if plane.axis is Axis.Y else faces(bench, Axis.X)[0]


def _levels(bench: Bench, post: PostCut) -> tuple[Station, ...]:
    """Return the levels at one post from the finished floor indoors down to the ground."""
    tags = [
        Station(distance=layer.top, tag=bench.say(f"sheet-thing.{layer.thing}"))
        for layer in post.stack
        if layer.thing != "drop"
    ]
    zero = Station(distance=0.0, tag=bench.say("sheet-thing.indoors"))
    return merged((zero, *tags))


def _foot_stations(bench: Bench, plane: Plane) -> tuple[Station, ...]:
    """Return the axes of posts and of the timbers cut, from the zero of the chain, with their grid marks."""
    zero = _zero(bench, plane)
    lines = [
        Station(distance=g.position - zero, tag=bench.figures.mark(g.label), member=g.label)
        for g in bench.plan.frame.grid
        if g.axis is plane.axis
    ]
    return merged((Station(distance=0.0), *lines))


def _sheet(bench: Bench, plane: Plane, window: Window, stations: tuple[tuple[Station, ...], ...]) -> Draft:
    view, figures = window.view, bench.figures
    sketch = Sketch(view, bench.area)
    _ground(sketch, bench, plane)
    if plane.axis is Axis.Y:
        _house(sketch, bench)
    for post in plane.posts:
        _post(sketch, post, plane, bench)
    _timbers(sketch, bench, plane)
    _boards(sketch, bench, plane)
    left, right, foot = stations
    zero = course(view, "up", zero=0.0, offset=-OFFSET)
    sketch.add(*chain(zero, left, figures, is_level=True))
    sketch.add(*chain(replace(zero, edge=view.right, offset=OFFSET), right, figures, is_level=True))
    flat = course(view, "across", zero=_zero(bench, plane), offset=-OFFSET)
    sketch.add(*chain(replace(flat, edge=view.bottom), thinned(foot, view.ratio), figures))
    _post_names(sketch, bench, plane)
    lines, texts = matches(window, bench.area, figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    name = "section-away" if plane.axis is Axis.Y else "section-along"
    return Draft(
        code=window.code,
        group=bench.title(name, number=1, count=1),
        title=bench.title(name, number=window.number, count=window.count),
        shapes=sketch.finish(),
        scale=window.scale,
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _post_names(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Name the posts at both ends over their level rods."""
    view = sketch.view
    for post, x, anchor in (
        (plane.posts[0], view.left - OFFSET, Anchor.END),
        (plane.posts[-1], view.right + OFFSET, Anchor.START),
    ):
        said = bench.say("sheet.levels-at", mark=bench.figures.mark(post.mark))
        sketch.add(Text(at=(x, view.top - 2.5), text=said, size=FIGURE, anchor=anchor, is_bold=True, layer="dimension"))


def _ground(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the ground along the cut, with strokes under it."""
    low, high = sketch.view.u
    low = max(low, 0.0) if plane.axis is Axis.Y else low
    places = [low + (high - low) * k / GROUND_STEPS for k in range(GROUND_STEPS + 1)]
    points: list[Point] = []
    for u in places:
        x, y = (plane.line, u) if plane.axis is Axis.Y else (u, plane.line)
        points.append((u, bench.plan.ground.level(x, y).z))
    for index, (a, b) in enumerate(pairwise(points)):
        sketch.line(a, b, Pen.OBJECT, layer="ground")
        stroke = 2.2 * sketch.view.ratio
        if index % 2 == 0:
            sketch.line(a, (a[0] - stroke, a[1] - stroke), Pen.PENCIL, layer="ground")


def _house(sketch: Sketch, bench: Bench) -> None:
    """Draw the wall in hatching, the finished floor indoors and the sill."""
    view, sill = sketch.view, bench.plan.job.site.sill
    if view.u[0] > -1.0:
        return
    bottom = bench.plan.ground.level(0.0, 0.0).z
    for v0, v1 in ((bottom, min(sill, 0.0) - 20.0),):
        sketch.area_of(((-WALL, v0), (0.0, v0), (0.0, v1), (-WALL, v1)), paper_box(layer="house"))
        step = 2.6 * view.ratio
        place = v0
        while place < v1 + WALL:
            a, b = (-WALL, place - WALL), (0.0, place)
            cut = _between(a, b, v0, v1)
            if cut is not None:
                sketch.line(*cut, Pen.FINE, layer="house")
            place += step
    top = ((-WALL, sill - 20.0), (0.0, sill - 20.0), (0.0, sill), (-WALL, sill))
    sketch.area_of(top, paper_box(Fill.SHADE, layer="house"))
    sketch.line((view.u[0], 0.0), (-WALL * 0.4, 0.0), Pen.WATER, dash=(2.0, 1.0), layer="house")


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
    top = (cut.underside - slope * half, cut.underside + slope * half)
    body = ((u - half, cut.footing_top), (u + half, cut.footing_top), (u + half, top[1]), (u - half, top[0]))
    low, high = (u - half, cut.footing_top), (u + half, min(top))
    sketch.timber(low, high, paper_box(layer="post", member=cut.mark))
    sketch.area_of(body, Polygon(points=(), pen=Pen.OBJECT, layer="post", member=cut.mark))
    a, b = sketch.view.at((u, cut.footing_top)), sketch.view.at((u, cut.underside))
    if sketch.view.holds((u, cut.underside)):
        lift = sketch.view.paper(half)
        text = f"{bench.figures.mark(cut.mark)}  {bench.figures.cut(cut.length)}"
        spots = along(a, b, lift=lift, size=FIGURE)
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        sketch.label(Label(text=text, point=middle, spots=spots, size=FIGURE, layer="post", member=cut.mark))


def _timbers(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the timbers seen behind the cut, then those that are cut, with their rings."""
    members = bench.plan.frame.members
    runs_along = [m for m in members if is_along_x(m) is (plane.axis is Axis.X) and m.role is not Role.BLOCK]
    seen = [m for m in runs_along if abs(_position(m) - plane.line) < 1.0]
    for member in seen:
        _side(sketch, member, plane)
        _name(sketch, member, plane, bench)
    for member in members:
        if is_along_x(member) is (plane.axis is Axis.X):
            continue
        ends = sorted((member.start[0], member.end[0]) if plane.axis is Axis.Y else (member.start[1], member.end[1]))
        if ends[0] <= plane.at <= ends[1]:
            _cut_end(sketch, member, plane)


def _ends(member: Member, plane: Plane) -> tuple[Point, Point]:
    axis = 1 if plane.axis is Axis.Y else 0
    a, b = (member.start[axis], member.start[2]), (member.end[axis], member.end[2])
    return (a, b) if a[0] <= b[0] else (b, a)


def _side(sketch: Sketch, member: Member, plane: Plane) -> None:
    a, b = _ends(member, plane)
    body = (a, b, (b[0], b[1] - member.depth), (a[0], a[1] - member.depth))
    look = paper_box(layer=member.role.value, member=member.mark)
    if abs(a[1] - b[1]) < 0.5:
        sketch.timber((a[0], a[1] - member.depth), b, look)
    else:
        sketch.area_of(body, look)


def _name(sketch: Sketch, member: Member, plane: Plane, bench: Bench) -> None:
    a, b = _ends(member, plane)
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
        kept = _crossed(piece.outline, plane)
        if kept is None:
            continue
        a, b = kept
        lifts = [
            _surface(bench, a if plane.axis is Axis.Y else plane.at),
            _surface(bench, b if plane.axis is Axis.Y else plane.at),
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


def _surface(bench: Bench, y: float) -> float:
    """Return the level of the finished surface at y [mm]."""
    floor = bench.plan.job.floor
    return bench.plan.job.site.sill - floor.drop - floor.fall * y


def _crossed(outline: tuple[Point, ...], plane: Plane) -> tuple[float, float] | None:
    """Return the stretch of a board's outline that the cut meets."""
    across, right = (0, 1) if plane.axis is Axis.Y else (1, 0)
    met: list[float] = []
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        low, high = sorted((a[across], b[across]))
        if low <= plane.at < high:
            share = (plane.at - a[across]) / (b[across] - a[across])
            met.append(a[right] + share * (b[right] - a[right]))
    return (min(met), max(met)) if len(met) > 1 else None


def _notes(bench: Bench, plane: Plane) -> tuple[str, ...]:
    mark = bench.figures.mark(plane.label)
    seen = bench.say("sheet-note.section-away" if plane.axis is Axis.Y else "sheet-note.section-along", mark=mark)
    zero = bench.say("sheet-note.section-zero-wall" if plane.axis is Axis.Y else "sheet-note.section-zero-face")
    return (seen, bench.say("sheet-note.section-levels"), zero, bench.say("sheet-note.section-ground"))
