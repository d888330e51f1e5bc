"""The fractional plan under added rows: the dual simplex method, rounding cuts, and bounds proved in whole numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.bound import Steps

Floats = NDArray[np.floating[Any]]
Ints = NDArray[np.int64]
NEAR = 1e-6
"""How near in price counts as equal while pivoting; nothing is proved by it."""
NEAR_SHARE = 1e-7
"""The same for large prices, as a share of the ceiling: sums of large prices are rounded more."""
HALF = 26
"""Binary places of the lower half of a price."""
CUTS_A_ROUND = 20
CUT_UNIT = 1 << 24
"""The factors of a rounding cut are whole numbers over this."""
LARGEST_IN_CUT = 1 << 12
MOST_PIVOTS = 2_000
SHORT = 1e-7
"""A row that is short of less than this counts as kept; no plan is taken that does not keep all in whole numbers."""
SLACK = 1e-8
"""How far a reduced cost may be pushed below zero by a steeper pivot."""
STEEP = 1e-8
"""Slopes below this are rounding."""
REFRESH = 50
"""Pivots between two fresh inverses."""


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Rows that every plan keeps: ``matrix @ x >= right``, x = how often each pattern is used, whole and >= 0.

    The matrix holds whole numbers; they are kept as floating-point numbers, which are quicker to multiply, and exact
    below 2 to the 53rd.
    """

    matrix: Floats
    right: Ints
    weights: Floats
    """The sum of the sizes of the numbers in each column."""

    @classmethod
    def of(cls, matrix: Floats | Ints, right: Ints) -> Rows:
        """Return rows of whole numbers."""
        numbers = np.asarray(matrix, dtype=np.float64)
        return cls(numbers, right, np.abs(numbers).sum(axis=0))

    def __len__(self) -> int:
        """Return how many rows there are."""
        return len(self.right)

    def and_rows(self, rows: Floats | Ints, right: Ints) -> Rows:
        """Return these rows and more."""
        weights = self.weights + np.abs(rows).sum(axis=0)
        return Rows(np.concatenate([self.matrix, rows]), np.concatenate([self.right, right]), weights)

    def part(self, rows: list[int]) -> Rows:
        """Return some of the rows."""
        return Rows.of(self.matrix[rows], self.right[rows])

    def over(self, kept: NDArray[np.intp]) -> Rows:
        """Return the rows over some of the patterns."""
        return Rows(np.take(self.matrix, kept, axis=1), self.right, self.weights[kept])

    def worth(self, prices: Ints) -> Ints:
        """Return ``prices @ matrix``, exact as long as the sizes of the products in a column add up to less than 2**60.

        Prices are cut in two, so that the sums of either half are whole numbers that floating point holds exactly.
        """
        if float(self.weights.max(initial=0.0)) >= 1 << HALF:
            exact: Ints = prices @ self.matrix.astype(np.int64)
            return exact
        high = ((prices >> HALF).astype(np.float64) @ self.matrix).astype(np.int64)
        low = ((prices & ((1 << HALF) - 1)).astype(np.float64) @ self.matrix).astype(np.int64)
        whole: Ints = (high << HALF) + low
        return whole


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """What the patterns cost, and how often each can be of use."""

    costs: Ints
    most: Ints

    def __len__(self) -> int:
        """Return how many patterns there are."""
        return len(self.costs)

    def part(self, kept: NDArray[np.intp]) -> Columns:
        """Return some of the patterns."""
        return Columns(self.costs[kept], self.most[kept])


