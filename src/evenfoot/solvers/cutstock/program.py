"""A cheaper plan over given patterns by an outside integer program: it may find one, it never proves anything."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.solvers.cutstock.branch import is_plan
from evenfoot.solvers.cutstock.greedy import Use
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem


def plan_by_program(
    problem: Problem, patterns: Sequence[tuple[int, Counts]], *, most: int, nodes: int
) -> list[Use] | None:
    """Return a plan over ``patterns`` that costs at most ``most``, or None when none was found in ``nodes`` branches.

    The program's own word is not taken for anything: its numbers are rounded, and what does not cut everything from
    what there is, at no more than ``most``, is dropped. That it finds nothing means nothing.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csc_array

    if not patterns:
        return None
    counts = np.array([c for _, c in patterns], dtype=np.float64)
    costs = np.array([problem.price(*pattern) for pattern in patterns], dtype=np.float64)
    demands = np.array(problem.demands, dtype=np.float64)
    rows = [
        LinearConstraint(csc_array(counts.T), demands, np.inf),
        LinearConstraint(csc_array(costs[None, :]), -np.inf, most),
    ]
    for j, limit in enumerate(problem.limits):
        if limit is not None and problem.supply[j] == j:
            used = np.array([[float(problem.supply[stock] == j) for stock, _ in patterns]])
            rows.append(LinearConstraint(csc_array(used), -np.inf, limit))
    useful = np.where(counts > 0, np.ceil(demands / np.maximum(counts, 1.0)), 0.0).max(axis=1)
    answer = milp(
        costs,
        constraints=rows,
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0, useful),
        options={"node_limit": nodes, "mip_rel_gap": 0.0},
    )
    if answer.x is None or not np.isfinite(answer.x).all():
        return None
    times = np.rint(answer.x).astype(np.int64)
    chosen = [int(p) for p in np.flatnonzero(times > 0)]
    uses: list[Use] = [(patterns[p][0], int(times[p]), patterns[p][1]) for p in chosen]
    return uses if is_plan(problem, uses) and problem.cost(uses) <= most else None
