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
    Shape,
    Table,
    Text,
)

__all__ = ["Anchor", "Circle", "Column", "Dimension", "Fill", "Line", "Page", "Pen", "Polygon", "Shape", "Table", "Text"]
