"""Runs of boards, joist centres, spans and stock lengths against figures worked outside this project."""

import csv
import math
import tomllib
from decimal import Decimal
from pathlib import Path
from runpy import run_path
from types import SimpleNamespace

import pytest

from evenfoot.job.kinds import Closing
from evenfoot.layout import RunWish, board_span, close_run, even_centres, fit_stock, lay_boards, width_drift

HERE = Path(__file__).parent
floors = SimpleNamespace(**run_path(str(HERE.parents[1] / "unit" / "layout" / "floors.py")))
SOURCES = tomllib.loads((HERE / "sources.toml").read_text(encoding="utf-8"))


def rows(name):
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def printed(text):
    """The value as printed and half its last digit; whole numbers are exact."""
    exponent = Decimal(text).as_tuple().exponent
    return pytest.approx(float(text), abs=0.5 * 10.0**exponent if exponent < 0 else 1e-9, rel=0)


def closed(row):
    scale = float(row["mm_per_unit"])
    size = {name: float(row[name]) * scale for name in ("width", "gap", "gap_min", "gap_max", "rip_min")}
    wish = RunWish(**size, closing=Closing(row["closing"]))
    return close_run(extent=float(row["extent"]) * scale, wish=wish), scale, wish


def quantity(name, run, wish):
    nearby = {whole.count: whole for whole in run.nearby}
    kind, _, count = name.partition("_")
    if kind in {"shortest", "longest", "gap"} and count:
        return getattr(nearby[int(count)], kind)
    return {
        "gap": run.gap,
        "strip": run.strip,
        "first": run.widths[0],
        "last": run.widths[-1],
        "left_over": run.widths[-1] + run.gap,
        "extent": run.extent,
    }[name]


@pytest.mark.parametrize("row", rows("runs.csv"), ids=lambda r: f"{r['id']}-{r['quantity']}")
def test_run_closes_as_worked_by_hand(row):
    run, scale, wish = closed(row)
    assert row["source"] in SOURCES
    if row["quantity"] == "count":
        assert run.count == int(row["expected"])
    elif row["quantity"] == "whole":
        assert sum(abs(width - wish.width) < 1e-9 for width in run.widths) == int(row["expected"])
    else:
        assert quantity(row["quantity"], run, wish) / scale == printed(row["expected"])


@pytest.mark.parametrize("row", rows("centres.csv"), ids=lambda r: r["id"])
def test_joists_stand_at_the_even_centres_worked_by_hand(row):
    half = float(row["joist_mm"]) / 2
    centres = even_centres(first=half, last=float(row["length_mm"]) - half, spacing_max=float(row["spacing_max_mm"]))
    assert (centres.bays, len(centres.lines)) == (int(row["bays"]), int(row["joists"]))
    assert centres.spacing == printed(row["centres_mm"])


@pytest.mark.parametrize("row", rows("centres.csv"), ids=lambda r: r["id"])
def test_a_floor_asks_for_the_same_joists(row):
    job = floors.job(
        floors.rectangle(float(row["length_mm"]), 3500.0),
        joist_width=float(row["joist_mm"]),
        spacing_max=float(row["spacing_max_mm"]),
        overhang=(0.0, 0.0, 0.0, 0.0),
    )
    layout = lay_boards(job, floors.yard(8000.0))
    assert layout.counts.joist_lines == int(row["joists"])
    assert layout.counts.joist_bays == int(row["bays"])
    assert layout.joist_spacing == printed(row["centres_mm"])


@pytest.mark.parametrize("row", rows("spans.csv"), ids=lambda r: r["id"])
def test_boards_at_an_angle_span_further(row):
    span = board_span(spacing=float(row["spacing_in"]), angle_deg=float(row["angle_deg"]))
    assert span == printed(row["span_in"])


def test_skirt_and_overhang_push_boards_over_twelve_foot_stock():
    """144 in frame + 2 x (0.75 + 0.75) = 147 in; 14 ft stock leaves 21 in; a frame of 140 in does with 12 ft stock."""
    board = 144.0 + 2 * (0.75 + 0.75)
    fit = fit_stock(board, stock=(144.0, 168.0, 192.0), end_trim=0.5)
    assert (fit.stock, fit.offcut, fit.shorter) == (168.0, 21.0, 144.0)
    assert fit.excess is not None
    assert 144.0 - fit.excess == 140.0


def test_the_floor_says_that_a_shorter_frame_saves_the_longer_stock():
    inch = 25.4
    job = floors.job(
        floors.rectangle(147.0 * inch, 120.0 * inch),
        overhang=(0.0, 0.0, 1.5 * inch, 1.5 * inch),
        width=5.5 * inch,
        gap=0.2 * inch,
        gap_min=0.125 * inch,
        gap_max=0.25 * inch,
    )
    yard = floors.yard(144.0 * inch, 168.0 * inch, 192.0 * inch, width=5.5 * inch, end_trim=0.5 * inch)
    (check,) = [c for c in lay_boards(job, yard).checks if c.rule == "stock-just-missed"]
    assert float(check.fact("excess_mm")) / inch == pytest.approx(4.0)
    assert float(check.fact("offcut_mm")) / inch == pytest.approx(21.0)


def test_widths_a_sixteenth_off_drift_by_two_and_an_eighth():
    assert width_drift(rows=34, tolerance=0.0625) == 2.125


def test_rows_are_counted_and_not_an_area():
    """10 m x 8 m in 92 mm boards: 83 rows and 830.0 m; area over pitch says 824.74 m, 5.26 m too little."""
    job = floors.job(
        floors.rectangle(10_000.0, 8_000.0),
        width=92.0,
        gap=5.0,
        gap_min=5.0,
        gap_max=5.0,
        closing=Closing.RIP_LAST,
        rip_min=46.0,
    )
    layout = lay_boards(job, floors.yard(10_000.0, width=92.0))
    assert layout.counts.rows == 83
    assert layout.counts.pieces == 83
    assert layout.counts.ripped == 1
    assert layout.rows[-1].width == printed("46")
    metres = layout.counts.board_length / 1000.0
    assert metres == printed("830.0")
    by_area = 10.0 * 8.0 / 0.097
    assert by_area == printed("824.74")
    assert metres - by_area == printed("5.26")


def test_the_published_fourteen_boards_fill_their_total():
    layout = lay_boards(
        floors.job(floors.rectangle(2000.0, 1509.0), gap=3.0, gap_min=2.0, gap_max=5.0), floors.yard(2000.0)
    )
    assert layout.counts.rows == 14
    assert layout.gap == printed("3")
    assert math.isclose(14 * 105 + 13 * layout.gap, 1509.0)
