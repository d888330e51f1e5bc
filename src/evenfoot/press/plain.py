"""A table as plain comma-separated text (RFC 4180) that a spreadsheet opens with Japanese in it."""

from __future__ import annotations

import csv
from io import StringIO

from evenfoot.ink import Table

_MARK = "\ufeff"
"""Tells a spreadsheet that the text is UTF-8."""
_RISKY = ("=", "+", "-", "@", "\t", "\r")
"""A text that starts so would be reckoned as a formula by a spreadsheet."""


def csv_of(table: Table) -> bytes:
    """Return a table with its headings; numbers to a thousandth with a point, ungrouped; nothing for an empty cell.

    A text that a spreadsheet would take for a formula gets an apostrophe in front, as one types it by hand.
    """
    sink = StringIO()
    writer = csv.writer(sink, lineterminator="\r\n")
    writer.writerow([column.title for column in table.columns])
    for row in table.rows:
        assert len(row) == len(table.columns), f"{table.code}: a row has as many cells as there are columns"
        writer.writerow([_cell(cell) for cell in row])
    return (_MARK + sink.getvalue()).encode()


def _cell(cell: str | float | None) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if cell.startswith(_RISKY) else cell
    return f"{cell:.3f}".rstrip("0").rstrip(".")
