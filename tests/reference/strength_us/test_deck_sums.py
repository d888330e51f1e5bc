"""Columns of the published deck tables that no cell test reads: a slip in any cell shows in the column's sum."""

from __future__ import annotations

from decimal import Decimal

import pytest

from evenfoot.tables.figures import read_rows


def figure(cell):
    """A cell of words, where the table allows nothing, counts as nothing."""
    return Decimal(cell) if cell.replace(".", "", 1).isdigit() else Decimal(0)


@pytest.mark.parametrize(
    ("table", "column", "total"),
    [
        ("us_deck_footings.csv", "hem_fir_western_cedars_ft", "188"),
        ("us_deck_footings.csv", "redwood_ft", "238"),
        ("us_deck_footings.csv", "spruce_pine_fir_ft", "131"),
        ("us_deck_footings.csv", "thickness_in", "259"),
        ("us_deck_joists.csv", "live_psf", "2880"),
        ("us_deck_posts.csv", "live_psf", "640"),
        ("us_decking.csv", "least_in", "2.5"),
    ],
)
def test_columns_sum_to_what_the_printed_tables_sum_to(table, column, total):
    assert sum(figure(row[column]) for row in read_rows(table)) == Decimal(total)
