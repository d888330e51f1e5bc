"""Where a board longer than the stock is joined: on joists, in few pieces, and what two neighbours cost together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from evenfoot.layout.closing import EPS

Cost = tuple[int, int, float, int, int]
"""Pieces, those over fewer than two bays, stock length bought, joints one joist from a neighbour's, -sum of squares."""

Lengths = tuple[float, ...]
"""Clean lengths that the stock gives [mm], rising."""

_FREE: frozenset[int] = frozenset()
_BAYS_MIN = 2
_OFF_THE_MARK = 0.3137
"""Lengths are compared in whole mm, divided where no round length falls: rounding never decides between two [mm]."""
_PAIR_STEPS_MAX = 1_000_000
"""Two boards are searched together only below this many steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """One board to be, before it is split [mm along the board].

    ``lines`` are the joist axes under it, the first being joist ``first`` in the order along the boards. A piece that
    ends at a joint on a line ends ``inset`` before it; the next piece begins ``inset`` after it.
    """

    u0: float
    u1: float
    first: int
    lines: tuple[float, ...]
    inset: float

    @property
    def length(self) -> float:
        """Length of the board unsplit."""
        return self.u1 - self.u0

    @property
    def goal(self) -> int:
        """The node of the far end: 0 is the first end, then one node per line."""
        return len(self.lines) + 1

    def order(self, node: int) -> int:
        """Return the joist at a node; the ends lie before and after all joists."""
        if node == 0:
            return -1
        return self.first + node - 1 if node < self.goal else self.first + self.goal + 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """Joints of one board by joist order, and what they cost."""

    joints: tuple[int, ...]
    cost: Cost


Step = tuple[int, int, float, int]
Graph = tuple[Mapping[int, Step], ...]


def shortest_stock(span: Span) -> float:
    """Return the clean stock length [mm] that will do for rows of this board with their joints staggered.

    Neighbours take every other joist in turn, none the first or the last: a piece needs two. On even joists no shorter
    stock will do. With fewer than two joists to choose from it is the whole board.
    """
    inner = span.lines[1:-1]
    if len(inner) < 2:
        return span.length
    return max(_longest_piece(span, inner[0::2]), _longest_piece(span, inner[1::2]))


def _longest_piece(span: Span, joints: tuple[float, ...]) -> float:
    starts = (span.u0, *(line + span.inset for line in joints))
    ends = (*(line - span.inset for line in joints), span.u1)
    return max(end - start for start, end in zip(starts, ends, strict=True))


def step_graph(span: Span, lengths: Lengths) -> Graph:
    """Return for each node the nodes that one piece can reach, and what the piece costs.

    A step costs one piece, one short piece when it spans fewer than two bays, the stock length that it is cut from,
    and minus its whole mm squared. A piece that would lie on one joist only is no step.
    """
    ends = (*(line - span.inset for line in span.lines), span.u1)
    steps: list[Mapping[int, Step]] = []
    for a in range(span.goal):
        start = span.u0 if a == 0 else span.lines[a - 1] + span.inset
        reach: dict[int, Step] = {}
        for b in range(a + 1, span.goal + 1):
            length = ends[b - 1] - start
            if length > lengths[-1] + EPS:
                break
            bays = b - a - (a == 0) - (b == span.goal)
            if length > EPS and bays > 0:
                bought = next(size for size in lengths if size >= length - EPS)
                reach[b] = (1, int(bays < _BAYS_MIN), bought, -(int(length + _OFF_THE_MARK) ** 2))
        steps.append(reach)
    return tuple(steps)


def best_split(span: Span, graph: Graph, *, taken: frozenset[int] = _FREE) -> Split | None:
    """Return the cheapest split of one board with no joint on a ``taken`` joist; None when there is none.

    An exact search (dynamic programme over the joists in order). Cheapest: fewest pieces, then fewest pieces over
    less than two bays, then least stock bought, then joints two joists from the neighbour's, then longest pieces.
    """
    best: dict[int, tuple[Cost, int]] = {0: ((0, 0, 0.0, 0, 0), -1)}
    for a in range(span.goal):
        if a not in best:
            continue
        so_far = best[a][0]
        for b, step in graph[a].items():
            near = 0
            if b != span.goal:
                order = span.first + b - 1
                if order in taken:
                    continue
                near = (order - 1 in taken) + (order + 1 in taken)
            cost = _add(so_far, step, near)
            if b not in best or cost < best[b][0]:
                best[b] = (cost, a)
    if span.goal not in best:
        return None
    nodes: list[int] = []
    node = best[span.goal][1]
    while node > 0:
        nodes.append(node)
        node = best[node][1]
    return Split(joints=tuple(span.first + n - 1 for n in reversed(nodes)), cost=best[span.goal][0])


def cost_of(span: Span, graph: Graph, *, joints: tuple[int, ...]) -> Cost:
    """Return what given joints cost a board by itself."""
    at = (0, *(j - span.first + 1 for j in joints), span.goal)
    cost: Cost = (0, 0, 0.0, 0, 0)
    for a, b in itertools.pairwise(at):
        cost = _add(cost, graph[a][b], 0)
    return cost


def _add(cost: Cost, step: Step, near: int) -> Cost:
    return (cost[0] + step[0], cost[1] + step[1], cost[2] + step[2], cost[3] + near, cost[4] + step[3])


_Pair = tuple[int, int]


def split_pair(
    spans: tuple[Span, Span],
    graphs: tuple[Graph, Graph],
    *,
    taken: tuple[frozenset[int], frozenset[int]] = (_FREE, _FREE),
) -> tuple[Split, Split] | None:
    """Return the splits of two neighbouring boards that are cheapest together and share no joist; None when none do.

    Exact: the board that lags behind takes the next step, so only the other's last joint can be in line with it.
    Also None when the search would take more than a fixed number of steps.
    """
    reach = max(len(steps) for graph in graphs for steps in graph)
    if max(len(graphs[0]), len(graphs[1])) * reach * reach > _PAIR_STEPS_MAX:
        return None
    goal = (spans[0].goal, spans[1].goal)
    found: dict[_Pair, tuple[Cost, _Pair]] = {(0, 0): ((0, 0, 0.0, 0, 0), (-1, -1))}
    waiting: list[set[int]] = [{0}, *(set() for _ in range(goal[0]))]
    for a, row in enumerate(waiting):
        while row:
            b = min(row)
            row.remove(b)
            so_far = found[a, b][0]
            for after, step, near in _moves((a, b), spans, graphs, taken):
                cost = _add(so_far, step, near)
                if after not in found or cost < found[after][0]:
                    found[after] = (cost, (a, b))
                    waiting[after[0]].add(after[1])
    if goal not in found:
        return None
    first, second = _retrace(found, goal)
    return _as_split(spans[0], graphs[0], first), _as_split(spans[1], graphs[1], second)


def _moves(
    state: _Pair, spans: tuple[Span, Span], graphs: tuple[Graph, Graph], taken: tuple[frozenset[int], frozenset[int]]
) -> Iterator[tuple[_Pair, Step, int]]:
    """Yield where the lagging board can go next, what the step costs, and whether it comes one joist from the other."""
    orders = (spans[0].order(state[0]), spans[1].order(state[1]))
    who = 0 if state[1] == spans[1].goal or (orders[0] <= orders[1] and state[0] != spans[0].goal) else 1
    if state[who] == spans[who].goal:
        return
    other = orders[1 - who]
    for node, step in graphs[who][state[who]].items():
        near = 0
        if node != spans[who].goal:
            order = spans[who].order(node)
            if order == other or order in taken[who]:
                continue
            near = int(abs(order - other) == 1) + (order - 1 in taken[who]) + (order + 1 in taken[who])
        yield ((node, state[1]) if who == 0 else (state[0], node)), step, near


def _retrace(found: Mapping[_Pair, tuple[Cost, _Pair]], goal: _Pair) -> tuple[list[int], list[int]]:
    """Return the nodes that the two boards stopped at, from first end to far end, ends left out."""
    stops: tuple[set[int], set[int]] = (set(), set())
    state = goal
    while state != (-1, -1):
        for who in (0, 1):
            if 0 < state[who] < goal[who]:
                stops[who].add(state[who])
        state = found[state][1]
    return sorted(stops[0]), sorted(stops[1])


def _as_split(span: Span, graph: Graph, nodes: list[int]) -> Split:
    joints = tuple(span.first + n - 1 for n in nodes)
    return Split(joints=joints, cost=cost_of(span, graph, joints=joints))
