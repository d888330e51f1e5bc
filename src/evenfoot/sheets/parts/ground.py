"""The ground plan: where footings go, how high the ground is there, where it was read, and what to doubt."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, radians, sin

from evenfoot.ink import Anchor, Circle, Fill, Line, Pen, Polygon
from evenfoot.layout import Axis
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import Station, chain, merged, reach_of
from evenfoot.sheets.drafting.contour import level_lines, step_between
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.placing import Label, Spot
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, house, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch, around, right_of
from evenfoot.sheets.lists.listing import Field, Kind, Listing
from evenfoot.sheets.parts.framing import draw_obstacles

COARSEST = 50.0
"""At a smaller scale than this the marks have no room [-]."""
LARGEST = 8.0
OFFSET = 7.0
CROWDED = 25.0
"""Scale that is never left for the sake of labels alone: more sheets than this would be read by nobody."""
LABEL = 22.0
"""Width of a mark with its level on paper [mm]."""
ARROW = 26.0
"""Length of the arrow of fall on paper [mm]."""
DASH = (0.6, 1.4)
"""Lines of equal level are dotted: they were reckoned, not seen [mm]."""
MARGIN = 250.0
"""Real space around the readings [mm]."""


def ground_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the plan of the ground."""
    points = bench.plan.ground.points
    notes = Notes(_notes(bench), bench.area)
    body = shrunk(bench.area, notes)
    xs = [*bench.outline_x, *(p.x for p in points)]
    ys = [0.0, *bench.outline_y, *(p.y for p in points)]
    posts = bench.plan.frame.posts
    across = _stations(bench, Axis.X, tuple(p.x for p in posts), zero=bench.outline_x[0])
    up = _stations(bench, Axis.Y, tuple(p.y for p in posts), zero=0.0)
    bands = Bands(
        left=OFFSET + reach_of(up, bench.figures) + 2.0,
        right=14.0,
        top=OFFSET + reach_of(across, bench.figures) + 2.0,
        bottom=12.0,
    )
    low = min(ys) if min(ys) >= 0.0 else min(ys) - MARGIN
    subject = Subject(
        code="ground",
        u=(min(xs) - MARGIN, max(xs) + MARGIN),
        v=(low, max(ys) + MARGIN),
        stops_u=between(tuple(p.x for p in posts)),
        stops_v=between(tuple(p.y for p in posts)),
    )
    choices = tuple(s for s in scales(bench.figures) if s.ratio >= LARGEST)
    drafts = (
        _sheet(replace(bench, area=body), window, up, across)
        for window in windows(subject, bands, body, choices, coarsest=_coarsest(bench))
    )
    return tuple(replace(draft, shapes=(*draft.shapes, *notes.shapes())) for draft in drafts)


def _stations(bench: Bench, axis: Axis, places: tuple[float, ...], *, zero: float) -> tuple[Station, ...]:
    """Return the lines on which posts stand, each with its mark, so that no post is taken for its neighbour."""
    tags = {round(g.position): bench.figures.mark(g.label) for g in bench.plan.frame.grid if g.axis is axis}
    lines = (Station(distance=p - zero, tag=tags.get(round(p), "")) for p in places)
    return merged((Station(distance=0.0), *lines))


def _nearest(bench: Bench) -> float:
    """Return the least distance between two posts of one row [mm]."""
    places = sorted((round(p.y), p.x) for p in bench.plan.frame.posts)
    return min((b[1] - a[1] for a, b in pairwise(places) if a[0] == b[0]), default=COARSEST * LABEL)


def _coarsest(bench: Bench) -> float:
    """Return the smallest scale at which the mark and level of a post fit beside it before the next of its row."""
    return min(COARSEST, max(_nearest(bench) / LABEL, CROWDED))


