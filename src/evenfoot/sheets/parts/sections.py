"""The two sections: away from the house through the height stack, and along the house through a row of posts."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise

from evenfoot.frame import Member, Role
from evenfoot.ink import Anchor, Dimension, Fill, Pen, Polygon, Text
from evenfoot.layout import Axis
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Manner, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.grain import end_grain, long_grain
from evenfoot.sheets.drafting.paper import FIGURE, Area
from evenfoot.sheets.drafting.placing import Label
from evenfoot.sheets.drafting.plans import HATCH_STEP, Bands, Notes, Subject, Window, course, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch, along, beside, paper_box
from evenfoot.sheets.parts.framing import faces, is_along_x

COARSEST = 50.0
OFFSET = 7.0
WALL = 100.0
"""Thickness of the house wall as drawn [mm]; where it ends is not the floor's business."""
SILL = 20.0
"""Thickness of the sill as drawn [mm]."""
AIR = 140.0
"""Drawn above the highest and below the lowest thing [mm]."""
PAST_POST = 260.0
"""Drawn past the axis of the first post on the sheet of the height stack [mm]."""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A stretch of a section that gets its own sheet: its code, the posts named at its ends, and its extent."""

    code: str
    plane: Plane
    posts: tuple[PostCut, ...]
    u: tuple[float, float]


def section_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the height stack at the house, the section away from it, and the one along it."""
    away, along_house = _plane(bench, Axis.Y), _plane(bench, Axis.X)
    if away is None or along_house is None:
        return ()
    edges, ends = bench.outline_y, bench.outline_x
    start = min(0.0, edges[0]) - WALL
    first = away.posts[0]
    parts = (
        Part(code="stack", plane=away, posts=(first,), u=(start, min(first.y + PAST_POST, edges[1] + AIR))),
        Part(code="section-away", plane=away, posts=away.posts, u=(start, edges[1] + AIR)),
        Part(code="section-along", plane=along_house, posts=along_house.posts, u=(ends[0] - AIR, ends[1] + AIR)),
    )
    return tuple(draft for part in parts for draft in _sheets(bench, part))


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


def _sheets(bench: Bench, part: Part) -> tuple[Draft, ...]:
    notes = Notes(_notes(bench, part.plane), bench.area)
    body = shrunk(bench.area, notes)
    found = _windows(bench, part, body, has_right=len(part.posts) > 1)
    if len(found) > 1:
        found = _windows(bench, part, body, has_right=False)
    drafts = (_sheet(replace(bench, area=body), part, window) for window in found)
    return tuple(replace(draft, shapes=(*draft.shapes, *notes.shapes())) for draft in drafts)


def _windows(bench: Bench, part: Part, body: Area, *, has_right: bool) -> tuple[Window, ...]:
    """Return the windows of a section, with room for levels at the left, and at the right where they are wanted."""
    figures = bench.figures
    stations = [s for post in part.posts for s in _levels(bench, post)]
    rod = OFFSET + reach_of(tuple(stations), figures, Manner.LEVELS) + 2.0
    foot = _foot_stations(bench, part.plane)
    bands = Bands(
        left=rod,
        right=rod if has_right else 8.0,
        top=18.0,
        bottom=OFFSET + reach_of(foot, figures) + 2.0,
    )
    levels = [s.distance for s in stations]
    subject = Subject(
        code=part.code,
        u=part.u,
        v=(min(levels) - AIR / 2, max(levels) + AIR / 2),
        stops_u=between(tuple(s.distance + _zero(bench, part.plane) for s in foot)),
    )
    return windows(subject, bands, body, scales(figures), coarsest=COARSEST)


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
    return merged((zero, *tags), bench.say("sheet.comma"))


