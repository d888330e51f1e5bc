"""How lengths are counted for the saw: what a stick gives, how many pieces come from it, and in which whole steps."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError

Stretch = tuple[float, float]
STEPS = (0.5, 25.4 / 64, 0.1)
"""Steps that lengths are counted in [mm]: half a millimetre, a 64th of an inch, else a tenth of a millimetre."""
NOISE = 1e-3
"""What a length may miss a step by, in steps, and still lie on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Whole steps of ``step`` mm: what is cut is rounded up, what is had is rounded down."""

    step: float

    @classmethod
    def of(cls, lengths: Iterable[float]) -> Grid:
        """Return the coarsest grid on which all lengths of a yard [mm] lie; a tenth of a millimetre when none fits.

        So inch stock is reckoned in exact inches, and two pieces that just fit a stick do fit.
        """
        given = tuple(lengths)
        for step in STEPS:
            if all(abs(length / step - round(length / step)) <= NOISE for length in given):
                return cls(step=step)
        return cls(step=STEPS[-1])

    def up(self, length: float) -> int:
        """Return the steps that hold ``length`` [mm]."""
        return math.ceil(length / self.step - NOISE)

    def down(self, length: float) -> int:
        """Return the whole steps in ``length`` [mm]."""
        return math.floor(length / self.step + NOISE)


def trims(*, end_trim: float, clean_ends: int) -> tuple[float, float]:
    """Return what is cut off the end that is sawn from first, and off the far end [mm].

    Valid: end_trim >= 0 [mm]; clean_ends 0, 1 or 2. The cleaner end comes first: of one clean end, no first trim.
    """
    return (end_trim if clean_ends == 0 else 0.0), (end_trim if clean_ends < 2 else 0.0)


def clear_runs(free: Iterable[Stretch], bad: Iterable[Stretch], *, kerf: float) -> tuple[Stretch, ...]:
    """Return the clear lengths in what is ``free`` of a stick, apart from its ``bad`` stretches; all along it [mm].

    A bad stretch is sawn out with a cut at either end, both inside it; a short one takes a ``kerf`` all the same.
    """
    runs: list[Stretch] = []
    spoilt = sorted(bad)
    for begin, finish in free:
        at = begin
        for first, last in spoilt:
            if last <= at or first >= finish:
                continue
            if first > at:
                runs.append((at, first))
                at = max(last, first + kerf)
            else:
                at = max(at, last)
        if at < finish:
            runs.append((at, finish))
    return tuple(runs)


def usable_length(stick: float, *, end_trim: float, clean_ends: int = 0) -> float:
    """Return the length [mm] of a ``stick`` [mm] once its unclean ends are off; 0 when nothing is left."""
    return max(0.0, stick - sum(trims(end_trim=end_trim, clean_ends=clean_ends)))


def pieces_per_stick(length: float, stick: float, *, kerf: float, end_trim: float, clean_ends: int = 0) -> int:
    """Return how many pieces of one ``length`` come from one ``stick``: n pieces take n - 1 saw cuts between them.

    Args: length, stick, kerf (saw cut), end_trim (off each unclean end, its saw cut included) [mm]; clean_ends [-].
    Valid: length > 0; kerf, end_trim >= 0.   Raises: OutOfRangeError when the length is not above nothing.
    """
    if not length > 0:
        raise OutOfRangeError(Fault(where="length", code="piece-length", found=f"{length:g} mm", allowed="> 0 mm"))
    grid = Grid.of((stick, kerf, end_trim))
    usable = grid.down(stick) - sum(grid.up(t) for t in trims(end_trim=end_trim, clean_ends=clean_ends))
    return max(0, (usable + grid.up(kerf)) // (grid.up(length) + grid.up(kerf)))
