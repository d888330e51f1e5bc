"""What is on record about laying boards: how far they usually reach past a joist, and how true their width is."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardFigure:
    """A usual range [mm] with its source id and whether it was read there."""

    low: float
    high: float
    source: str
    is_confirmed: bool


@cache
def board_figure(key: str) -> BoardFigure:
    """Return one range [mm] by its key in ``boards.csv``; KeyError when there is none."""
    text = (files("evenfoot.tables") / "data" / "boards.csv").read_text(encoding="utf-8")
    rows = {row["key"]: row for row in csv.DictReader(text.splitlines())}
    row = rows[key]
    return BoardFigure(
        low=float(row["low_mm"]),
        high=float(row["high_mm"]),
        source=row["source"],
        is_confirmed=row["confirmed"] == "true",
    )
