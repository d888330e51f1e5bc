"""How a plan is set on paper: its windows, the house at its foot, match lines and notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from evenfoot.ink import Anchor, Line, Pen, Text
from evenfoot.sheets.drafting.chain import Course
from evenfoot.sheets.drafting.paper import WORD, Area
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, spans
from evenfoot.sheets.drafting.sketch import Shape
from evenfoot.sheets.drafting.view import View
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.wrap import wrap

HATCH = 3.2
"""Depth of the house wall's hatching on paper [mm]."""
HATCH_STEP = 2.6
MATCH_DASH = (6.0, 1.5, 1.0, 1.5)
BASE_DASH = (8.0, 1.5, 0.5, 1.5)
"""The line that a floor without a house is measured from."""
NOTE_LINE = WORD * 1.4

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """Paper kept clear around a drawing for its dimensions [mm]."""

    left: float
    right: float
    top: float
    bottom: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What is to be drawn: its code, its real extent, and where it may be parted."""

    code: str
    u: Span
    v: Span
    stops_u: tuple[float, ...] = ()
    stops_v: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """One sheet's part of a drawing; ``neighbours`` names the sheets that go on where it ends."""

    code: str
    number: int
    count: int
    view: View
    scale: Scale
    neighbours: tuple[tuple[str, str], ...]
    """(side, code) with side left, right, top or bottom."""


def windows(
    subject: Subject, bands: Bands, area: Area, choices: tuple[Scale, ...], *, coarsest: float
) -> tuple[Window, ...]:
    """Return the windows of a drawing: one at the largest scale that fits, or several at the coarsest allowed."""
    room = Room(
        width=area.width - bands.left - bands.right,
        height=area.height - bands.top - bands.bottom,
    )
    width, height = subject.u[1] - subject.u[0], subject.v[1] - subject.v[0]
    scale = fitting(choices, room, width=width, height=height, coarsest=coarsest)
    columns = spans(*subject.u, room.width * scale.ratio, subject.stops_u)
    rows = spans(*subject.v, room.height * scale.ratio, subject.stops_v)
    count = len(columns) * len(rows)

    def code(column: int, row: int) -> str:
        return subject.code if count == 1 else f"{subject.code}-{row * len(columns) + column + 1}"

    out: list[Window] = []
    for row, v in enumerate(rows):
        for column, u in enumerate(columns):
            sides = (
                ("left", column - 1, row),
                ("right", column + 1, row),
                ("bottom", column, row - 1),
                ("top", column, row + 1),
            )
            out.append(
                Window(
                    code=code(column, row),
                    number=len(out) + 1,
                    count=count,
                    view=_set(u, v, scale, bands, area),
                    scale=scale,
                    neighbours=tuple(
                        (side, code(c, r)) for side, c, r in sides if 0 <= c < len(columns) and 0 <= r < len(rows)
                    ),
                )
            )
    return tuple(out)


def _set(u: Span, v: Span, scale: Scale, bands: Bands, area: Area) -> View:
    """Return a window in the middle of the clear paper."""
    wide, high = (u[1] - u[0]) / scale.ratio, (v[1] - v[0]) / scale.ratio
    spare_x = area.width - bands.left - bands.right - wide
    spare_y = area.height - bands.top - bands.bottom - high
    return View(
        ratio=scale.ratio,
        u=u,
        v=v,
        left=area.left + bands.left + max(0.0, spare_x / 2),
        bottom=area.bottom - bands.bottom - max(0.0, spare_y / 2),
    )


def matches(window: Window, area: Area, figures: Figures) -> tuple[tuple[Line, ...], tuple[tuple[str, Text], ...]]:
    """Return the match lines of a window and their texts, which wait for the numbers of the other sheets."""
    view = window.view
    lines: list[Line] = []
    texts: list[tuple[str, Text]] = []
    for side, code in window.neighbours:
        said = figures.speaker.say("sheet.match-line", number="{number}")
        if side in {"left", "right"}:
            x = view.left if side == "left" else view.right
            lines.append(
                Line(a=(x, view.top - 4), b=(x, view.bottom + 4), pen=Pen.ALARM, dash=MATCH_DASH, layer="match")
            )
            middle = (view.top + view.bottom) / 2
            at = (x - 1.3, middle) if side == "left" else (x + 1.3 + 0.765 * WORD, middle)
            texts.append((code, _match_text(said, at, Anchor.MIDDLE, 90.0)))
        else:
            y = view.top if side == "top" else view.bottom
            lines.append(
                Line(a=(view.left - 4, y), b=(view.right + 4, y), pen=Pen.ALARM, dash=MATCH_DASH, layer="match")
            )
            at = (area.right, y - 1.3) if side == "top" else (area.right, y + 1.3 + 0.765 * WORD)
            texts.append((code, _match_text(said, at, Anchor.END, 0.0)))
    return tuple(lines), tuple(texts)


