"""Diving: the whole part of a fractional plan is kept, what is left is solved again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evenfoot.solvers.cutstock.bound import Steps
from evenfoot.solvers.cutstock.branch import Branching
from evenfoot.solvers.cutstock.generate import add_patterns, top_up
from evenfoot.solvers.cutstock.greedy import Left, Use, best_greedy, spend
from evenfoot.solvers.cutstock.master import Master
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.patterns import list_patterns
from evenfoot.solvers.cutstock.problem import Problem

FEW_PIECES = 40
"""From this many pieces on, a dive ends with the best plan for the rest."""
FEW_PATTERNS = 1_500
"""Up to this many full patterns, all are listed at once and none has to be generated."""
END_WORK = 50_000
"""Work (thousands of multiplications) that the best plan for the rest may take."""


def residual(problem: Problem, left: Left) -> tuple[Problem, list[int]]:
    """Return the problem of what is left, and which item of ``problem`` each of its items is."""
    items = [i for i, d in enumerate(left.demands) if d]
    smaller = replace(
        problem,
        sizes=tuple(problem.sizes[i] for i in items),
        demands=tuple(left.demands[i] for i in items),
        grades=tuple(problem.grades[i] for i in items),
        limits=left.limits,
    )
    return smaller, items


def dive(
    problem: Problem, pool: Sequence[tuple[int, Counts]], *, target: int, rounds: int, nearly: float = 1.0
) -> tuple[list[Use], list[tuple[int, Counts]]]:
    """Return a plan, and all patterns met on the way.

    The whole part of the fractional plan is kept and what is left solved again, until nothing is left. Where no
    pattern is used a whole time, the one used most is taken once, and those used at least ``nearly`` as often. At
    each step the rest is also cut greedily, or best when it is small; the cheapest plan met is the answer. Stops
    early at ``target``.
    """
    left = Left.of(problem)
    done: list[Use] = []
    best: list[Use] | None = None
    patterns = list(pool)
    met = dict.fromkeys(patterns)
    while any(left.demands):
        smaller, items = residual(problem, left)
        finish = [*done, *widen(best_greedy(smaller, Left.of(smaller)), items, len(problem.sizes))]
        if best is None or problem.cost(finish) < problem.cost(best):
            best = finish
        if problem.cost(best) <= target or problem.cost(done) >= problem.cost(best):
            break
        if sum(left.demands) <= FEW_PIECES:
            ending, is_best = _exact_end(smaller, problem.cost(best) - problem.cost(done))
            if ending is not None:
                best = [*done, *widen(ending, items, len(problem.sizes))]
            if is_best:
                break
        master = Master(smaller)
        master.add(_narrowed(smaller, items, patterns))
        add_patterns(smaller, master, rounds=rounds)
        known = [(stock, 1, counts) for stock, counts in master.patterns]
        patterns = [(stock, counts) for stock, _, counts in widen(known, items, len(problem.sizes))]
        met.update(dict.fromkeys(patterns))
        uses = widen(_whole_part(smaller, master, nearly), items, len(problem.sizes))
        done.extend(uses)
        left = left.less(uses)
    assert best is not None, "the first step has made a plan"
    if not any(left.demands):
        best = min(best, done, key=problem.cost)
    met.update(dict.fromkeys((stock, counts) for stock, _, counts in best))
    return best, list(met)


def _exact_end(problem: Problem, ceiling: int) -> tuple[list[Use] | None, bool]:
    """Return the cheapest plan below ``ceiling`` (None when none was found), and whether that settles it."""
    table = list_patterns(problem, None, 0, FEW_PATTERNS)
    if table is None:
        return None, False
    branching = Branching(problem, table.patterns(), ceiling, Steps(problem, ceiling))
    branching.run(END_WORK)
    return branching.found, branching.is_complete


def _whole_part(problem: Problem, master: Master, nearly: float = 1.0) -> list[Use]:
    """Return the patterns used whole times, else the pattern used most, once; never more pieces than wanted."""
    demands, limits = list(problem.demands), list(problem.limits)
    plan = sorted(master.plan(), key=lambda p: (-(p[0] % 1.0 if p[0] < 1 else p[0]), p[1], p[2]))
    uses: list[Use] = []
    for level, stock, counts in plan:
        times = int(level + 1e-6)
        if not times and uses and level < nearly:
            continue
        times = max(1, times)
        limit = limits[stock]
        if limit is not None:
            times = min(times, limit)
            spend(limits, problem.supply, stock, times)
        cut = min((demands[i] // c for i, c in enumerate(counts) if c), default=0)
        times = min(times, max(1, cut))
        trimmed = tuple(min(c, d) for c, d in zip(counts, demands, strict=True))
        if not times or not any(trimmed):
            continue
        for i, c in enumerate(trimmed):
            demands[i] -= c * times
        uses.append((stock, times, trimmed))
    return uses


def _narrowed(
    problem: Problem, items: Sequence[int], patterns: Sequence[tuple[int, Counts]]
) -> list[tuple[int, Counts]]:
    """Return patterns cut down to what a smaller problem still wants, and filled up again."""
    out = []
    for stock, counts in patterns:
        if problem.limits[stock] == 0:
            continue
        kept = tuple(min(counts[i], d) for i, d in zip(items, problem.demands, strict=True))
        if any(kept):
            out.append((stock, top_up(problem, stock, kept)))
    return out


def widen(uses: Sequence[Use], items: Sequence[int], width: int) -> list[Use]:
    """Return uses of a smaller problem as uses of the whole one."""
    out: list[Use] = []
    for stock, times, counts in uses:
        wide = [0] * width
        for i, c in zip(items, counts, strict=True):
            wide[i] = c
        out.append((stock, times, tuple(wide)))
    return out
