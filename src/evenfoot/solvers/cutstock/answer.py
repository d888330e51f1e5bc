"""A plan in the caller's own items and stocks: no piece too many, each stick told run by run, priced anew."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.solvers.cutstock.greedy import Use
from evenfoot.solvers.cutstock.model import Counts, CutItem, CutStock, CutUse
from evenfoot.solvers.cutstock.problem import Problem


def as_uses(
    items: Sequence[CutItem], stocks: Sequence[CutStock], problem: Problem, plan: Sequence[Use]
) -> tuple[CutUse, ...]:
    """Return the plan with exactly the pieces that are wanted; sticks of which nothing is wanted are left out."""
    owed = [item.demand for item in items]
    uses: dict[tuple[int, Counts], int] = {}
    for stock, times, counts in sorted(plan):
        for _ in range(times):
            given = [0] * len(items)
            for item, count in enumerate(counts):
                left = count
                for i in problem.item_of[item]:
                    take = min(left, owed[i])
                    owed[i] -= take
                    given[i] += take
                    left -= take
            if any(given):
                place = (problem.stock_of[stock], tuple(given))
                uses[place] = uses.get(place, 0) + 1
    assert not any(owed), "every piece is cut"
    return tuple(use_of(items, stocks[j], j, times, counts) for (j, counts), times in uses.items())


def use_of(items: Sequence[CutItem], stock: CutStock, number: int, times: int, counts: Counts) -> CutUse:
    """Return a use with its pieces dealt to the runs of the stick."""
    if not stock.runs:
        return CutUse(stock=number, times=times, counts=counts)
    runs = into_runs([item.size for item in items], stock.runs, counts)
    assert runs is not None, "a pattern fits its stick"
    return CutUse(stock=number, times=times, counts=counts, runs=runs)


def into_runs(sizes: Sequence[int], rooms: Sequence[int], counts: Counts) -> tuple[Counts, ...] | None:
    """Return how many of each item come from each run, long pieces and short runs first; None when they do not fit."""
    pieces = [i for i in sorted(range(len(sizes)), key=lambda i: -sizes[i]) for _ in range(counts[i])]
    left, dealt = list(rooms), [[0] * len(sizes) for _ in rooms]
    order = sorted(range(len(rooms)), key=lambda r: (rooms[r], r))
    failed: set[tuple[int, tuple[int, ...]]] = set()

    def deal(k: int) -> bool:
        if k == len(pieces):
            return True
        state = (k, tuple(left))
        if state in failed:
            return False
        i = pieces[k]
        for r in order:
            if sizes[i] <= left[r]:
                left[r] -= sizes[i]
                dealt[r][i] += 1
                if deal(k + 1):
                    return True
                left[r] += sizes[i]
                dealt[r][i] -= 1
        failed.add(state)
        return False

    return tuple(tuple(run) for run in dealt) if deal(0) else None


def cost_of(items: Sequence[CutItem], stocks: Sequence[CutStock], uses: Sequence[CutUse]) -> int:
    """Return what the sticks of a plan cost, less what their ends are worth."""
    return sum(
        use.times * stocks[use.stock].cost(sum(c * i.size for c, i in zip(use.counts, items, strict=True) if c))
        for use in uses
    )