def _match_text(said: str, at: tuple[float, float], anchor: Anchor, angle: float) -> Text:
    return Text(at=at, text=said, size=WORD, anchor=anchor, angle_deg=angle, pen=Pen.ALARM, layer="match")


def house(view: View, figures: Figures, *, stands: bool, lines: Sequence[float]) -> tuple[Shape, ...]:
    """Return the wall of the house along v = 0 with hatching under it, or the base line, with its name.

    ``stands`` tells whether there is a house; the name keeps clear of the ``lines`` of posts [mm], whose marks and
    grips stand there. Nothing is returned where the wall is out of view.
    """
    if not view.v[0] - 1e-6 <= 0.0 <= view.v[1]:
        return ()
    y = view.at((view.u[0], 0.0))[1]
    left, right = view.left - 3.0, view.right + 3.0
    out: list[Shape] = [
        Line(a=(left, y), b=(right, y), pen=Pen.OBJECT, layer="house")
        if stands
        else Line(a=(left, y), b=(right, y), pen=Pen.FINE, dash=BASE_DASH, layer="house")
    ]
    x = left + HATCH
    while x <= right and stands:
        out.append(Line(a=(x, y), b=(x - HATCH, y + HATCH), pen=Pen.FINE, layer="house"))
        x += HATCH_STEP
    name = Text(
        at=(_between_lines(view, lines), y + HATCH + 1.4 + 0.765 * 4.0),
        text=figures.speaker.say("sheet.house-name"),
        size=4.0,
        anchor=Anchor.MIDDLE,
        is_bold=True,
        layer="house",
    )
    return (*out, name)


def _between_lines(view: View, lines: Sequence[float]) -> float:
    """Return where on paper the space between two lines, or a line and the edge of the view, is nearest the middle."""
    inside = [view.at((u, 0.0))[0] for u in sorted(lines) if view.u[0] < u < view.u[1]]
    places = [view.left, *inside, view.right]
    middle = (view.left + view.right) / 2
    return min(((a + b) / 2 for a, b in pairwise(places)), key=lambda x: abs(x - middle))


def course(view: View, way: Literal["across", "up"], *, zero: float, offset: float, sign: float = 1.0) -> Course:
    """Return a chain along the top (``across``) or the left (``up``) of a window.

    ``zero`` is the real coordinate of its zero; ``sign`` is -1 when distances count against u or v.
    """
    is_flat = way == "across"
    window = view.u if is_flat else view.v
    low, high = sorted((sign * (window[0] - zero), sign * (window[1] - zero)))
    start = view.at((zero, zero))
    return Course(
        way=way,
        zero=start[0] if is_flat else start[1],
        edge=view.top if is_flat else view.left,
        offset=offset,
        ratio=view.ratio,
        sign=sign if is_flat else -sign,
        low=low,
        high=high,
        room=(view.left - 6.0, view.right + 6.0) if is_flat else (view.top - 6.0, view.bottom + 6.0),
    )


class Notes:
    """Short notes under a drawing, in two columns on wide paper; they say how high they stand before they are set."""

    def __init__(self, texts: tuple[str, ...], area: Area) -> None:
        self.area = area
        self.columns = 2 if area.width > 300.0 else 1
        self.width = (area.width - 8.0 * (self.columns - 1)) / self.columns
        self.lines = [wrap(text, self.width - 4.0, WORD) for text in texts if text]
        self.split = self._even_split()

    @property
    def height(self) -> float:
        """Height of the block with air above it [mm]."""
        return max(self._height(self.lines[: self.split]), self._height(self.lines[self.split :])) + 3.0

    def shapes(self) -> tuple[Text, ...]:
        """Return the notes at the foot of the area."""
        out: list[Text] = []
        for column, block in enumerate((self.lines[: self.split], self.lines[self.split :])):
            left = self.area.left + column * (self.width + 8.0)
            y = self.area.bottom - self.height + 3.0
            for lines in block:
                for index, line in enumerate(lines):
                    y += NOTE_LINE
                    if index == 0:
                        out.append(Text(at=(left, y - 1.0), text="・", size=WORD, layer="note"))
                    out.append(Text(at=(left + 4.0, y - 1.0), text=line, size=WORD, layer="note"))
        return tuple(out)

    def _height(self, block: list[tuple[str, ...]]) -> float:
        return sum(len(lines) for lines in block) * NOTE_LINE

    def _even_split(self) -> int:
        if self.columns == 1:
            return len(self.lines)
        total = sum(len(lines) for lines in self.lines)
        done = 0
        for index, lines in enumerate(self.lines):
            if done * 2 >= total:
                return index
            done += len(lines)
        return len(self.lines)


def shrunk(area: Area, notes: Notes) -> Area:
    """Return what the notes leave of an area."""
    return Area(left=area.left, top=area.top, right=area.right, bottom=area.bottom - notes.height)
