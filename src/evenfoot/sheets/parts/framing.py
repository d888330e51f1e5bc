"""The frame plan: every timber and post with its mark, on a grid whose lines carry their running dimensions."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from evenfoot.frame import Frame, Joint, JointKind, Member, PostPlace, Role
from evenfoot.ink import Fill, Pen, Polygon
from evenfoot.layout import Axis
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Manner, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.placing import Label
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, house, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch, along, around, paper_box, right_of
from evenfoot.sheets.figures import Figures

COARSEST = 50.0
"""A frame plan at a smaller scale than this is no longer read on site [-]."""
LARGEST = 8.0
OFFSET = 9.0
SIDE = 8.0
"""From the right edge to the line of the dimensions square to the house on paper [mm]."""
MARK = 3.6
LAPS = frozenset({JointKind.LAP_OVER, JointKind.LAP_UNDER})
HIDDEN = (1.6, 1.0)
HALF_LINE = 0.25
"""A little more than half the width of an object line [mm]."""

Corners = tuple[tuple[float, float], tuple[float, float]]


def frame_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the frame plan on as many sheets as it takes to be read."""
    frame, figures = bench.plan.frame, bench.figures
    notes = Notes(_notes(bench), bench.area)
    body = shrunk(bench.area, notes)
    across, up = _stations(bench, Axis.X), _stations(bench, Axis.Y)
    bands = Bands(
        left=OFFSET + reach_of(up, figures) + 2.0,
        right=SIDE + reach_of(_depth_stations(bench), figures, Manner.WORDS) + 2.0,
        top=OFFSET + reach_of(across, figures) + 2.0,
        bottom=12.0,
    )
    low, high = bench.outline_y
    subject = Subject(
        code="frame",
        u=bench.outline_x,
        v=(min(0.0, low), high),
        stops_u=between(tuple(g.position for g in frame.grid if g.axis is Axis.X)),
        stops_v=between(tuple(g.position for g in frame.grid if g.axis is Axis.Y)),
    )
    choices = tuple(s for s in scales(figures) if s.ratio >= LARGEST)
    drafts = (
        _sheet(replace(bench, area=body), window, up, across)
        for window in windows(subject, bands, body, choices, coarsest=COARSEST)
    )
    return tuple(replace(draft, shapes=(*draft.shapes, *notes.shapes())) for draft in drafts)


def faces(bench: Bench, axis: Axis) -> tuple[float, float]:
    """Return the outer faces of the frame across x or y [mm in plan]."""
    layout = bench.plan.layout
    return layout.frame_x if axis is Axis.X else layout.frame_y


def _stations(bench: Bench, axis: Axis) -> tuple[Station, ...]:
    """Return the grid lines counted along an axis with their labels, and both outer faces of the frame."""
    low, high = faces(bench, axis)
    lines = [
        Station(distance=g.position - low, tag=bench.figures.mark(g.label), member=g.label)
        for g in bench.plan.frame.grid
        if g.axis is axis
    ]
    return merged((Station(distance=0.0), *lines, Station(distance=high - low)))


def outline_of(member: Member) -> Corners:
    """Return the lower left and upper right corner of a timber in plan."""
    (x0, y0, _), (x1, y1, _) = member.start, member.end
    half = member.width / 2
    if is_along_x(member):
        return (min(x0, x1), y0 - half), (max(x0, x1), y0 + half)
    return (x0 - half, min(y0, y1)), (x0 + half, max(y0, y1))


def is_along_x(member: Member) -> bool:
    """Return whether a timber runs along the wall."""
    return abs(member.end[0] - member.start[0]) >= abs(member.end[1] - member.start[1])


