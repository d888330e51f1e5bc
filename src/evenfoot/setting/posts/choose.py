"""Which posts at least have to be changed: a mixed-integer program that bounds the number from below.

It looks at some positions of the person, and at each only asks that feet could push and stand within the limit of
their footings, not that those that push touch. Whatever it finds too few is too few for the floor itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.goal import HAIR, Hand, IntArray, Trial

Block = tuple[slice, FloatArray]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Choice:
    """What the program found. ``steps`` are the changes of all posts, packing positive, in steps of the goal, (n,).

    They are None where there is no way (``is_finished``) or none was found in time. ``least`` is the proved smallest
    number of posts.
    """

    steps: IntArray | None
    least: int
    is_finished: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Columns:
    """Where the variables stand, n posts: packed and shaved steps, whether there are any, forces and free shapes."""

    n: int
    m: int
    k: int

    @property
    def packed(self) -> slice:
        return slice(0, self.n)

    @property
    def shaved(self) -> slice:
        return slice(self.n, 2 * self.n)

    @property
    def is_packed(self) -> slice:
        return slice(2 * self.n, 3 * self.n)

    @property
    def is_shaved(self) -> slice:
        return slice(3 * self.n, 4 * self.n)

    def of_position(self, k: int) -> tuple[slice, slice]:
        """Return the columns of the forces and of the free shapes at one position."""
        at = 4 * self.n + k * (self.n + self.m)
        return slice(at, at + self.n), slice(at + self.n, at + self.n + self.m)

    @property
    def count(self) -> int:
        return 4 * self.n + self.k * (self.n + self.m)


@dataclass(slots=True, eq=False)
class Program:
    """The program of one floor with given clearances, shape (n,) [mm]; it grows as answers prove wrong.

    ``positions`` are those looked at; ``refuted`` are sets of posts that are known not to be enough by themselves.
    """

    trial: Trial
    clearance: FloatArray
    positions: list[int] = field(default_factory=list)
    refuted: list[tuple[int, ...]] = field(default_factory=list)

    def choose(self, *, least: int, most: int, nodes: int) -> Choice:
        """Return the fewest changes that the program lets pass, ``least`` to ``most`` posts."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        columns = self._columns
        rows, low, high = self._rows(least, most)
        whole = np.zeros(columns.count)
        whole[: 4 * columns.n] = 1.0
        answer = milp(
            c=self._costs(),
            integrality=whole,
            bounds=Bounds(*self.bounds()),
            constraints=LinearConstraint(csr_array(rows), low, high),
            options={"node_limit": nodes, "mip_rel_gap": 0.02},
        )
        bound = answer.mip_dual_bound
        proved = least if bound is None or not np.isfinite(bound) else max(least, _whole_posts(bound))
        if answer.x is None:
            return Choice(steps=None, least=proved, is_finished=answer.status == 2)
        steps = np.rint(answer.x[columns.packed] - answer.x[columns.shaved]).astype(np.int64)
        return Choice(steps=steps, least=proved, is_finished=answer.status == 0)

    def ranges(self, posts: Sequence[int]) -> list[tuple[int, int]] | None:
        """Return between which steps each of these posts must be changed, the others left; None where nothing helps."""
        from scipy.optimize import linprog
        from scipy.sparse import csr_array

        columns = self._columns
        low, high = self.bounds()
        still = np.ones(columns.n, dtype=bool)
        still[list(posts)] = False
        high[columns.packed] = np.where(still, 0.0, high[columns.packed])
        high[columns.shaved] = np.where(still, 0.0, high[columns.shaved])
        rows, least, most = self._position_rows()
        is_equal = least == most
        found = []
        for post in posts:
            ends = []
            for sign in (1.0, -1.0):
                cost = np.zeros(columns.count)
                cost[columns.packed.start + post], cost[columns.shaved.start + post] = sign, -sign
                answer = linprog(
                    cost,
                    A_ub=csr_array(np.vstack((rows[~is_equal], -rows[~is_equal]))),
                    b_ub=np.concatenate((most[~is_equal], -least[~is_equal])),
                    A_eq=csr_array(rows[is_equal]),
                    b_eq=most[is_equal],
                    bounds=np.column_stack((low, high)),
                )
                if answer.status == 2:
                    return None
                ends.append(sign * answer.fun if answer.status == 0 else -sign * self.trial.goal.most_steps)
            found.append((int(np.ceil(ends[0] - 1e-4)), int(np.floor(ends[1] + 1e-4))))
        return found

    @property
    def _columns(self) -> _Columns:
        frame = self.trial.footing.frame
        return _Columns(n=frame.count, m=frame.shapes.shape[1], k=len(self.positions))

    def _costs(self) -> FloatArray:
        """Count posts first; then those changed in the way not preferred; then steps. Together below one post."""
        columns, goal = self._columns, self.trial.goal
        cost = np.zeros(columns.count)
        likes_pack = goal.prefer is Hand.PACK
        cost[columns.is_packed] = 1.0 + (0.0 if likes_pack else 0.5 / columns.n)
        cost[columns.is_shaved] = 1.0 + (0.5 / columns.n if likes_pack else 0.0)
        cost[: 2 * columns.n] = 0.25 / (columns.n * goal.most_steps)
        return cost

    def bounds(self) -> tuple[FloatArray, FloatArray]:
        """Return the least and the most of every variable; anchored feet may pull."""
        columns, trial = self._columns, self.trial
        low, high = np.zeros(columns.count), np.ones(columns.count)
        high[: 2 * columns.n] = trial.goal.most_steps
        anchored = trial.footing.is_anchored
        for k in range(columns.k):
            force, shape = columns.of_position(k)
            low[force] = np.where(anchored, -np.inf, 0.0)
            high[force] = np.where(anchored, np.inf, trial.most_press * (1.0 + HAIR) / self._unit)
            low[shape], high[shape] = -np.inf, np.inf
        return low, high

    @property
    def _unit(self) -> float:
        """The force that the program counts in [N]."""
        return float(self.trial.loads.sum(axis=1).max())

    def _rows(self, least: int, most: int) -> tuple[FloatArray, FloatArray, FloatArray]:
        columns = self._columns
        n = columns.n
        unit, no_end, ones = np.eye(n), np.full(n, np.inf), np.ones((1, n))
        table = _Table(columns.count)
        for steps, is_changed in ((columns.packed, columns.is_packed), (columns.shaved, columns.is_shaved)):
            table.add([(steps, unit), (is_changed, -self.trial.goal.most_steps * unit)], -no_end, np.zeros(n))
            table.add([(steps, unit), (is_changed, -unit)], np.zeros(n), no_end)
        table.add([(columns.is_packed, unit), (columns.is_shaved, unit)], -no_end, np.ones(n))
        table.add(
            [(columns.is_packed, ones), (columns.is_shaved, ones)], np.array([float(least)]), np.array([float(most)])
        )
        for posts in self.refuted:
            others = np.ones((1, n))
            others[0, list(posts)] = 0.0
            table.add([(columns.is_packed, others), (columns.is_shaved, others)], np.ones(1), np.array([np.inf]))
        self._add_positions(table.add)
        return table.whole()

    def _position_rows(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        table = _Table(self._columns.count)
        self._add_positions(table.add)
        return table.whole()

    def _add_positions(self, add: Callable[[Sequence[Block], FloatArray, FloatArray], None]) -> None:
        """Add, for each position, the balance of forces and that every foot is within the limit of its footing."""
        columns, frame, goal = self._columns, self.trial.footing.frame, self.trial.goal
        unit = np.eye(columns.n)
        room = np.where(self.trial.footing.is_anchored, 0.0, goal.rock + HAIR)
        for k, position in enumerate(self.positions):
            force, shape = columns.of_position(k)
            load = self.trial.loads[position]
            start = self.clearance - load @ frame.give
            total = load @ frame.shapes / self._unit
            add([(force, frame.shapes.T)], total, total)
            gap = [
                (columns.packed, -goal.step * unit),
                (columns.shaved, goal.step * unit),
                (force, self._unit * (frame.give + np.diag(frame.seat))),
                (shape, frame.shapes),
            ]
            add(gap, -start, room - start)
            if position == 0 and goal.level is not None:
                sag, within = load @ frame.give - self.trial.lies, goal.level + HAIR
                add([(force, self._unit * frame.give), (shape, frame.shapes)], sag - within, sag + within)


class _Table:
    """Rows of a program between two limits each."""

    def __init__(self, width: int) -> None:
        self._width = width
        self._parts: list[tuple[FloatArray, FloatArray, FloatArray]] = []

    def add(self, blocks: Sequence[Block], low: FloatArray, high: FloatArray) -> None:
        rows = np.zeros((len(low), self._width))
        for where, what in blocks:
            rows[:, where] = what
        self._parts.append((rows, low, high))

    def whole(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        rows, low, high = zip(*self._parts, strict=True)
        return np.vstack(rows), np.concatenate(low), np.concatenate(high)


def _whole_posts(bound: float) -> int:
    """Return how many whole posts a bound on the cost proves: everything but their number costs less than 0.75."""
    return max(0, int(np.ceil(bound - 0.75 - 1e-6)))
