"""The page of reference figures says what the tables and the program say today."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "reference"))
from record import collect

ROOT = Path(__file__).parents[2]


def generator():
    spec = importlib.util.spec_from_file_location("verification", ROOT / "tools" / "verification.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


PAGE = (ROOT / "docs" / "verification.md").read_text(encoding="utf-8")


def test_every_reference_row_stands_on_the_page():
    """Without working anything out: a row added, removed or changed makes the page stale."""
    listed = [line for line in PAGE.split("## Misses")[1].split("\n### ", 1)[1].splitlines() if line.startswith("| ")]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in listed]
    found = [(r[0], r[1], r[2]) for r in rows if r[0] != "row"]
    assert found == [(r.id, r.quantity, r.expected) for r in collect()]


@pytest.mark.slow
def test_the_page_is_what_the_program_says_today():
    rows = collect()
    assert all(r.is_met or not r.is_asked for r in rows)
    assert all(r.note for r in rows if not r.is_asked or r.tolerance)
    assert generator().page(rows) == PAGE, "stale: run tools/verification.py"
