"""The parts that a proof stands on: knapsack, bounds from any prices, lists of patterns, branches."""

from __future__ import annotations

import random
import sys
from itertools import product
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from brute import cheapest, fillings, full_fillings
from problems import middling, small

from evenfoot.solvers.cutstock import CutItem, CutStock, patterns
from evenfoot.solvers.cutstock.bound import Duals, Steps, prove, scale_for, volume_duals, whole_prices
from evenfoot.solvers.cutstock.branch import Branching, is_plan
from evenfoot.solvers.cutstock.cover import cheapest_cover, cut_from
from evenfoot.solvers.cutstock.greedy import Left, best_greedy, greedy
from evenfoot.solvers.cutstock.knapsack import Knapsack
from evenfoot.solvers.cutstock.master import Master
from evenfoot.solvers.cutstock.parts import by_parts, coarser
from evenfoot.solvers.cutstock.patterns import list_patterns
from evenfoot.solvers.cutstock.problem import prepare
from evenfoot.solvers.cutstock.program import plan_by_program
from evenfoot.solvers.cutstock.relaxed import Columns, Relaxed, Rows


def as_plain(problem):
    """The made-ready problem as items and stocks again, for the brute-force side."""
    items = [
        CutItem(size=s, demand=d, grade=g)
        for s, d, g in zip(problem.sizes, problem.demands, problem.grades, strict=True)
    ]
    stocks = [
        CutStock(size=s, price=p, available=a, grade=g)
        for s, p, a, g in zip(problem.stock_sizes, problem.prices, problem.limits, problem.stock_grades, strict=True)
    ]
    return items, stocks


@pytest.mark.parametrize("seed", range(40))
def test_the_knapsack_fills_every_stock_for_the_greatest_value(seed):
    problem = prepare(*middling(seed))
    items, stocks = as_plain(problem)
    r = random.Random(seed)
    worth = [r.choice([0, r.randint(1, 999)]) for _ in items]
    knapsack = Knapsack(problem)
    best = knapsack.solve(np.array(worth, dtype=np.int64))
    for j, stock in enumerate(stocks):
        assert best[j] == max(sum(c * w for c, w in zip(f, worth, strict=True)) for f in fillings(items, stock))
        pattern = knapsack.pattern(j)
        assert pattern in fillings(items, stock)
        assert sum(c * w for c, w in zip(pattern, worth, strict=True)) == best[j]


@pytest.mark.parametrize("seed", range(60))
def test_any_prices_at_all_give_a_bound_that_no_plan_undercuts(seed):
    """However wrong the prices of pieces are, what is proved from them stays below the cheapest plan."""
    problem = prepare(*small(seed))
    least = cheapest(*as_plain(problem))
    r = random.Random(seed)
    for wildness in (0.1, 1.0, 30.0):
        prices = [r.uniform(-1, 1) * wildness * max(problem.prices) for _ in problem.sizes]
        values = whole_prices(problem, prices)
        proved = prove(problem, values.tolist(), Knapsack(problem).solve(values))
        assert proved.bound <= least
    assert volume_duals(problem).bound <= least


