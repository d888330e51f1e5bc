"""What is on record about safety: the ground, ledger fixings, sideways pushes, guards, how floors feel."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from evenfoot.errors import Fault, OutOfRangeError

_INCH = 25.4
_FOOT = 304.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure [in ``unit``] with its clause, its source id and whether it was read there."""

    name: str
    value: float
    unit: str
    clause: str
    source: str
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerRow:
    """Fixings of a ledger under joists of up to ``joist_span`` stand at most ``spacing`` apart [mm]."""

    fixing: str
    joist_span: float
    spacing: float
    clause: str
    source: str
    is_confirmed: bool


def figure(name: str) -> Figure:
    """Return one figure by its name, as ``friction.stone``.

    Raises: OutOfRangeError (``safety-figure-unknown``).
    """
    if name not in _figures():
        raise OutOfRangeError(
            Fault(where="name", code="safety-figure-unknown", found=name, allowed=", ".join(_figures()))
        )
    return _figures()[name]


def ground_bearing(*, standard: str, soil: str) -> Figure | None:
    """Return what such ground may bear for a lasting load by the standard [N/mm2], None where it presumes nothing."""
    return _bearings().get((standard, soil))


def ledger_row(*, fixing: str, joist_span: float) -> LedgerRow | None:
    """Return the row of the published table for joists of this span [mm], None when they are longer than it knows."""
    rows = [row for row in _ledgers() if row.fixing == fixing and joist_span <= row.joist_span + 0.05]
    return min(rows, key=lambda row: row.joist_span, default=None)


def ledger_spans() -> tuple[float, ...]:
    """Return the joist spans that the ledger table knows [mm], rising."""
    return tuple(sorted({row.joist_span for row in _ledgers()}))


def _rows(name: str) -> list[dict[str, str]]:
    text = (files("evenfoot.tables") / "data" / name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def _figures() -> dict[str, Figure]:
    return {
        row["name"]: Figure(
            name=row["name"],
            value=float(row["value"]),
            unit=row["unit"],
            clause=row["clause"],
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in _rows("safety_figures.csv")
    }


@cache
def _bearings() -> dict[tuple[str, str], Figure]:
    return {
        (row["standard"], row["soil"]): Figure(
            name=f"ground {row['soil']}",
            value=float(row["value_kpa"]) / 1000.0,
            unit="N/mm2",
            clause=row["clause"],
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in _rows("ground_bearing.csv")
    }


@cache
def _ledgers() -> tuple[LedgerRow, ...]:
    return tuple(
        LedgerRow(
            fixing=row["fixing"],
            joist_span=float(row["joist_span_ft"]) * _FOOT,
            spacing=float(row["spacing_in"]) * _INCH,
            clause=row["clause"],
            source=row["source"],
            is_confirmed=row["confirmed"] == "true",
        )
        for row in _rows("ledger_spacing.csv")
    )
