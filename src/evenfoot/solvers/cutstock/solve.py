"""The cheapest way to cut sizes from stock, with a proof or with the bound and the gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import numpy as np

from evenfoot.solvers.cutstock.answer import as_uses, cost_of
from evenfoot.solvers.cutstock.bound import Duals, Steps, volume_duals
from evenfoot.solvers.cutstock.branch import Branching
from evenfoot.solvers.cutstock.cover import cheapest_cover, cut_from
from evenfoot.solvers.cutstock.descent import Descent
from evenfoot.solvers.cutstock.dive import FEW_PATTERNS, dive
from evenfoot.solvers.cutstock.generate import generate, lean
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
from evenfoot.solvers.cutstock.patterns import PatternTable, list_patterns, weigh
from evenfoot.solvers.cutstock.polish import polish
from evenfoot.solvers.cutstock.problem import Problem, prepare
from evenfoot.solvers.cutstock.program import plan_by_program

DIVE_ROUNDS = 8
"""Rounds of new patterns at each step of a dive."""
TIE_PATTERNS = 400
"""Most patterns that the search among plans of equal price works with."""
NEARLY = 0.6
"""In a quick dive, patterns used this often count as used once."""
MOST_POOL = 2_000
"""Most patterns met that are looked among; those with the least waste."""
SEED = 1
"""Where the odds of descents begin: the same problem has the same plan."""
FIRST_TURN, MORE = 100_000, 4
"""Work of the first turn of branching over a list, and how much longer each turn is than the last."""
DESCENTS = 4
"""Descents may take so many times the work of the turn before; none are begun past this part of all work."""
SHORT_LIST = 12_000
GLANCED = 2_000
"""A list as short as this is looked at before the long dive: where few costs are left, or for a while."""
MOST_POOL_WORK, SHORT_WORK, GLANCE_WORK, MOST_PART_WORK = 50_000, 100_000, 1_000_000, 100_000
"""Most work over the patterns met, over a short list, before the outside program is asked, and on each part."""
MOST_NUMBERS = 10_000_000
"""Most numbers in a list: patterns times sizes."""
MOST_PROGRAM = 3_000
"""Most patterns that the outside program is given; those with the least waste."""
GLANCE = 20
"""A look for a better plan takes one in so many of the branches."""
FEW_COSTS = 8
"""So few costs between bound and plan are looked at from below, one by one."""
NEAREST, FARTHEST = 1, 8
"""Share of the gap between bound and plan that is looked at first; it doubles, up to all of it."""
MANY_PLACES = 30_000
"""In stock of more places than this patterns take long to make: fewer are made for the first bound."""
LEAN_ROUNDS = 100
"""Most rounds of patterns for the prices that make lists shorter."""
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
        self.start = self.pool

    @property
    def cost(self) -> int:
        return self.problem.cost(self.best)

    def run(self) -> None:
        """Go on until the plan is proved or the limits are used up; then look for a better one of the same price."""
        whole = (
            self._by_price,
            self._by_quick_dive,
            self._by_short_list,
            self._by_dive,
            self._by_pool,
            self._by_listing,
            self._by_pool_at_last,
        )
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
        part = min(MOST_PART_WORK, self.limits.work // 10)
        limits = replace(self.limits, whole=len(problem.sizes), work=part, tie_work=0)
        work = _Work(problem, limits)
        work.run()
        return work.best

    def _by_price(self) -> None:
        """Bound by the dual prices of the fractional plan."""
        table = list_patterns(self.problem, None, 0, FEW_PATTERNS)
        master = Master(self.problem, is_exchanging=table is None and max(self.problem.stock_sizes) > MANY_PLACES)
        if table is not None:
            master.add(table.patterns())
        master.add((stock, counts) for stock, _, counts in self.best)
        duals = generate(self.problem, master, self.steps, rounds=self.limits.pricing_rounds)
        self.start = self.pool = master.patterns
        if duals.base * self.duals.scale > self.duals.base * duals.scale:
            self.duals = duals
        self.raise_bound(self.duals.bound)

    def _by_quick_dive(self) -> None:
        """Round the fractional plan in large steps."""
        self._dive(NEARLY)

    def _by_dive(self) -> None:
        """Round the fractional plan in small steps."""
        self._dive(1.0)

    def _dive(self, nearly: float) -> None:
        plan, met = dive(self.problem, self.start, target=self.bound, rounds=DIVE_ROUNDS, nearly=nearly)
        self.pool = list(dict.fromkeys([*self.pool, *met]))
        self.offer(plan)

    def _by_pool(self) -> None:
        """Look among the patterns met so far: a better plan makes the next list short.

        Where it is short as it is (few costs below the plan's), that is left for the end.
        """
        if self._wanted() != self.bound:
            self._over_pool()

    def _by_pool_at_last(self) -> None:
        """Look among the patterns met so far, where the list did not settle it."""
        cost = self.cost
        self._over_pool(is_last=True)
        if self.proof is CutProof.NONE and self.cost < cost:
            self._by_listing()

    def _over_pool(self, *, is_last: bool = False) -> None:
        """Branch over the patterns met so far that waste least, at last by the outside program too: no proof."""
        counts = np.array([c for _, c in self.pool], dtype=np.int64)
        table = weigh(self.problem, np.array([j for j, _ in self.pool], dtype=np.int64), counts, self.duals)
        met = table.patterns()
        likely = [met[p] for p in np.argsort(table.waste, kind="stable")[:MOST_POOL]]
        branching = Branching(self.problem, likely, self.cost, self.steps)
        branching.run(min(MOST_POOL_WORK, self.limits.work // 20))
        self.offer(branching.found)
        if is_last and self.proof is CutProof.NONE and not branching.is_complete:
            self.offer(self._program(likely, self.steps.down(self.cost - 1)))

    def _by_short_list(self) -> None:
        """Branch for a while over every pattern that matters, where sharp prices leave few in doubt."""
        self._sharpen()
        if self.proof is CutProof.NONE:
            wanted = self._wanted()
            short = (
                (self.limits.work, SHORT_LIST)
                if wanted == self.bound
                else (min(SHORT_WORK, self.limits.work // 10), GLANCED)
            )
            self._search(wanted, *short)

    def _by_listing(self) -> None:
        """Branch over every pattern that a plan near the bound could hold, then farther off, up to the plan's cost.

        Near the bound lists are short; a plan found there, or that there is none, settles the matter or narrows it.
        """
        work = self.limits.work
        bound, gap, part = self.bound, self.cost - self.bound, NEAREST
        while self.proof is CutProof.NONE and work > 0:
            below = self.steps.down(self.cost - 1)
            near = self.bound if self._wanted() == self.bound else self.steps.down(bound + gap * part // FARTHEST)
            wanted = below if part >= FARTHEST else min(below, max(self.bound, near))
            if wanted < below and not self._is_shorter(wanted, below):
                wanted = below
            before = (self.cost, self.bound)
            work -= self._search(wanted, work if wanted == below else work // 2)
            if (self.cost, self.bound) == before:
                if wanted == below:
                    return
                part = FARTHEST
            part = min(2 * part, FARTHEST)

    def _listed(self, wanted: int, most: int, duals: Duals | None = None) -> PatternTable | None:
        """Return every pattern that a plan of a wanted cost could hold; None when there are too many."""
        most, duals = min(most, MOST_NUMBERS // len(self.problem.sizes)), duals or self.duals
        return list_patterns(self.problem, duals, wanted * duals.scale - duals.base, most)

    def _is_shorter(self, wanted: int, other: int) -> bool:
        """Return whether the list for a wanted cost is at most half as long as that for another, higher one."""
        whole = self._listed(other, self.limits.patterns)
        return whole is None or self._listed(wanted, len(whole.stocks) // 2) is not None

    def _sharpen(self) -> None:
        """Take the prices of the cheapest fractional plan of all: they leave the fewest patterns in doubt."""
        master = Master(self.problem)
        master.add(self.pool)
        duals = generate(self.problem, master, self.steps, rounds=self.limits.pricing_rounds, to_the_end=True)
        if duals.base > self.duals.base:
            self.duals = duals
        self.raise_bound(self.duals.bound)
        if self.proof is CutProof.NONE:
            self._lean(master)

    def _lean(self, master: Master) -> None:
        """Where the list would be long, take prices that make it shorter, though they prove a little less."""
        wanted = self._wanted()
        table = self._listed(wanted, self.limits.patterns)
        if table is not None and len(table.stocks) <= GLANCED:
            return
        doubtful = wanted * self.duals.scale - self.duals.base + self.duals.scale // 1000
        duals = lean(self.problem, master, self.duals, doubtful, rounds=LEAN_ROUNDS)
        most = self.limits.patterns if table is None else len(table.stocks) - 1
        if self._listed(wanted, most, duals) is not None:
            self.duals = duals

    def _wanted(self) -> int:
        """Return the cost to look for: the bound where few costs lie between it and the plan's, else one step less."""
        level = self.bound
        for _ in range(FEW_COSTS):
            level = self.steps.up(level + 1)
            if level >= self.cost:
                return self.bound
        return self.steps.down(self.cost - 1)

    def _search(self, wanted: int, work: int, most: int | None = None) -> int:
        """Find a plan that costs no more than ``wanted``, or prove that there is none; return the work spent.

        ``most``: only where no more patterns than that matter.
        """
        problem = self.problem
        table = self._listed(wanted, most or self.limits.patterns)
        if table is None:
            return 0
        patterns = table.patterns()
        likely = [patterns[p] for p in np.argsort(table.waste, kind="stable")[:MOST_PROGRAM]]
        branching = Branching(problem, patterns, wanted + 1, self.steps)
        spent = self._settle(branching, likely, work) if wanted == self.bound else branching.run(work)
        self.offer(branching.found)
        if branching.is_complete:
            self.raise_bound(wanted + 1 if branching.found is None else self.cost, CutProof.SEARCH)
        return spent

    def _settle(self, branching: Branching, likely: list[tuple[int, Counts]], work: int) -> int:
        """Branch and descend by turns, each longer than the last: a plan, or that there is none, settles the matter."""
        descent, spent, turn = Descent(branching, Random(SEED)), 0, FIRST_TURN  # noqa: S311 (odds of a search)
        while spent <= work and not branching.is_closed:
            spent += branching.run(min(turn, work - spent))
            if branching.is_closed or DESCENTS * descent.spent > work:
                turn = work
                continue
            self.offer(descent.run(turn * DESCENTS))
            if self.proof is CutProof.NONE and turn > FIRST_TURN:
                self.offer(self._program(likely, self.bound))
            if self.proof is not CutProof.NONE:
                break
            turn *= MORE
        return spent

    def _program(self, patterns: list[tuple[int, Counts]], wanted: int) -> list[Use] | None:
        """Ask the outside program for a plan: long where it would settle the matter, else only for a better one."""
        nodes = self.limits.program_nodes
        nodes = nodes * MOST_PROGRAM // max(1, len(patterns)) if wanted == self.bound else -(-nodes // GLANCE)
        return plan_by_program(self.problem, patterns, most=wanted, nodes=nodes) if nodes else None

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