@pytest.mark.parametrize("seed", range(60))
def test_whole_sticks_by_length_bound_every_plan(seed):
    problem = prepare(*small(seed))
    items, stocks = as_plain(problem)
    ceiling = problem.cost(best_greedy(problem, Left.of(problem)))
    bound, sticks = cheapest_cover(problem, ceiling, nodes=100_000)
    assert bound <= cheapest(items, stocks)
    total = sum(i.size * i.demand for i in items)
    if any(sticks):
        assert sum(n * s.price for n, s in zip(sticks, stocks, strict=True)) == bound < ceiling
        assert sum(n * s.size for n, s in zip(sticks, stocks, strict=True)) >= total
        assert all(s.available is None or n <= s.available for n, s in zip(sticks, stocks, strict=True))
    else:
        assert bound == ceiling
    counts = [range((total // s.size + 2) if s.available is None else s.available + 1) for s in stocks]
    if np.prod([len(c) for c in counts]) < 20_000:
        by_hand = min(
            sum(n * s.price for n, s in zip(times, stocks, strict=True))
            for times in product(*counts)
            if sum(n * s.size for n, s in zip(times, stocks, strict=True)) >= total
        )
        assert bound == min(ceiling, by_hand)


def test_many_short_pieces_are_cut_from_sticks_of_just_their_length():
    bettered = 0
    for seed in range(30):
        r = random.Random(seed)
        items = [CutItem(size=r.randint(300, 700), demand=r.randint(1, 3)) for _ in range(25)]
        problem = prepare(items, [CutStock(size=s, price=(s + 30) * 677 // 1000) for s in (2970, 3970, 4970, 5970)])
        plain = problem.cost(best_greedy(problem, Left.of(problem)))
        bound, sticks = cheapest_cover(problem, plain, nodes=400)
        plan = cut_from(problem, sticks)
        if plan is not None:
            assert is_plan(problem, plan)
            bettered += problem.cost(plan) == bound < plain
    assert bettered >= 10


def test_sticks_that_do_not_suffice_are_eked_out():
    problem = prepare(
        [CutItem(size=3, demand=9), CutItem(size=4, demand=4)],
        [CutStock(size=16, price=5), CutStock(size=40, price=12, grade=1)],
    )
    for sticks in ((1, 0), (0, 1), (2, 0)):
        assert is_plan(problem, cut_from(problem, sticks))
    assert cut_from(problem, (0, 0)) is None
    assert cut_from(problem, (4, 0)) is None


def test_a_stick_that_holds_nothing_wanted_is_passed_over():
    items = [CutItem(size=5, demand=8, grade=1), CutItem(size=6, demand=1, grade=0)]
    problem = prepare(items, [CutStock(size=9, price=1, available=2), CutStock(size=24, price=6, grade=1)])
    assert is_plan(problem, cut_from(problem, (2, 0)))


def test_an_attempt_ends_after_so_many_fillings(monkeypatch):
    monkeypatch.setattr("evenfoot.solvers.cutstock.cover.FILLINGS", 1)
    problem = prepare([CutItem(size=3 + k, demand=3) for k in range(5)], [CutStock(size=25, price=5)])
    assert is_plan(problem, cut_from(problem, (3,)))


def test_a_bound_by_whole_sticks_that_takes_too_long_claims_nothing():
    problem = prepare(
        [CutItem(size=31, demand=200)], [CutStock(size=s, price=s * 7 + s % 5) for s in (40, 70, 101, 130, 171)]
    )
    assert cheapest_cover(problem, 10**9, nodes=10) == (0, (0,) * 5)


def test_sums_of_prices_are_those_that_sticks_can_make():
    problem = prepare(
        [CutItem(size=9, demand=9)],
        [CutStock(size=10, price=7), CutStock(size=12, price=11), CutStock(size=11, price=3, available=2)],
    )
    steps = Steps(problem, 60)
    sums = {7 * a + 11 * b + 3 * c for a in range(10) for b in range(6) for c in range(3)}
    for bound in range(61):
        assert steps.up(bound) == min((s for s in sums if s >= bound), default=61)
        assert steps.down(bound) == max(s for s in sums if s <= bound)
    assert steps.up(-4) == 0
    assert steps.up(77) == 77
    assert steps.down(77) == 77
    assert Steps(problem, 10**7).up(1) == 1


def test_a_gap_without_sums_rounds_up_past_the_ceiling():
    problem = prepare([CutItem(size=9, demand=9)], [CutStock(size=10, price=8), CutStock(size=12, price=11)])
    assert Steps(problem, 10).up(9) == 11


def expected_patterns(problem):
    """Full fillings of every stock, those left out that an endless cheaper stock holds as well."""
    items, stocks = as_plain(problem)
    rank = [(p, t, j) for j, (p, t) in enumerate(zip(problem.prices, problem.ties, strict=True))]
    found = set()
    for j, stock in enumerate(stocks):
        for f in full_fillings(items, stock):
            if not any(f):
                continue
            load = sum(c * i.size for c, i in zip(f, items, strict=True))
            grade = max(i.grade for c, i in zip(f, items, strict=True) if c)
            if not any(
                rank[k] < rank[j] and s.available is None and s.size >= load and s.grade >= grade
                for k, s in enumerate(stocks)
            ):
                found.add((j, f))
    return found


def dual_prices(problem) -> Duals:
    master = Master(problem)
    master.add(
        (j, f) for j, stock in enumerate(as_plain(problem)[1]) for f in fillings(as_plain(problem)[0], stock) if any(f)
    )
    master.solve()
    values = whole_prices(problem, master.duals.tolist())
    return prove(problem, values.tolist(), Knapsack(problem).solve(values))


@pytest.mark.parametrize("cells", [6_000_000, 400])
@pytest.mark.parametrize("seed", range(25))
def test_the_list_holds_every_full_pattern_that_wastes_no_more_than_the_budget(seed, cells, monkeypatch):
    monkeypatch.setattr(patterns, "MOST_CELLS", cells)
    problem = prepare(*middling(seed))
    every = expected_patterns(problem)
    table = list_patterns(problem, None, 0, 5_000)
    assert {(int(s), tuple(c)) for s, c in table.patterns()} == every
    duals = dual_prices(problem)
    wastes = {
        (j, f): problem.prices[j] * duals.scale
        + duals.sticks[j]
        - sum(u * c for u, c in zip(duals.items, f, strict=True))
        for j, f in every
    }
    assert min(wastes.values()) >= 0
    budget = sorted(wastes.values())[len(wastes) // 3]
    table = list_patterns(problem, duals, budget, 5_000)
    listed = {(int(s), tuple(c)): int(w) for (s, c), w in zip(table.patterns(), table.waste, strict=True)}
    assert {p for p, w in wastes.items() if w <= budget} <= set(listed) <= every
    assert all(wastes[p] == w for p, w in listed.items())


def test_a_list_that_grows_too_long_is_given_up():
    problem = prepare(*middling(3))
    assert list_patterns(problem, None, 0, 2) is None


def branching(seed, ceiling=None):
    problem = prepare(*small(seed))
    items, stocks = as_plain(problem)
    every = [(j, f) for j, stock in enumerate(stocks) for f in fillings(items, stock) if any(f)]
    ceiling = problem.cost(best_greedy(problem, Left.of(problem))) + 1 if ceiling is None else ceiling
    return problem, Branching(problem, every, ceiling, Steps(problem, ceiling))


@pytest.mark.parametrize("seed", range(60))
def test_branching_finds_the_cheapest_plan_and_proves_it(seed):
    problem, tree = branching(seed)
    tree.run(work=10**6)
    least = cheapest(*as_plain(problem))
    assert tree.is_complete
    assert tree.ceiling <= problem.cost(tree.found) == least
    assert is_plan(problem, tree.found)
    _, below = branching(seed, ceiling=least)
    below.run(work=10**6)
    assert below.is_complete
    assert below.found is None


@pytest.mark.parametrize("seed", range(60))
def test_rounding_cuts_and_bounds_hold_for_every_cheapest_plan(seed):
    """Tightening the root may not lose the cheapest plan: its price never falls below what the root proves."""
    problem, tree = branching(seed)
    least = cheapest(*as_plain(problem))
    tree._tighten(10**6)
    relaxed = Relaxed(tree.columns, tree.root.rows, tree.root.basis, tree.ceiling)
    scale, total, _ = relaxed.proof()
    assert -(-total // scale) <= least


@pytest.mark.parametrize("seed", range(60))
def test_branches_narrowed_and_cut_anew_at_every_turn_lose_no_plan(seed, monkeypatch):
    """Patterns are left out, and cuts made, in each branch as often as can be: the truth stays the same."""
    monkeypatch.setattr("evenfoot.solvers.cutstock.branch.MOST_KEPT", 1.0)
    monkeypatch.setattr("evenfoot.solvers.cutstock.branch.SHRUNK", 1.0)
    problem = prepare(*middling(seed))
    table = list_patterns(problem, None, 0, 5_000)
    start = problem.cost(best_greedy(problem, Left.of(problem)))
    tree = Branching(problem, table.patterns(), start + 1, Steps(problem, start))
    tree.run(work=10**6)
    assert tree.is_complete
    assert is_plan(problem, tree.found)
    least = plan_by_program(problem, table.patterns(), most=start, nodes=10_000)
    assert problem.cost(tree.found) == problem.cost(least)


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("largest", [5, 1 << 12, 1 << 36])
def test_prices_times_columns_are_exact(seed, largest):
    r = random.Random(seed)
    matrix = np.array([[r.choice([0, r.randint(-largest, largest)]) for _ in range(6)] for _ in range(9)])
    weight = int(np.abs(matrix).sum(axis=0).max())
    top = 2**60 // max(1, weight)
    prices = [r.randint(0, top) for _ in range(9)]
    worth = Rows.of(matrix, np.zeros(9, dtype=np.int64)).worth(np.array(prices, dtype=np.int64))
    assert worth.tolist() == [sum(p * int(n) for p, n in zip(prices, column, strict=True)) for column in matrix.T]


def test_branching_stopped_early_proves_nothing():
    stopped = 0
    for seed in range(200):
        problem = prepare(*middling(seed))
        start = problem.cost(best_greedy(problem, Left.of(problem)))
        table = list_patterns(problem, None, 0, 3_000)
        tree = Branching(problem, table.patterns(), start, Steps(problem, start))
        tree.run(work=0)
        stopped += not tree.is_complete
    assert stopped


def test_a_cap_on_another_price_is_kept():
    problem = prepare(
        [CutItem(size=10, demand=4)],
        [CutStock(size=10, price=1, tie=9), CutStock(size=20, price=2, tie=1), CutStock(size=40, price=5, tie=0)],
    )
    second = type(problem)(**{f: getattr(problem, f) for f in problem.__slots__} | {"prices": problem.ties})
    every = [(0, (1,)), (1, (2,)), (2, (4,))]
    tree = Branching(second, every, 37, Steps(second, 0))
    tree.cap(problem, 4)
    tree.run(work=10**6)
    assert tree.found == [(1, 2, (2,))]


def relaxed_of(duals):
    columns = Columns(costs=np.array([5, 4]), most=np.array([3, 3]))
    rows = Rows.of(np.array([[2, 1], [0, 1]]), np.array([3, 1]))
    relaxed = Relaxed(columns, rows, (0, 1), 100)
    relaxed.duals = np.array(duals)
    return relaxed


@pytest.mark.parametrize("duals", [[2.5, 1.5], [0.0, 0.0], [9.0, 9.0], [1e9, 1e9], [-4.0, 2.0], [2.5 + 1e-9, 1.5]])
def test_no_dual_prices_however_wrong_prove_more_than_the_truth(duals):
    truth = min(5 * a + 4 * b for a in range(4) for b in range(4) if 2 * a + b >= 3 and b >= 1)
    scale, total, above = relaxed_of(duals).proof()
    assert -(-total // scale) <= truth
    for p in range(2):
        with_p = min(5 * a + 4 * b for a in range(4) for b in range(4) if 2 * a + b >= 3 and b >= 1 and (a, b)[p] >= 1)
        assert (total + int(above[p])) / scale <= with_p + 1e-9


def test_prices_that_are_no_numbers_prove_nothing():
    problem = prepare([CutItem(size=9, demand=9)], [CutStock(size=10, price=8)])
    relaxed = relaxed_of([float("nan"), 1.0])
    assert not relaxed.is_proved_above(1, Steps(problem, 10))
    assert relaxed.proof()[1] == 0


@pytest.mark.parametrize("seed", range(40))
def test_greedy_plans_cut_everything_from_what_there_is(seed):
    problem = prepare(*small(seed))
    for prefer in (None, *range(len(problem.prices))):
        assert is_plan(problem, greedy(problem, Left.of(problem), prefer))


@pytest.mark.parametrize("seed", range(30))
def test_joined_sizes_never_make_a_problem_dearer(seed, monkeypatch):
    monkeypatch.setattr("evenfoot.solvers.cutstock.parts.CLASSES", 2)
    problem = prepare(*small(seed))
    joined = coarser(problem)
    assert sum(joined.demands) == sum(problem.demands)
    assert list(joined.sizes) == sorted(joined.sizes, reverse=True)
    assert cheapest(*as_plain(joined)) <= cheapest(*as_plain(problem))


@pytest.mark.parametrize("seed", range(30))
def test_plans_of_parts_join_to_a_plan_of_all(seed, monkeypatch):
    monkeypatch.setattr("evenfoot.solvers.cutstock.parts.PART", 2)
    problem = prepare(*small(seed))
    uses = by_parts(problem, lambda part: best_greedy(part, Left.of(part)))
    assert is_plan(problem, uses)


def test_the_scale_of_whole_prices_keeps_clear_of_64_bits():
    for price in (1, 10**6, 2**40 - 1):
        problem = prepare(
            [CutItem(size=9, demand=1)], [CutStock(size=10, price=price), CutStock(size=12, price=price + 1)]
        )
        assert (price + 1) * 4 * scale_for(problem) < 2**62