class Relaxed:
    """The cheapest fractional plan from a basis of another one, or dual prices that lift it to ``ceiling``."""

    def __init__(self, columns: Columns, rows: Rows, basis: tuple[int, ...], ceiling: int) -> None:
        """Solve. A basis counts patterns first, then the surplus of each row."""
        self.columns, self.rows, self.ceiling = columns, rows, ceiling
        self.basis = list(basis)
        self.pivots = 0
        self.matrix = rows.matrix
        self.costs = np.concatenate([columns.costs.astype(np.float64), np.zeros(len(rows))])
        self.duals: Floats = np.zeros(len(rows))
        self.spare: Floats = np.empty((len(rows), len(rows)))
        try:
            self.is_cut_off = not self._solve()
        except np.linalg.LinAlgError:  # rounding has spoilt the basis; the last duals prove what they prove
            self.is_cut_off = True

    @property
    def work(self) -> int:
        """Thousands of multiplications spent, the fixed cost of a pivot counted as thirty."""
        return (self.pivots + 1) * (30 + len(self.rows) * (len(self.rows) + len(self.columns)) // 1000)

    def _column(self, number: int) -> Floats:
        """Return a pattern's column, or that of the surplus of a row."""
        if number < len(self.columns):
            column: Floats = self.matrix[:, number].copy()
            return column
        surplus = np.zeros(len(self.rows))
        surplus[number - len(self.columns)] = -1.0
        return surplus

    def _along(self, row: Floats) -> Floats:
        """Return ``row`` times every column."""
        along = np.empty(len(self.costs))
        np.matmul(row, self.matrix, out=along[: len(self.columns)])
        np.negative(row, out=along[len(self.columns) :])
        return along

    def _factor(self) -> None:
        """Work out the inverse of the basis, the level of each row, the duals and the reduced costs anew."""
        basis, top = np.array(self.basis, dtype=np.intp), len(self.columns)
        matrix = np.zeros((len(self.rows), len(basis)))
        patterns = np.flatnonzero(basis < top)
        matrix[:, patterns] = self.matrix[:, basis[patterns]]
        surplus = np.flatnonzero(basis >= top)
        matrix[basis[surplus] - top, surplus] = -1.0
        self.inverse: Floats = np.linalg.inv(matrix)
        self.level: Floats = self.inverse @ self.rows.right
        self.duals = self.costs[self.basis] @ self.inverse
        self.reduced: Floats = self.costs - self._along(self.duals)

    def _solve(self) -> bool:
        """Pivot to a plan (True), or to dual prices whose sum reaches the ceiling (False)."""
        self._factor()
        right = self.rows.right.astype(np.float64)
        enough = self.ceiling - 1 + min(0.5, max(NEAR, NEAR_SHARE * self.ceiling))
        for _ in range(MOST_PIVOTS):
            value = float(self.duals @ right)
            if value > enough:
                return False
            leave = int(self.level.argmin())
            if self.level[leave] >= -SHORT:
                return True
            row = self.inverse[leave]
            slope = self._along(row)
            slope[self.basis] = 0.0
            able = np.flatnonzero(slope < -STEEP)
            if len(able) and self._pivot(self._entering(slope, able), leave, slope):
                continue
            if self.pivots % REFRESH:  # rounding may have grown: look again with a fresh inverse
                self.pivots += -self.pivots % REFRESH
                self._factor()
            elif len(able):
                raise np.linalg.LinAlgError
            else:
                # Nothing can fill the gap: the prices may rise along this row without end.
                self.duals = self.duals - (self.ceiling + 1 - value) / -self.level[leave] * row
                return False
        return True

    def _entering(self, slope: Floats, able: NDArray[np.intp]) -> int:
        """Return the column whose reduced cost is used up first; within rounding, the steepest.

        A small pivot would spoil the inverse (P. M. J. Harris, "Pivot selection methods of the Devex LP code",
        Mathematical Programming 5, 1973).
        """
        room, fall = np.maximum(self.reduced[able], 0.0), -slope[able]
        near = able[room / fall <= ((room + SLACK) / fall).min()]
        return int(near[slope[near].argmin()])

    def _pivot(self, enter: int, leave: int, slope: Floats) -> bool:
        """Bring a column into the basis; return False, and change nothing, where rounding has spoilt the inverse."""
        column: Floats = self.inverse @ self._column(enter)
        if not abs(column[leave]) > STEEP / 2:
            return False
        rise = max(float(self.reduced[enter]), 0.0) / -float(slope[enter])
        self.duals = self.duals - rise * self.inverse[leave]
        self.reduced += rise * slope
        self.reduced[enter] = 0.0
        self.reduced[self.basis[leave]] = rise
        pivot_row = self.inverse[leave] / column[leave]
        step = self.level[leave] / column[leave]
        column[leave] = 0.0
        np.multiply(column[:, None], pivot_row, out=self.spare)
        self.inverse -= self.spare
        self.inverse[leave] = pivot_row
        self.level -= step * column
        self.level[leave] = step
        self.basis[leave] = enter
        self.pivots += 1
        if self.pivots % REFRESH == 0:
            self._factor()
        return True

    def solution(self) -> Floats:
        """Return how often each pattern is used."""
        x = np.zeros(len(self.columns))
        for column, level in zip(self.basis, self.level, strict=True):
            if column < len(self.columns):
                x[column] = max(0.0, level)
        return x

    def in_doubt(self) -> int:
        """Return about how many patterns a plan below the ceiling may hold (those of the basis counted in)."""
        gap = self.ceiling - 1 - float(self.duals @ self.rows.right)
        return int((self.reduced[: len(self.columns)] <= gap + NEAR).sum())

    def cuts(self) -> tuple[Floats, Ints]:
        """Return rounding cuts from the rows whose level is farthest from whole: rows, and what they must reach.

        Source: V. Chvatal, "Edmonds polytopes and a hierarchy of combinatorial problems", Discrete Mathematics 4
        (1973). For factors >= 0, whole x >= 0 with ``matrix @ x >= right`` also keep ``ceil(factors @ matrix) @ x >=
        ceil(factors @ right)``. The factors are whole numbers over a power of two, so the roundings are exact.
        """
        apart = np.abs(self.level - np.rint(self.level))
        chosen = [int(r) for r in np.argsort(-apart, kind="stable")[:CUTS_A_ROUND] if apart[r] > 0.01]
        if not chosen or float(self.rows.weights.max(initial=0.0)) >= 1 << HALF:
            return np.zeros((0, len(self.columns))), np.zeros(0, dtype=np.int64)
        is_negative = (self.matrix <= 0).all(axis=1)
        share = self.inverse[chosen] - np.floor(self.inverse[chosen])
        factors = np.where(is_negative, np.ceil(share * CUT_UNIT + 1), np.floor(share * CUT_UNIT - 1))
        whole = np.maximum(factors, 0)
        rows = np.ceil(whole @ self.matrix / CUT_UNIT)
        right = -(-(whole.astype(np.int64) @ self.rows.right) // CUT_UNIT)
        keep = (np.abs(rows).max(axis=1) <= LARGEST_IN_CUT) & (rows @ self.solution() < right - 0.001)
        return rows[keep], right[keep]

    def binding(self, first: int) -> tuple[Rows, tuple[int, ...]]:
        """Return the rows without those from ``first`` on that do not bind, and the basis that belongs to them."""
        top = len(self.columns)
        loose = {b - top for b in self.basis if b >= top + first}
        kept = [r for r in range(len(self.rows)) if r not in loose]
        place = {top + r: top + k for k, r in enumerate(kept)}
        return self.rows.part(kept), tuple(place.get(b, b) for b in self.basis if b - top not in loose)

    def proof(self) -> tuple[int, int, Ints]:
        """Return scale, total and what each pattern costs above its worth, all in whole numbers.

        Every whole-number plan that keeps the rows costs at least ``total / scale``, and with at least one stick of
        pattern p at least ``(total + above[p]) / scale``, whatever rounding stands behind the dual prices: they are
        taken as given, >= 0, and patterns that are worth more than they cost are charged at the most they can be used.
        """
        top = float(np.abs(self.duals).max(initial=1.0))
        if not np.isfinite(top):
            return 1, 0, np.zeros(len(self.columns), dtype=np.int64)
        # Sums over a column stay inside 64 bits: fewer places after the point where prices are large.
        weight = int(self.rows.weights.max(initial=1))
        room = 60 - int(top).bit_length() - max(weight.bit_length(), int(self.columns.costs.max()).bit_length())
        scale = 1 << max(0, min(room, 40))
        prices = np.maximum(np.rint(self.duals * scale), 0.0).astype(np.int64)
        above = self.columns.costs * scale - self.rows.worth(prices)
        total = sum(int(p) * int(r) for p, r in zip(prices, self.rows.right, strict=True))
        total += sum(int(above[p]) * int(self.columns.most[p]) for p in np.flatnonzero(above < 0))
        return scale, total, np.maximum(above, 0)

    def is_proved_above(self, ceiling: int, steps: Steps) -> bool:
        """Return whether no whole-number plan that keeps the rows costs less than ``ceiling``."""
        scale, total, _ = self.proof()
        return steps.up(-(-total // scale)) >= ceiling
