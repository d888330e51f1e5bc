"""Running dimensions: every line from one zero, with its mark at the end, and no two texts touching."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Literal

from evenfoot.ink import Anchor, Dimension, Line, Pen, Text, text_width
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.view import Point
from evenfoot.sheets.figures import Figures

TAG = 4.4
"""Size of the marks at the ends of running texts [mm]."""
PITCH = 0.95 * TAG + 0.25
"""Least distance between two running texts [mm]."""
SAME = 0.25
"""Stations nearer than this are one [mm, real]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One place on a chain: real distance from its zero, and what stands there."""

    distance: float
    tag: str = ""
    member: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Where a chain runs on paper. ``zero`` is the paper coordinate of its zero, ``edge`` what is measured.

    ``offset`` is from the edge to the chain line: positive upwards, or to the right for a chain that runs up.
    ``low`` and ``high`` are the limits of the window in real distance from the zero; ``sign`` is -1 where the
    real distance grows against the paper coordinate.
    """

    way: Literal["across", "up"]
    zero: float
    edge: float
    offset: float
    ratio: float
    sign: float
    low: float
    high: float
    room: tuple[float, float]
    """Paper coordinates between which texts may stand."""

    def paper(self, distance: float) -> float:
        """Return the paper coordinate of a real distance."""
        return self.zero + self.sign * distance / self.ratio

    def point(self, coordinate: float) -> Point:
        """Return a point on the measured edge."""
        return (coordinate, self.edge) if self.way == "across" else (self.edge, coordinate)


def spread(wanted: tuple[float, ...], pitch: float, room: tuple[float, float]) -> tuple[float, ...]:
    """Return rising positions at least ``pitch`` apart, as near to the wanted ones as can be (least squares).

    Room is kept where it suffices; where it does not, the texts run past its end by as little as they must.
    """
    blocks: list[list[float]] = []  # [sum of wanted minus own steps, count]
    for index, place in enumerate(wanted):
        blocks.append([place - index * pitch, 1.0])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] >= blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    flat = [total / count for total, count in blocks for _ in range(int(count))]
    low, high = room[0], room[1] - pitch * (len(wanted) - 1)
    if high >= low:
        flat = [min(max(f, low), high) for f in flat]
    return tuple(f + index * pitch for index, f in enumerate(flat))


def merged(stations: tuple[Station, ...], joiner: str = " ") -> tuple[Station, ...]:
    """Return stations in order, those on one place joined into one with all their tags."""
    out: list[Station] = []
    for station in sorted(stations, key=lambda s: (s.distance, s.tag)):
        if out and station.distance - out[-1].distance < SAME:
            tags = [t for t in (out[-1].tag, station.tag) if t]
            tag = joiner.join(dict.fromkeys(tags))
            out[-1] = Station(distance=out[-1].distance, tag=tag, member=out[-1].member or station.member)
        else:
            out.append(station)
    return tuple(out)


class Manner(StrEnum):
    """What the ends of a chain carry: marks, words, or words beside levels with their sign."""

    MARKS = "marks"
    WORDS = "words"
    LEVELS = "levels"

    @property
    def is_bold(self) -> bool:
        """Whether tags are bold (marks)."""
        return self is Manner.MARKS

    @property
    def size(self) -> float:
        """Size of the tags [mm]."""
        return TAG if self is Manner.MARKS else WORD


def reach_of(stations: tuple[Station, ...], figures: Figures, manner: Manner = Manner.MARKS) -> float:
    """Return how far beyond its line a chain with these stations reaches on paper [mm]."""
    numbers = max((text_width(_number(s, figures, manner), FIGURE) for s in stations), default=0.0)
    tags = max((text_width(s.tag, manner.size, is_bold=manner.is_bold) for s in stations), default=0.0)
    return 2.9 + numbers + (1.6 + tags if tags else 0.0)


def thinned(stations: tuple[Station, ...], ratio: float) -> tuple[Station, ...]:
    """Return every n-th station, first and last kept, so that their texts have room at this scale."""
    if len(stations) < 3:
        return stations
    length = (stations[-1].distance - stations[0].distance) / ratio
    most = max(2, int(length / PITCH) + 1)
    step = 1
    while (len(stations) - 1) // step + 1 > most:
        step = {1: 2, 2: 5, 5: 10, 10: 20, 20: 50}.get(step, step * 2)
    kept = [s for index, s in enumerate(stations) if index % step == 0]
    if kept[-1] is not stations[-1]:
        if (stations[-1].distance - kept[-1].distance) / ratio < PITCH and len(kept) > 1:
            kept.pop()
        kept.append(stations[-1])
    return tuple(kept)


def _number(station: Station, figures: Figures, manner: Manner) -> str:
    return figures.level(station.distance) if manner is Manner.LEVELS else figures.length(station.distance)


def chain(
    course: Course, stations: tuple[Station, ...], figures: Figures, manner: Manner = Manner.MARKS
) -> tuple[Line | Dimension | Text, ...]:
    """Return the marks of one chain: its line, one running dimension per station in the window, and the tags.

    Levels carry their sign, and words as tags; other chains carry the marks of grid lines or rows.
    """
    seen = [s for s in stations if course.low - 1e-6 <= s.distance <= course.high + 1e-6]
    if not seen:
        return ()
    places = sorted(((course.paper(s.distance), s) for s in seen), key=lambda pair: pair[0])
    moved = spread(tuple(p for p, _ in places), PITCH, course.room)
    out: list[Line | Dimension | Text] = [_base_line(course, [p for p, _ in places])]
    zero = course.point(course.zero)
    dimensions = [
        Dimension(
            a=zero,
            b=course.point(place),
            offset=course.offset,
            distance=abs(station.distance),
            text=_number(station, figures, manner),
            size=FIGURE,
            member=station.member,
            running=course.way,
            shift=there - place,
        )
        for (place, station), there in zip(places, moved, strict=True)
    ]
    reach = max(d.depth for d in dimensions)
    out += dimensions
    out += [
        replace(_tag(course, there, reach, station), size=manner.size, is_bold=manner.is_bold)
        for (_, station), there in zip(places, moved, strict=True)
        if station.tag
    ]
    return tuple(out)


def _base_line(course: Course, places: list[float]) -> Line:
    low, high = min(places), max(places)
    if course.low <= 0.0 <= course.high:
        low, high = min(low, course.zero), max(high, course.zero)
    shift = -course.offset if course.way == "across" else course.offset
    a, b = course.point(low), course.point(high)
    if course.way == "across":
        a, b = (a[0], a[1] + shift), (b[0], b[1] + shift)
    else:
        a, b = (a[0] + shift, a[1]), (b[0] + shift, b[1])
    return Line(a=a, b=b, pen=Pen.PENCIL, layer="dimension")


def _tag(course: Course, place: float, reach: float, station: Station) -> Text:
    """Return the mark at the outer end of a running text."""
    sign = 1.0 if course.offset >= 0 else -1.0
    outer = reach + 1.6
    half = 0.765 * FIGURE / 2
    at, angle = (course.edge + sign * outer, place + half), 0.0
    if course.way == "across":
        at, angle = (place + half, course.edge - sign * outer), 90.0
    return Text(
        at=at,
        text=station.tag,
        anchor=Anchor.START if sign > 0 else Anchor.END,
        angle_deg=angle,
        layer="grid",
        member=station.member,
    )
