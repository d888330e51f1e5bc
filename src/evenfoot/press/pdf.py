"""A set of sheets as one PDF: fonts embedded, a bookmark for every sheet, the same bytes every time."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from typing import Any

from evenfoot.geom import Point
from evenfoot.ink import Anchor, Circle, Line, Page, Pen, Polygon, Text, flat, look, text_width

POINTS = 72 / 25.4
"""PDF points in one millimetre."""
_NOTHING = 1e-7
"""So few points are none."""
REGULAR, BOLD = "EvenfootRegular", "EvenfootBold"


def pdf_of(pages: tuple[Page, ...], *, title: str, is_tinted: bool = False) -> bytes:
    """Return all pages as one PDF; ``is_tinted`` paints the warm paper, for screens only."""
    from reportlab import rl_config
    from reportlab.pdfgen import canvas

    rl_config.useA85 = 0  # plain bytes: an eighth shorter than the seven-bit writing, and quicker
    _register()
    sink = BytesIO()
    pdf = canvas.Canvas(sink, invariant=1, initialFontName=REGULAR, pageCompression=1)
    pdf.setTitle(title)
    pdf.setAuthor("")
    pdf.setCreator("Evenfoot")
    for page in pages:
        pdf.setPageSize((page.width * POINTS, page.height * POINTS))
        pdf.bookmarkPage(page.code)
        pdf.addOutlineEntry(page.title, page.code, level=0)
        _Sheet(pdf, page, is_tinted=is_tinted).draw()
        pdf.showPage()
    pdf.save()
    return sink.getvalue()


@cache
def _register() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for name, is_bold in ((REGULAR, False), (BOLD, True)):
        pdfmetrics.registerFont(TTFont(name, BytesIO(look.font_bytes(is_bold=is_bold))))


@cache
def _seen(colour: str) -> Any:  # noqa: ANN401
    from reportlab.lib.colors import HexColor

    return HexColor(colour)


def _figure(value: float) -> str:
    """Return a number of points as reportlab writes it: six figures after the point, fewer in larger numbers."""
    size = abs(value)
    if size <= _NOTHING:
        return "0"
    text = (
        f"{value:.6f}"
        if size < 10.0
        else f"{value:.5f}"
        if size < 100.0
        else f"{value:.4f}"
        if size < 1e3
        else f"{value:.3f}"
    )
    text = text.rstrip("0").rstrip(".")
    return text[1:] if text[0] == "0" and text != "0" else text


class _Path:
    """A path as reportlab takes it, written at once: a sheet has tens of thousands of points."""

    __slots__ = ("_code",)

    def __init__(self, code: str) -> None:
        self._code = code

    def getCode(self) -> str:  # noqa: N802 - reportlab asks for it by this name
        return self._code


class _Sheet:
    """One page being drawn; remembers the pen in hand, so that it is only changed when it must."""

    def __init__(self, pdf: Any, page: Page, *, is_tinted: bool) -> None:  # noqa: ANN401 - reportlab has no types
        self.pdf = pdf
        self.page = page
        self.is_tinted = is_tinted
        self.pen: tuple[str, float, tuple[float, ...]] | None = None
        self.filled = ""

    def draw(self) -> None:
        self.pdf.setLineJoin(1)
        self.pdf.setLineCap(1)
        if self.is_tinted:
            self._colour(look.PAPER)
            self.pdf.rect(0, 0, self.page.width * POINTS, self.page.height * POINTS, stroke=0, fill=1)
        for shape in flat(self.page):
            match shape:
                case Line():
                    self._take(shape.pen, shape.dash)
                    self.pdf.drawPath(self._path((shape.a, shape.b)), stroke=1, fill=0)
                case Polygon():
                    self._polygon(shape)
                case Circle():
                    self._circle(shape)
                case Text():
                    self._text(shape)

    def _at(self, point: Point) -> Point:
        return (point[0] * POINTS, (self.page.height - point[1]) * POINTS)

    def _path(self, points: tuple[Point, ...], *, is_closed: bool = False) -> _Path:
        """Return straight pieces from point to point."""
        high = self.page.height
        ways = [f"{_figure(x * POINTS)} {_figure((high - y) * POINTS)}" for x, y in points]
        return _Path(f"n {ways[0]} m {' l '.join(ways[1:])} l{' h' if is_closed else ''}")

    def _colour(self, colour: str) -> None:
        if colour != self.filled:
            self.pdf.setFillColor(_seen(colour))
            self.filled = colour

    def _take(self, pen: Pen, dash: tuple[float, ...] = ()) -> None:
        wanted = (look.COLOURS[pen], look.WIDTHS[pen], dash)
        if wanted == self.pen:
            return
        self.pdf.setStrokeColor(_seen(wanted[0]))
        self.pdf.setLineWidth(wanted[1] * POINTS)
        self.pdf.setDash([d * POINTS for d in dash] if dash else [])
        self.pen = wanted

    def _polygon(self, shape: Polygon) -> None:
        if shape.pen is not None:
            self._take(shape.pen, shape.dash)
        if shape.fill is not None:
            self._colour(look.fill_colour(shape.fill, is_tinted=self.is_tinted))
        path = self._path(shape.points, is_closed=shape.is_closed)
        self.pdf.drawPath(path, stroke=int(shape.pen is not None), fill=int(shape.fill is not None))

    def _circle(self, shape: Circle) -> None:
        if shape.pen is not None:
            self._take(shape.pen)
        if shape.fill is not None:
            self._colour(look.fill_colour(shape.fill, is_tinted=self.is_tinted))
        x, y = self._at(shape.centre)
        self.pdf.circle(x, y, shape.r * POINTS, stroke=int(shape.pen is not None), fill=int(shape.fill is not None))

    def _text(self, text: Text) -> None:
        if not text.text:
            return
        self._colour(look.COLOURS[text.pen])
        self.pdf.setFont(BOLD if text.is_bold else REGULAR, text.size * POINTS)
        width = text_width(text.text, text.size, is_bold=text.is_bold) * POINTS
        back = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
        x, y = self._at(text.at)
        if not text.angle_deg:
            self._string(x - back, y, text.text)
            return
        self.pdf.saveState()
        self.pdf.translate(x, y)
        self.pdf.rotate(text.angle_deg)
        self._string(-back, 0, text.text)
        self.pdf.restoreState()

    def _string(self, x: float, y: float, text: str) -> None:
        """Put one line of text on the page, without looking for writing from right to left."""
        block = self.pdf.beginText(x, y)
        block.textLine(text)
        self.pdf.drawText(block)
