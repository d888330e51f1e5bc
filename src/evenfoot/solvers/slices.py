"""How a long system answers near a place, exactly: cut into slices, each slice of its inverse in turn.

Freedoms are put in slices along one direction so that each slice is coupled with its two neighbours only. One pass
eliminates slice by slice; the way back gives the blocks of the inverse about each slice, and nothing further off. The
work grows with the number of slices, not with its square.

Source: block LDL^T and selected inversion of block tridiagonal matrices; Takahashi, Fagan and Chin, Formation of a
sparse bus impedance matrix and its application to short circuit study, 8th PICA Conference, 1973.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

LEAST = 120
"""Freedoms that a slice has at least: matrices of this size are quick for what they hold."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Slicing:
    """Freedoms in order along the system: slice k holds ``order[starts[k]:starts[k + 1]]``.

    ``low`` and ``high`` are where each slice begins and ends along the direction [as ``place`` was given].
    """

    order: IntArray
    starts: IntArray
    low: FloatArray
    high: FloatArray

    def __len__(self) -> int:
        """Return the number of slices."""
        return len(self.starts) - 1

    @property
    def work(self) -> float:
        """What elimination costs, to compare directions by."""
        return float((np.diff(self.starts).astype(float) ** 3).sum())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Window:
    """A stretch of slices about the slices ``cores``: all freedoms from ``first`` up to ``last`` in slice order.

    ``inverse`` is the part of the system's inverse between them; it is overwritten when the next window is asked for.
    """

    cores: range
    first: int
    last: int
    inverse: FloatArray


def cut(matrix: Any, place: FloatArray, least: int = LEAST) -> Slicing:  # noqa: ANN401 - scipy's arrays carry no types
    """Return the freedoms of a symmetric sparse matrix in slices along ``place``, shape (n,).

    A slice ends where all that reaches into it from the slice before has ended, and not before it is full.
    """
    entries = matrix.tocoo()
    reach = place.copy()
    np.maximum.at(reach, entries.row, place[entries.col])
    order = np.argsort(place, kind="stable")
    sorted_place = place[order]
    reached = np.maximum.accumulate(reach[order])
    starts, count = [0], len(order)
    while starts[-1] < count:
        begun = starts[-1]
        full = min(begun + least, count) - 1
        # All that is coupled with the slice before must lie in this one.
        limit = max(sorted_place[full], reached[begun - 1] if begun else -np.inf)
        starts.append(int(np.searchsorted(sorted_place, limit, side="right")))
    ends = np.array(starts)
    return Slicing(order=order, starts=ends, low=sorted_place[ends[:-1]], high=sorted_place[ends[1:] - 1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sliced:
    """A system eliminated slice by slice: the inverse of each pivot block, and how a slice follows the next.

    ``follow[k]`` has one column for each freedom of slice k + 1 that is coupled with slice k (``coupled[k]``, numbers
    within slice k + 1).
    """

    slicing: Slicing
    pivots: tuple[FloatArray, ...]
    follow: tuple[FloatArray, ...]
    coupled: tuple[IntArray, ...]


def eliminate(matrix: Any, slicing: Slicing) -> Sliced:  # noqa: ANN401 - scipy's sparse arrays carry no types
    """Return a symmetric positive system eliminated along its slices; its factors are known to exist."""
    starts = slicing.starts
    ordered = matrix.tocsr()[slicing.order][:, slicing.order]
    pivots: list[FloatArray] = []
    follow: list[FloatArray] = []
    coupled: list[IntArray] = []
    taken: FloatArray | None = None
    for k in range(len(slicing)):
        here = slice(starts[k], starts[k + 1])
        block = ordered[here, here].toarray()
        if taken is not None:
            block[np.ix_(coupled[-1], coupled[-1])] -= taken
        pivots.append(_inverse(block))
        if k + 1 < len(slicing):
            onward = ordered[here, starts[k + 1] : starts[k + 2]].tocsc()
            used = np.flatnonzero(np.diff(onward.indptr))
            beside = onward[:, used].toarray()
            coupled.append(used)
            follow.append(-pivots[-1] @ beside)
            taken = -beside.T @ follow[-1]
    return Sliced(slicing=slicing, pivots=tuple(pivots), follow=tuple(follow), coupled=tuple(coupled))


def _inverse(block: FloatArray) -> FloatArray:
    """Return the inverse of a symmetric positive matrix, scaled to a unit diagonal first."""
    from scipy.linalg.lapack import dpotrf, dpotri

    scale = 1.0 / np.sqrt(block.diagonal())
    factor, failed = dpotrf(block * scale * scale[:, None], lower=1, clean=0)
    assert failed == 0, "a slice that nothing holds: the whole was factorised before"
    lower, _ = dpotri(factor, lower=1)
    found: FloatArray = np.tril(lower)
    found += np.tril(lower, -1).T
    return found * scale * scale[:, None]


def windows(sliced: Sliced, reach: float) -> Iterator[Window]:
    """Yield a window about each slice from the last to the first, with all slices within ``reach`` of it.

    Slices that see the same stretch share one window.
    """
    slicing = sliced.slicing
    starts, count = slicing.starts, len(slicing)
    spans = [_span(slicing, core, reach) for core in range(count)]
    widest = max(int(starts[b + 1] - starts[a]) for a, b in spans)
    room = min(2 * widest, int(starts[-1]))
    held = np.zeros((room, room))
    low, end = count, room  # slices from ``low`` on are held, ending before ``end`` of the room
    high = top = count - 1
    for core in range(count - 1, -1, -1):
        first, last = spans[core]
        end -= int(starts[high + 1] - starts[last + 1])
        high = last
        while low > first:
            low -= 1
            size = int(starts[low + 1] - starts[low])
            kept = int(starts[high + 1] - starts[low + 1]) if low < high else 0
            if end - kept < size:
                held[room - kept :, room - kept :] = held[end - kept : end, end - kept : end].copy()
                end = room
            _extend(sliced, low, held[end - kept - size : end, end - kept - size : end])
        if core and spans[core - 1] == spans[core]:
            continue
        cores, top = range(core, top + 1), core - 1
        begun = end - int(starts[high + 1] - starts[low])
        yield Window(
            cores=cores, first=int(starts[first]), last=int(starts[last + 1]), inverse=held[begun:end, begun:end]
        )


def _span(slicing: Slicing, core: int, reach: float) -> tuple[int, int]:
    """Return the first and last slice within reach of a core slice; the next one always, since it gives the core."""
    first = int(np.searchsorted(slicing.high, slicing.low[core] - reach, side="left"))
    last = int(np.searchsorted(slicing.low, slicing.high[core] + reach, side="right")) - 1
    return min(first, core), max(last, min(core + 1, len(slicing) - 1))


def _extend(sliced: Sliced, number: int, held: FloatArray) -> None:
    """Fill in the rows and columns of slice ``number``; what lies behind them in ``held`` is known."""
    pivot = sliced.pivots[number]
    size = len(pivot)
    if size == len(held):
        held[:] = pivot
        return
    follow, used = sliced.follow[number], size + sliced.coupled[number]
    across = follow @ held[used, size:]
    held[:size, size:] = across
    held[size:, :size] = across.T
    held[:size, :size] = pivot + across[:, used - size] @ follow.T
