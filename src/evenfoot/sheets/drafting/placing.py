"""Where a mark may stand so that it touches no other text and crosses as few lines as it can."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from math import cos, inf, radians, sin

from evenfoot.ink import Anchor, Fill, Line, Pen, Polygon, Text
from evenfoot.sheets.drafting.paper import Area
from evenfoot.sheets.drafting.view import EDGE, Point, clipped

CELL = 10.0
SPACE = 0.3
"""Clear space kept around a text [mm]."""
WEIGHT = {Pen.OBJECT: 3.0, Pen.ALARM: 3.0, Pen.FINE: 2.0, Pen.WATER: 1.0, Pen.PENCIL: 1.0}
REACHES = (5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0)
"""How far from its thing a mark may be led out with a leader [mm]."""
HIDES = 8.0
"""A text that hides more weight of lines than this had better be led out: under it lies some other thing."""
LED, LED_PER_MM = 2.0, 0.12
"""What a leader costs, and each millimetre of it, as a weight of lines."""

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One place where a text may stand: its position, anchor and angle."""

    at: Point
    anchor: Anchor = Anchor.MIDDLE
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text that looks for a place: first choices first; ``point`` is the thing it belongs to."""

    text: str
    point: Point
    spots: tuple[Spot, ...]
    size: float
    is_bold: bool = True
    layer: str = "mark"
    member: str = ""
    rank: int = 1
    """Labels of a lower rank choose their places first."""
    has_halo: bool = True
    may_go: bool = False
    """Whether it may be left away, unmissed, where no spot of its own is free."""

    def text_at(self, spot: Spot) -> Text:
        """Return the text on one of its spots."""
        return Text(
            at=spot.at,
            text=self.text,
            size=self.size,
            anchor=spot.anchor,
            is_bold=self.is_bold,
            angle_deg=spot.angle_deg,
            layer=self.layer,
            member=self.member,
        )


def bounds_of(text: Text, space: float = 0.0) -> Bounds:
    """Return left, top, right, bottom of a text with ``space`` mm around it."""
    xs, ys = zip(*text.corners, strict=True)
    return (min(xs) - space, min(ys) - space, max(xs) + space, max(ys) + space)


def _wider(bounds: Bounds, space: float) -> Bounds:
    left, top, right, bottom = bounds
    return (left - space, top - space, right + space, bottom + space)


def halo(text: Text) -> Polygon:
    """Return clear paper under a text."""
    return Polygon(points=text.corners, pen=None, fill=Fill.PAPER, layer=text.layer, member=text.member)


class Placer:
    """Remembers what stands on one page and finds room for the rest."""

    def __init__(self, area: Area) -> None:
        self.area = area
        self._boxes: defaultdict[tuple[int, int], list[Bounds]] = defaultdict(list)
        self._lines: defaultdict[tuple[int, int], list[tuple[Point, Point, float]]] = defaultdict(list)

    def block(self, bounds: Bounds) -> None:
        """Keep every later text out of a rectangle."""
        for cell in _cells(bounds):
            self._boxes[cell].append(bounds)

    def avoid(self, a: Point, b: Point, pen: Pen) -> None:
        """Remember a line that texts should not cross."""
        held = (a, b, WEIGHT[pen])
        for cell in _cells_along(a, b):
            self._lines[cell].append(held)

    def is_free(self, bounds: Bounds) -> bool:
        """Return whether a rectangle touches no text and stays inside the area."""
        left, top, right, bottom = bounds
        area = self.area
        if left < area.left or right > area.right or top < area.top or bottom > area.bottom:
            return False
        return not any(
            left < b[2] and b[0] < right and top < b[3] and b[1] < bottom
            for cell in _cells(bounds)
            for b in self._boxes.get(cell, ())
        )

    def cost(self, bounds: Bounds, most: float = inf) -> float:
        """Return the weight of all lines that run through a rectangle; any weight above ``most`` once it is above."""
        total = 0.0
        for a, b, weight in {held for cell in _cells(bounds) for held in self._lines.get(cell, ())}:
            if crosses(a, b, bounds):
                total += weight
                if total > most:
                    break
        return total

    def place(self, label: Label) -> tuple[Line | Polygon | Text, ...]:
        """Return the text on its best free spot; led out by a line where none is free or all would hide drawn lines.

        Nothing is returned when there is no room at all.
        """
        best = self._beside(label)
        beside = inf if best is None else best[0]
        led = self._lead_out(label, under=beside) if beside > HIDES and not label.may_go else None
        if led is not None:
            text, elbow = led
            self.block(bounds_of(text, SPACE))
            leader = Line(a=label.point, b=elbow, pen=Pen.PENCIL, layer=label.layer, member=label.member)
            return (leader, halo(text), text)
        if best is None:
            return ()
        self.block(bounds_of(best[1], SPACE))
        return (halo(best[1]), best[1]) if label.has_halo else (best[1],)

    def _beside(self, label: Label) -> tuple[float, Text] | None:
        """Return the cheapest free spot that the label names, with its cost."""
        best: tuple[float, Text] | None = None
        for rank, spot in enumerate(label.spots):
            text = label.text_at(spot)
            bounds = bounds_of(text)
            if not self.is_free(_wider(bounds, SPACE)):
                continue
            cost = self.cost(bounds, most=inf if best is None else best[0]) + 0.05 * rank
            if best is None or cost < best[0]:
                best = (cost, text)
            if cost < 0.05 * (rank + 1):
                break
        return best

    def _lead_out(self, label: Label, under: float) -> tuple[Text, Point] | None:
        """Return the cheapest place around the thing that costs less than ``under``, with the end of its leader."""
        best: tuple[Text, Point] | None = None
        for reach in REACHES:
            toll = LED + LED_PER_MM * reach
            if under <= toll:
                break
            for turn in range(15, 375, 30):
                c, s = cos(radians(turn)), -sin(radians(turn))
                elbow = (label.point[0] + reach * c, label.point[1] + reach * s)
                anchor = Anchor.START if c >= 0 else Anchor.END
                spot = Spot(at=(elbow[0] + (0.6 if c >= 0 else -0.6), elbow[1] + 0.35 * label.size), anchor=anchor)
                text = label.text_at(spot)
                bounds = bounds_of(text)
                if not self.is_free(_wider(bounds, SPACE)):
                    continue
                cost = self.cost(bounds, most=under - toll) + toll
                if cost < under:
                    under, best = cost, (text, elbow)
        return best


def _cells(bounds: Bounds) -> list[tuple[int, int]]:
    left, top, right, bottom = bounds
    return [
        (column, row)
        for column in range(int(left // CELL), int(right // CELL) + 1)
        for row in range(int(top // CELL), int(bottom // CELL) + 1)
    ]


def _cells_along(a: Point, b: Point) -> set[tuple[int, int]]:
    """Return the cells that a line passes, with a cell to spare on slopes."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    count = int(max(abs(dx), abs(dy)) // (CELL / 2)) + 1
    return {(int((a[0] + dx * k / count) // CELL), int((a[1] + dy * k / count) // CELL)) for k in range(count + 1)}


def crosses(a: Point, b: Point, bounds: Bounds) -> bool:
    """Return whether a line runs through a rectangle; most are told by their ends alone."""
    (ax, ay), (bx, by) = a, b
    left, top, right, bottom = bounds
    if (left <= ax <= right and top <= ay <= bottom) or (left <= bx <= right and top <= by <= bottom):
        return True
    if (
        max(ax, bx) < left - EDGE
        or min(ax, bx) > right + EDGE
        or max(ay, by) < top - EDGE
        or min(ay, by) > bottom + EDGE
    ):
        return False
    return clipped(a, b, (left, right), (top, bottom)) is not None
