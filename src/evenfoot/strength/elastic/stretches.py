"""Stretches of timber that bear an even load alone: whole elements, and the parts between loads that stand on one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.solvers import beam_element, nearby

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretches:
    """Rows are stretches, columns load cases or places of a walk.

    ``element`` is the element that each lies in, ``begin`` how far from its start [mm]. ``ends`` are the forces on the
    start of the stretch (down, and turning), shape (n, 2 or 4, n_columns), ``q`` its even load [N/mm]. It is looked at
    from ``low`` to ``high`` mm from its own start, and not at all where ``low`` passes ``high``.
    """

    element: IntArray
    begin: FloatArray
    ends: FloatArray
    q: FloatArray
    low: FloatArray
    high: FloatArray

    def summit(self) -> FloatArray:
        """Return where within each stretch the moment has its peak, or the nearer end of what is looked at [mm]."""
        found = beam_element.peak(ends=self.ends, q=self.q)
        return np.where(np.isnan(found), self.low, np.clip(found, self.low, np.maximum(self.low, self.high)))


def bare(stretches: Stretches, points: nearby.Points | None) -> Stretches:
    """Return the stretches without those (row and column) that a load stands on: they are not looked at."""
    if points is None or not len(points.element):
        return stretches
    shape = (len(stretches.element), stretches.ends.shape[2])
    low, high = np.broadcast_to(stretches.low, shape), np.broadcast_to(stretches.high, shape).copy()
    high[points.element, points.place] = -1.0
    return Stretches(
        element=stretches.element,
        begin=stretches.begin,
        ends=stretches.ends,
        q=stretches.q,
        low=low,
        high=high,
    )


def between(stretches: Stretches, length: FloatArray, points: nearby.Points) -> Stretches:
    """Return the parts into which loads divide the elements that they stand on, one column.

    Args: stretches, whole elements with one row each; length of each row's element [mm]; points, with row and column.
    """
    order = np.lexsort((points.at, points.place, points.element))
    row, column, at, force = points.element[order], points.place[order], points.at[order], points.force[order]
    is_first = np.ones(len(row), dtype=bool)
    is_first[1:] = (row[1:] != row[:-1]) | (column[1:] != column[:-1])
    is_last = np.append(is_first[1:], True)
    # Loads up to and with each one, and their moment about the element's start, summed within its element and column.
    group = np.cumsum(is_first) - 1
    passed, lever = _within(force, group), _within(force * at, group)
    begin = np.concatenate((np.zeros(int(is_first.sum())), at))
    end = np.concatenate((at[is_first], np.where(is_last, length[row], np.append(at[1:], 0.0))))
    rows, columns = np.concatenate((row[is_first], row)), np.concatenate((column[is_first], column))
    nothing = np.zeros(int(is_first.sum()))
    passed, lever = np.concatenate((nothing, passed)), np.concatenate((nothing, lever))
    ends = stretches.ends[rows, :2, columns]
    q = np.broadcast_to(stretches.q, (len(stretches.q), stretches.ends.shape[2]))[rows, columns]
    down = ends[:, 0] + q * begin + passed
    turning = ends[:, 1] - ends[:, 0] * begin - q * begin**2 / 2.0 - (passed * begin - lever)
    return Stretches(
        element=stretches.element[rows],
        begin=begin,
        ends=np.stack((down, turning), axis=1)[:, :, None],
        q=q[:, None],
        low=np.maximum(stretches.low[rows, 0] - begin, 0.0)[:, None],
        high=(np.minimum(stretches.high[rows, 0], end) - begin)[:, None],
    )


def _within(values: FloatArray, group: IntArray) -> FloatArray:
    """Return running sums that begin anew with each group."""
    total = np.cumsum(values)
    before = np.concatenate(([0.0], total))[np.searchsorted(group, group, side="left")]
    out: FloatArray = total - before
    return out
