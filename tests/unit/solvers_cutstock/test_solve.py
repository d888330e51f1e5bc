"""The solver as a whole: the cheapest plan, safe proofs, and what it refuses."""

from __future__ import annotations

import random
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from brute import cheapest, faults_of, full_fillings, longest_first
from problems import featured, middling, small, timber_job

from evenfoot.errors import NoSolutionError, OutOfRangeError
from evenfoot.solvers.cutstock import CutGoal, CutItem, CutLimits, CutProof, CutStock, CutWishes, solve_cutting


@pytest.mark.parametrize("block", range(8))
def test_small_problems_are_solved_and_proved_with_every_feature_on(block):
    for seed in range(50 * block, 50 * block + 50):
        items, stocks = small(seed)
        result = solve_cutting(items, stocks)
        assert faults_of(items, stocks, result) == [], seed
        assert result.is_proved, seed
        assert result.cost == cheapest(items, stocks), seed


WISHES = CutWishes(
    goals=(CutGoal.FEWER_STICKS, CutGoal.FEWER_PATTERNS, CutGoal.LONGER_OFFCUTS, CutGoal.TOGETHER), keep=5
)


@pytest.mark.parametrize("block", range(8))
def test_offcuts_of_value_and_clear_runs_are_reckoned_exactly(block):
    for seed in range(50 * block, 50 * block + 50):
        items, stocks = featured(seed)
        result = solve_cutting(items, stocks, None, WISHES)
        assert faults_of(items, stocks, result) == [], seed
        assert result.is_proved, seed
        assert result.cost == cheapest(items, stocks), seed


@pytest.mark.parametrize("block", range(4))
def test_timber_jobs_are_cut_right_and_proved(block):
    for seed in range(15 * block, 15 * block + 15):
        items, stocks = timber_job(seed)
        result = solve_cutting(items, stocks, CutLimits(program_nodes=0))
        assert faults_of(items, stocks, result) == [], seed
        assert result.is_proved, seed
        dearest = max((s for s in stocks if s.available is None), key=lambda s: (s.size, s.grade))
        assert result.cost <= dearest.price * longest_first(items, dearest.size), seed


