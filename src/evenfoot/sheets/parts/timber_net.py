"""How one timber is drawn for marking out: its four faces unrolled, every cut on each face that it meets, both ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfoot.frame import Member
from evenfoot.ink import Anchor, Dimension, Fill, Line, Pen, Polygon, Text, text_width
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.chain import PITCH, Course, Station, chain, merged, reach_of, spread, thinned
from evenfoot.sheets.drafting.grain import end_grain, long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import Shape
from evenfoot.sheets.parts.framing import is_along_x

OFFSET = 4.0
ROOM_BEFORE = 26.0
"""Paper before a timber for the name of its named end [mm]."""
ROOM_PAST = 56.0
"""Paper past a timber for the names of its faces, its far end and its section [mm]."""
SPILL = 22.0
"""How far running texts may reach past the ends of a timber on paper [mm]."""
NUMBER_PITCH = PITCH + 2.2
"""Least distance between two numbers of cuts [mm]."""
NARROWEST = 5.4
"""A face is at least this wide on paper, so that its name has room; across, all faces are drawn larger for it [mm]."""
ROLL = (Face.LEFT, Face.TOP, Face.RIGHT, Face.BOTTOM)
"""The faces in the order in which a timber is rolled away from the one who marks it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Timbers that are cut alike. ``seen`` is the side that stays in sight, None where none does."""

    members: tuple[Member, ...]
    cuts: tuple[Cut, ...]
    """The cuts of the first of them, plain square ends left out."""
    seen: Face | None = None

    @property
    def first(self) -> Member:
        """The timber that is drawn."""
        return self.members[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What one cut leaves on one face: a rectangle along and across it [mm], from the paper-upper edge of the face."""

    begin: float
    finish: float
    near: float
    far: float


def marks_on(face: Face, cut: Cut, member: Member) -> Mark | None:
    """Return what a cut leaves on a face of its timber; None when it does not meet that face.

    Across, marks are measured from the edge that lies towards the top of the paper in the unrolled net: the underside
    for the left side, the left edge for the top, the top edge for the right side, the right edge for the underside.
    """
    across = _across(face, cut, member)
    if across is None:
        return None
    return Mark(begin=cut.begin, finish=cut.finish, near=across[0], far=across[1])


def _across(face: Face, cut: Cut, member: Member) -> tuple[float, float] | None:
    if cut.kind is CutKind.LAP:
        return _lap_across(face, cut, member)
    return _housing_across(face, cut, member) if cut.kind is CutKind.HOUSING else None


def _lap_across(face: Face, cut: Cut, member: Member) -> tuple[float, float] | None:
    if face is cut.face:
        return (0.0, member.width)
    if face in {Face.TOP, Face.BOTTOM}:
        return None
    return _from_edge((cut.face is Face.TOP) is (face is Face.RIGHT), cut.depth, member.depth)


def _housing_across(face: Face, cut: Cut, member: Member) -> tuple[float, float] | None:
    if face is cut.face:
        return _from_edge(face is Face.RIGHT, cut.height, member.depth)
    if face is Face.TOP or (face is Face.BOTTOM and cut.height >= member.depth):
        return _from_edge((cut.face is Face.LEFT) is (face is Face.TOP), cut.depth, member.width)
    return None


def _from_edge(is_upper_on_paper: bool, reach: float, whole: float) -> tuple[float, float]:
    """Return a stretch of ``reach`` mm from the paper-upper or the paper-lower edge of a face ``whole`` mm wide."""
    return (0.0, reach) if is_upper_on_paper else (whole - reach, whole)


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


