"""What is on record about joints cut by hand: how much wood must stay under a seat."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True, kw_only=True)
class JoineryLimit:
    """A least thickness of wood [mm] with its source id and whether it was read there."""

    value: float
    source: str
    is_confirmed: bool


@cache
def joinery_limit(key: str) -> JoineryLimit:
    """Return one limit [mm] by its key in ``joinery.csv``; KeyError when there is none."""
    text = (files("evenfoot.tables") / "data" / "joinery.csv").read_text(encoding="utf-8")
    rows = {row["key"]: row for row in csv.DictReader(text.splitlines())}
    row = rows[key]
    return JoineryLimit(value=float(row["value_mm"]), source=row["source"], is_confirmed=row["confirmed"] == "true")
