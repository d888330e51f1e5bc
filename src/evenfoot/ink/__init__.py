"""How marks on paper become SVG, PDF and a workbook."""

from evenfoot.ink.marks import (
    Anchor,
    Circle,
    Column,
    Dimension,
    Fill,
    Line,
    Page,
    Pen,
    Polygon,
    Table,
    Text,
)
from evenfoot.ink.metrics import text_width
from evenfoot.ink.pdf import pdf_of
from evenfoot.ink.svg import svg_of
from evenfoot.ink.workbook import workbook_of

__all__ = [
    "Anchor",
    "Circle",
    "Column",
    "Dimension",
    "Fill",
    "Line",
    "Page",
    "Pen",
    "Polygon",
    "Table",
    "Text",
    "pdf_of",
    "svg_of",
    "text_width",
    "workbook_of",
]