class TimberNet:
    """One timber with its start at the left, its four faces rolled out below each other."""

    def __init__(self, bench: Bench, pattern: Pattern, scale: Scale) -> None:
        self.bench = bench
        self.pattern = pattern
        self.scale = scale
        member = pattern.first
        self.across = min(scale.ratio, min(member.width, member.depth) / NARROWEST)
        self.stations = _stations(pattern, scale.ratio)
        self.above = OFFSET + reach_of(self.stations, bench.figures) + 1.5
        self.wide, self.deep = member.width / self.across, member.depth / self.across
        self.below = FIGURE + 6.0 if pattern.cuts else WORD + 3.0
        self.faces = ROLL if pattern.cuts else (Face.RIGHT,)

    @property
    def width(self) -> float:
        """Width of the whole drawing [mm]."""
        return ROOM_BEFORE + self.pattern.first.length / self.scale.ratio + ROOM_PAST + self.wide

    @property
    def height(self) -> float:
        """Height of the whole drawing [mm]."""
        return self.above + sum(self._high(face) for face in self.faces) + self.below

    def _high(self, face: Face) -> float:
        """Return the width of a face on paper [mm]."""
        return self.deep if face in {Face.LEFT, Face.RIGHT} else self.wide

    def draw(self, left: float, top: float) -> tuple[Shape, ...]:
        """Return the drawing with its upper left corner at (left, top)."""
        x0, y0 = left + ROOM_BEFORE, top + self.above
        long = self.pattern.first.length / self.scale.ratio
        out: list[Shape] = []
        y = y0
        for face in self.faces:
            out += self._face(face, (x0, y), (long, self._high(face)))
            y += self._high(face)
        out += self._chain(x0, y0, long)
        out += self._numbers(x0, y)
        out += self._ends(x0, y0, long, y)
        return tuple(out)

    def _face(self, face: Face, corner: tuple[float, float], size: tuple[float, float]) -> Iterator[Shape]:
        """Yield one face: its outline, its grain, what is cut from it, its name."""
        member = self.pattern.first
        (x, y), (long, high) = corner, size
        yield Polygon(
            points=((x, y), (x + long, y), (x + long, y + high), (x, y + high)),
            pen=Pen.OBJECT,
            fill=Fill.PAPER,
            layer=member.role.value,
            member=member.mark,
        )
        yield from long_grain(corner, long, high, seed=f"{member.mark}{face}")
        for cut in self.pattern.cuts:
            mark = marks_on(face, cut, member)
            if mark is not None:
                yield from self._cut(mark, corner, is_through=face is cut.face)
        yield Text(
            at=(x + long + 1.5, y + high / 2 + 0.765 * WORD / 2),
            text=self._name(face),
            size=WORD,
            is_bold=face is self.pattern.seen,
            layer="end",
        )

    def _name(self, face: Face) -> str:
        """Return the name of a face and what matters of it."""
        say = self.bench.say
        said = say(f"sheet-face.{face.value}")
        if face is Face.TOP:
            return say("sheet.face-crown", face=said)
        return say("sheet.face-seen", face=said) if face is self.pattern.seen else said

    def _cut(self, mark: Mark, corner: tuple[float, float], *, is_through: bool) -> Iterator[Shape]:
        """Yield the wood that goes: shaded, and crossed on the face that the saw enters by."""
        (x, y), ratio, across = corner, self.scale.ratio, self.across
        a, b = x + mark.begin / ratio, x + mark.finish / ratio
        high, low = y + mark.near / across, y + mark.far / across
        points = ((a, high), (b, high), (b, low), (a, low))
        member = self.pattern.first.mark
        yield Polygon(points=points, pen=Pen.OBJECT, fill=Fill.SHADE, layer="cut", member=member)
        if is_through:
            yield Line(a=points[0], b=points[2], layer="cut", member=member)
            yield Line(a=points[1], b=points[3], layer="cut", member=member)

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

    def _numbers(self, x0: float, foot: float) -> tuple[Shape, ...]:
        """Return the numbers of the cuts under the timber, apart from each other.

        Where they have no room, every second, fifth or tenth stands there; the table holds them all.
        """
        cuts = self.pattern.cuts
        middles = [(x0 + (c.begin + c.finish) / 2 / self.scale.ratio, n) for n, c in enumerate(cuts, start=1)]
        room = (x0 - ROOM_BEFORE + 2.0, x0 + self.pattern.first.length / self.scale.ratio + ROOM_BEFORE - 2.0)
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

    def _ends(self, x0: float, y0: float, long: float, foot: float) -> tuple[Shape, ...]:
        """Return the named end before the timber, and past it the far end and the section with its rings."""
        say = self.bench.say
        member = self.pattern.first
        names = ("left", "right") if is_along_x(member) else ("house", "outer")
        first, last = (say(f"sheet-end.{name}") for name in names)
        middle = (y0 + foot) / 2
        x = x0 + long + ROOM_PAST - 2.0
        box = ((x, y0), (x + self.wide, y0), (x + self.wide, y0 + self.deep), (x, y0 + self.deep))
        far_at = (x + self.wide - text_width(last, WORD), y0 + self.deep + 1.0 + WORD)
        zero = (x0 - 2.0, middle + 1.3 * WORD)
        return (
            Text(at=(x0 - 2.0, middle), text=first, size=WORD, anchor=Anchor.END, is_bold=True, layer="end"),
            Text(at=zero, text="0", size=FIGURE, anchor=Anchor.END, is_bold=True, layer="end"),
            Text(at=far_at, text=last, size=WORD, layer="end"),
            Polygon(points=box, pen=Pen.OBJECT, layer="end", member=member.mark),
            *end_grain((x, y0), self.wide, self.deep, seed=member.mark),
        )


Places = tuple[tuple[str, str, int, int, int, int], ...]


def places_of_cuts(pattern: Pattern, *, is_swapped: bool = False, is_turned: bool = False) -> Places:
    """Return what tells one timber from another, to half a millimetre.

    ``is_swapped`` sees it in a mirror that swaps its sides, ``is_turned`` in one that swaps its ends; both together are
    the timber itself turned round.
    """
    length = pattern.first.length
    swap = {Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT} if is_swapped else {}
    out: list[tuple[str, str, int, int, int, int]] = []
    for cut in pattern.cuts:
        begin, finish = (length - cut.finish, length - cut.begin) if is_turned else (cut.begin, cut.finish)
        face = swap.get(cut.face, cut.face)
        at = (round(begin * 2), round(finish * 2), round(cut.depth * 2), round(cut.height * 2))
        out.append((cut.kind.value, face.value, *at))
    return tuple(sorted(out))


def is_handed(pattern: Pattern) -> bool:
    """Return whether the mirror image of a timber is another timber: no turning brings one onto the other."""
    image = places_of_cuts(pattern, is_swapped=True)
    return image not in {places_of_cuts(pattern), places_of_cuts(pattern, is_swapped=True, is_turned=True)}
