"""The board plan: every row and piece, where its edges are marked from the starting edge, and its joints."""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, radians, sin

from evenfoot.ink import Anchor, Fill, Pen, Polygon, Text, text_width
from evenfoot.layout import Axis, BoardPiece, Layout
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.chain import SAME, Station, chain, merged, reach_of, thinned
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.placing import Label, Spot, halo
from evenfoot.sheets.drafting.plans import Bands, Notes, Subject, Window, course, house, matches, shrunk, windows
from evenfoot.sheets.drafting.scale import between, scales
from evenfoot.sheets.drafting.sketch import Sketch, paper_box
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.listing import Field, Kind, Listing

COARSEST = 50.0
"""A board plan at a smaller scale than this is no longer read on site [-]."""
LARGEST = 8.0
OFFSET = 7.0
"""From the edge of the floor to the line of a chain on paper [mm]."""
BESIDE_ARROW = 0.25
"""Texts in the first row stand this far along it from its middle, where the arrow is [-]."""
LEAST_ROW = 3.4
"""Rows narrower than this on paper hold no text [mm]."""


def board_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the board plan on as many sheets as it takes to be read."""
    layout, figures = bench.plan.layout, bench.figures
    notes = Notes(_notes(bench), bench.area)
    body = shrunk(bench.area, notes)
    rows, joints = _row_stations(bench), _joint_stations(bench)
    is_up = _is_along_wall(layout)
    up, across = (rows, joints) if is_up else (joints, rows)
    bands = Bands(
        left=OFFSET + reach_of(up, figures) + 2.0,
        right=9.0,
        top=OFFSET + reach_of(across, figures) + 2.0,
        bottom=12.0,
    )
    low, high = bench.outline_y
    stops = between(layout.joist_lines)
    subject = Subject(
        code="boards",
        u=bench.outline_x,
        v=(min(0.0, low), high),
        stops_u=stops if is_up else (),
        stops_v=() if is_up else stops,
    )
    choices = tuple(s for s in scales(figures) if s.ratio >= LARGEST)
    return tuple(
        replace(draft, shapes=(*draft.shapes, *notes.shapes()))
        for draft in (
            _sheet(replace(bench, area=body), window, up, across)
            for window in windows(subject, bands, body, choices, coarsest=COARSEST)
        )
    )


def _is_along_wall(layout: Layout) -> bool:
    """Return whether the rows are counted up the sheet (boards along the wall or nearly so)."""
    return abs(layout.direction_deg) <= 45.0


def _row_stations(bench: Bench) -> tuple[Station, ...]:
    """Return where the near edge of each row meets the left edge of the floor (the outer one for boards across).

    Distances are true ones along that edge, from its outer (left) end: a tape is hooked there.
    """
    layout, turn = bench.plan.layout, radians(bench.plan.layout.direction_deg)
    c, s, stretch = cos(turn), sin(turn), hypot(1.0, bench.plan.frame.fall)
    (left, right), (low, high) = bench.outline_x, bench.outline_y
    top = max(stretch * y * c - x * s for x, y in layout.outline)
    out: list[Station] = []
    for row in layout.rows:
        if _is_along_wall(layout):
            distance, end = stretch * high - (top - row.near + left * s) / c, stretch * (high - low)
        else:
            distance, end = (stretch * high * c - top + row.near) / s - left, right - left
        if -SAME <= distance <= end + SAME:
            out.append(Station(distance=distance, tag=str(row.number)))
    return merged((*out, Station(distance=end)))


def _joint_stations(bench: Bench) -> tuple[Station, ...]:
    """Return the two ends of a row and the joists on which pieces meet, from the left end (the one at the house)."""
    layout = bench.plan.layout
    met = sorted({p.end_on_joist for p in layout.pieces if p.end_on_joist is not None})
    low, high = bench.outline_x if _is_along_wall(layout) else bench.outline_y
    places = (low, *(layout.joist_lines[index] for index in met), high)
    return merged(tuple(Station(distance=at - low) for at in places))


def _sheet(bench: Bench, window: Window, up: tuple[Station, ...], across: tuple[Station, ...]) -> Draft:
    layout, view, figures = bench.plan.layout, window.view, bench.figures
    sketch = Sketch(view, bench.area)
    shown = [piece for piece in layout.pieces if _outline(sketch, piece)]
    _joist_lines(sketch, layout)
    for piece in shown:
        _name(sketch, piece, layout, figures)
    stretch = hypot(1.0, bench.plan.frame.fall)
    along, (low, high) = _is_along_wall(layout), bench.outline_y
    upright = course(view, "up", zero=high if along else low, offset=-OFFSET, sign=-1.0 if along else 1.0)
    flat = course(view, "across", zero=bench.outline_x[0], offset=OFFSET)
    sketch.add(*chain(replace(upright, ratio=view.ratio * stretch), thinned(up, view.ratio), figures))
    sketch.add(*chain(flat, thinned(across, view.ratio), figures))
    sketch.add(*house(view, figures, stands=bench.has_house, lines=bench.post_lines))
    lines, texts = matches(window, bench.area, figures)
    sketch.add(*lines)
    sketch.reserve(*(text for _, text in texts))
    _start_edge(sketch, layout, figures)
    return Draft(
        code=window.code,
        group=bench.title("boards", number=1, count=1),
        title=bench.title("boards", number=window.number, count=window.count),
        shapes=sketch.finish(),
        scale=window.scale,
        house="below",
        origin=window.view.at((0.0, 0.0)),
        matches=texts,
        homeless=tuple(sketch.homeless),
    )


def _joist_lines(sketch: Sketch, layout: Layout) -> None:
    for line in layout.joist_lines:
        ends = ((line, layout.frame_y[0]), (line, layout.frame_y[1]))
        if layout.joist_axis is Axis.X:
            ends = ((layout.frame_x[0], line), (layout.frame_x[1], line))
        sketch.line(*ends, Pen.PENCIL, dash=(3.0, 1.2), layer="joist-line")


def _outline(sketch: Sketch, piece: BoardPiece) -> bool:
    """Draw a piece of board, shaded when it is ripped; return whether any of it shows."""
    fill = Fill.SHADE if piece.is_ripped else Fill.PAPER
    return sketch.area_of(piece.outline, paper_box(fill, layer="board", member=piece.mark))


def _name(sketch: Sketch, piece: BoardPiece, layout: Layout, figures: Figures) -> None:
    """Write the mark of a piece, and its length where there is room, over the lines of the joists."""
    view = sketch.view
    height = view.paper(piece.width)
    if height < LEAST_ROW:
        return
    middle = ((piece.start[0] + piece.end[0]) / 2, (piece.start[1] + piece.end[1]) / 2)
    shown = _middle_in_view(sketch, piece) or middle
    if not view.holds(shown):
        return
    size = FIGURE if height >= FIGURE + 0.6 else WORD
    full = f"{figures.mark(piece.mark)}  {figures.length(piece.length)}"
    run = view.paper(piece.length)
    text = full if text_width(full, size) + 6.0 <= run else figures.mark(piece.mark)
    if text_width(text, size) + 1.0 + (size if piece.is_shaped else 0.0) > run:
        return
    angle = layout.direction_deg if layout.direction_deg <= 90.0 else layout.direction_deg - 180.0
    at = _inside(view.at(shown), angle, size, run * BESIDE_ARROW if piece.row == 1 else 0.0)
    said = Text(at=at, text=text, size=size, anchor=Anchor.MIDDLE, angle_deg=angle, layer="board", member=piece.mark)
    sketch.add(halo(said), said)


def _middle_in_view(sketch: Sketch, piece: BoardPiece) -> tuple[float, float] | None:
    kept = sketch.view.clip_line(piece.start, piece.end)
    return None if kept is None else ((kept[0][0] + kept[1][0]) / 2, (kept[0][1] + kept[1][1]) / 2)


def _inside(centre: tuple[float, float], angle: float, size: float, shift: float) -> tuple[float, float]:
    """Return the foot of a text in the middle of a board, ``shift`` mm along it; boards lie apart, so texts do too."""
    c, s = cos(radians(angle)), sin(radians(angle))
    drop = 0.765 * size / 2
    return (centre[0] + shift * c + drop * s, centre[1] - shift * s + drop * c)


def _start_edge(sketch: Sketch, layout: Layout, figures: Figures) -> None:
    """Mark the edge that the first board is laid at, with an arrow into the floor and words."""
    first = next((p for p in layout.pieces if p.row == 1), None)
    if first is None:
        return
    middle = ((first.start[0] + first.end[0]) / 2, (first.start[1] + first.end[1]) / 2)
    if not sketch.view.holds(middle):
        return
    turn = radians(layout.direction_deg)
    away = (-sin(turn), cos(turn))  # across the boards, towards the starting edge
    edge = sketch.view.at((middle[0] + away[0] * first.width / 2, middle[1] + away[1] * first.width / 2))
    x, y = edge
    tip = (x - away[0] * 3.0, y + away[1] * 3.0)
    side = (away[1] * 2.2, away[0] * 2.2)
    sketch.add(
        Polygon(
            points=(tip, (x + side[0], y + side[1]), (x - side[0], y - side[1])),
            fill=Fill.ALARM,
            pen=None,
            layer="start",
        )
    )
    sketch.placer.block((min(x, tip[0]) - 2.5, min(y, tip[1]), max(x, tip[0]) + 2.5, max(y, tip[1])))
    sketch.label(
        Label(
            text=figures.speaker.say("sheet.start-edge"),
            point=edge,
            spots=_outside(edge, away),
            size=FIGURE,
            layer="start",
        )
    )


def _outside(edge: tuple[float, float], away: tuple[float, float]) -> tuple[Spot, ...]:
    x, y = edge
    if abs(away[1]) >= abs(away[0]):
        lift = -1.2 if away[1] > 0 else 1.2 + 0.765 * FIGURE
        return tuple(Spot(at=(x + dx, y + lift)) for dx in (0.0, 14.0, -14.0, 28.0, -28.0, 42.0, -42.0))
    shift = -1.2 if away[0] < 0 else 1.2 + 0.765 * FIGURE
    return tuple(Spot(at=(x + shift, y + dy), angle_deg=90.0) for dy in (0.0, 14.0, -14.0, 28.0, -28.0))


def _notes(bench: Bench) -> tuple[str, ...]:
    layout, board, gap = bench.plan.layout, bench.plan.job.floor.board, bench.plan.timber.gap
    counts = {
        "rows": len(layout.rows),
        "pieces": len(layout.pieces),
        "ripped": sum(p.is_ripped for p in layout.pieces),
    }
    return (
        bench.say("sheet-note.boards-count", **counts),
        bench.say("sheet-note.boards-run", width_mm=board.width, thickness_mm=board.thickness, gap_mm=layout.gap),
        bench.say("sheet-note.boards-season", wet_mm=gap.wet_low, dry_mm=gap.dry_high),
        bench.say("sheet-note.boards-zero" if _is_along_wall(layout) else "sheet-note.boards-zero-across"),
        bench.say("sheet-note.boards-side"),
        bench.say("sheet-note.boards-marks"),
    )


def _kind(piece: BoardPiece, bench: Bench) -> str:
    """Return what is special about a piece, in words."""
    ripped = [bench.say("sheet-board.ripped")] if piece.is_ripped else []
    shaped = [bench.say("sheet-board.shaped")] if piece.is_shaped else []
    return bench.say("sheet.comma").join(ripped + shaped)


def board_list(bench: Bench) -> Listing:
    """Return every piece of board."""
    return Listing(
        code="boards",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="row", kind=Kind.COUNT),
            Field(code="length", kind=Kind.KEY),
            Field(code="width", kind=Kind.CUT),
            Field(code="kind"),
        ),
        rows=tuple((p.mark, p.row, p.length, p.width, _kind(p, bench)) for p in bench.plan.layout.pieces),
    )


def row_list(bench: Bench) -> Listing:
    """Return every row with its edges from the starting edge."""
    return Listing(
        code="rows",
        fields=(
            Field(code="row", kind=Kind.COUNT),
            Field(code="near", kind=Kind.LENGTH),
            Field(code="far", kind=Kind.LENGTH),
            Field(code="width", kind=Kind.CUT),
        ),
        rows=tuple((r.number, r.near, r.far, r.width) for r in bench.plan.layout.rows),
    )
