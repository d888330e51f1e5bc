"""How the joints of a whole floor are staggered: row after row, no joint in line with the row before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.layout.closing import EPS
from evenfoot.layout.splits import Cost, Graph, Lengths, Span, Split, best_split, cost_of, split_pair, step_graph

_NONE: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitPlan:
    """Joints of every board by joist order, row by row, and what could not be had: (row, place in the row) each."""

    joints: tuple[tuple[tuple[int, ...], ...], ...]
    unsplit: tuple[tuple[int, int], ...]
    """Boards longer than the stock that no joint on a joist can bring down to it."""
    in_line: tuple[tuple[int, int], ...]
    """Boards whose joints could not be kept clear of the row before."""


def plan_splits(rows: Sequence[Sequence[Span]], *, lengths: Lengths) -> SplitPlan:
    """Return where the boards of all rows are joined, given the clean ``lengths`` of the stock [mm], rising.

    Each board takes the fewest pieces that its neighbour's joints allow; where those cost it a piece, both are
    searched again together. Rows that repeat repeat the joints of the row before last. No lengths: nothing is split.
    """
    planner = _Planner(lengths=lengths)
    for row in rows:
        planner.add(row)
    return SplitPlan(
        joints=tuple(tuple(row) for row in planner.joints),
        unsplit=tuple(planner.unsplit),
        in_line=tuple(planner.in_line),
    )


class _Planner:
    """Walks the rows in order, remembering what it has settled."""

    def __init__(self, *, lengths: Lengths) -> None:
        self.lengths = lengths
        self.rows: list[Sequence[Span]] = []
        self.joints: list[list[tuple[int, ...]]] = []
        self.unsplit: list[tuple[int, int]] = []
        self.in_line: list[tuple[int, int]] = []
        self._graphs: dict[Span, Graph] = {}
        self._best: dict[tuple[Span, frozenset[int]], Split | None] = {}

    def add(self, row: Sequence[Span]) -> None:
        """Settle one more row."""
        number = len(self.rows)
        self.rows.append(row)
        if number > 1 and row == self.rows[-2] == self.rows[-3]:
            self.joints.append(list(self.joints[-2]))
            self.unsplit += [(number, place) for at, place in self.unsplit if at == number - 2]
            before = self._row_joints(number - 1)
            self.in_line += [(number, p) for p, joints in enumerate(self.joints[-1]) if not before.isdisjoint(joints)]
            return
        self.joints.append([])
        for place, span in enumerate(row):
            self.joints[number].append(self._settle(number, place, span))

    def _settle(self, number: int, place: int, span: Span) -> tuple[int, ...]:
        if not self.lengths or span.length <= self.lengths[-1] + EPS:
            return ()
        free = self._alone(span, _NONE)
        if free is None:
            self.unsplit.append((number, place))
            return ()
        split = self._alone(span, _within(span, self._row_joints(number - 1)))
        if split is None or split.cost[:2] > free.cost[:2]:
            split = self._together(number, span, split) or split
        if split is None:
            self.in_line.append((number, place))
            return free.joints
        return split.joints

    def _graph(self, span: Span) -> Graph:
        if span not in self._graphs:
            self._graphs[span] = step_graph(span, self.lengths)
        return self._graphs[span]

    def _alone(self, span: Span, taken: frozenset[int]) -> Split | None:
        key = (span, taken)
        if key not in self._best:
            self._best[key] = best_split(span, self._graph(span), taken=taken)
        return self._best[key]

    def _row_joints(self, number: int) -> frozenset[int]:
        return frozenset(j for joints in self.joints[number] for j in joints) if number >= 0 else _NONE

    def _together(self, number: int, span: Span, alone: Split | None) -> Split | None:
        """Search this board again with its neighbour in the row before; keep both when they cost less together."""
        before = number - 1
        place = max(range(len(self.rows[before])), key=lambda p: (_in_common(self.rows[before][p], span), -p))
        other, old = self.rows[before][place], self.joints[before][place]
        if not old or (before, place) in self.unsplit:
            return None
        rest = frozenset(j for p, joints in enumerate(self.joints[before]) if p != place for j in joints)
        beyond = self._row_joints(before - 1) | self._row_joints(number)
        taken = (_within(other, beyond), _within(span, rest))
        pair = split_pair((other, span), (self._graph(other), self._graph(span)), taken=taken)
        if pair is None:
            return None
        now = cost_of(other, self._graph(other), joints=old)
        if alone is not None and _sum(pair[0], pair[1].cost) >= (now[0] + alone.cost[0], now[1] + alone.cost[1]):
            return None
        if other == span and taken == (_NONE, _NONE) and pair[1].cost < pair[0].cost:
            pair = (pair[1], pair[0])
        self.joints[before][place] = pair[0].joints
        if (before, place) in self.in_line:
            self.in_line.remove((before, place))
        return pair[1]


def _sum(split: Split, cost: Cost) -> tuple[int, int]:
    return split.cost[0] + cost[0], split.cost[1] + cost[1]


def _within(span: Span, joints: frozenset[int]) -> frozenset[int]:
    """Return those joints that stand on this span's lines or right beside them."""
    return frozenset(j for j in joints if span.first - 1 <= j <= span.first + len(span.lines))


def _in_common(a: Span, b: Span) -> int:
    return min(a.first + len(a.lines), b.first + len(b.lines)) - max(a.first, b.first)
