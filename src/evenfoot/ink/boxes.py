"""Where texts really stand on a page, and which of them touch each other or run off the paper."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from evenfoot.ink.expand import flat
from evenfoot.ink.marks import Circle, Line, Page, Point, Polygon, Text

CELL = 20.0
"""Side of the cells in which neighbours are looked for [mm]."""
TOUCH = 0.05
"""Two boxes may share this much before they count as overlapping [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A turned rectangle by its four corners on paper."""

    corners: tuple[Point, Point, Point, Point]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom [mm]."""
        xs, ys = zip(*self.corners, strict=True)
        return (min(xs), min(ys), max(xs), max(ys))

    def touches(self, other: Box, *, slack: float = TOUCH) -> bool:
        """Return whether the two rectangles share more than ``slack`` mm in every direction."""
        for box in (self, other):
            for a, b in ((box.corners[0], box.corners[1]), (box.corners[1], box.corners[2])):
                length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
                if length == 0:
                    return False
                ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
                mine = [x * ux + y * uy for x, y in self.corners]
                theirs = [x * ux + y * uy for x, y in other.corners]
                if min(max(mine), max(theirs)) - max(min(mine), min(theirs)) <= slack:
                    return False
        return True


def box_of(text: Text) -> Box:
    """Return the rectangle that a text covers."""
    return Box(corners=text.corners)


def overlaps(page: Page) -> tuple[tuple[Text, Text], ...]:
    """Return every pair of texts on a page whose boxes overlap, dimensions included."""
    texts = [s for s in flat(page) if isinstance(s, Text) and s.text.strip()]
    boxes = [box_of(t) for t in texts]
    cells: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    found: set[tuple[int, int]] = set()
    for index, box in enumerate(boxes):
        left, top, right, bottom = box.bounds
        for column in range(int(left // CELL), int(right // CELL) + 1):
            for row in range(int(top // CELL), int(bottom // CELL) + 1):
                found.update((other, index) for other in cells[column, row] if box.touches(boxes[other]))
                cells[column, row].append(index)
    return tuple((texts[a], texts[b]) for a, b in sorted(found))


def strays(page: Page, *, margin: float = 0.0) -> tuple[Line | Polygon | Circle | Text, ...]:
    """Return every mark that reaches nearer than ``margin`` mm to the edge of the paper, or beyond it."""

    def is_out(points: tuple[Point, ...]) -> bool:
        return any(
            not (margin - TOUCH <= x <= page.width - margin + TOUCH)
            or not (margin - TOUCH <= y <= page.height - margin + TOUCH)
            for x, y in points
        )

    return tuple(shape for shape in flat(page) if is_out(shape.reach))
