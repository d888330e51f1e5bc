"""Published and hand-worked figures of Japanese timber practice against the public rule functions, as printed."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from record import load

from evenfoot.rules.japan_2000 import bearing
from evenfoot.tables import strength_jp

verified = load(Path(__file__).parent)
ROWS = tuple(verified.rows())


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.id}:{r.quantity}:{r.expected}")
def test_ours_is_the_printed_figure(row):
    assert not row.tolerance or row.note, "a wider tolerance needs its reason"
    assert row.is_met, (row.ours, row.expected, row.allowed)


def test_no_factor_is_without_its_printed_figure():
    known = {row.id for row in ROWS if row.table.endswith("/figures.csv")}
    assert known == set(strength_jp._factors())


@pytest.mark.parametrize(
    ("table", "count", "sums"),
    [
        ("jp_ungraded.csv", 22, {"F_c": "443.4", "F_t": "354.0", "F_b": "579.9", "F_s": "50.7"}),
        ("jp_visual.csv", 60, {"F_c": "1318.8", "F_t": "889.2", "F_b": "1470.6", "F_s": "124.2"}),
        (
            "jp_machine.csv",
            54,
            {"F_c": "1414.8", "F_t": "1061.4", "F_b": "1758.6", "F_s": "111.6", "E_min": "505600"},
        ),
        ("jp_stiffness.csv", 21, {"F_cv": "167.4", "E_0": "168000"}),
        ("jp_live.csv", 6, {"i": "16300", "ro": "13400", "ha": "7500"}),
    ],
)
def test_a_slip_in_any_cell_of_a_table_shows_in_its_column_sum(table, count, sums):
    found = strength_jp.read_rows(table)
    assert len(found) == count
    for name, expected in sums.items():
        assert sum(Decimal(r[name]) for r in found) == Decimal(expected), name


@pytest.mark.parametrize(
    ("use", "floor", "frame", "sag_load"),
    [("dwelling_room", 1800, 1300, 600), ("assembly_other", 3500, 3200, 2100), ("shop", 2900, 2400, 1300)],
)
def test_live_loads_are_those_of_the_order(use, floor, frame, sag_load):
    found = strength_jp.live_load(use)
    assert (found.floor, found.frame, found.sag) == (floor, frame, sag_load)
    assert found.is_confirmed


def test_end_and_seat_rules_change_at_their_limits():
    assert bearing.is_end_bearing(beyond=104.9, h=105.0, reach=1.0)
    assert not bearing.is_end_bearing(beyond=105.0, h=105.0, reach=1.0)
    seat = {"least": 30.0, "heavy": 60.0, "N_heavy": 4000.0}
    assert bearing.wood_under_seat(N=3999.0, **seat) == 30.0
    assert bearing.wood_under_seat(N=4000.0, **seat) == 60.0