def _foot_stations(bench: Bench, plane: Plane) -> tuple[Station, ...]:
    """Return the axes of posts and of the timbers cut, from the zero of the chain, with their grid marks."""
    zero = _zero(bench, plane)
    lines = [
        Station(distance=g.position - zero, tag=bench.figures.mark(g.label), member=g.label)
        for g in bench.plan.frame.grid
        if g.axis is plane.axis
    ]
    return merged((Station(distance=0.0), *lines))


def _sheet(bench: Bench, part: Part, window: Window) -> Draft:
    view, plane = window.view, part.plane
    sketch = Sketch(view, bench.area)
    _ground(sketch, bench, plane)
    if plane.axis is Axis.Y:
        _house(sketch, bench, plane)
    for post in plane.posts:
        _post(sketch, post, plane, bench)
    _timbers(sketch, bench, plane)
    _boards(sketch, bench, plane)
    flat = course(view, "across", zero=_zero(bench, plane), offset=-OFFSET)
    sketch.add(*chain(replace(flat, edge=view.bottom), _foot_stations(bench, plane), bench.figures))
    _rods(sketch, bench, part, is_alone=window.count == 1)
    lines, texts = matches(window, bench.area, bench.figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    return Draft(
        code=window.code,
        group=bench.title(part.code, number=1, count=1),
        title=bench.title(part.code, number=window.number, count=window.count),
        shapes=sketch.finish(),
        scale=window.scale,
        house="left" if plane.axis is Axis.Y else "behind",
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _rods(sketch: Sketch, bench: Bench, part: Part, *, is_alone: bool) -> None:
    """Draw the levels at the first post in view at the left, and where all is on one sheet at the last at the right."""
    view = sketch.view
    is_away = part.plane.axis is Axis.Y
    posts = [c for c in part.posts if view.u[0] <= (c.y if is_away else c.x) <= view.u[1]]
    if not posts:
        return
    zero = course(view, "up", zero=0.0, offset=-OFFSET)
    places = [(posts[0], zero, view.left - OFFSET, Anchor.END)]
    if is_alone and len(posts) > 1:
        places.append((posts[-1], replace(zero, edge=view.right, offset=OFFSET), view.right + OFFSET, Anchor.START))
    for post, rod, x, anchor in places:
        marks = chain(rod, _levels(bench, post), bench.figures, Manner.LEVELS)
        sketch.add(*marks)
        highest = min(m.b[1] + m.shift for m in marks if isinstance(m, Dimension))
        said = bench.say("sheet.levels-at", mark=bench.figures.mark(post.mark))
        sketch.add(
            Text(
                at=(x, min(view.top, highest) - 4.5),
                text=said,
                size=FIGURE,
                anchor=anchor,
                is_bold=True,
                layer="dimension",
            )
        )


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


def _house(sketch: Sketch, bench: Bench, plane: Plane) -> None:
    """Draw the wall in hatching, the sill on it, and the level of the finished floor indoors."""
    view, sill = sketch.view, bench.plan.job.site.sill
    if view.u[0] > -1.0:
        return
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
    for member in _seen(members, plane):
        _side(sketch, member, plane)
        _name(sketch, member, plane, bench)
    for member in members:
        if is_along_x(member) is (plane.axis is Axis.X):
            continue
        ends = sorted((member.start[0], member.end[0]) if plane.axis is Axis.Y else (member.start[1], member.end[1]))
        if ends[0] <= plane.at <= ends[1]:
            _cut_end(sketch, member, plane)


def _seen(members: tuple[Member, ...], plane: Plane) -> tuple[Member, ...]:
    """Return the timbers that run with the cut on the nearest line behind it, for beams and joists apart."""
    out: list[Member] = []
    for role in (Role.JOIST, Role.BEAM):
        found = [m for m in members if m.role is role and is_along_x(m) is (plane.axis is Axis.X)]
        behind = {p for p in map(_position, found) if (p <= plane.at) is (plane.axis is Axis.Y)}
        if behind:
            nearest = min(behind, key=lambda p: abs(p - plane.at))
            out += [m for m in found if _position(m) == nearest]
    return tuple(out)


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
