"""One figure of a standard as it stands on record, and how a file of them is read."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure [in ``unit``] with its clause, its source ids, and whether it was read there."""

    name: str
    value: float
    unit: str
    clause: str
    sources: tuple[str, ...]
    is_confirmed: bool


@cache
def read_figures(file: str) -> dict[str, Figure]:
    """Return the figures of one file of ``data`` by name, as ``group.key``."""
    found = {f"{group}.{key}": row for group, table in tomllib.loads(_text(file)).items() for key, row in table.items()}
    return {
        name: Figure(
            name=name,
            value=row["value"],
            unit=row["unit"],
            clause=row["clause"],
            sources=tuple(row["source"].split()),
            is_confirmed=row["confirmed"],
        )
        for name, row in found.items()
    }


def read_rows(file: str) -> list[dict[str, str]]:
    """Return the rows of one table of ``data``."""
    return list(csv.DictReader(_text(file).splitlines()))


def unknown(where: str, code: str, found: str, known: tuple[str, ...]) -> Fault:
    """Return the fault of a name that is not on record, with the nearest one that is."""
    nearest = get_close_matches(found, known, n=1, cutoff=0.5)
    return Fault(where=where, code=code, found=found, allowed=", ".join(known), nearest=nearest[0] if nearest else "")


def _text(file: str) -> str:
    return (files("evenfoot.tables") / "data" / file).read_text(encoding="utf-8")
