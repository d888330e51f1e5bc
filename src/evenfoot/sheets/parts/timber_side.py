"""How one timber is drawn for marking out: its side, its cuts, its ends and its section."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import radians, tan

from evenfoot.frame import Member
from evenfoot.ink import Anchor, Dimension, Fill, Line, Pen, Polygon, Text
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.chain import PITCH, Course, Station, chain, merged, reach_of, spread, thinned
from evenfoot.sheets.drafting.grain import end_grain, long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import Shape
from evenfoot.sheets.parts.framing import is_along_x

OFFSET = 4.0
ROOM_AT_ENDS = 30.0
"""Paper beside a timber for the names of its ends [mm]."""
SPILL = 22.0
"""How far running texts may reach past the ends of a timber on paper [mm]."""
NUMBER_PITCH = PITCH + 2.2
"""Least distance between two numbers of cuts [mm]."""
DEEPEST = 30.0
"""A timber may stand at most this high on paper [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Timbers that are cut alike."""

    members: tuple[Member, ...]
    cuts: tuple[Cut, ...]
    """The cuts of the first of them, plain square ends left out."""

    @property
    def first(self) -> Member:
        """The timber that is drawn."""
        return self.members[0]


def _stations(pattern: Pattern, ratio: float) -> tuple[Station, ...]:
    """Return where cuts begin and end; only where they begin, or some of these, when the timber has too many."""
    mark, length = pattern.first.mark, pattern.first.length
    room = length / ratio + 2 * SPILL
    begins = {0.0, length, *(c.begin for c in pattern.cuts)}
    for places in (begins | {c.finish for c in pattern.cuts}, begins):
        stations = merged(tuple(Station(distance=p, member=mark) for p in places))
        if len(stations) * PITCH <= room:
            return stations
    return thinned(stations, ratio)


class TimberSide:
    """One timber with its start at the left, so that its right side is seen (right as one looks along it)."""

    def __init__(self, bench: Bench, pattern: Pattern, scale: Scale) -> None:
        self.bench = bench
        self.pattern = pattern
        self.scale = scale
        self.stations = _stations(pattern, scale.ratio)
        self.above = OFFSET + reach_of(self.stations, bench.figures) + 1.5
        self.deep = pattern.first.depth / scale.ratio
        self.below = FIGURE + 6.0 if pattern.cuts else 2.0

    @property
    def width(self) -> float:
        """Width of the whole drawing [mm]."""
        return 2 * ROOM_AT_ENDS + (self.pattern.first.length + self.pattern.first.width) / self.scale.ratio

    @property
    def height(self) -> float:
        """Height of the whole drawing [mm]."""
        return self.above + self.deep + self.below

    def draw(self, left: float, top: float) -> tuple[Shape, ...]:
        """Return the drawing with its upper left corner at (left, top)."""
        member, ratio = self.pattern.first, self.scale.ratio
        x0, y0 = left + ROOM_AT_ENDS, top + self.above
        long = member.length / ratio
        body = Polygon(
            points=((x0, y0), (x0 + long, y0), (x0 + long, y0 + self.deep), (x0, y0 + self.deep)),
            pen=Pen.OBJECT,
            fill=Fill.PAPER,
            layer=member.role.value,
            member=member.mark,
        )
        cuts = [shape for cut in self.pattern.cuts for shape in self._cut(cut, x0, y0)]
        return (
            body,
            *long_grain((x0, y0), long, self.deep, seed=member.mark),
            *cuts,
            *self._chain(x0, y0, long),
            *self._numbers(x0, y0 + self.deep),
            *self._ends(x0, y0, long),
        )

    def _chain(self, x0: float, y0: float, long: float) -> tuple[Line | Dimension | Text, ...]:
        course = Course(
            way="across",
            zero=x0,
            edge=y0,
            offset=OFFSET,
            ratio=self.scale.ratio,
            sign=1.0,
            low=-1.0,
            high=self.pattern.first.length + 1.0,
            room=(x0 - SPILL, x0 + long + SPILL),
        )
        return chain(course, self.stations, self.bench.figures)

    def _cut(self, cut: Cut, x0: float, y0: float) -> tuple[Shape, ...]:
        """Return the wood that goes: shaded from top or bottom, dashed where it is cut into a side."""
        ratio = self.scale.ratio
        a, b = x0 + cut.begin / ratio, x0 + cut.finish / ratio
        member = self.pattern.first
        look = Polygon(points=(), pen=Pen.OBJECT, fill=Fill.SHADE, layer="cut", member=member.mark)
        match cut.face:
            case Face.TOP | Face.BOTTOM:
                deep = cut.depth / ratio
                high = y0 if cut.face is Face.TOP else y0 + self.deep - deep
                points = ((a, high), (b, high), (b, high + deep), (a, high + deep))
                return (
                    replace(look, points=points),
                    self._line(points[0], points[2]),
                    self._line(points[1], points[3]),
                )
            case Face.RIGHT:
                return (replace(look, points=self._housing(a, b, y0, cut)),)
            case Face.LEFT:
                return (replace(look, points=self._housing(a, b, y0, cut), fill=None, dash=(1.2, 0.8)),)
            case _:
                return self._end_cut(cut, a, y0)

    def _housing(self, a: float, b: float, y0: float, cut: Cut) -> tuple[tuple[float, float], ...]:
        low = y0 + (cut.height or self.pattern.first.depth) / self.scale.ratio
        return ((a, y0), (b, y0), (b, low), (a, low))

    def _line(self, a: tuple[float, float], b: tuple[float, float], pen: Pen = Pen.FINE) -> Line:
        return Line(a=a, b=b, pen=pen, layer="cut", member=self.pattern.first.mark)

    def _end_cut(self, cut: Cut, x: float, y0: float) -> tuple[Shape, ...]:
        """Return the line of an end cut, leaning as much as it does in truth."""
        lean = tan(radians(cut.angle_deg)) * self.deep if cut.kind is CutKind.BEVEL_END else 0.0
        return (self._line((x, y0 - 1.2), (x + lean, y0 + self.deep + 1.2), Pen.OBJECT),)

    def _numbers(self, x0: float, foot: float) -> tuple[Shape, ...]:
        """Return the numbers of the cuts under the timber, apart from each other.

        Where they have no room, every second, fifth or tenth stands there; the table holds them all.
        """
        cuts = self.pattern.cuts
        middles = [(x0 + (c.begin + c.finish) / 2 / self.scale.ratio, n) for n, c in enumerate(cuts, start=1)]
        room = (x0 - ROOM_AT_ENDS + 2.0, x0 + self.pattern.first.length / self.scale.ratio + ROOM_AT_ENDS - 2.0)
        most = int((room[1] - room[0]) / NUMBER_PITCH) + 1
        step = next(s for s in (1, 2, 5, 10, 20, 50, 100, len(cuts) + 1) if -(-len(cuts) // s) <= most)
        ordered = sorted(middles)[::step]
        moved = spread(tuple(x for x, _ in ordered), NUMBER_PITCH, room)
        out: list[Shape] = []
        for (x, number), at in zip(ordered, moved, strict=True):
            out.append(Line(a=(x, foot + 0.6), b=(at, foot + 3.0), pen=Pen.PENCIL, layer="cut"))
            out.append(
                Text(
                    at=(at, foot + 3.6 + 0.765 * FIGURE),
                    text=str(number),
                    size=FIGURE,
                    anchor=Anchor.MIDDLE,
                    is_bold=True,
                    layer="cut",
                )
            )
        return tuple(out)

    def _ends(self, x0: float, y0: float, long: float) -> tuple[Shape, ...]:
        """Return the names of the two ends beside the timber, and its section with rings at the far right."""
        say = self.bench.say
        names = ("left", "right") if is_along_x(self.pattern.first) else ("house", "outer")
        y = y0 + self.deep / 2 + 0.765 * WORD / 2
        first, last = (say(f"sheet-end.{name}") for name in names)
        member, ratio = self.pattern.first, self.scale.ratio
        corner = (x0 + long + 22.0, y0)
        wide = member.width / ratio
        box = (corner, (corner[0] + wide, y0), (corner[0] + wide, y0 + self.deep), (corner[0], y0 + self.deep))
        return (
            Text(at=(x0 - 2.0, y), text=first, size=WORD, anchor=Anchor.END, layer="end"),
            Text(at=(x0 + long + 2.0, y), text=last, size=WORD, anchor=Anchor.START, layer="end"),
            Polygon(points=box, pen=Pen.OBJECT, layer="end", member=member.mark),
            *end_grain(corner, wide, self.deep, seed=member.mark),
        )
