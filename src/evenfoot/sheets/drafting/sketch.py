"""A drawing in the making: real things go in, marks on paper come out, texts find their own room."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import hypot

from evenfoot.ink import Anchor, Circle, Dimension, Fill, Line, Pen, Polygon, Text
from evenfoot.sheets.drafting.grain import long_grain
from evenfoot.sheets.drafting.paper import Area
from evenfoot.sheets.drafting.placing import Label, Placer, Spot, bounds_of
from evenfoot.sheets.drafting.view import Point, View

Shape = Line | Polygon | Circle | Text | Dimension
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.42, 0.58, 0.28, 0.72, 0.12, 0.88, 0.46, 0.54, 0.39, 0.61, 0.31, 0.69, 0.05, 0.95)
"""Where along a line its mark may stand, the best first."""


class Sketch:
    """Collects the marks of one window; labels are placed last, when every line is known."""

    def __init__(self, view: View, area: Area) -> None:
        self.view = view
        self.area = area
        self.placer = Placer(area)
        self.shapes: list[Shape] = []
        self._labels: list[Label] = []
        self.homeless: list[str] = []

    def add(self, *shapes: Shape) -> None:
        """Put marks in paper mm on the page as they are."""
        for shape in shapes:
            self.shapes.append(shape)
            self._remember(shape)

    def line(self, a: Point, b: Point, pen: Pen = Pen.FINE, *, dash: tuple[float, ...] = (), layer: str = "") -> None:
        """Draw a real line, cut at the window."""
        kept = self.view.clip_line(a, b)
        if kept is not None and kept[0] != kept[1]:
            self.add(Line(a=self.view.at(kept[0]), b=self.view.at(kept[1]), pen=pen, dash=dash, layer=layer))

    def area_of(self, points: tuple[Point, ...], look: Polygon) -> bool:
        """Draw a real outline with the pen, fill, layer and member of ``look``; return whether any of it shows."""
        kept = self.view.clip_area(points)
        if len(kept) < 3:
            return False
        self.add(replace(look, points=tuple(self.view.at(p) for p in kept)))
        return True

    def timber(self, low: Point, high: Point, look: Polygon) -> bool:
        """Draw a timber that lies along its longer side, with long grain; return whether any of it shows."""
        corners = (low, (high[0], low[1]), high, (low[0], high[1]))
        if not self.area_of(corners, look):
            return False
        kept = self.view.clip_area(corners)
        us, vs = [p[0] for p in kept], [p[1] for p in kept]
        corner = self.view.at((min(us), max(vs)))
        grain = long_grain(
            corner, self.view.paper(max(us) - min(us)), self.view.paper(max(vs) - min(vs)), seed=look.member
        )
        self.shapes += [replace(line, member=look.member) for line in grain]
        return True

    def reserve(self, *texts: Text) -> None:
        """Keep room for texts that are put on the sheet later."""
        for text in texts:
            self.placer.block(bounds_of(text, 0.3))

    def label(self, label: Label) -> None:
        """Ask for a label; it is placed by ``finish``."""
        self._labels.append(label)

    def finish(self) -> tuple[Shape, ...]:
        """Place all labels, by rank and the hardest to place first, and return every mark."""
        for label in sorted(self._labels, key=lambda one: (one.rank, len(one.spots), one.text)):
            placed = self.placer.place(label)
            if not placed and not label.may_go:
                self.homeless.append(label.text)
            self.shapes += placed
        self._labels = []
        return tuple(self.shapes)

    def _remember(self, shape: Shape) -> None:
        match shape:
            case Text():
                self.placer.block(bounds_of(shape, 0.3))
            case Line():
                self.placer.avoid(shape.a, shape.b, shape.pen)
            case Polygon() if shape.pen is not None:
                last = (shape.points[0],) if shape.is_closed else ()
                for a, b in pairwise((*shape.points, *last)):
                    self.placer.avoid(a, b, shape.pen)
            case Circle():
                (x, y), r = shape.centre, shape.r
                self.placer.block((x - r, y - r, x + r, y + r))
            case Dimension():
                self.placer.block(_taken_by(shape))
            case _:
                pass


def _taken_by(dimension: Dimension) -> tuple[float, float, float, float]:
    """Return the rectangle in which a dimension's text stands."""
    (ax, ay), (bx, by) = dimension.a, dimension.b
    reach, half, sign = abs(dimension.offset), 0.5 * dimension.size, 1.0 if dimension.offset >= 0 else -1.0
    if dimension.running == "across":
        near, far = sorted((by - sign * reach, by - sign * dimension.depth))
        return (bx + dimension.shift - half, near, bx + dimension.shift + half, far)
    if dimension.running == "up":
        near, far = sorted((bx + sign * reach, bx + sign * dimension.depth))
        return (near, by + dimension.shift - half, far, by + dimension.shift + half)
    wide = reach + 2.0 * dimension.size
    return (min(ax, bx) - wide, min(ay, by) - wide, max(ax, bx) + wide, max(ay, by) + wide)


