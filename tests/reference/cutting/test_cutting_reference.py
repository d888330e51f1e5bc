"""Cutting held against published optima, printed cut lists and prices."""

from __future__ import annotations

import json
import sys
import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "unit" / "cutting"))
from cutting_factory import piece, stock_item

from evenfoot.cutting import pieces_per_stick, plan_cuts
from evenfoot.job import Yard, kinds
from evenfoot.solvers.cutstock import CutItem, CutLimits, CutProof, CutStock, solve_cutting

HERE = Path(__file__).parent
CASES = tomllib.loads((HERE / "cases.toml").read_text(encoding="utf-8"))
INSTANCES = [json.loads(line) for line in (HERE / "instances.jsonl").read_text(encoding="utf-8").splitlines()]
INCH = 25.4


LONG = {"falkenauer_t", "scholl3", "hard28"}
"""Classes that take seconds; the benchmark runs them all."""
SLOW = {"timber_l_05"}
"""Proved in a few seconds. Its plan costs 31 less than the best known when the file was made."""


SETTLED = {"falkenauer_t249_18", "falkenauer_t501_19", "hard28_BPP119", "hard28_BPP175"}
"""Of the long classes, those that the last changes were made for: proved in a few seconds each."""


def instances(*, is_long):
    return [
        pytest.param(i, marks=pytest.mark.slow if is_long or i["id"] in SLOW else ())
        for i in INSTANCES
        if (i["class"] in LONG) == is_long
    ]


@pytest.mark.parametrize("instance", instances(is_long=True)[::4], ids=lambda i: i["id"])
def test_no_published_value_is_contradicted(instance):
    kerf = instance["kerf"]
    items = [CutItem(size=length + kerf, demand=n, grade=g) for length, n, g in instance["items"]]
    stocks = [
        CutStock(size=length - 2 * instance["trim"] + kerf, price=p, available=a, grade=g)
        for length, p, a, g in instance["stocks"]
    ]
    result = solve_cutting(items, stocks, CutLimits(work=20_000, program_nodes=0))
    assert result.bound <= instance["upper"]
    assert result.cost >= instance["lower"]
    assert sum(stocks[u.stock].price * u.times for u in result.uses) == result.cost


HARD = [pytest.param(i, marks=pytest.mark.slow) for i in INSTANCES if i["id"] in SETTLED]


@pytest.mark.parametrize("instance", [*instances(is_long=False), *HARD], ids=lambda i: i["id"])
def test_published_optima_are_reached_and_proved(instance):
    kerf, trim = instance["kerf"], instance["trim"]
    items = [CutItem(size=length + kerf, demand=n, grade=g) for length, n, g in instance["items"]]
    stocks = [
        CutStock(size=length - 2 * trim + kerf, price=p, available=a, grade=g) for length, p, a, g in instance["stocks"]
    ]
    result = solve_cutting(items, stocks)
    assert instance["lower"] <= result.cost == result.bound <= instance["upper"]
    assert result.proof is not CutProof.NONE
    assert sum(stocks[u.stock].price * u.times for u in result.uses) == result.cost


def test_posts_longer_than_their_stock():
    case = CASES["posts_longer_than_stock"]
    kerf, trim = case["kerf_in"] * INCH, case["trim_in"] * INCH
    found = [
        pieces_per_stick(case["post_in"] * INCH, feet * 12 * INCH, kerf=kerf, end_trim=trim)
        for feet in case["stock_ft"]
    ]
    assert found == case["per_stick"]
    yard = Yard(stock=(stock_item([8 * 12 * INCH]),), rack=(), kerf=kerf, end_trim=trim, keep=300.0)
    posts = tuple(piece(f"P{n}", case["post_in"] * INCH, use="post") for n in range(case["pieces"]))
    plan = plan_cuts(posts, yard)
    assert plan.sections == ()
    check = next(c for c in plan.checks if c.rule == "cut-too-long")
    assert check.subject == "P0"
    assert check.fact("count") == 4
    assert check.fact("short_mm") == pytest.approx(case["shorter_by_in"] * INCH, abs=0.4)  # a 64th of an inch


def test_the_least_waste_for_four_posts_is_ninety_inches_either_way():
    case = CASES["posts_longer_than_stock"]
    kerf, trim = case["kerf_in"] * INCH, case["trim_in"] * INCH
    yard = Yard(
        stock=(stock_item([f * 12 * INCH for f in case["stock_ft"]]),), rack=(), kerf=kerf, end_trim=trim, keep=300.0
    )
    posts = tuple(piece(f"P{n}", case["post_in"] * INCH, use="post") for n in range(case["pieces"]))
    (section,) = plan_cuts(posts, yard).sections
    assert section.is_proved
    assert section.bought_length == pytest.approx(40 * 12 * INCH)
    assert section.bought_length - section.net_length == pytest.approx(90 * INCH)


def test_a_published_cut_list_fits_its_sticks():
    case = CASES["article_cut_list"]
    rows = zip(case["lengths_mm"], case["counts"], case["sticks_mm"], case["used_mm"], strict=True)
    for length, count, stick, used in rows:
        kerf = case["kerf_mm"]
        assert pieces_per_stick(length, stick, kerf=kerf, end_trim=0.0) >= count
        assert count * length + (count - 1) * kerf == used
        assert pieces_per_stick(length, used, kerf=kerf, end_trim=0.0) == count
        assert pieces_per_stick(length, used - 0.5, kerf=kerf, end_trim=0.0) == count - 1


def test_a_stick_costs_its_volume():
    case = CASES["price_by_volume"]
    keys = ("width_mm", "depth_mm", "length_mm", "yen_m3", "yen")
    for width, depth, length, rate, yen in zip(*(case[k] for k in keys), strict=True):
        item = stock_item([length], width=width, depth=depth, price=str(rate), by=kinds.PriceBy.CUBIC_METRE)
        yard = Yard(stock=(item,), rack=(), kerf=3.0, end_trim=0.0, keep=300.0)
        (section,) = plan_cuts((piece("a", length, width=width, depth=depth),), yard).sections
        assert section.cost == pytest.approx(Decimal(yen), abs=1)  # the page prints whole yen


def test_the_whole_published_list_takes_no_more_timber_than_the_article():
    case = CASES["published_cut_list"]

    def section(name):
        return dict(zip(("width", "depth"), map(float, name.split("x")), strict=True))

    wanted = tuple(
        piece(f"{length}.{n}", float(length), **section(name))
        for name, length, count in case["need"]
        for n in range(count)
    )
    stock = tuple(
        stock_item([float(length)], **section(name), where=f"{name} {length}") for name, length in case["sticks"]
    )
    plan = plan_cuts(wanted, Yard(stock=stock, rack=(), kerf=float(case["kerf_mm"]), end_trim=0.0, keep=300.0))
    assert plan.left_out == ()
    for part in plan.sections:
        assert part.is_proved
        assert part.bought_length <= case["bought_mm"][f"{part.width:g}x{part.depth:g}"]
    by_section = {f"{part.width:g}x{part.depth:g}": part.bought_length for part in plan.sections}
    assert (by_section["90x90"], by_section["20x105"]) == (2900.0, 28000.0)
