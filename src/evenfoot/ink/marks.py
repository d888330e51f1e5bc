"""What a drawing is made of, in paper mm with y downwards from the top left corner; writers replay these."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from math import cos, radians, sin
from typing import Literal

from evenfoot.ink.metrics import ASCENT, DESCENT, text_width

Point = tuple[float, float]

CLEAR = 0.9
"""Clear space between a dimension line and its text [mm]."""
JOG = 2.0
"""Depth in which the leader of a running dimension moves sideways [mm]."""


class Pen(StrEnum):
    """Two weights of ink, pencil for construction and dimensions, one vermilion, one indigo (see ``ink.look``)."""

    OBJECT = "object"
    FINE = "fine"
    PENCIL = "pencil"
    ALARM = "alarm"
    WATER = "water"


class Fill(StrEnum):
    """Fills: paper hides what is behind; the tints stay readable in black and white."""

    PAPER = "paper"
    SHADE = "shade"
    INK = "ink"
    ALARM = "alarm"


class Anchor(StrEnum):
    """Which point of a text stands on its position."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line; ``dash`` is (on, off) in paper mm, empty for a full line."""

    a: Point
    b: Point
    pen: Pen = Pen.FINE
    dash: tuple[float, ...] = ()
    layer: str = ""
    member: str = ""

    @property
    def reach(self) -> tuple[Point, ...]:
        """Points that bound it."""
        return (self.a, self.b)


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon:
    """A closed outline, filled when ``fill`` is given; an open polyline when ``is_closed`` is False."""

    points: tuple[Point, ...]
    pen: Pen | None = Pen.FINE
    fill: Fill | None = None
    is_closed: bool = True
    dash: tuple[float, ...] = ()
    layer: str = ""
    member: str = ""

    @property
    def reach(self) -> tuple[Point, ...]:
        """Points that bound it."""
        return self.points


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle of radius ``r``."""

    centre: Point
    r: float
    pen: Pen | None = Pen.FINE
    fill: Fill | None = None
    layer: str = ""
    member: str = ""

    @property
    def reach(self) -> tuple[Point, ...]:
        """Points that bound it."""
        (x, y), r = self.centre, self.r
        return ((x - r, y - r), (x + r, y + r))


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; ``at`` is on its baseline; ``size`` is the font size [mm], capitals stand 0.765 of it high.

    ``angle_deg`` turns it counter-clockwise as seen on paper.
    """

    at: Point
    text: str
    size: float = 3.0
    anchor: Anchor = Anchor.START
    is_bold: bool = False
    angle_deg: float = 0.0
    pen: Pen = Pen.FINE
    layer: str = ""
    member: str = ""

    @property
    def reach(self) -> tuple[Point, ...]:
        """Points that bound it."""
        return self.corners

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Corners of the turned rectangle that the text covers, from the start of its foot: real widths, descenders."""
        width = text_width(self.text, self.size, is_bold=self.is_bold)
        start = {Anchor.START: 0.0, Anchor.MIDDLE: -width / 2, Anchor.END: -width}[self.anchor]
        turn = radians(self.angle_deg)
        c, s = cos(turn), sin(turn)

        def corner(along: float, above: float) -> Point:
            return (self.at[0] + c * along - s * above, self.at[1] - s * along - c * above)

        low, high = -DESCENT * self.size, ASCENT * self.size
        return (
            corner(start, low),
            corner(start + width, low),
            corner(start + width, high),
            corner(start, high),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension between two points, drawn ``offset`` mm to the left of a to b; it knows the distance it spans.

    ``distance`` is the real distance [mm]; ``text`` what is written. A running dimension counts from the zero ``a``
    of its chain: only its own end at ``b`` is ticked, and its text stands across the chain, beyond the line, pushed
    ``shift`` mm along it where neighbours would touch.
    """

    a: Point
    b: Point
    offset: float
    distance: float
    text: str
    size: float = 3.0
    layer: str = "dimension"
    member: str = ""
    running: Literal["", "across", "up"] = ""
    """The way a running chain goes over the paper; empty for a dimension between its own two ends."""
    shift: float = 0.0

    @property
    def depth(self) -> float:
        """How far a running dimension reaches from what it measures, its text included [mm]."""
        return abs(self.offset) + JOG + CLEAR + text_width(self.text, self.size)


Shape = Line | Polygon | Circle | Text | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of paper [mm]. ``scale`` is real mm per paper mm, 0 when the page holds no drawing to scale.

    ``left`` and ``top`` are where its corner lies: not 0 for a piece cut out of a larger sheet. ``origin`` is where the
    floor's own x = y = 0 lies on the paper of a plan, x to the right and y upwards; None for all other drawings.
    """

    code: str
    title: str
    width: float
    height: float
    scale: float = 0.0
    left: float = 0.0
    top: float = 0.0
    origin: Point | None = None
    shapes: tuple[Shape, ...] = field(default=())


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table; ``kind`` is text, number, length, money, count or date (``2026-11-25``)."""

    title: str
    kind: str = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table for the workbook: rows hold strings and numbers."""

    code: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str | float | None, ...], ...]