def _sheet(bench: Bench, window: Window, up: tuple[Station, ...], across: tuple[Station, ...]) -> Draft:
    frame, view, figures = bench.plan.frame, window.view, bench.figures
    sketch = Sketch(view, bench.area)
    outline = bench.plan.layout.outline
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        sketch.line(a, b, Pen.PENCIL, dash=(3.0, 1.2), layer="floor")
    _footings(sketch, bench)
    _timbers(sketch, frame, figures)
    for post in frame.posts:
        _post(sketch, post, figures)
    draw_obstacles(sketch, bench)
    upright = course(view, "up", zero=faces(bench, Axis.Y)[0], offset=-OFFSET)
    flat = course(view, "across", zero=faces(bench, Axis.X)[0], offset=OFFSET)
    sketch.add(*chain(upright, up, figures))
    sketch.add(*chain(flat, across, figures))
    if not any(side == "right" for side, _ in window.neighbours):
        rod = replace(course(view, "up", zero=0.0, offset=SIDE), edge=view.right)
        sketch.add(*chain(rod, _depth_stations(bench), figures, Manner.WORDS))
    sketch.add(*house(view, figures, stands=bench.has_house, lines=bench.post_lines))
    lines, texts = matches(window, bench.area, figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    shapes = sketch.finish()
    return Draft(
        code=window.code,
        group=bench.title("frame", number=1, count=1),
        title=bench.title("frame", number=window.number, count=window.count),
        shapes=shapes,
        scale=window.scale,
        house="below",
        origin=window.view.at((0.0, 0.0)),
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _timbers(sketch: Sketch, frame: Frame, figures: Figures) -> None:
    """Draw beams, then what lies on or between them, then which timber runs over at every lap."""
    order = (Role.BEAM, Role.JOIST, Role.BLOCK)
    for member in sorted(frame.members, key=lambda m: order.index(m.role)):
        low, high = outline_of(member)
        if sketch.timber(low, high, paper_box(layer=member.role.value, member=member.mark)):
            _mark(sketch, member, figures)
    members = {m.mark: m for m in frame.members}
    for joint in frame.joints:
        if joint.kind in LAPS:
            _lap(sketch, joint, members[joint.upper], members[joint.lower])


def _mark(sketch: Sketch, member: Member, figures: Figures) -> None:
    """Ask for the mark of a timber along its middle line, as much of it as is in the window."""
    kept = sketch.view.clip_line(member.start[:2], member.end[:2])
    if kept is None:
        return
    a, b = sketch.view.at(kept[0]), sketch.view.at(kept[1])
    spots = along(a, b, lift=sketch.view.paper(member.width) / 2, size=MARK)
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    text = figures.mark(member.mark)
    sketch.label(Label(text=text, point=middle, spots=spots, size=MARK, member=member.mark))


def _lap(sketch: Sketch, joint: Joint, upper: Member, lower: Member) -> None:
    """Repaint a crossing so that the edges of the timber that lies on top run through it."""
    (ux0, uy0), (ux1, uy1) = outline_of(upper)
    (lx0, ly0), (lx1, ly1) = outline_of(lower)
    low, high = (max(ux0, lx0), max(uy0, ly0)), (min(ux1, lx1), min(uy1, ly1))
    if low[0] >= high[0] or low[1] >= high[1]:
        return
    spare = HALF_LINE * sketch.view.ratio
    wide = (spare, 0.0) if is_along_x(upper) else (0.0, spare)
    low, high = (low[0] - wide[0], low[1] - wide[1]), (high[0] + wide[0], high[1] + wide[1])
    ends = [end[:2] for end in (upper.start, upper.end)]
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    sketch.area_of(corners, Polygon(points=(), pen=None, fill=Fill.PAPER, layer="joint", member=joint.mark))
    sides = ((corners[0], corners[1]), (corners[3], corners[2]))
    across = ((corners[0], corners[3]), (corners[1], corners[2]))
    if not is_along_x(upper):
        sides, across = across, sides
    for a, b in sides:
        sketch.line(a, b, Pen.OBJECT, layer="joint")
    axis = 0 if is_along_x(upper) else 1
    for a, b in across:
        for end in ends:
            if abs(a[axis] - end[axis]) <= 2 * spare:
                at = end[axis]
                pair = ((at, a[1]), (at, b[1])) if axis == 0 else ((a[0], at), (b[0], at))
                sketch.line(*pair, Pen.OBJECT, layer="joint")


def _post(sketch: Sketch, post: PostPlace, figures: Figures) -> None:
    low = (post.x - post.width / 2, post.y - post.depth / 2)
    high = (post.x + post.width / 2, post.y + post.depth / 2)
    corners = (low, (high[0], low[1]), high, (low[0], high[1]))
    if not sketch.area_of(corners, paper_box(layer="post", member=post.mark)):
        return
    sketch.line(low, high, Pen.FINE, layer="post")
    sketch.line((low[0], high[1]), (high[0], low[1]), Pen.FINE, layer="post")
    if not sketch.view.holds((post.x, post.y)):
        return
    centre = sketch.view.at((post.x, post.y))
    half = sketch.view.paper(max(post.width, post.depth)) / 2
    spots = right_of(centre, half, FIGURE)
    text = figures.mark(post.mark)
    sketch.label(Label(text=text, point=centre, spots=spots, size=FIGURE, layer="post", member=post.mark, rank=0))


def _footings(sketch: Sketch, bench: Bench) -> None:
    half = bench.plan.job.frame.footing.size / 2
    for post in bench.plan.frame.posts:
        corners = (
            (post.x - half, post.y - half),
            (post.x + half, post.y - half),
            (post.x + half, post.y + half),
            (post.x - half, post.y + half),
        )
        look = Polygon(points=(), pen=Pen.PENCIL, fill=None, dash=HIDDEN, layer="footing", member=post.mark)
        sketch.area_of(corners, look)


def draw_obstacles(sketch: Sketch, bench: Bench) -> None:
    """Draw what no post may stand on, hatched, with the clear space around it."""
    for obstacle in bench.plan.job.site.obstacles:
        x0, y0, x1, y1 = obstacle.x, obstacle.y, obstacle.x + obstacle.width, obstacle.y + obstacle.depth
        c = obstacle.clearance
        ring = ((x0 - c, y0 - c), (x1 + c, y0 - c), (x1 + c, y1 + c), (x0 - c, y1 + c))
        sketch.area_of(ring, Polygon(points=(), pen=Pen.WATER, dash=HIDDEN, layer="obstacle"))
        sketch.area_of(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), Polygon(points=(), pen=Pen.WATER, layer="obstacle"))
        sketch.line((x0, y0), (x1, y1), Pen.WATER, layer="obstacle")
        sketch.line((x0, y1), (x1, y0), Pen.WATER, layer="obstacle")
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        if sketch.view.holds(middle):
            half = max(sketch.view.paper(x1 - x0), sketch.view.paper(y1 - y0)) / 2
            centre = sketch.view.at(middle)
            spots = around(centre, min(half, 12.0), WORD)
            sketch.label(
                Label(text=obstacle.name, point=centre, spots=spots, size=WORD, is_bold=False, layer="obstacle")
            )


def _depth_stations(bench: Bench) -> tuple[Station, ...]:
    """Return house wall, both faces of the frame and the outer edge of the boards, counted from the wall line."""
    low, high = faces(bench, Axis.Y)
    frame, edge = bench.say("sheet-thing.frame"), bench.say("sheet-thing.edge")
    places = ((0.0, bench.say("sheet.house-name")), (low, frame), (high, frame), (bench.outline_y[1], edge))
    return merged(tuple(Station(distance=at, tag=tag) for at, tag in places), bench.say("sheet.comma"))


def _notes(bench: Bench) -> tuple[str, ...]:
    plan, frame = bench.plan, bench.plan.frame
    over, footing = plan.job.floor.overhang, plan.job.frame.footing
    width, depth = (b - a for a, b in (faces(bench, Axis.X), faces(bench, Axis.Y)))
    true_depth = depth * hypot(1.0, frame.fall)
    return (
        bench.say("sheet-note.frame-zero", gap_mm=faces(bench, Axis.Y)[0]),
        bench.say(
            "sheet-note.frame-diagonal", diagonal_mm=hypot(width, true_depth), width_mm=width, depth_mm=true_depth
        ),
        bench.say(
            "sheet-note.frame-overhang",
            wall_mm=over.wall,
            outer_mm=over.outer,
            left_mm=over.left,
            right_mm=over.right,
        ),
        bench.say(f"sheet-style.{frame.style.value}"),
        bench.say("sheet-note.frame-laps") if any(j.kind in LAPS for j in frame.joints) else "",
        bench.say("sheet-note.frame-posts", size_mm=footing.size),
        bench.say("sheet-note.frame-fall", fall=round(1 / frame.fall))
        if frame.fall > 0
        else bench.say("sheet-note.frame-level"),
    )
