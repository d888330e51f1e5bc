"""Neutral recordings: marks on paper, tables, bodies; and what ink looks like. Writers (``press``) replay them."""

from evenfoot.ink import bodies, look
from evenfoot.ink.expand import flat
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
    "bodies",
    "flat",
    "look",
    "text_width",
]
