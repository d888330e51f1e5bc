"""The factors, loads and limits, turned from the units they are printed in; nothing else here knows those units."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError

INCH = 25.4
FOOT = 304.8
_POUND = 0.45359237 * 9.80665
PSI = _POUND / INCH**2
"""One lb per square inch in N/mm2 (exact: pound and inch of 1959, standard gravity of 1901)."""
_SCALES = {
    "-": 1.0,
    "in": INCH,
    "ft": FOOT,
    "lb": _POUND,
    "psi": PSI,
    "psf": _POUND / FOOT**2,
    "pcf": _POUND / FOOT**3,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure in mm, N, N/mm2 or N/mm3, with its clause, its source ids, and whether it was read there."""

    name: str
    value: float
    clause: str
    sources: tuple[str, ...]
    is_confirmed: bool


def factor(name: str) -> Figure:
    """Return one figure by its name, as ``duration.ten-years``.

    Raises: OutOfRangeError (``factor-unknown``).
    """
    if name not in _factors():
        raise OutOfRangeError(unknown("name", "factor-unknown", name, tuple(_factors())))
    return _factors()[name]


def unknown(where: str, code: str, found: str, known: tuple[str, ...]) -> Fault:
    """Return the fault of a name that is not on record, with the nearest that is."""
    nearest = get_close_matches(found, known, n=1, cutoff=0.5)
    return Fault(where=where, code=code, found=found, allowed=", ".join(known), nearest=nearest[0] if nearest else "")


def rows_of(name: str) -> list[dict[str, str]]:
    """Return the rows of one table file."""
    text = (files("evenfoot.tables") / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def _factors() -> dict[str, Figure]:
    text = (files("evenfoot.tables") / "data" / "us_factors.toml").read_text(encoding="utf-8")
    found = {f"{group}.{key}": row for group, table in tomllib.loads(text).items() for key, row in table.items()}
    return {
        name: Figure(
            name=name,
            value=row["value"] * _SCALES[row["unit"]],
            clause=row["clause"],
            sources=tuple(row["source"].split()),
            is_confirmed=row["confirmed"],
        )
        for name, row in found.items()
    }
