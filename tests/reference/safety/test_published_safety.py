"""Published footing sizes and ledger fixings against the public rules and tables, beyond the rows of ``verified``."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import load

from evenfoot.rules import ground
from evenfoot.tables import safety

HERE = Path(__file__).parent
FOOT, POUND = 304.8, 4.4482216152605
PSF = POUND / FOOT**2
ROWS = tuple(load(HERE).rows())


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.id}-{r.quantity}")
def test_every_published_row_is_met(row):
    assert row.is_met, (row.ours, row.expected)


def test_footing_sizes_lean_neither_way():
    """Two per cent more or less ground value would move the mean of all 42 by more than it is off."""
    off = [r.ours - float(r.expected) for r in ROWS if r.table.endswith("footings.csv")]
    assert len(off) == 42
    assert sum(round(x) == 0 for x in off) >= 32
    assert abs(sum(off) / len(off)) < 0.25


def test_a_tube_of_twelve_inches_is_too_small_for_the_worked_post():
    load_on_post, tube = 2012.5 * POUND, 3.141592653589793 / 4 * 304.8**2
    assert ground.pressure(N=load_on_post, W=0.0, A=tube) > 1500 * PSF


@pytest.mark.parametrize(("standard", "soil"), [("europe", "sand"), ("north-america", "loam")])
def test_where_a_standard_presumes_nothing_nothing_is_given(standard, soil):
    assert safety.ground_bearing(standard=standard, soil=soil) is None


@pytest.mark.parametrize("fixing", ["half-inch-lags", "half-inch-bolts", "half-inch-bolts-spaced"])
def test_a_ledger_row_holds_up_to_its_span_and_none_beyond_the_last(fixing):
    for span in (6, 8, 10, 12, 14, 16, 18):
        row = safety.ledger_row(fixing=fixing, joist_span=span * FOOT)
        assert row.joist_span == pytest.approx(span * FOOT)
        assert safety.ledger_row(fixing=fixing, joist_span=(span - 1.9) * FOOT) == row
    assert safety.ledger_row(fixing=fixing, joist_span=18.01 * FOOT) is None
