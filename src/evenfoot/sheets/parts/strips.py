"""Pattern strips at full size: where boards and joists lie, to be cut out, joined and laid along the timber."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from evenfoot.ink import Anchor, Circle, Dimension, Fill, Line, Pen, Polygon, Text
from evenfoot.layout import Axis
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.paper import FIGURE, WORD, Area
from evenfoot.sheets.drafting.placing import halo
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import Shape

FULL = Scale(ratio=1.0, name="1:1")
UNDER = 8.0
"""Paper under a strip for its name [mm]."""
DEEP = 22.0
"""Height of the strip itself [mm]."""
SIDE = 12.0
"""Paper beside a piece for its register marks [mm]."""
CHECK_LENGTH = 100.0
"""The bar that shows whether the printer keeps the scale [mm]."""
HEAD = 20.0
"""Height of the head with the control bar [mm]."""
OFFSET = 2.0
LONGEST = 12_000.0
"""A longer strip than this is not printed: a marked batten serves better [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One thing on a strip: from ``low`` to ``high`` from the zero [mm], and its mark."""

    low: float
    high: float
    mark: str
    member: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One strip: its code, its bands in order, and how long it is [mm]."""

    code: str
    bands: tuple[Band, ...]
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of a strip: which, and from where to where [mm]."""

    strip: Strip
    number: int
    count: int
    begin: float
    finish: float


def strip_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the strips of boards and of joists at full size, on as many sheets as they take."""
    area = bench.area
    reach = area.width - 2 * SIDE
    pieces = [p for strip in (_boards(bench), _joists(bench)) if strip.length <= LONGEST for p in _cut(strip, reach)]
    above = _above(bench, pieces)
    tall = above + DEEP + UNDER
    rows = max(1, int((area.height - HEAD) / tall))
    groups = [pieces[k : k + rows] for k in range(0, len(pieces), rows)]
    out: list[Draft] = []
    for number, group in enumerate(groups, start=1):
        shapes: list[Shape] = [*_head(bench, area)]
        for k, piece in enumerate(group):
            shapes += _piece(bench, piece, (area.left + SIDE, area.top + HEAD + k * tall + above))
        out.append(
            Draft(
                code=f"strips-{number}",
                group=bench.title("strips", number=1, count=1),
                title=bench.title("strips", number=number, count=len(groups)),
                shapes=tuple(shapes),
                scale=FULL,
            )
        )
    return tuple(out)


def _above(bench: Bench, pieces: list[Piece]) -> float:
    """Return the height of the running texts over a strip [mm]."""
    places = [band.low for piece in pieces for band in piece.strip.bands]
    return max((_running(bench, at, 0.0, 0.0).depth for at in places), default=0.0) + 2.0


def _boards(bench: Bench) -> Strip:
    """Return the rows of boards from their starting edge, true along a falling floor."""
    bands = tuple(
        Band(low=row.near, high=row.far, mark=str(row.number))
        for row in sorted(bench.plan.layout.rows, key=lambda r: r.near)
    )
    return Strip(code="boards", bands=bands, length=bands[-1].high)


def _joists(bench: Bench) -> Strip:
    """Return the joists along the beams, from the outer face of the frame."""
    layout, width = bench.plan.layout, bench.plan.job.frame.joist.width
    is_across = layout.joist_axis is Axis.Y
    low, high = layout.frame_x if is_across else layout.frame_y
    axis = Axis.X if is_across else Axis.Y
    marks = {round(g.position): g.label for g in bench.plan.frame.grid if g.axis is axis}
    stretch = 1.0 if is_across else (1.0 + bench.plan.frame.fall**2) ** 0.5
    bands = tuple(
        Band(
            low=(place - low - width / 2) * stretch,
            high=(place - low + width / 2) * stretch,
            mark=bench.figures.mark(marks.get(round(place), "")),
            member=marks.get(round(place), ""),
        )
        for place in layout.joist_lines
    )
    return Strip(code="joists", bands=bands, length=(high - low) * stretch)


def _cut(strip: Strip, reach: float) -> Iterator[Piece]:
    count = max(1, -(-int(strip.length * 1000) // int(reach * 1000)))
    for k in range(count):
        begin = k * reach
        yield Piece(strip=strip, number=k + 1, count=count, begin=begin, finish=min(begin + reach, strip.length))


def _head(bench: Bench, area: Area) -> tuple[Shape, ...]:
    """Return the control bar and what to do with it."""
    left, y = area.left + SIDE, area.top + 4.0
    halves = tuple(
        Polygon(
            points=(
                (left + a, y),
                (left + a + CHECK_LENGTH / 4, y),
                (left + a + CHECK_LENGTH / 4, y + 2.5),
                (left + a, y + 2.5),
            ),
            pen=Pen.FINE,
            fill=Fill.INK if k % 2 == 0 else Fill.PAPER,
            layer="control",
        )
        for k, a in enumerate(CHECK_LENGTH * q / 4 for q in range(4))
    )
    bar = Dimension(
        a=(left, y + 2.5),
        b=(left + CHECK_LENGTH, y + 2.5),
        offset=-7.5,
        distance=CHECK_LENGTH,
        text='100 mm (3 15/16")' if bench.figures.is_inch else "100 mm",
        size=FIGURE,
        layer="control",
    )
    said = bench.say("sheet-note.strip-control")
    return (*halves, bar, Text(at=(left + CHECK_LENGTH + 8.0, y + 3.5), text=said, size=WORD, layer="control"))


def _piece(bench: Bench, piece: Piece, corner: tuple[float, float]) -> Iterator[Shape]:
    x0, edge = corner
    x1 = x0 + piece.finish - piece.begin
    yield Polygon(points=((x0, edge), (x1, edge), (x1, edge + DEEP), (x0, edge + DEEP)), pen=Pen.FINE, layer="strip")
    for x, at in ((x0, piece.begin), (x1, piece.finish)):
        yield from _register(x, edge, is_joined=0.0 < at < piece.strip.length)
    name = bench.say(f"sheet-strip.{piece.strip.code}", number=piece.number, count=piece.count)
    yield Text(at=(x0, edge + DEEP + 4.4), text=name, size=WORD, is_bold=True, layer="strip")
    if piece.begin == 0.0:
        yield _mark_of(bench, piece, 0.0, x0, edge)
    for band in piece.strip.bands:
        yield from _band(bench, piece, band, (x0, edge))


def _register(x: float, edge: float, *, is_joined: bool) -> Iterator[Shape]:
    """Yield the ring and cross that two neighbouring pieces share."""
    if is_joined:
        y = edge + DEEP / 2
        yield Circle(centre=(x, y), r=2.2, layer="register")
        yield Line(a=(x - 4.0, y), b=(x + 4.0, y), layer="register")
        yield Line(a=(x, edge - 2.0), b=(x, edge + DEEP + 2.0), layer="register")


def _band(bench: Bench, piece: Piece, band: Band, corner: tuple[float, float]) -> Iterator[Shape]:
    """Yield the part of a band that lies on this piece: its edges, the cross of a timber, its mark."""
    low, high = max(band.low, piece.begin), min(band.high, piece.finish)
    if high <= low:
        return
    x0, edge = corner
    a, b = x0 + low - piece.begin, x0 + high - piece.begin
    for x, at in ((a, band.low), (b, band.high)):
        if piece.begin <= at <= piece.finish:
            yield Line(a=(x, edge), b=(x, edge + DEEP), pen=Pen.OBJECT, layer="strip", member=band.member)
    if piece.strip.code == "joists" and high - low > 1.0:
        yield Line(a=(a, edge), b=(b, edge + DEEP), layer="strip", member=band.member)
        yield Line(a=(a, edge + DEEP), b=(b, edge), layer="strip", member=band.member)
    if high - low > 8.0:
        yield from _named(band, (a + b) / 2, edge)
    if piece.begin <= band.low < piece.finish and band.low > 0.25:
        yield _mark_of(bench, piece, band.low, x0, edge)


def _named(band: Band, middle: float, edge: float) -> Iterator[Shape]:
    """Yield the mark of a band on clear paper, over the cross of a timber."""
    base = edge + DEEP / 2 + 0.765 * FIGURE / 2
    text = Text(at=(middle, base), text=band.mark, size=FIGURE, anchor=Anchor.MIDDLE, layer="mark")
    yield halo(text)
    yield replace(text, is_bold=True)


def _mark_of(bench: Bench, piece: Piece, at: float, x0: float, edge: float) -> Dimension:
    """Return the running dimension of a place on a piece."""
    return _running(bench, at, x0 - piece.begin, edge)


def _running(bench: Bench, at: float, zero: float, edge: float) -> Dimension:
    """Return a running dimension, counted from the zero of the whole strip."""
    return Dimension(
        a=(zero, edge),
        b=(zero + at, edge),
        offset=OFFSET,
        distance=at,
        text=bench.figures.cut(at),
        size=FIGURE,
        layer="strip",
        running="across",
    )
