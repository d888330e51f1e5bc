"""Plans made by filling stick after stick, longest pieces first: the start of every search, never its answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

Use = tuple[int, int, Counts]
"""Stock, times, pieces of each item."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What is still to be cut, and how much of the limited stock is still there."""

    demands: Counts
    limits: tuple[int | None, ...]
    supply: Counts

    @classmethod
    def of(cls, problem: Problem) -> Left:
        """Return everything."""
        return cls(demands=problem.demands, limits=problem.limits, supply=problem.supply)

    def less(self, uses: Sequence[Use]) -> Left:
        """Return what is left after some sticks; more pieces than wanted count as none left."""
        demands, limits = list(self.demands), list(self.limits)
        for stock, times, counts in uses:
            for item, count in enumerate(counts):
                demands[item] = max(0, demands[item] - count * times)
            spend(limits, self.supply, stock, times)
        return Left(demands=tuple(demands), limits=tuple(limits), supply=self.supply)


def spend(limits: list[int | None], supply: Counts, stock: int, times: int) -> None:
    """Take sticks off what is there of a stock, and off every other way to use the same sticks."""
    for j, had in enumerate(limits):
        if had is not None and supply[j] == supply[stock]:
            assert had >= times, "no more sticks than there are"
            limits[j] = had - times


def key(problem: Problem, uses: Sequence[Use]) -> tuple[int, int, int]:
    """Return what makes one plan better than another: price, second price, sticks."""
    return (
        problem.cost(uses),
        sum(problem.ties[stock] * times for stock, times, _ in uses),
        sum(times for _, times, _ in uses),
    )


def best_greedy(problem: Problem, left: Left) -> list[Use]:
    """Return the best of a few greedy plans for what is left: one preferred stock each, and the cheapest filling."""
    endless = [j for j, limit in enumerate(problem.limits) if limit is None and problem.is_plain(j)]
    plans = [greedy(problem, left, prefer) for prefer in (None, *endless)]
    return min(plans, key=lambda uses: key(problem, uses))


def greedy(problem: Problem, left: Left, prefer: int | None) -> list[Use]:
    """Return a plan: the longest piece left opens a stick, which is filled longest first; then each stick is shortened.

    The stick is ``prefer`` where the piece fits it, else the one with the lowest price per length filled.
    """
    demands, limits = list(left.demands), list(left.limits)
    filled: list[tuple[int, int, _Filling]] = []
    first = 0
    while True:
        while first < len(demands) and demands[first] == 0:
            first += 1
        if first == len(demands):
            return [
                (stock, times, filling.counts(len(demands)))
                for stock, times, filling in _shortened(problem, limits, filled)
            ]
        stock, filling = _choose(problem, demands, limits, first, prefer)
        times = min(demands[i] // c for i, c in filling.parts)
        limit = limits[stock]
        if limit is not None:
            times = min(times, limit)
            spend(limits, problem.supply, stock, times)
        for i, c in filling.parts:
            demands[i] -= c * times
        filled.append((stock, times, filling))


@dataclass(frozen=True, slots=True)
class _Filling:
    """What one stick holds: (item, pieces) each, the size of it all and the highest grade in it."""

    parts: tuple[tuple[int, int], ...]
    load: int
    grade: int

    def counts(self, width: int) -> Counts:
        counts = [0] * width
        for i, c in self.parts:
            counts[i] = c
        return tuple(counts)


def _choose(
    problem: Problem, demands: Sequence[int], limits: Sequence[int | None], first: int, prefer: int | None
) -> tuple[int, _Filling]:
    able = [j for j, limit in enumerate(limits) if limit != 0 and problem.allows(first, j)]
    if prefer is not None and prefer in able:
        able = [prefer, *(j for j in able if limits[j] is not None)]
    best: tuple[float, int, _Filling] | None = None
    for j in able:
        filling = _fill(problem, demands, j, first)
        ratio = (problem.prices[j] + problem.rates[j] * filling.load) / filling.load
        if best is None or ratio < best[0]:
            best = (ratio, j, filling)
    assert best is not None, "a problem made ready has an endless stock for every item"
    return best[1], best[2]


def fill(problem: Problem, demands: Sequence[int], stock: int) -> Counts:
    """Return one stick filled longest first."""
    return _fill(problem, demands, stock, 0).counts(len(demands))


def _fill(problem: Problem, demands: Sequence[int], stock: int, first: int) -> _Filling:
    parts: dict[int, int] = {}
    most, smallest = problem.stock_grades[stock], problem.sizes[-1]
    load = 0
    for room in problem.runs[stock]:
        for i in range(first, len(demands)):
            if room < smallest:
                break
            wanted = demands[i] - parts.get(i, 0)
            if wanted and problem.sizes[i] <= room and problem.grades[i] <= most:
                count = min(wanted, room // problem.sizes[i])
                room -= count * problem.sizes[i]  # noqa: PLW2901 (what is left of the run)
                load += count * problem.sizes[i]
                parts[i] = parts.get(i, 0) + count
    grade = max((problem.grades[i] for i in parts), default=min(problem.grades))
    return _Filling(parts=tuple(sorted(parts.items())), load=load, grade=grade)


def _shortened(
    problem: Problem, spare: Sequence[int | None], filled: Sequence[tuple[int, int, _Filling]]
) -> list[tuple[int, int, _Filling]]:
    """Return the sticks with each filling on the cheapest stock that holds it; ``spare`` is what is not used yet."""
    limits = list(spare)
    out: list[tuple[int, int, _Filling]] = []
    for stock, times, filling in filled:
        spend(limits, problem.supply, stock, -times)
        left_over = times
        for j in _cheapest_for(problem, filling):
            if j != stock and (
                len(problem.runs[j]) > 1
                or problem.stock_sizes[j] < filling.load
                or problem.stock_grades[j] < filling.grade
            ):
                continue
            limit = limits[j]
            here = left_over if limit is None else min(left_over, limit)
            if here:
                out.append((j, here, filling))
                spend(limits, problem.supply, j, here)
                left_over -= here
    return out


def _cheapest_for(problem: Problem, filling: _Filling) -> list[int]:
    """Return all stocks, the cheapest for a filling first."""

    def rank(j: int) -> tuple[int, int, int]:
        return (problem.prices[j] + problem.rates[j] * filling.load, problem.ties[j], problem.stock_sizes[j])

    return sorted(range(len(problem.prices)), key=rank)
