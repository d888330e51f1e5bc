"""The cheapest whole sticks that are long enough for everything, and an attempt to cut everything from just those."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenfoot.solvers.cutstock.dive import residual, widen
from evenfoot.solvers.cutstock.greedy import Left, Use, best_greedy
from evenfoot.solvers.cutstock.knapsack import Knapsack
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

PIECES_A_STICK = 4
"""From this many pieces on a stick they go together almost without waste."""
FILLINGS = 40
"""Most fillings of an attempt; what is left then is cut greedily."""


def cheapest_cover(problem: Problem, ceiling: int, nodes: int) -> tuple[int, Counts]:
    """Return the least price of whole sticks that together are as long as all pieces with kerfs, and those sticks.

    ``ceiling`` is the cost of a known plan: the price is not above it, and no sticks are named when none cost less.
    Where the search would take more than ``nodes`` steps, or an end may be worth something, the price is 0 (no claim).
    """
    if any(problem.rates):
        return 0, (0,) * len(problem.prices)
    wanted = problem.load(problem.demands)
    order = sorted(range(len(problem.prices)), key=lambda j: (problem.prices[j] / problem.stock_sizes[j], j))
    best, sticks = ceiling, (0,) * len(order)
    spent = 0
    stack: list[tuple[int, int, Counts]] = [(wanted, 0, ())]
    while stack:
        need, cost, taken = stack.pop()
        if need <= 0:
            if cost < best:
                best, sticks = cost, tuple(dict(zip(order, taken, strict=False)).get(j, 0) for j in range(len(order)))
            continue
        if len(taken) == len(order):
            continue
        j = order[len(taken)]
        size, price, limit = problem.stock_sizes[j], problem.prices[j], problem.limits[j]
        if cost * size + need * price >= best * size:
            continue
        most = -(-need // size) if limit is None else min(limit, -(-need // size))
        spent += most + 1
        if spent > nodes:
            return 0, (0,) * len(order)
        stack.extend((need - k * size, cost + k * price, (*taken, k)) for k in range(most + 1))
    return best, sticks


def cut_from(problem: Problem, sticks: Counts) -> list[Use] | None:
    """Return a plan that fills ``sticks`` one after the other as full as can be, the shortest first.

    What is left is cut greedily, so it is a plan even where they do not suffice. None where pieces are so long that
    there is little hope, or no sticks are named.
    """
    count, pieces = sum(sticks), sum(problem.demands)
    if not count or pieces < PIECES_A_STICK * count:
        return None
    left = Left.of(problem)
    done: list[Use] = []
    room = [min(n, n if limit is None else limit) for n, limit in zip(sticks, problem.limits, strict=True)]
    for _ in range(FILLINGS):
        stock = min((j for j, n in enumerate(room) if n), key=lambda j: (problem.stock_sizes[j], j), default=None)
        if stock is None or not any(left.demands):
            break
        counts = _fullest(problem, left, stock)
        if not any(counts):
            room[stock] = 0
            continue
        times = min(room[stock], *(d // c for d, c in zip(left.demands, counts, strict=True) if c))
        done.append((stock, times, counts))
        room[stock] -= times
        left = left.less(done[-1:])
    if any(left.demands):
        rest, items = residual(problem, left)
        done += widen(best_greedy(rest, Left.of(rest)), items, len(problem.sizes))
    return done


def _fullest(problem: Problem, left: Left, stock: int) -> Counts:
    """Return the fullest filling of one stick, of equally full ones that with the fewest and so longest pieces."""
    rest, items = residual(problem, left)
    one = replace(
        rest,
        stock_sizes=(problem.stock_sizes[stock],),
        prices=(problem.prices[stock],),
        limits=(None,),
        stock_grades=(problem.stock_grades[stock],),
        ties=(0,),
        runs=(problem.runs[stock],),
        rates=(0,),
        supply=(0,),
    )
    knapsack = Knapsack(one)
    weight = sum(rest.demands) + 1
    knapsack.solve(np.array([size * weight - 1 for size in rest.sizes], dtype=np.int64))
    (use,) = widen([(0, 1, knapsack.pattern(0))], items, len(problem.sizes))
    return use[2]
