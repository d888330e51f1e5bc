"""The same sticks, the same pieces, a longer offcut: pieces move out of the stick with the most left over."""

from __future__ import annotations

from collections.abc import Sequence

from evenfoot.solvers.cutstock.model import CutItem, CutStock, CutUse

MOST_MOVES = 200


def gather(
    items: Sequence[CutItem], stocks: Sequence[CutStock], uses: Sequence[CutUse], *, keep: int
) -> tuple[CutUse, ...]:
    """Return the plan with a longer longest offcut, where moves and exchanges of single pieces reach one.

    ``keep`` is the shortest offcut worth keeping, a saw cut included: a plan that reaches none is returned as it was.
    Sticks stay the same, so the cost does too. Plans with runs or offcuts of value are left as they are: there
    ``CutWishes`` do the same and more.
    """
    if any(stock.runs or stock.offcut for stock in stocks):
        return tuple(uses)
    work = _Sticks(items, stocks, uses)
    if not work.sticks:
        return tuple(uses)
    target = max(range(len(work.sticks)), key=lambda s: (work.rooms[s], -s))
    before = work.rooms[target]
    for _ in range(MOST_MOVES):
        if not work.improve(target):
            break
    if work.rooms[target] <= before or work.rooms[target] < keep:
        return tuple(uses)
    return work.uses()


class _Sticks:
    """One stick of every use by itself (what is moved into it), the rest of the use as it was."""

    def __init__(self, items: Sequence[CutItem], stocks: Sequence[CutStock], uses: Sequence[CutUse]) -> None:
        self.items, self.stocks, self.given = items, stocks, uses
        self.sticks = [list(use.counts) for use in uses]
        self.rooms = [
            stocks[use.stock].size - sum(c * i.size for c, i in zip(use.counts, items, strict=True)) for use in uses
        ]

    def improve(self, target: int) -> bool:
        """Make the one move or exchange that lengthens the target's offcut most; return whether there was one."""
        best: tuple[int, int, int, int | None] | None = None
        is_spared = sum(self.sticks[target]) > 1  # its last piece may be exchanged, not moved
        for other in range(len(self.sticks)):
            if other == target:
                continue
            for i in self._held(target):
                if self.items[i].grade > self.stocks[self.given[other].stock].grade:
                    continue
                for k in (*([None] if is_spared else []), *self._held(other)):
                    gain = self.items[i].size - (0 if k is None else self.items[k].size)
                    is_allowed = k is None or self.items[k].grade <= self.stocks[self.given[target].stock].grade
                    if 0 < gain <= self.rooms[other] and is_allowed and (best is None or gain > best[0]):
                        best = (gain, other, i, k)
        if best is None:
            return False
        _, other, i, k = best
        self._move(target, other, i)
        if k is not None:
            self._move(other, target, k)
        return True

    def _held(self, stick: int) -> list[int]:
        return [i for i, c in enumerate(self.sticks[stick]) if c]

    def _move(self, source: int, goal: int, item: int) -> None:
        self.sticks[source][item] -= 1
        self.sticks[goal][item] += 1
        self.rooms[source] += self.items[item].size
        self.rooms[goal] -= self.items[item].size

    def uses(self) -> tuple[CutUse, ...]:
        """Return the plan with equal sticks together again."""
        times: dict[tuple[int, tuple[int, ...]], int] = {}
        for use, stick in zip(self.given, self.sticks, strict=True):
            for counts, n in ((tuple(stick), 1), (use.counts, use.times - 1)):
                if n:
                    times[(use.stock, counts)] = times.get((use.stock, counts), 0) + n
        return tuple(CutUse(stock=stock, times=n, counts=counts) for (stock, counts), n in times.items())
