"""A plan of the same price that is better in what comes after the price: pieces change sticks, patterns are joined."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from evenfoot.solvers.cutstock.combine import fewer
from evenfoot.solvers.cutstock.model import Counts, CutGoal, CutItem, CutStock, CutUse, CutWishes

Stick = tuple[int, tuple[Counts, ...]]
"""Stock, and the pieces of each item in each run (one run where the stick is clear throughout)."""
Score = tuple[int, ...]
MOST_TRIALS = 20_000
"""Changes that are looked at before the plan is left as it is."""


def polish(
    items: Sequence[CutItem], stocks: Sequence[CutStock], uses: Sequence[CutUse], wishes: CutWishes
) -> tuple[CutUse, ...]:
    """Return a plan that costs no more and is no worse in the goals, compared in their order.

    Single pieces move to another stick or change places with one; two sticks cut differently become alike, or
    three kinds two. Not the best there can be: what no such change betters stays.
    """
    if not wishes.goals or not uses:
        return tuple(uses)
    plan = _Plan(items, stocks, uses, wishes)
    while plan.trials < MOST_TRIALS and (plan.combine() or plan.change()):
        pass
    return plan.uses()


class _Plan:
    """Sticks counted by how they are cut, and what that is worth."""

    def __init__(
        self, items: Sequence[CutItem], stocks: Sequence[CutStock], uses: Sequence[CutUse], wishes: CutWishes
    ) -> None:
        self.items, self.stocks, self.wishes = items, stocks, wishes
        self.sizes = [item.size for item in items]
        self.kinds: dict[tuple[int, int], list[int]] = {}
        for i, item in enumerate(items):
            self.kinds.setdefault((item.size, item.grade), []).append(i)
        self.sticks: Counter[Stick] = Counter()
        for use in uses:
            self.sticks[(use.stock, use.runs or (use.counts,))] += use.times
        self.trials = 0
        # What each item takes of each stock: more than the whole where its grade is above the stock's.
        self._rooms = [(one.size, [i.size if i.grade <= one.grade else one.size + 1 for i in items]) for one in stocks]
        self._known: dict[Stick, tuple[tuple[int, ...], tuple[int, Counts]]] = {}

    def uses(self) -> tuple[CutUse, ...]:
        """Return the plan as uses."""
        return tuple(
            CutUse(stock=j, times=times, counts=_sum(runs), runs=runs if self.stocks[j].runs else ())
            for (j, runs), times in self.sticks.items()
        )

    def pattern(self, stick: Stick) -> tuple[int, Counts]:
        """Return what makes a stick look like another at the saw: its stock and sizes, wherever the pieces go."""
        total = _sum(stick[1])
        return stick[0], tuple(sum(total[i] for i in members) for members in self.kinds.values())

    def score(self, sticks: Counter[Stick]) -> Score:
        """Return price, second price and goals of some sticks: less is better, the first that differs decides."""
        totals, looks = [0] * (2 + len(self.wishes.goals)), set()
        for stick, times in sticks.items():
            worths, look = self._worth(stick)
            looks.add(look)
            totals = [total + times * worth for total, worth in zip(totals, worths, strict=True)]
        if CutGoal.FEWER_PATTERNS in self.wishes.goals:
            totals[2 + self.wishes.goals.index(CutGoal.FEWER_PATTERNS)] = len(looks)
        return tuple(totals)

    def _worth(self, stick: Stick) -> tuple[tuple[int, ...], tuple[int, Counts]]:
        """Return what one stick adds to the score (nothing for what is not added up), and its pattern."""
        found = self._known.get(stick)
        if found is None:
            measures: dict[CutGoal, Callable[[Stick], int]] = {
                CutGoal.FEWER_STICKS: lambda _: 1,
                CutGoal.FEWER_PATTERNS: lambda _: 0,
                CutGoal.LONGER_OFFCUTS: self._offcut,
                CutGoal.TOGETHER: self._places,
            }
            stock = self.stocks[stick[0]]
            goals = (measures[goal](stick) for goal in self.wishes.goals)
            found = ((stock.cost(self._load(stick)), stock.tie, *goals), self.pattern(stick))
            self._known[stick] = found
        return found

    def _load(self, stick: Stick) -> int:
        return sum(c * s for run in stick[1] for c, s in zip(run, self.sizes, strict=True) if c)

    def _offcut(self, stick: Stick) -> int:
        stock = self.stocks[stick[0]]
        rooms = stock.runs or (stock.size,)
        ends = [
            room - sum(c * s for c, s in zip(run, self.sizes, strict=True) if c)
            for room, run in zip(rooms, stick[1], strict=True)
        ]
        return -sum(end * end for end in ends if end >= self.wishes.keep)

    def _places(self, stick: Stick) -> int:
        total = _sum(stick[1])
        return len({item.place for item, c in zip(self.items, total, strict=True) if c and item.place is not None})

    def combine(self) -> bool:
        """Make sticks alike where that is wished for; return whether any became so."""
        if CutGoal.FEWER_PATTERNS not in self.wishes.goals:
            return False
        plain = {s: n for s, n in self.sticks.items() if len(s[1]) == 1}
        lots = [(j, n, runs[0]) for (j, runs), n in plain.items()]
        for old, new in fewer(lots, self._rooms):
            before, after = Counter[Stick](), Counter[Stick]()
            for lots_of, sticks in ((old, before), (new, after)):
                for j, n, counts in lots_of:
                    sticks[(j, (counts,))] += n
            self.trials += len(self.sticks)
            if self._take(before, after):
                return True
        return False

    def _take(self, before: Counter[Stick], after: Counter[Stick]) -> bool:
        """Exchange sticks for others when the plan gets better by it."""
        changed = self.sticks - before + after
        if self.score(changed) >= self.score(self.sticks):
            return False
        self.sticks = changed
        return True

    def change(self) -> bool:
        """Make the first change of one or two pieces that betters the plan; return whether there was one."""
        order = sorted(self.sticks)
        for k, one in enumerate(order):
            for other in order[k:]:
                if one == other and self.sticks[one] < 2:
                    continue
                before = Counter([one, other])
                for new_one, new_other in self._changes(one, other):
                    self.trials += 1
                    after = Counter([s for s in (new_one, new_other) if any(_sum(s[1]))])
                    if self._is_better(before, after) and self._take(before, after):
                        return True
                    if self.trials >= MOST_TRIALS:
                        return False
        return False

    def _is_better(self, before: Counter[Stick], after: Counter[Stick]) -> bool:
        """Return whether a change may better the plan, from the sticks it touches alone."""
        if CutGoal.FEWER_PATTERNS in self.wishes.goals:
            place = 2 + self.wishes.goals.index(CutGoal.FEWER_PATTERNS)
            return self.score(after)[:place] <= self.score(before)[:place]
        return self.score(after) < self.score(before)

    def _changes(self, one: Stick, other: Stick) -> Iterator[tuple[Stick, Stick]]:
        """Yield both sticks after one piece has moved, or two have changed places."""
        for r in range(len(one[1])):
            for q in range(len(other[1])):
                yield from self._between(one, r, other, q)

    def _between(self, one: Stick, r: int, other: Stick, q: int) -> Iterator[tuple[Stick, Stick]]:
        room, space = self._room(one, r), self._room(other, q)
        held = [None, *(i for i, c in enumerate(one[1][r]) if c)]
        there = [None, *(i for i, c in enumerate(other[1][q]) if c)]
        for i in held:
            for k in there:
                gain = (self.sizes[i] if i is not None else 0) - (self.sizes[k] if k is not None else 0)
                if i == k or gain > space or -gain > room:
                    continue
                new_one, new_other = _with(_with(one, r, i, -1), r, k, 1), _with(_with(other, q, i, 1), q, k, -1)
                if self._suits(i, other) and self._suits(k, one):
                    yield new_one, new_other

    def _suits(self, item: int | None, stick: Stick) -> bool:
        return item is None or self.items[item].grade <= self.stocks[stick[0]].grade

    def _room(self, stick: Stick, run: int) -> int:
        stock = self.stocks[stick[0]]
        whole = stock.runs[run] if stock.runs else stock.size
        return whole - sum(c * s for c, s in zip(stick[1][run], self.sizes, strict=True) if c)


def _with(stick: Stick, run: int, item: int | None, more: int) -> Stick:
    """Return a stick with pieces added to one of its runs."""
    if item is None:
        return stick
    stock, runs = stick
    counts = runs[run]
    changed = (*counts[:item], counts[item] + more, *counts[item + 1 :])
    return stock, (*runs[:run], changed, *runs[run + 1 :])


def _sum(runs: Sequence[Counts]) -> Counts:
    return tuple(map(sum, zip(*runs, strict=True)))
