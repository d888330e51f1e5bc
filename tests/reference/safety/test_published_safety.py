"""Published footing sizes and ledger fixings, and worked cases of the trade, against the public rules and tables."""

from __future__ import annotations

import csv
import math
import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.rules import ground, ledgers
from evenfoot.tables import safety

HERE = Path(__file__).parent
INCH, FOOT, POUND = 25.4, 304.8, 4.4482216152605
PSF = POUND / FOOT**2
PCF = POUND / FOOT**3
CASES = tomllib.loads((HERE / "cases.toml").read_text(encoding="utf-8"), parse_float=Decimal)


def footings():
    with (HERE / "footings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_last_digit(printed):
    return 0.5 * 10.0 ** min(printed.as_tuple().exponent, 0) * (1 + 1e-9)


@pytest.mark.parametrize("row", footings(), ids=lambda r: f"{r['beam_span_ft']}x{r['joist_span_ft']}")
def test_footing_sizes_of_the_guide_are_met_within_an_inch(row):
    """The guide's loads: 50 psf, joists with an overhang of a quarter; an inch, since it does not say how it rounds."""
    load = 50 * PSF * float(row["beam_span_ft"]) * FOOT * 0.78125 * float(row["joist_span_ft"]) * FOOT
    area = ground.base_area(N=load, q=1500 * PSF, gamma=150 * PCF, t=float(row["thickness_in"]) * INCH)
    assert abs(ground.round_diameter(A=area) / INCH - float(row["round_in"])) <= 1.0
    assert abs(ground.square_side(A=area) / INCH - float(row["square_in"])) <= 1.0


def test_footing_sizes_lean_neither_way():
    """Two per cent more or less ground value would move the mean of all 42 by more than it is off."""
    off = []
    for row in footings():
        load = 50 * PSF * float(row["beam_span_ft"]) * FOOT * 0.78125 * float(row["joist_span_ft"]) * FOOT
        area = ground.base_area(N=load, q=1500 * PSF, gamma=150 * PCF, t=float(row["thickness_in"]) * INCH)
        off += [
            ground.round_diameter(A=area) / INCH - float(row["round_in"]),
            ground.square_side(A=area) / INCH - float(row["square_in"]),
        ]
    assert len(off) == 42
    assert sum(round(x) == 0 for x in off) >= 32
    assert abs(sum(off) / len(off)) < 0.25


def test_the_worked_footing_comes_out_as_printed():
    case = CASES["footing"]
    load = float(case["post_spacing_ft"]) * case["joist_span_ft"] / 2 * case["load_psf"]
    assert abs(load - float(case["load_lb"])) <= half_last_digit(case["load_lb"])
    q = case["soil_psf"] * PSF
    area = ground.base_area(N=load * POUND, q=q)
    assert abs(area / INCH**2 - float(case["area_in2"])) <= half_last_digit(case["area_in2"])
    assert abs(ground.round_diameter(A=area) / INCH - float(case["round_in"])) <= half_last_digit(case["round_in"])
    assert abs(ground.square_side(A=area) / INCH - float(case["square_in"])) <= half_last_digit(case["square_in"])
    tube = math.pi / 4 * (case["tube_in"] * INCH) ** 2
    assert ground.pressure(N=load * POUND, W=0.0, A=tube) > q
    assert q * tube / POUND == pytest.approx(case["tube_bears_lb"], abs=0.5)


def test_the_worked_ledger_comes_out_to_the_count_and_the_spacing():
    case = CASES["ledger"]
    span, length, end = case["joist_span_ft"] * FOOT, case["ledger_in"] * INCH, case["end_in"] * INCH
    row = safety.ledger_row(fixing="half-inch-lags", joist_span=span)
    count, apart = ledgers.fixings_in(length=length, end=end, apart=row.spacing)
    assert count == case["lags"]
    assert abs(apart / INCH - float(case["lag_spacing_in"])) <= half_last_digit(case["lag_spacing_in"])
    row = safety.ledger_row(fixing="half-inch-bolts", joist_span=span)
    assert ledgers.fixings_in(length=length, end=end, apart=row.spacing)[0] == case["bolts"]
    by_rule = ledgers.fixings_in(length=length, end=end, apart=float(case["rule_spacing_in"]) * INCH)[0]
    assert by_rule == case["by_rule"]


@pytest.mark.parametrize(
    ("standard", "soil", "printed", "unit"),
    [
        ("japan", "rock", 1000, 1e-3),
        ("japan", "cemented-sand", 500, 1e-3),
        ("japan", "soft-rock", 300, 1e-3),
        ("japan", "dense-gravel", 300, 1e-3),
        ("japan", "dense-sand", 200, 1e-3),
        ("japan", "sand", 50, 1e-3),
        ("japan", "stiff-clay", 100, 1e-3),
        ("japan", "clay", 20, 1e-3),
        ("japan", "stiff-loam", 100, 1e-3),
        ("japan", "loam", 50, 1e-3),
        ("north-america", "rock", 12000, PSF),
        ("north-america", "soft-rock", 4000, PSF),
        ("north-america", "dense-gravel", 3000, PSF),
        ("north-america", "dense-sand", 2000, PSF),
        ("north-america", "sand", 2000, PSF),
        ("north-america", "stiff-clay", 1500, PSF),
        ("north-america", "clay", 1500, PSF),
    ],
)
def test_what_the_ground_is_presumed_to_bear_is_the_printed_figure(standard, soil, printed, unit):
    assert safety.ground_bearing(standard=standard, soil=soil).value == pytest.approx(printed * unit, rel=1e-4)


@pytest.mark.parametrize(("standard", "soil"), [("europe", "sand"), ("north-america", "loam")])
def test_where_a_standard_presumes_nothing_nothing_is_given(standard, soil):
    assert safety.ground_bearing(standard=standard, soil=soil) is None


@pytest.mark.parametrize(
    ("fixing", "printed"),
    [
        ("half-inch-lags", (30, 23, 18, 15, 13, 11, 10)),
        ("half-inch-bolts", (36, 36, 34, 29, 24, 21, 19)),
        ("half-inch-bolts-spaced", (36, 36, 29, 24, 21, 18, 16)),
    ],
)
def test_ledger_spacings_are_the_printed_ones_up_to_each_span(fixing, printed):
    for span, inches in zip((6, 8, 10, 12, 14, 16, 18), printed, strict=True):
        row = safety.ledger_row(fixing=fixing, joist_span=span * FOOT)
        assert row.spacing == pytest.approx(inches * INCH, rel=1e-12)
        assert safety.ledger_row(fixing=fixing, joist_span=(span - 1.9) * FOOT).spacing == row.spacing
    assert safety.ledger_row(fixing=fixing, joist_span=18.01 * FOOT) is None
