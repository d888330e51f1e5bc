"""The cheapest way to cut sizes from stock, with a proof or with the bound and the gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evenfoot.solvers.cutstock.answer import as_uses, cost_of
from evenfoot.solvers.cutstock.bound import Duals, Steps, volume_duals
from evenfoot.solvers.cutstock.branch import Branching
from evenfoot.solvers.cutstock.columns import FEW_PATTERNS, dive, generate
from evenfoot.solvers.cutstock.cover import cheapest_cover, cut_from
from evenfoot.solvers.cutstock.greedy import Left, Use, best_greedy, key
from evenfoot.solvers.cutstock.master import Master
from evenfoot.solvers.cutstock.model import (
    Counts,
    CutItem,
    CutLimits,
    CutProof,
    CutResult,
    CutStock,
    CutWishes,
)
from evenfoot.solvers.cutstock.parts import by_parts, coarser
from evenfoot.solvers.cutstock.patterns import list_patterns
from evenfoot.solvers.cutstock.polish import polish
from evenfoot.solvers.cutstock.problem import Problem, prepare

TIE_PATTERNS = 400
"""Most patterns that the search among plans of equal price works with."""
COVER_NODES = 400
"""Steps of the bound by whole sticks."""


def solve_cutting(
    items: Sequence[CutItem],
    stocks: Sequence[CutStock],
    limits: CutLimits | None = None,
    wishes: CutWishes | None = None,
) -> CutResult:
    """Return the cheapest plan that cuts all ``items``, what it costs and the best bound known.

    Order of work: greedy plans and bounds by length; the fractional plan over all patterns when they are few, else
    over patterns made as it asks for them; diving; branch and bound over the patterns met, then over every pattern
    that a cheaper plan could hold. Of equally cheap plans one with a small sum of ``tie`` is taken, then one that is
    good in ``wishes`` (neither is proved).
    Deterministic; ends by counts (``limits``), never by the clock.

    Raises: OutOfRangeError for a size, demand or price out of range; NoSolutionError when an item fits no stock of
    endless supply.
    """
    problem = prepare(items, stocks)
    if not problem.sizes:
        return CutResult(uses=(), cost=0, bound=0, proof=CutProof.BOUND)
    work = _Work(problem, limits or CutLimits())
    work.run()
    return _answer(items, stocks, work, wishes or CutWishes())


class _Work:
    """One problem being solved: the best plan, the best bound, and why it is proved."""

    def __init__(self, problem: Problem, limits: CutLimits) -> None:
        self.problem = problem
        self.limits = limits
        self.best: list[Use] = best_greedy(problem, Left.of(problem))
        self.steps = Steps(problem, self.cost)
        self.bound = 0
        self.proof = CutProof.NONE
        self.duals: Duals = volume_duals(problem)
        self.pool: list[tuple[int, Counts]] = []

    @property
    def cost(self) -> int:
        return self.problem.cost(self.best)

    def run(self) -> None:
        """Go on until the plan is proved or the limits are used up; then look for a better one of the same price."""
        whole = (self._by_price, self._by_dive, self._by_pool, self._by_listing)
        is_whole = len(self.problem.sizes) <= self.limits.whole
        for stage in (self._by_length, *(whole if is_whole else (self._by_parts,))):
            stage()
            if self.proof is not CutProof.NONE:
                self._by_tie()
                return

    def raise_bound(self, bound: int, proof: CutProof = CutProof.BOUND) -> None:
        """Take a bound, rounded up to the next sum of prices."""
        self.bound = min(self.cost, max(self.bound, self.steps.up(bound)))
        if self.bound == self.cost:
            self.proof = proof

    def offer(self, uses: list[Use] | None) -> None:
        """Take a plan when it is better."""
        if uses is not None and key(self.problem, uses) < key(self.problem, self.best):
            self.best = uses
            self.raise_bound(self.bound)

    def _by_length(self) -> None:
        """Bound by the length of everything, and try to do with sticks of just that length."""
        self.raise_bound(self.duals.bound)
        if self.proof is CutProof.NONE:
            bound, sticks = cheapest_cover(self.problem, self.cost, COVER_NODES)
            self.raise_bound(bound)
            self.offer(cut_from(self.problem, sticks))

    def _by_parts(self) -> None:
        """Join plans of parts, where a whole one would take too long; bound it by sizes joined downward."""
        self.offer(by_parts(self.problem, self._part))
        joined = coarser(self.problem)
        steps = Steps(joined, 0)
        self.raise_bound(generate(joined, Master(joined), steps, rounds=self.limits.pricing_rounds).bound)

    def _part(self, problem: Problem) -> list[Use]:
        limits = replace(self.limits, whole=len(problem.sizes), work=self.limits.work // 10, tie_work=0)
        work = _Work(problem, limits)
        work.run()
        return work.best

    def _by_price(self) -> None:
        """Bound by the dual prices of the fractional plan."""
        table = list_patterns(self.problem, None, 0, FEW_PATTERNS)
        master = Master(self.problem)
        if table is not None:
            master.add(table.patterns())
        master.add((stock, counts) for stock, _, counts in self.best)
        duals = generate(self.problem, master, self.steps, rounds=self.limits.pricing_rounds)
        self.pool = master.patterns
        if duals.base * self.duals.scale > self.duals.base * duals.scale:
            self.duals = duals
        self.raise_bound(self.duals.bound)

    def _by_dive(self) -> None:
        """Better plans by rounding the fractional plan."""
        plan, self.pool = dive(self.problem, self.pool, target=self.bound, rounds=self.limits.pricing_rounds)
        self.offer(plan)

    def _by_pool(self) -> None:
        """Branch over the patterns met so far: no proof, but a better plan makes the next list short."""
        branching = Branching(self.problem, self.pool, self.cost, self.steps)
        branching.run(self.limits.work // 10)
        self.offer(branching.found)

    def _by_listing(self) -> None:
        """List every pattern that a cheaper plan could hold and branch over them; again after a better plan."""
        work = self.limits.work
        while self.proof is CutProof.NONE and work > 0:
            cost = self.cost
            budget = self.steps.down(cost - 1) * self.duals.scale - self.duals.base
            table = list_patterns(self.problem, self.duals, budget, self.limits.patterns)
            if table is None:
                return
            branching = Branching(self.problem, table.patterns(), cost, self.steps)
            work -= branching.run(work)
            self.offer(branching.found)
            if branching.is_complete:
                self.raise_bound(self.cost, CutProof.SEARCH)
            if self.cost == cost:
                return

    def _by_tie(self) -> None:
        """Of the plans of the same price, look for one with a smaller sum of ``tie``, as far as few patterns allow."""
        problem = self.problem
        if len(set(problem.supply)) == 1:
            return
        budget = self.cost * self.duals.scale - self.duals.base
        table = list_patterns(problem, self.duals, budget, TIE_PATTERNS)
        if table is None:
            return
        second = replace(problem, prices=problem.ties, rates=(0,) * len(problem.prices))
        branching = Branching(second, table.patterns(), second.cost(self.best), Steps(second, 0))
        branching.cap(problem, self.cost)
        branching.run(self.limits.tie_work)
        self.offer(branching.found)


def _answer(items: Sequence[CutItem], stocks: Sequence[CutStock], work: _Work, wishes: CutWishes) -> CutResult:
    """Return the plan in the caller's items and stocks, priced by its sticks."""
    unit = work.problem.price_unit
    uses = polish(items, stocks, as_uses(items, stocks, work.problem, work.best), wishes)
    cost = cost_of(items, stocks, uses)
    assert cost <= work.cost * unit, "leaving out what is not wanted saves money"
    bound = min(cost, work.bound * unit)
    proof = CutProof.BOUND if bound == cost and work.proof is CutProof.NONE else work.proof
    return CutResult(uses=uses, cost=cost, bound=bound, proof=proof)
