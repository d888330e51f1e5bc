"""Very many different sizes: solved part by part, what fills its stick badly handed on to the next part."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from evenfoot.solvers.cutstock.dive import residual, widen
from evenfoot.solvers.cutstock.greedy import Left, Use
from evenfoot.solvers.cutstock.problem import Problem

PART = 80
"""Different sizes in one part."""
CLASSES = 100
"""Sizes that very many are joined to for a bound."""
HANDED_ON = 4
"""One stick in so many is handed on, the worst filled first."""


def by_parts(problem: Problem, solve: Callable[[Problem], list[Use]]) -> list[Use]:
    """Return a plan made of plans for parts; each part holds sizes from long to short.

    ``solve`` returns a plan for a part. The limited stock that a part leaves is there for the next.
    """
    count = -(-len(problem.sizes) // PART)
    left = Left.of(problem)
    done: list[Use] = []
    waiting = [0] * len(problem.sizes)
    for part in range(count):
        for item in range(part, len(problem.sizes), count):
            waiting[item] += problem.demands[item]
        smaller, items = residual(problem, Left(demands=tuple(waiting), limits=left.limits, supply=left.supply))
        uses = widen(solve(smaller), items, len(problem.sizes))
        if part < count - 1:
            uses = _well_filled(problem, uses)
        left = left.less(uses)
        for _, times, counts in uses:
            waiting = [max(0, w - times * c) for w, c in zip(waiting, counts, strict=True)]
        done += uses
    return done


def coarser(problem: Problem) -> Problem:
    """Return a problem of few sizes that no plan costs less than: neighbours in size joined at the smallest of them.

    The pieces only get smaller (and their grade lower), so every plan for ``problem`` is one for the answer too.
    """
    groups: dict[tuple[int, int], list[int]] = {}
    for place, item in enumerate(sorted(range(len(problem.sizes)), key=lambda i: (problem.grades[i], -i))):
        groups.setdefault((problem.grades[item], place * CLASSES // len(problem.sizes)), []).append(item)
    joined = [
        (min(problem.sizes[i] for i in g), grade, sum(problem.demands[i] for i in g))
        for (grade, _), g in groups.items()
    ]
    joined.sort(reverse=True)
    return replace(
        problem,
        sizes=tuple(size for size, _, _ in joined),
        grades=tuple(grade for _, grade, _ in joined),
        demands=tuple(demand for _, _, demand in joined),
    )


def _well_filled(problem: Problem, uses: list[Use]) -> list[Use]:
    """Return the uses without the worst filled sticks."""

    def waste(use: Use) -> float:
        stock, _, counts = use
        size = problem.stock_sizes[stock]
        return 1 - problem.load(counts) / size

    ranked = sorted(uses, key=lambda use: (waste(use), use))
    kept: list[Use] = []
    room = sum(times for _, times, _ in uses) * (HANDED_ON - 1) // HANDED_ON
    for stock, times, counts in ranked:
        here = min(times, room)
        if here:
            kept.append((stock, here, counts))
            room -= here
    return kept