def _sheet(bench: Bench, window: Window, up: tuple[Station, ...], across: tuple[Station, ...]) -> Draft:
    view, figures, plan = window.view, bench.figures, bench.plan
    sketch = Sketch(view, bench.area)
    outline = plan.layout.outline
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        sketch.line(a, b, Pen.PENCIL, dash=(3.0, 1.2), layer="floor")
    _contours(sketch, bench)
    draw_obstacles(sketch, bench)
    _posts(sketch, bench)
    _readings(sketch, bench)
    _arrow(sketch, bench)
    sketch.add(*chain(course(view, "up", zero=0.0, offset=-OFFSET), up, figures))
    sketch.add(*chain(course(view, "across", zero=bench.outline_x[0], offset=OFFSET), across, figures))
    sketch.add(*house(view, figures, stands=bench.has_house, lines=bench.post_lines))
    lines, texts = matches(window, bench.area, figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    return Draft(
        code=window.code,
        group=bench.title("ground", number=1, count=1),
        title=bench.title("ground", number=window.number, count=window.count),
        shapes=sketch.finish(),
        scale=window.scale,
        house="below",
        origin=window.view.at((0.0, 0.0)),
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _contours(sketch: Sketch, bench: Bench) -> None:
    """Draw lines of equal level of the ground in indigo, each with its level."""
    view, ground, figures = sketch.view, bench.plan.ground, bench.figures
    levels = ground.heights([(x, y) for x in view.u for y in view.v])
    unit = 25.4 / 8 if figures.is_inch else 1.0
    step = step_between(min(levels), max(levels), unit=unit, is_inch=figures.is_inch)
    low = max(view.v[0], 0.0)
    for level, line in level_lines(ground.heights, view.u, (low, view.v[1]), step):
        points = tuple(view.at(p) for p in line)
        sketch.add(Polygon(points=points, pen=Pen.WATER, is_closed=False, dash=DASH, layer="contour"))
        spots = tuple(
            Spot(at=(x, y + 0.765 * WORD / 2)) for x, y in (points[len(points) * k // 6] for k in (3, 2, 4, 1, 5))
        )
        label = Label(text=figures.level(level), point=spots[0].at, spots=spots, size=WORD, layer="contour")
        sketch.label(replace(label, is_bold=False, rank=3, may_go=True))


def _posts(sketch: Sketch, bench: Bench) -> None:
    """Draw every footing with its post, its mark and the level of the ground there.

    In a crowd these stand straight over or under it, or are led out, so that no neighbour claims them.
    """
    is_crowded = sketch.view.paper(_nearest(bench)) < LABEL
    for cut in bench.plan.posts.cuts:
        for half, pen in ((bench.plan.job.frame.footing.size / 2, Pen.OBJECT), (cut.width / 2, Pen.PENCIL)):
            corners = (
                (cut.x - half, cut.y - half),
                (cut.x + half, cut.y - half),
                (cut.x + half, cut.y + half),
                (cut.x - half, cut.y + half),
            )
            sketch.area_of(corners, Polygon(points=(), pen=pen, layer="footing", member=cut.mark))
        if not sketch.view.holds((cut.x, cut.y)):
            continue
        centre = sketch.view.at((cut.x, cut.y))
        reach = sketch.view.paper(bench.plan.job.frame.footing.size / 2)
        text = f"{bench.figures.mark(cut.mark)}  {bench.figures.level(cut.ground)}"
        spots = right_of(centre, reach, FIGURE)
        if is_crowded:
            spots = tuple(spot for spot in spots if spot.anchor is Anchor.MIDDLE)
        sketch.label(Label(text=text, point=centre, spots=spots, size=FIGURE, layer="footing", member=cut.mark, rank=0))


def _readings(sketch: Sketch, bench: Bench) -> None:
    """Draw every reading with its name and level; a doubtful one in a second ring and vermilion."""
    ground, figures = bench.plan.ground, bench.figures
    doubtful = {d.name for d in ground.doubtful}
    for point in ground.points:
        if not sketch.view.holds((point.x, point.y)):
            continue
        centre = sketch.view.at((point.x, point.y))
        is_odd = point.name in doubtful
        pen = Pen.ALARM if is_odd else Pen.WATER
        sketch.add(Circle(centre=centre, r=0.9, pen=pen, layer="reading"))
        if is_odd:
            sketch.add(Circle(centre=centre, r=1.8, pen=pen, layer="reading"))
        text = f"○{point.name}  {figures.level(point.z)}"
        sketch.label(Label(text=text, point=centre, spots=around(centre, 1.2, FIGURE), size=FIGURE, layer="reading"))


def _arrow(sketch: Sketch, bench: Bench) -> None:
    """Draw which way the ground falls and by how much, beside the middle of the floor."""
    fall = bench.plan.ground.fall
    if fall.ratio < 1e-4:
        return
    (x0, x1), (y0, y1) = bench.outline_x, bench.outline_y
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if not sketch.view.holds(middle):
        return
    turn = radians(fall.direction_deg)
    c, s = cos(turn), -sin(turn)
    x, y = sketch.view.at(middle)
    tail, tip = (x - c * ARROW / 2, y - s * ARROW / 2), (x + c * ARROW / 2, y + s * ARROW / 2)
    neck = (tip[0] - 4.0 * c, tip[1] - 4.0 * s)
    head = (tip, (neck[0] - 1.5 * s, neck[1] + 1.5 * c), (neck[0] + 1.5 * s, neck[1] - 1.5 * c))
    sketch.add(
        Line(a=tail, b=neck, pen=Pen.WATER, layer="fall"),
        Polygon(points=head, pen=Pen.WATER, fill=Fill.PAPER, layer="fall"),
    )
    said = bench.say("sheet.ground-falls", ratio=round(1 / fall.ratio))
    sketch.label(Label(text=said, point=tail, spots=around((x, y), 3.0, FIGURE), size=FIGURE, layer="fall"))


def reading_list(bench: Bench) -> Listing:
    """Return every level read, with its accuracy."""
    return Listing(
        code="readings",
        fields=(
            Field(code="point"),
            Field(code="x", kind=Kind.LENGTH),
            Field(code="y", kind=Kind.LENGTH),
            Field(code="level", kind=Kind.LENGTH),
            Field(code="spread"),
        ),
        rows=tuple((p.name, p.x, p.y, p.z, bench.figures.spread(p.sigma)) for p in bench.plan.ground.points),
    )


def _notes(bench: Bench) -> tuple[str, ...]:
    ground, site = bench.plan.ground, bench.plan.job.site
    doubt = bench.say("sheet.comma").join(d.name for d in ground.doubtful)
    return (
        bench.say("sheet-note.ground-levels"),
        bench.say("sheet-note.ground-zero"),
        bench.say("sheet-note.ground-accuracy", accuracy=bench.figures.number(site.accuracy)),
        bench.say("sheet-note.ground-doubt", points=doubt) if doubt else "",
        bench.say("sheet-note.ground-posts"),
    )
