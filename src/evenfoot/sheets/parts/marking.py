"""Marking out: every different timber from the side, its cuts in running dimensions from the named end."""

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
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.lists.flow import Flow, Shape, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing
from evenfoot.sheets.parts.framing import is_along_x

OFFSET = 4.0
ROOM_AT_ENDS = 30.0
"""Paper beside a timber for the names of its ends [mm]."""
SPILL = 22.0
"""How far running texts may reach past the ends of a timber on paper [mm]."""
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


def patterns(bench: Bench) -> tuple[Pattern, ...]:
    """Return the timbers grouped by section and cuts, in the order of their marks' first appearance."""
    groups: dict[object, list[Member]] = {}
    for member in bench.plan.frame.members:
        groups.setdefault(_signature(member, _worked(bench, member)), []).append(member)
    return tuple(Pattern(members=tuple(group), cuts=_worked(bench, group[0])) for group in groups.values())


def _worked(bench: Bench, member: Member) -> tuple[Cut, ...]:
    return tuple(c for c in bench.plan.joinery.cuts_on(member.mark) if c.kind is not CutKind.SQUARE_END)


def _signature(member: Member, cuts: tuple[Cut, ...]) -> object:
    what = (
        member.role,
        is_along_x(member),
        member.species,
        member.look,
        member.width,
        member.depth,
        round(member.length * 2),
    )
    where = tuple(
        (
            c.kind,
            c.face,
            round(c.begin * 2),
            round(c.finish * 2),
            round(c.depth * 2),
            round(c.height * 2),
            c.angle_deg,
            line_of(c, member),
        )
        for c in cuts
    )
    return what, where


def scale_for(bench: Bench, found: tuple[Pattern, ...]) -> Scale:
    """Return the one scale at which every timber fits across a sheet."""
    longest = max((p.first.length for p in found), default=1000.0)
    deepest = max((p.first.depth for p in found), default=100.0)
    room = Room(width=bench.area.width - 2 * ROOM_AT_ENDS, height=DEEPEST)
    return fitting(scales(bench.figures), room, width=longest, height=deepest, coarsest=float("inf"))


def marking_flow(bench: Bench, flow: Flow, scale: Scale, found: tuple[Pattern, ...]) -> None:
    """Write every different timber: its marks, its side, its cuts."""
    flow.paragraph(bench.say("sheet-note.marking"), Style(after=3.0))
    sides = [_Side(bench, pattern, scale) for pattern in found]
    widest = max((side.width for side in sides), default=0.0)
    for side in sides:
        _pattern(bench, flow, side, widest)


def _pattern(bench: Bench, flow: Flow, side: _Side, widest: float) -> None:
    pattern, figures = side.pattern, bench.figures
    member = pattern.first
    flow.heading(
        bench.say("sheet.timbers-alike", marks=figures.marks(tuple(m.mark for m in pattern.members))),
        keep=side.height + 20.0,
    )
    flow.paragraph(
        bench.say(
            "sheet.timber-facts",
            count=len(pattern.members),
            species=figures.said("species", member.species),
            look=figures.look(member.look),
            section=figures.section(member.width, member.depth),
            length=figures.cut(member.length),
        ),
        Style(size=FIGURE, after=2.0),
    )
    if not pattern.cuts:
        flow.figure(side.height, side.draw)
    elif not flow.beside(cut_list(bench, pattern), side.height, side.draw, widest):
        flow.figure(side.height, side.draw)
        flow.listing(cut_list(bench, pattern), has_title=False)
    flow.gap(3.0)


def cut_list(bench: Bench, pattern: Pattern) -> Listing:
    """Return the cuts of one pattern, numbered as on its drawing."""
    return Listing(
        code="cuts",
        fields=(
            Field(code="number", kind=Kind.COUNT),
            Field(code="cut"),
            Field(code="face"),
            Field(code="from", kind=Kind.CUT),
            Field(code="to", kind=Kind.CUT),
            Field(code="depth", kind=Kind.CUT),
            Field(code="down", kind=Kind.CUT),
            Field(code="lean", kind=Kind.NUMBER),
            Field(code="with", kind=Kind.MARK),
        ),
        rows=tuple(
            (
                number,
                bench.say(f"sheet-cut.{cut.kind.value}"),
                bench.say(f"sheet-face.{cut.face.value}"),
                cut.begin,
                cut.finish,
                cut.depth or None,
                cut.height or None,
                cut.angle_deg or None,
                line_of(cut, pattern.first),
            )
            for number, cut in enumerate(pattern.cuts, start=1)
        ),
    )


def all_cuts(bench: Bench) -> Listing:
    """Return every cut on every timber, for the workbook."""
    return Listing(
        code="cuts",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="cut"),
            Field(code="face"),
            Field(code="from", kind=Kind.CUT),
            Field(code="to", kind=Kind.CUT),
            Field(code="depth", kind=Kind.CUT),
            Field(code="down", kind=Kind.CUT),
            Field(code="lean", kind=Kind.NUMBER),
        ),
        rows=tuple(
            (
                cut.member,
                bench.say(f"sheet-cut.{cut.kind.value}"),
                bench.say(f"sheet-face.{cut.face.value}"),
                cut.begin,
                cut.finish,
                cut.depth,
                cut.height,
                cut.angle_deg,
            )
            for cut in bench.plan.joinery.cuts
        ),
    )


def line_of(cut: Cut, member: Member) -> str:
    """Return the grid line of the other timber of a joint: a letter on timbers along the house, else a number."""
    place = cut.joint.split(".", 1)[0]
    wanted = str.isalpha if is_along_x(member) else str.isdigit
    return "".join(c for c in place if wanted(c)) or place


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


class _Side:
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
        """Return the numbers of the cuts under the timber, apart from each other."""
        cuts = self.pattern.cuts
        middles = [(x0 + (c.begin + c.finish) / 2 / self.scale.ratio, n) for n, c in enumerate(cuts, start=1)]
        ordered = sorted(middles)
        room = (x0 - ROOM_AT_ENDS + 2.0, x0 + self.pattern.first.length / self.scale.ratio + ROOM_AT_ENDS - 2.0)
        moved = spread(tuple(x for x, _ in ordered), PITCH + 2.2, room)
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
