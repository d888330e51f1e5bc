"""Write ``docs/verification.md``: every reference figure of strength beside ours, misses explained one by one.

Run after a rule, a table or a reference row has changed::

    python tools/verification.py
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import groupby
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "reference"))
from record import Row, collect

from evenfoot.tables import source_on_record

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "docs" / "verification.md"

HEADINGS = {
    "safety": "Footings, ground, ledger fixings",
    "strength_eu": "Europe: EN 1995-1-1, EN 338, EN 1990, EN 1991",
    "strength_jp": "Japan: the Order, its notices, the institute's standard",
    "strength_us": "North America: NDS, deck guide, ceiling joists",
}
INTRO = """# Verification

Every figure of strength that others printed and that we know of, beside ours, worked out by the public rules of the
program. This page is generated (`python tools/verification.py`) and a test fails when it is stale; do not edit it.

A row is **as printed** when ours rounds to the printed figure, **within** when it lies in the row's own wider
tolerance, whose reason stands beside it, and **compared** when the printed figure is known to rest on something that we
do not adopt. Nothing else is allowed: a row that is not met fails a test. Rows worked by hand from a source's figures,
and not printed there, say so.
"""


def page(rows: Sequence[Row]) -> str:
    """Return the whole page."""
    sources = {name: number for number, name in enumerate(dict.fromkeys(title(r) for r in rows), start=1)}
    parts = [INTRO, summary(rows), misses(rows)]
    for folder, of_folder in groupby(rows, key=lambda r: r.table.split("/")[0]):
        parts.append(f"## {HEADINGS[folder]}")
        parts += [
            listing(table, list(of_table), sources) for table, of_table in groupby(of_folder, key=lambda r: r.table)
        ]
    parts.append("## Sources\n\n" + "\n".join(f"{number}. {name}" for name, number in sources.items()))
    return "\n\n".join(part.strip("\n") for part in parts) + "\n"


def summary(rows: Sequence[Row]) -> str:
    """Return how many rows of each table are as printed, within, and compared."""
    lines = ["| table | rows | as printed | within | compared |", "|---|---|---|---|---|"]
    for table, of_table in groupby(rows, key=lambda r: r.table):
        verdicts = [verdict(r) for r in of_table]
        counts = (verdicts.count(v) for v in ("as printed", "within", "compared"))
        lines.append(f"| `{table}` | {len(verdicts)} | {' | '.join(map(str, counts))} |")
    return "\n".join(lines)


def misses(rows: Iterable[Row]) -> str:
    """Return every row that is not as printed, with its reason."""
    lines = [
        "## Misses, one by one",
        "",
        "| table | row | quantity | printed | ours | allowed | why |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        found = verdict(row)
        if found != "as printed":
            allowed = "compared" if found == "compared" else f"± {row.allowed:g}"
            figures = f"{row.quantity} | {row.expected} | {said(row)} | {allowed} | {row.note}"
            lines.append(f"| `{row.table.split('/')[0]}` | {row.id} | {figures} |")
    return "\n".join(lines)


def listing(table: str, rows: Sequence[Row], sources: dict[str, int]) -> str:
    """Return all rows of one table."""
    lines = [f"### `{table}`", "", "| row | quantity | printed | ours | unit | source |", "|---|---|---|---|---|---|"]
    for row in rows:
        unit = row.unit or "as printed"
        lines.append(f"| {row.id} | {row.quantity} | {row.expected} | {said(row)} | {unit} | {sources[title(row)]} |")
    return "\n".join(lines)


def verdict(row: Row) -> str:
    """Return whether a row is ``as printed``, ``within``, ``compared`` or ``not met``."""
    if not row.is_asked:
        return "compared"
    if not row.is_met:
        return "not met"
    return "as printed" if row.is_printed else "within"


def said(row: Row) -> str:
    """Return our figure with one decimal more than the printed one."""
    exponent = Decimal(row.expected).as_tuple().exponent
    places = max(0, -int(exponent)) + 1
    return f"{row.ours:.{places}f}"


def title(row: Row) -> str:
    """Return what stands behind a row: the titles of its sources on record, or the words written there."""
    found = [source_on_record(key) for key in row.source.split()]
    if found and all(found):
        return "; ".join(f"{one.title} ({one.publisher})" for one in found if one is not None)
    return row.source


if __name__ == "__main__":
    PAGE.write_text(page(collect()), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")
