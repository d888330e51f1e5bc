"""Descents over a list, prices that leave it short, and larger pieces that serve for smaller: never a false word."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from brute import cheapest, faults_of
from late_steps import every_step
from problems import featured, middling, small

from evenfoot.solvers.cutstock import CutItem, CutStock, descent, master, solve_cutting
from evenfoot.solvers.cutstock.bound import Steps
from evenfoot.solvers.cutstock.branch import Branching, is_plan
from evenfoot.solvers.cutstock.descent import Descent
from evenfoot.solvers.cutstock.generate import generate, lean
from evenfoot.solvers.cutstock.master import Master
from evenfoot.solvers.cutstock.patterns import list_patterns
from evenfoot.solvers.cutstock.problem import prepare

SEEDS = range(30)
TRUTH = {seed: solve_cutting(*middling(seed)).cost for seed in SEEDS}


def descent_over_all(seed, *, below):
    """Descend over every full pattern for a plan that costs less than the cheapest and ``below`` more."""
    problem = prepare(*middling(seed))
    table = list_patterns(problem, None, 0, 20_000)
    ceiling = TRUTH[seed] // problem.price_unit + below
    return problem, Descent(Branching(problem, table.patterns(), ceiling, Steps(problem, ceiling)), Random(7))


@pytest.mark.parametrize("pieces", [0, 12, 75])
def test_descents_mostly_find_the_cheapest_plan_and_never_a_false_one(pieces, monkeypatch):
    monkeypatch.setattr(descent, "LAST_PIECES", pieces)
    found = 0
    for seed in SEEDS:
        problem, search = descent_over_all(seed, below=1)
        uses = search.run(300_000)
        if uses is not None:
            assert is_plan(problem, uses)
            assert problem.cost(uses) * problem.price_unit == TRUTH[seed], seed
            found += 1
    assert found >= len(SEEDS) // 2


@pytest.mark.parametrize("seed", SEEDS)
def test_a_descent_finds_nothing_where_there_is_nothing(seed):
    _, search = descent_over_all(seed, below=0)
    assert search.run(100_000) is None


def test_a_descent_ends_at_once_where_even_the_fractional_plan_is_too_dear():
    problem = prepare([CutItem(size=6, demand=9)], [CutStock(size=10, price=3)])
    search = Descent(Branching(problem, [(0, (1,))], 7, Steps(problem, 9)), Random(7))
    assert search.run(10**9) is None
    assert search.spent < 10_000


def test_descents_whose_plans_are_all_refused_come_to_an_end(monkeypatch):
    monkeypatch.setattr(descent, "is_plan", lambda *_: False)
    problem = prepare([CutItem(size=5, demand=4)], [CutStock(size=10, price=3)])
    search = Descent(Branching(problem, [(0, (2,))], 3, Steps(problem, 9)), Random(7))
    assert search.run(50_000) is None
    assert search.spent > 50_000


def test_a_descent_takes_no_more_sticks_than_there_are():
    """Free sticks would end it soonest; what is kept of them is counted."""
    items = [CutItem(size=40, demand=6), CutItem(size=25, demand=4)]
    stocks = [CutStock(size=100, price=10), CutStock(size=65, price=0, available=2)]
    problem = prepare(items, stocks)
    table = list_patterns(problem, None, 0, 1_000)
    least = cheapest(items, stocks) // problem.price_unit
    for seed in range(20):
        branching = Branching(problem, table.patterns(), least + 1, Steps(problem, least))
        uses = Descent(branching, Random(seed)).run(100_000)
        assert uses is None or (is_plan(problem, uses) and problem.cost(uses) == least)


@pytest.mark.parametrize("seed", SEEDS)
def test_prices_for_slightly_other_demands_prove_no_more_than_the_truth(seed):
    problem = prepare(*middling(seed))
    truth = TRUTH[seed] // problem.price_unit
    plan = Master(problem)
    duals = generate(problem, plan, Steps(problem, 0), rounds=200, to_the_end=True)
    leaned = lean(problem, plan, duals, duals.scale, rounds=50)
    assert leaned.bound <= truth
    assert leaned.base >= 0.9 * duals.base
    budget = truth * leaned.scale - leaned.base
    listed = set(list_patterns(problem, leaned, budget, 50_000).patterns())
    everything = list_patterns(problem, None, 0, 50_000).patterns()
    search = Branching(problem, [p for p in everything if p in listed], truth + 1, Steps(problem, 0))
    search.run(10**6)
    assert problem.cost(search.found) == truth, "the cheapest plan lies inside the list"


def test_other_prices_can_shorten_a_list_a_thousandfold():
    """Ten pieces over half a stick settle the bound alone; priced so, every filling of the rest is in doubt."""
    r = Random(5)
    items = [CutItem(size=510 + 7 * k, demand=1) for k in range(10)]
    items += [CutItem(size=r.randrange(20, 240), demand=1) for _ in range(24)]
    problem = prepare(items, [CutStock(size=1000, price=1)])
    plan = Master(problem)
    duals = generate(problem, plan, Steps(problem, 0), rounds=300, to_the_end=True)
    leaned = lean(problem, plan, duals, duals.scale // 1000, rounds=100)

    def length(prices):
        table = list_patterns(problem, prices, 10 * prices.scale - prices.base, 200_000)
        return 200_000 if table is None else len(table.stocks)

    assert length(leaned) <= length(duals)


@pytest.mark.parametrize("seed", SEEDS)
def test_larger_pieces_that_serve_for_smaller_never_raise_the_bound_too_far(seed):
    problem = prepare(*middling(seed))
    loose, plain = Master(problem, is_exchanging=True), Master(problem)
    duals = generate(problem, loose, Steps(problem, 0), rounds=200, to_the_end=True)
    assert duals.bound <= TRUTH[seed] // problem.price_unit
    generate(problem, plain, Steps(problem, 0), rounds=200, to_the_end=True)
    assert loose.value <= plain.value + 1e-6
    for i in range(len(problem.sizes) - 1):
        if problem.grades[i + 1] <= problem.grades[i]:
            assert loose.duals[i] >= loose.duals[i + 1] - 1e-6, "a larger piece is worth no less"


def test_looking_at_likely_columns_alone_reaches_the_same_value(monkeypatch):
    for seed in SEEDS:
        problem = prepare(*middling(seed))
        patterns = list_patterns(problem, None, 0, 20_000).patterns()
        values = []
        for many in (10**9, 3):
            monkeypatch.setattr(master, "MANY", many)
            monkeypatch.setattr(master, "LIKELY", 2)
            plan = Master(problem)
            plan.add(patterns)
            plan.solve()
            values.append(plan.value)
        assert np.isclose(*values, rtol=1e-9)


@pytest.mark.parametrize("kind", [small, featured])
@pytest.mark.parametrize("block", range(4))
def test_with_every_late_step_at_work_small_problems_are_solved_and_proved(kind, block, monkeypatch):
    every_step(monkeypatch.setattr)
    steps = dict.fromkeys((Descent, Branching), 0)
    for step in steps:
        true_run = step.run

        def run(self, work, step=step, true_run=true_run):
            steps[step] += 1
            return true_run(self, work)

        monkeypatch.setattr(step, "run", run)
    for seed in range(50 * block, 50 * block + 50):
        items, stocks = kind(seed)
        result = solve_cutting(items, stocks)
        assert faults_of(items, stocks, result) == [], seed
        assert result.is_proved, seed
        assert result.cost == cheapest(items, stocks), seed
    assert min(steps.values()) > 20, "the late steps were at work"
