"""How texts, lists and small drawings run down a sheet and on to the next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from evenfoot.ink import Anchor, Circle, Dimension, Line, Pen, Polygon, Text, text_width
from evenfoot.sheets.drafting.paper import FIGURE, HEAD, WORD, Area
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.listing import NUMERIC, Kind, Listing
from evenfoot.sheets.lists.wrap import wrap

Shape = Line | Polygon | Circle | Text | Dimension
Draw = Callable[[float, float], tuple[Shape, ...]]
"""Draws a block with its upper left corner at (left, top)."""

LEADING = 1.45
"""Line height as a multiple of the text size."""
GUTTER = 10.0
"""Space between two columns of a sheet [mm]."""
PAD = 2.4
"""Space between two columns of a list [mm]."""
ROW_AIR = 1.5
"""Space under the last line of a row [mm]."""
TEXT_MIN = 18.0
HEAD_ABOVE, HEAD_BELOW = 3.0, 1.5
"""Air over and under a heading [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a paragraph is written."""

    size: float = WORD
    is_bold: bool = False
    pen: Pen = Pen.FINE
    after: float = 1.5
    indent: float = 0.0


SAMPLE = Style(is_bold=True, pen=Pen.ALARM)
"""How it is said that prices are samples: as plainly as a shortfall."""


class Flow:
    """Fills columns and sheets from top to bottom; ``pages`` holds what stands on each sheet."""

    def __init__(self, area: Area, figures: Figures, *, columns: int = 1) -> None:
        self.area = area
        self.figures = figures
        self.columns = columns
        self.pages: list[list[Shape]] = [[]]
        self.column = 0
        self.y = area.top

    @property
    def width(self) -> float:
        """Width of one column [mm]."""
        return (self.area.width - GUTTER * (self.columns - 1)) / self.columns

    @property
    def left(self) -> float:
        """Left edge of the column that is being filled."""
        return self.area.left + self.column * (self.width + GUTTER)

    @property
    def rest(self) -> float:
        """Height left in this column [mm]."""
        return self.area.bottom - self.y

    def put(self, *shapes: Shape) -> None:
        """Put marks on the current sheet."""
        self.pages[-1] += shapes

    def turn(self) -> None:
        """Go on at the top of the next column or sheet."""
        self.column += 1
        if self.column >= self.columns:
            self.column = 0
            self.pages.append([])
        self.y = self.area.top

    def need(self, height: float) -> None:
        """Turn when less than ``height`` is left, unless the column is still empty."""
        if height > self.rest and self.y > self.area.top:
            self.turn()

    def heading(self, text: str, *, keep: float = 14.0) -> None:
        """Write a heading that is never left alone at the foot: ``keep`` mm must follow it."""
        self.need(HEAD_ABOVE + HEAD * LEADING + HEAD_BELOW + keep)
        if self.y > self.area.top:
            self.y += HEAD_ABOVE
        self.paragraph(text, Style(size=HEAD, is_bold=True, after=HEAD_BELOW))

    def paragraph(self, text: str, style: Style | None = None) -> None:
        """Write wrapped text."""
        style = style or Style()
        for line in wrap(text, self.width - style.indent, style.size, is_bold=style.is_bold):
            self.need(style.size * LEADING)
            at = (self.left + style.indent, self.y + style.size)
            self.put(Text(at=at, text=line, size=style.size, is_bold=style.is_bold, pen=style.pen, layer="text"))
            self.y += style.size * LEADING
        self.y += style.after

    def figure(self, height: float, draw: Draw) -> None:
        """Put a drawing of a known height, never parted."""
        self.need(height)
        self.put(*draw(self.left, self.y))
        self.y += height

    def beside(self, listing: Listing, height: float, draw: Draw, right: float) -> bool:
        """Put a list at the right of a drawing that reaches ``right`` mm; return False where there is no room."""
        grid = Grid(listing.trimmed(), self.figures, 10_000.0)
        tall = max(height, grid.head_height + sum(grid.heights))
        if right + GUTTER + grid.total > self.width or tall > self.area.height:
            return False
        self.need(tall)
        self.put(*draw(self.left, self.y))
        x, y = self.left + right + GUTTER, self.y
        self.put(*grid.head(x, y))
        y += grid.head_height
        for index, row in enumerate(grid.heights):
            self.put(*grid.row(index, x, y))
            y += row
        self.y += tall
        return True

    def gap(self, height: float) -> None:
        """Leave some air."""
        self.y += height

    def listing(self, listing: Listing, *, has_title: bool = True) -> None:
        """Write a list; its headings are repeated in every column that it runs on to."""
        grid = Grid(listing.trimmed(), self.figures, self.width, tallest=self.area.height)
        if has_title:
            self.heading(listing.title(self.figures), keep=grid.head_height + max(grid.heights[:1], default=0.0))
        self.need(grid.head_height + (grid.heights[0] if grid.heights else 0.0))
        self._head(grid)
        for index, height in enumerate(grid.heights):
            if height > self.rest and self.y > self.area.top:
                self.turn()
                self._head(grid)
            self.put(*grid.row(index, self.left, self.y))
            self.y += height
        self.y += 2.5

    def _head(self, grid: Grid) -> None:
        self.put(*grid.head(self.left, self.y))
        self.y += grid.head_height


class Grid:
    """One list laid into columns of a known width."""

    def __init__(self, listing: Listing, figures: Figures, width: float, *, tallest: float = 10_000.0) -> None:
        self.listing = listing
        self.cells = [listing.cells(row, figures) for row in listing.rows]
        self.kinds = [f.kind for f in listing.fields]
        headings = listing.headings(figures)
        self.widths = self._widths(headings, width)
        self.headings = [wrap(text, room, WORD) for text, room in zip(headings, self.widths, strict=True)]
        self.head_height = max(len(lines) for lines in self.headings) * WORD * 1.25 + 2.2
        self.lines = [
            [
                wrap(cell, room, self._size(index), is_bold=self._is_bold(index))
                for index, (cell, room) in enumerate(zip(row, self.widths, strict=True))
            ]
            for row in self.cells
        ]
        most = max(1, int((tallest - self.head_height - ROW_AIR) / (FIGURE * 1.25)))
        self.lines = [part for row in self.lines for part in _parted(row, most)]
        self.heights = [
            max(len(lines) * self._size(i) * 1.25 for i, lines in enumerate(row)) + ROW_AIR for row in self.lines
        ]

    @property
    def total(self) -> float:
        """Width of the whole list [mm]."""
        return sum(self.widths) + PAD * (len(self.widths) - 1)

    def _size(self, index: int) -> float:
        return FIGURE if self.kinds[index] in NUMERIC or self.kinds[index] is Kind.MARK else WORD

    def _is_bold(self, index: int) -> bool:
        return self.kinds[index] in {Kind.MARK, Kind.KEY}

    def _widths(self, headings: tuple[str, ...], width: float) -> list[float]:
        natural: list[float] = []
        for index, heading in enumerate(headings):
            size, bold = self._size(index), self._is_bold(index)
            longest = max((text_width(row[index], size, is_bold=bold) for row in self.cells), default=0.0)
            head = max((text_width(word, WORD) for word in heading.split()), default=0.0)
            lines = text_width(heading, WORD) / 2.6
            natural.append(max(longest, min(max(head, lines), 30.0)) + 0.3)
        room = width - PAD * (len(natural) - 1)
        soft = [i for i, kind in enumerate(self.kinds) if kind in {Kind.TEXT, Kind.MARK, Kind.VERDICT}]
        natural = [min(n, f.most) for n, f in zip(natural, self.listing.fields, strict=True)]
        return _squeezed(natural, soft, room)

    def head(self, left: float, top: float) -> tuple[Shape, ...]:
        """Return the headings with the line under them."""
        out: list[Shape] = []
        x = left
        for index, (lines, width) in enumerate(zip(self.headings, self.widths, strict=True)):
            base = top + self.head_height - 2.2 - (len(lines) - 1) * WORD * 1.25
            for number, line in enumerate(lines):
                out.append(self._text(line, (x, base + number * WORD * 1.25), index, Pen.PENCIL))
            x += width + PAD
        y = top + self.head_height - 0.7
        out.append(Line(a=(left, y), b=(left + self.total, y), pen=Pen.OBJECT, layer="list"))
        return tuple(out)

    def row(self, number: int, left: float, top: float) -> tuple[Shape, ...]:
        """Return one row with a fine line under it."""
        out: list[Shape] = []
        x = left
        for index, (lines, width) in enumerate(zip(self.lines[number], self.widths, strict=True)):
            size = self._size(index)
            is_open = self.kinds[index] is Kind.VERDICT and not lines[0].startswith("○")
            pen = Pen.ALARM if is_open else Pen.FINE
            for step, line in enumerate(lines):
                out.append(self._text(line, (x, top + FIGURE + step * size * 1.25), index, pen))
            x += width + PAD
        y = top + self.heights[number] - 0.2
        out.append(Line(a=(left, y), b=(left + self.total, y), pen=Pen.PENCIL, layer="list"))
        return tuple(out)

    def _text(self, text: str, at: tuple[float, float], index: int, pen: Pen) -> Text:
        """Return one line of a cell; headings are written in pencil."""
        is_right = self.kinds[index] in NUMERIC
        return Text(
            at=(at[0] + self.widths[index], at[1]) if is_right else at,
            text=text,
            size=WORD if pen is Pen.PENCIL else self._size(index),
            anchor=Anchor.END if is_right else Anchor.START,
            is_bold=self._is_bold(index) and pen is not Pen.PENCIL,
            pen=pen,
            layer="list",
        )


def _parted(row: list[tuple[str, ...]], most: int) -> list[list[tuple[str, ...]]]:
    """Return a row in parts of at most ``most`` lines, since no row may be taller than a sheet."""
    count = max(len(lines) for lines in row)
    if count <= most:
        return [row]
    return [[lines[k : k + most] or ("",) for lines in row] for k in range(0, count, most)]


def _squeezed(natural: list[float], soft: list[int], room: float) -> list[float]:
    """Return widths that fit: the widest texts give way first, none below its least."""
    widths = list(natural)
    excess = sum(widths) - room
    while excess > 1e-6:
        open_ones = [i for i in soft if widths[i] > TEXT_MIN + 1e-9]
        if not open_ones:
            break
        widest = max(open_ones, key=lambda i: widths[i])
        others = [widths[i] for i in open_ones if widths[i] < widths[widest] - 1e-9]
        floor = max(others, default=TEXT_MIN)
        cut = min(excess, widths[widest] - max(floor - 1.0, TEXT_MIN))
        widths[widest] -= cut
        excess -= cut
    return widths


def columns_for(listings: tuple[Listing, ...], area: Area, figures: Figures) -> int:
    """Return into how many columns of a sheet every one of these lists goes, four at most."""
    widest = max(Grid(listing.trimmed(), figures, 10_000.0).total for listing in listings)
    return next(n for n in (4, 3, 2, 1) if n == 1 or widest * n + GUTTER * (n - 1) <= area.width)


def fits(listing: Listing, area: Area, figures: Figures) -> bool:
    """Return whether a list stands on a sheet without breaking its cells."""
    return Grid(listing.trimmed(), figures, 10_000.0).total <= area.width