def least_by_program(items, stocks):
    """Return the least price by an integer program over every filling there is (an independent solver)."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    columns = [(j, p) for j, stock in enumerate(stocks) for p in full_fillings(items, stock)]
    counts = np.array([p for _, p in columns]).T
    rows = [LinearConstraint(counts, [i.demand for i in items], np.inf)]
    for j, stock in enumerate(stocks):
        if stock.available is not None:
            rows.append(LinearConstraint(np.array([[float(k == j) for k, _ in columns]]), 0, stock.available))
    prices = [stocks[j].price for j, _ in columns]
    answer = milp(prices, constraints=rows, integrality=np.ones(len(columns)), bounds=Bounds(0, np.inf))
    return round(answer.fun)


@pytest.mark.parametrize("seed", range(40))
def test_middling_problems_equal_an_independent_integer_program(seed):
    items, stocks = middling(seed)
    result = solve_cutting(items, stocks)
    assert faults_of(items, stocks, result) == []
    assert result.is_proved
    assert result.cost == least_by_program(items, stocks)


TIGHT = (
    CutLimits(pricing_rounds=1, work=0, tie_work=0),
    CutLimits(pricing_rounds=2, work=10, patterns=20),
    CutLimits(pricing_rounds=3, work=100, patterns=50),
    CutLimits(whole=1, work=500),
)


@pytest.mark.parametrize("limits", TIGHT)
def test_a_search_cut_short_still_gives_a_plan_and_a_true_bound(limits):
    unproved = 0
    for seed in range(40, 90):
        items, stocks = middling(seed)
        result, full = solve_cutting(items, stocks, limits), solve_cutting(items, stocks)
        assert faults_of(items, stocks, result) == [], seed
        assert result.bound <= full.cost <= result.cost, seed
        assert not result.is_proved or result.cost == full.cost, seed
        unproved += not result.is_proved
    assert unproved, "limits as tight as these must leave something open, else this tests nothing"


@pytest.mark.parametrize("seed", range(30))
def test_a_plan_never_costs_more_than_longest_first(seed):
    items, stocks = middling(seed)
    endless = [s for s in stocks if s.available is None and s.grade == max(t.grade for t in stocks)]
    for stock in endless:
        if all(i.size <= stock.size for i in items):
            assert solve_cutting(items, stocks).cost <= stock.price * longest_first(items, stock.size)


@pytest.mark.parametrize("seed", range(25))
def test_more_choice_a_freer_offcut_or_a_better_price_never_costs_more(seed):
    items, stocks = middling(seed)
    r = random.Random(seed)
    plain = solve_cutting(items, stocks)
    choice = [*stocks, CutStock(size=r.randint(50, 1000), price=r.randint(20, 200), grade=r.randint(0, 2))]
    offcut = [*stocks, CutStock(size=r.randint(50, 1000), price=0, available=1)]
    cheaper = [replace(stocks[0], price=stocks[0].price - 3), *stocks[1:]]
    for better in (choice, offcut, cheaper):
        assert solve_cutting(items, better).cost <= plain.cost


def test_the_same_problem_gives_the_same_plan():
    items, stocks = middling(7)
    assert solve_cutting(items, stocks) == solve_cutting(items, stocks)


def test_nothing_wanted_costs_nothing():
    result = solve_cutting([CutItem(size=5, demand=0)], [CutStock(size=9, price=4)])
    assert (result.uses, result.cost, result.bound, result.proof) == ((), 0, 0, CutProof.BOUND)


def test_equal_items_keep_their_own_places():
    items = [CutItem(size=30, demand=2), CutItem(size=20, demand=1), CutItem(size=30, demand=1)]
    result = solve_cutting(items, [CutStock(size=60, price=1)])
    assert faults_of(items, [CutStock(size=60, price=1)], result) == []
    assert result.cost == 2


def test_of_plans_of_one_price_the_one_with_fewer_sticks_is_taken():
    items = [CutItem(size=190, demand=28)]
    stocks = [CutStock(size=200, price=20, tie=1), CutStock(size=400, price=40, tie=1)]
    (use,) = solve_cutting(items, stocks).uses
    assert (use.stock, use.times, use.counts) == (1, 14, (2,))


def test_free_offcuts_are_not_used_for_nothing():
    items = [CutItem(size=40, demand=2)]
    stocks = [CutStock(size=100, price=0, available=5, tie=1), CutStock(size=100, price=50, tie=2)]
    (use,) = solve_cutting(items, stocks).uses
    assert (use.stock, use.times) == (0, 1)


def many_sizes(count):
    r = random.Random(count)
    items = [CutItem(size=r.randint(600, 7900), demand=1) for _ in range(count)]
    stocks = [CutStock(size=2 * length - 54, price=length * 30) for length in (2000, 3000, 4000)]
    return items, [*stocks, CutStock(size=5000, price=0, available=2)]


def test_very_many_sizes_are_planned_in_parts_with_a_true_bound():
    items, stocks = many_sizes(100)
    part, whole = solve_cutting(items, stocks, CutLimits(whole=90)), solve_cutting(items, stocks)
    assert faults_of(items, stocks, part) == []
    assert part.bound <= whole.cost <= part.cost
    assert part.cost - part.bound <= 0.02 * part.cost


FAULTS = [
    ([CutItem(size=0, demand=1)], [CutStock(size=9, price=1)], "items[0].size", "cut-number", "0"),
    ([CutItem(size=3, demand=-1)], [CutStock(size=9, price=1)], "items[0].demand", "cut-number", "-1"),
    ([CutItem(size=3, demand=1)], [CutStock(size=-9, price=1)], "stocks[0].size", "cut-number", "-9"),
    ([CutItem(size=3, demand=1)], [CutStock(size=9, price=-1)], "stocks[0].price", "cut-number", "-1"),
    (
        [CutItem(size=3, demand=1)],
        [CutStock(size=9, price=1, available=-2)],
        "stocks[0].available",
        "cut-number",
        "-2",
    ),
]


@pytest.mark.parametrize(("items", "stocks", "where", "code", "found"), FAULTS)
def test_numbers_that_cannot_be_cut_with_are_refused(items, stocks, where, code, found):
    with pytest.raises(OutOfRangeError) as error:
        solve_cutting(items, stocks)
    assert (error.value.fault.where, error.value.fault.code, error.value.fault.found) == (where, code, found)


def test_an_item_needs_endless_stock_of_its_size_and_grade():
    stocks = [
        CutStock(size=90, price=1, available=4),
        CutStock(size=90, price=1, grade=0),
        CutStock(size=50, price=1, grade=1),
    ]
    with pytest.raises(NoSolutionError) as error:
        solve_cutting([CutItem(size=60, demand=1), CutItem(size=80, demand=1, grade=1)], stocks)
    fault = error.value.fault
    assert (fault.where, fault.code, fault.found, fault.allowed) == ("items[1].size", "cut-no-stock", "80", "50")


def test_a_cutting_plan_needs_no_slow_import():
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from problems import middling\n"
        "from evenfoot.solvers.cutstock import solve_cutting\n"
        "before = 'scipy.optimize' in sys.modules\n"
        "[solve_cutting(*middling(seed)) for seed in range(5)]\n"
        "print(before == ('scipy.optimize' in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(Path(__file__).parent)], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "True"
