"""What comes after the price: fewer patterns and sticks, longer ends, pieces for one place together."""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from brute import faults_of, price_of
from problems import featured, middling

from evenfoot.solvers.cutstock import CutGoal, CutItem, CutOffcut, CutStock, CutUse, CutWishes, polish, solve_cutting
from evenfoot.solvers.cutstock.answer import into_runs
from evenfoot.solvers.cutstock.combine import fewer

GOALS = (CutGoal.FEWER_STICKS, CutGoal.FEWER_PATTERNS, CutGoal.LONGER_OFFCUTS, CutGoal.TOGETHER)
STOCKS = [CutStock(size=100, price=1)]


def measured(items, stocks, uses, goal, keep):
    """What a goal is measured by, reckoned here anew; less is better."""
    sticks = [u for u in uses for _ in range(u.times)]
    if goal is CutGoal.FEWER_STICKS:
        return len(sticks)
    if goal is CutGoal.FEWER_PATTERNS:
        looks = set()
        for u in sticks:
            held = Counter()
            for item, c in zip(items, u.counts, strict=True):
                held[(item.size, item.grade)] += c
            looks.add((u.stock, tuple(sorted((+held).items()))))
        return len(looks)
    if goal is CutGoal.LONGER_OFFCUTS:
        total = 0
        for u in sticks:
            rooms = stocks[u.stock].runs or (stocks[u.stock].size,)
            for room, counts in zip(rooms, u.runs or (u.counts,), strict=True):
                end = room - sum(c * i.size for c, i in zip(counts, items, strict=True))
                total -= end * end if end >= keep else 0
        return total
    return sum(
        len({i.place for i, c in zip(items, u.counts, strict=True) if c and i.place is not None}) for u in sticks
    )


@pytest.mark.parametrize("seed", range(80))
@pytest.mark.parametrize("turn", range(4))
def test_a_wish_never_spoils_the_price_or_an_earlier_wish(seed, turn):
    items, stocks = featured(seed) if seed % 2 else middling(seed)
    goals = (*GOALS[turn:], *GOALS[:turn])
    plain = solve_cutting(items, stocks)
    wished = solve_cutting(items, stocks, None, CutWishes(goals=goals, keep=7))
    assert faults_of(items, stocks, wished) == []
    ties = [sum(stocks[u.stock].tie * u.times for u in r.uses) for r in (wished, plain)]
    scores = [
        (price_of(items, stocks, r.uses), tie, *(measured(items, stocks, r.uses, g, 7) for g in goals))
        for r, tie in zip((wished, plain), ties, strict=True)
    ]
    assert scores[0] <= scores[1]


def test_two_patterns_with_the_same_pieces_become_one():
    items = [CutItem(size=40, demand=2), CutItem(size=20, demand=4)]
    uses = (CutUse(stock=0, times=1, counts=(2, 0)), CutUse(stock=0, times=1, counts=(0, 4)))
    (use,) = polish(items, STOCKS, uses, CutWishes(goals=(CutGoal.FEWER_PATTERNS,)))
    assert (use.times, use.counts) == (2, (1, 2))


def test_three_patterns_become_two():
    lots = [(0, 1, (2, 0)), (0, 1, (0, 3)), (0, 1, (1, 1))]
    found = [new for old, new in fewer(lots, [(100, [40, 30])]) if len(old) == 3]
    assert found
    for new in found:
        assert sum(n for _, n, _ in new) == 3
        assert tuple(sum(n * c[i] for _, n, c in new) for i in range(2)) == (3, 4)
        assert all(a * 40 + b * 30 <= 100 for *_, (a, b) in new)


def test_sticks_of_three_lengths_stay_three_patterns():
    lots = [(0, 1, (2,)), (1, 1, (1,)), (2, 1, (3,))]
    assert list(fewer(lots, [(99, [1])] * 3)) == []


def test_sticks_of_two_lengths_keep_their_lengths():
    lots = [(0, 1, (2, 0)), (0, 1, (0, 2)), (1, 2, (0, 1))]
    found = [new for old, new in fewer(lots, [(3, [1, 1])] * 2) if len(old) == 3]
    assert all(sorted((j, n) for j, n, _ in new) == [(0, 2), (1, 2)] for new in found)
    assert found


def test_pieces_for_one_place_come_from_one_stick():
    items = [CutItem(size=50, demand=2, place=0), CutItem(size=50, demand=2, place=1)]
    uses = (CutUse(stock=0, times=2, counts=(1, 1)),)
    made = polish(items, STOCKS, uses, CutWishes(goals=(CutGoal.TOGETHER,)))
    assert sorted((u.times, u.counts) for u in made) == [(1, (0, 2)), (1, (2, 0))]


def test_one_long_end_is_better_than_two_short_ones():
    items = [CutItem(size=30, demand=2)]
    uses = (CutUse(stock=0, times=1, counts=(1,)), CutUse(stock=1, times=1, counts=(1,)))
    stocks = [CutStock(size=70, price=1), CutStock(size=100, price=1)]
    long = polish(items, stocks, uses, CutWishes(goals=(CutGoal.LONGER_OFFCUTS,)))
    assert price_of(items, stocks, long) <= 2
    assert [u.counts for u in long] == [(2,)]


def test_an_end_of_value_pays_for_the_stick_it_is_on():
    end = CutOffcut(keep=30, value=2, kerf=3)
    items, stocks = (
        [CutItem(size=53, demand=1)],
        [CutStock(size=103, price=400, offcut=end), CutStock(size=63, price=310)],
    )
    # Long stick: 400 less an end of 50 with 3 for the saw, 47 at 2; the short one has no end worth keeping.
    result = solve_cutting(items, stocks)
    assert result.cost == 400 - 94 == 306
    assert result.is_proved
    nearly = solve_cutting(items, [replace(stocks[0], price=405), stocks[1]])
    assert nearly.cost == 310


def test_no_piece_spans_two_runs():
    items = [CutItem(size=50, demand=1), CutItem(size=30, demand=2)]
    stocks = [CutStock(size=120, price=9), CutStock(size=120, price=1, available=1, runs=(45, 75))]
    result = solve_cutting(items, stocks)
    assert result.cost == 9
    assert faults_of(items, stocks, result) == []
    joined = solve_cutting(items, [stocks[0], replace(stocks[1], runs=())])
    assert joined.cost == 1


def test_pieces_are_dealt_to_runs_wherever_a_deal_exists():
    dealt = into_runs((7, 5, 4), (12, 12), (1, 1, 3))
    assert sorted(dealt) == [(0, 0, 3), (1, 1, 0)]
    assert into_runs((6, 5), (10, 5), (1, 2)) is None


def test_without_a_wish_or_a_stick_nothing_changes():
    uses = (CutUse(stock=0, times=2, counts=(1,)),)
    assert polish([CutItem(size=5, demand=2)], STOCKS, uses, CutWishes()) == uses
    assert polish([CutItem(size=5, demand=2)], STOCKS, (), CutWishes(goals=GOALS)) == ()
