"""What ink looks like: the colours, the two line weights and the typeface."""

from __future__ import annotations

from evenfoot.ink.marks import Fill, Pen
from evenfoot.ink.metrics import font_bytes

__all__ = [
    "COLOURS",
    "FAMILY",
    "FINE_LINE",
    "INDIGO",
    "INK",
    "OBJECT_LINE",
    "PAPER",
    "PENCIL",
    "SHADE",
    "VERMILION",
    "WHITE",
    "WIDTHS",
    "fill_colour",
    "font_bytes",
]

PAPER = "#f7f2e6"
WHITE = "#ffffff"
INK = "#1d1b18"
PENCIL = "#6b655b"
VERMILION = "#b3321c"
INDIGO = "#1f4e79"
SHADE = "#ded5c1"

OBJECT_LINE = 0.35
FINE_LINE = 0.18

FAMILY = "BIZ UDPGothic"

COLOURS: dict[Pen, str] = {
    Pen.OBJECT: INK,
    Pen.FINE: INK,
    Pen.PENCIL: PENCIL,
    Pen.ALARM: VERMILION,
    Pen.WATER: INDIGO,
}
WIDTHS: dict[Pen, float] = {
    Pen.OBJECT: OBJECT_LINE,
    Pen.FINE: FINE_LINE,
    Pen.PENCIL: FINE_LINE,
    Pen.ALARM: OBJECT_LINE,
    Pen.WATER: FINE_LINE,
}


def fill_colour(fill: Fill, *, is_tinted: bool) -> str:
    """Return the colour of a fill; untinted paper is white, so that a printer leaves it alone."""
    if fill is Fill.PAPER:
        return PAPER if is_tinted else WHITE
    return {Fill.SHADE: SHADE, Fill.INK: INK, Fill.ALARM: VERMILION}[fill]
