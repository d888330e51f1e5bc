"""The two sections: away from the house through the height stack, and along the house through a row of posts."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evenfoot.ink import Anchor, Dimension, Text
from evenfoot.layout import Axis
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Manner, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.paper import FIGURE, Area
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch
from evenfoot.sheets.parts.cutting_plane import Plane, plane_through
from evenfoot.sheets.parts.framing import faces
from evenfoot.sheets.parts.section_drawing import WALL, draw_section

COARSEST = 50.0
OFFSET = 7.0
AIR = 140.0
"""Drawn above the highest and below the lowest thing [mm]."""
PAST_POST = 260.0
"""Drawn past the axis of the first post on the sheet of the height stack [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A stretch of a section that gets its own sheet: its code, the posts named at its ends, and its extent."""

    code: str
    plane: Plane
    posts: tuple[PostCut, ...]
    u: tuple[float, float]


def section_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the height stack at the house, the section away from it, and the one along it."""
    away, along_house = plane_through(bench, Axis.Y), plane_through(bench, Axis.X)
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


def _sheets(bench: Bench, part: Part) -> tuple[Draft, ...]:
    notes = Notes(_notes(bench, part.plane), bench.area)
    body = shrunk(bench.area, notes)
    has_right = len(part.posts) > 1
    found = _windows(bench, part, body, has_right=has_right)
    if len(found) > 1:
        has_right = False
        found = _windows(bench, part, body, has_right=has_right)
    drafts = (_sheet(replace(bench, area=body), part, window, has_right=has_right) for window in found)
    return tuple(replace(draft, shapes=(*draft.shapes, *notes.shapes())) for draft in drafts)


def _windows(bench: Bench, part: Part, body: Area, *, has_right: bool) -> tuple[Window, ...]:
    """Return the windows of a section, with room for levels at the left, and at the right where they are wanted."""
    figures = bench.figures
    stations = [s for post in part.posts for s in levels_at(bench, post)]
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


def levels_at(bench: Bench, post: PostCut) -> tuple[Station, ...]:
    """Return the levels at one post from the finished floor indoors, or the datum, down to the ground."""
    is_datum = not bench.has_house and not bench.plan.job.site.sill
    untold = {"drop", "sill"} if is_datum else {"drop"}
    tags = [
        Station(distance=layer.top, tag=bench.say(f"sheet-thing.{layer.thing}"))
        for layer in post.stack
        if layer.thing not in untold
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


def _sheet(bench: Bench, part: Part, window: Window, *, has_right: bool) -> Draft:
    view, plane = window.view, part.plane
    sketch = Sketch(view, bench.area)
    draw_section(sketch, bench, plane)
    flat = course(view, "across", zero=_zero(bench, plane), offset=-OFFSET)
    sketch.add(*chain(replace(flat, edge=view.bottom), _foot_stations(bench, plane), bench.figures))
    _rods(sketch, bench, part, has_right=has_right)
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


def _rods(sketch: Sketch, bench: Bench, part: Part, *, has_right: bool) -> None:
    """Draw the levels at the first post in view at the left, and where there is room at the last at the right."""
    view = sketch.view
    is_away = part.plane.axis is Axis.Y
    posts = [c for c in part.posts if view.u[0] <= (c.y if is_away else c.x) <= view.u[1]]
    if not posts:
        return
    zero = course(view, "up", zero=0.0, offset=-OFFSET)
    places = [(posts[0], zero, view.left - OFFSET, Anchor.END)]
    if has_right and len(posts) > 1:
        places.append((posts[-1], replace(zero, edge=view.right, offset=OFFSET), view.right + OFFSET, Anchor.START))
    for post, rod, x, anchor in places:
        marks = chain(rod, levels_at(bench, post), bench.figures, Manner.LEVELS)
        sketch.add(*marks)
        highest = min((m.b[1] + m.shift for m in marks if isinstance(m, Dimension)), default=view.top)
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


def _notes(bench: Bench, plane: Plane) -> tuple[str, ...]:
    mark = bench.figures.mark(plane.label)
    seen = bench.say("sheet-note.section-away" if plane.axis is Axis.Y else "sheet-note.section-along", mark=mark)
    zero = bench.say("sheet-note.section-zero-wall" if plane.axis is Axis.Y else "sheet-note.section-zero-face")
    return (seen, bench.say("sheet-note.section-levels"), zero, bench.say("sheet-note.section-ground"))