def along(a: Point, b: Point, *, lift: float, size: float) -> tuple[Spot, ...]:
    """Return spots on and beside a line on paper, read from below or the right; ``lift`` is half the thing's width."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = hypot(dx, dy)
    is_tall = abs(dy) > abs(dx)
    angle = 90.0 if is_tall else 0.0
    middle = 0.765 * size / 2
    sides = [0.0] if 2 * lift >= size + 0.4 else []
    sides += [lift + 0.7 + middle, -(lift + 0.7 + middle)]
    spots: list[Spot] = []
    for share in SHARES:
        base = (a[0] + dx * share, a[1] + dy * share)
        for side in sides:
            at = (base[0] + middle - side, base[1]) if is_tall else (base[0], base[1] + middle - side)
            spots.append(Spot(at=at, angle_deg=angle))
    return tuple(spots) if length else ()


def around(centre: Point, half: float, size: float) -> tuple[Spot, ...]:
    """Return spots at the corners and sides of a small square thing on paper."""
    gap = half + 0.8
    up, down, level = -gap, gap + 0.765 * size, 0.765 * size / 2
    return (
        Spot(at=(centre[0] + gap, centre[1] + up), anchor=Anchor.START),
        Spot(at=(centre[0] + gap, centre[1] + down), anchor=Anchor.START),
        Spot(at=(centre[0] - gap, centre[1] + up), anchor=Anchor.END),
        Spot(at=(centre[0] - gap, centre[1] + down), anchor=Anchor.END),
        Spot(at=(centre[0] + gap, centre[1] + level), anchor=Anchor.START),
        Spot(at=(centre[0] - gap, centre[1] + level), anchor=Anchor.END),
        Spot(at=(centre[0], centre[1] + up), anchor=Anchor.MIDDLE),
        Spot(at=(centre[0], centre[1] + down), anchor=Anchor.MIDDLE),
    )


def right_of(centre: Point, half: float, size: float) -> tuple[Spot, ...]:
    """Return spots at the right of a small thing and straight over and under it: no neighbour claims the text."""
    return tuple(s for s in around(centre, half, size) if s.anchor is not Anchor.END)


def beside(a: Point, b: Point, *, lift: float, size: float) -> tuple[Spot, ...]:
    """Return upright spots at the right of an upright line on paper; ``lift`` is half the thing's width."""
    gap, level = lift + 0.9, 0.765 * size / 2
    return tuple(
        Spot(at=(a[0] + gap, a[1] + (b[1] - a[1]) * share + level), anchor=Anchor.START) for share in (0.5, 0.3, 0.7)
    )


def paper_box(fill: Fill | None = Fill.PAPER, pen: Pen = Pen.OBJECT, *, layer: str, member: str = "") -> Polygon:
    """Return how an outline looks, without points yet."""
    return Polygon(points=(), pen=pen, fill=fill, layer=layer, member=member)
