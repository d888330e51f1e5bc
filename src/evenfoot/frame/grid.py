"""The numbering of the frame: letters count its lines along x, numbers its lines along y."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable

from evenfoot.frame.model import GridLine
from evenfoot.layout import Axis

_SAME = 0.5
"""Lines closer than this are one line [mm]."""


def letters(index: int) -> str:
    """Return the label of line ``index`` (0 = A, 25 = Z, 26 = AA)."""
    label = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        label = chr(ord("A") + rest) + label
    return label


class Grid:
    """The lines of one frame, and the label of any place on them."""

    def __init__(self, xs: Iterable[float], ys: Iterable[float]) -> None:
        """``xs`` and ``ys`` are the positions of all timber and post axes [mm], in any order."""
        self._positions = {Axis.X: _distinct(xs), Axis.Y: _distinct(ys)}

    def label(self, axis: Axis, position: float) -> str:
        """Return the label of the line counted along ``axis`` at ``position``; the line must exist."""
        lines = self._positions[axis]
        index = bisect_left(lines, position - _SAME)
        assert index < len(lines), "no such grid line"
        assert abs(lines[index] - position) <= _SAME, "no such grid line"
        return letters(index) if axis is Axis.X else str(index + 1)

    def span(self, axis: Axis, low: float, high: float) -> str:
        """Return the labels of the first and last line between two positions, as ``A-F`` or ``1-3``."""
        lines = self._positions[axis]
        first = bisect_left(lines, low - _SAME)
        last = max(first, bisect_left(lines, high + _SAME) - 1)
        one, other = (letters(first), letters(last)) if axis is Axis.X else (str(first + 1), str(last + 1))
        return f"{one}-{other}"

    def lines(self) -> tuple[GridLine, ...]:
        """Return all lines, those along x first."""
        return tuple(
            GridLine(axis=axis, label=self.label(axis, p), position=p)
            for axis in (Axis.X, Axis.Y)
            for p in self._positions[axis]
        )


def _distinct(values: Iterable[float]) -> list[float]:
    out: list[float] = []
    for v in sorted(values):
        if not out or v - out[-1] > _SAME:
            out.append(v)
    return out
