"""Longer offcuts from the same sticks."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from brute import faults_of
from problems import middling

from evenfoot.solvers.cutstock import CutItem, CutStock, CutUse, gather, solve_cutting


def longest(items, stocks, uses):
    return max(stocks[u.stock].size - sum(c * i.size for c, i in zip(u.counts, items, strict=True)) for u in uses)


@pytest.mark.parametrize("seed", range(60))
def test_gathering_keeps_the_sticks_and_pieces_and_never_shortens_the_longest_offcut(seed):
    items, stocks = middling(seed)
    result = solve_cutting(items, stocks)
    uses = gather(items, stocks, result.uses, keep=1)
    gathered = type(result)(uses=uses, cost=result.cost, bound=result.bound, proof=result.proof)
    assert faults_of(items, stocks, gathered) == []
    assert longest(items, stocks, uses) >= longest(items, stocks, result.uses)


ITEMS = [CutItem(size=30, demand=2), CutItem(size=20, demand=2)]
STOCKS = [CutStock(size=100, price=1)]


def test_a_piece_moves_to_where_it_fits():
    uses = (CutUse(stock=0, times=1, counts=(0, 2)), CutUse(stock=0, times=1, counts=(2, 0)))
    assert longest(ITEMS, STOCKS, gather(ITEMS, STOCKS, uses, keep=10)) == 80


def test_the_last_piece_of_a_stick_is_only_exchanged():
    uses = (CutUse(stock=0, times=1, counts=(1, 2)), CutUse(stock=0, times=1, counts=(1, 0)))
    assert longest(ITEMS, STOCKS, uses) == 70
    assert longest(ITEMS, STOCKS, gather(ITEMS, STOCKS, uses, keep=10)) == 80


def test_pieces_are_exchanged_where_none_fits_alone():
    items = [CutItem(size=50, demand=1), CutItem(size=40, demand=2), CutItem(size=25, demand=1)]
    uses = (CutUse(stock=0, times=1, counts=(0, 2, 0)), CutUse(stock=0, times=1, counts=(1, 0, 1)))
    # Offcuts 20 and 25: the 50 against a 40 leaves 10 and 35.
    assert longest(items, STOCKS, gather(items, STOCKS, uses, keep=10)) == 35


def test_an_offcut_too_short_to_keep_is_not_worth_new_patterns():
    uses = (CutUse(stock=0, times=1, counts=(1, 2)), CutUse(stock=0, times=1, counts=(1, 0)))
    assert gather(ITEMS, STOCKS, uses, keep=81) == uses


def test_a_better_piece_stays_off_a_lesser_stick():
    items = [CutItem(size=30, demand=1, grade=1), CutItem(size=60, demand=1, grade=0)]
    stocks = [CutStock(size=100, price=2, grade=1), CutStock(size=100, price=1, grade=0)]
    uses = (CutUse(stock=0, times=1, counts=(1, 0)), CutUse(stock=1, times=1, counts=(0, 1)))
    assert gather(items, stocks, uses, keep=1) == uses


def test_moving_ends_after_so_many_moves(monkeypatch):
    monkeypatch.setattr(sys.modules["evenfoot.solvers.cutstock.gather"], "MOST_MOVES", 0)
    uses = (CutUse(stock=0, times=1, counts=(1, 2)), CutUse(stock=0, times=1, counts=(1, 0)))
    assert gather(ITEMS, STOCKS, uses, keep=1) == uses


def test_no_stick_at_all_stays_none():
    assert gather(ITEMS, STOCKS, (), keep=1) == ()
