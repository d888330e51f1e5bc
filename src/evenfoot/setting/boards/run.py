"""Which spacers bring the last edge of a run of boards to its line, and what to rip when none will."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY

_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """How boards may be spaced [mm]: gaps from ``low`` to ``high`` in whole ``step``s of a spacer.

    ``seen`` is the difference of neighbouring gaps that the eye begins to see; ``within`` how far off its line the last
    edge may land; ``rip_min`` the narrowest board that may be ripped.
    """

    low: float
    high: float
    step: float
    seen: float
    within: float
    rip_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenRun:
    """What is still open of a run [mm]: ``left`` from the last laid edge to the line, and the boards to come, in order.

    ``last_gap`` is the gap laid last; None where no board is laid yet, so that the first board has no gap before it.
    ``left_sigma`` and ``width_sigma`` are standard deviations: of ``left``, and of each width by itself;
    ``common_sigma`` of what all widths have in common.
    """

    left: float
    widths: tuple[float, ...]
    last_gap: float | None
    left_sigma: float
    width_sigma: float
    common_sigma: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """``count`` boards, each laid with a spacer of ``gap`` before it [mm]."""

    count: int
    gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rip:
    """What to rip when gaps alone cannot do it: the last ``count`` boards, each to ``width`` [mm].

    ``count`` 0: there is room that no gap may fill, and ``width`` of it is left for one more board, 0 when it has no
    room: then only wider boards or another line help.
    """

    count: int
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningGap:
    """The spacers for the boards to come, in batches; ``misses`` is how far past its line the last edge lands [mm].

    ``sure`` is +- mm, 19 times in 20. ``rip`` is None while gaps alone bring the last edge to its line.
    """

    batches: tuple[Batch, ...]
    even: float
    """The gap that would close the run exactly, the same everywhere [mm]."""
    misses: float
    sure: float
    rip: Rip | None

    @property
    def gaps(self) -> tuple[float, ...]:
        """Every gap to come, in order [mm]."""
        return tuple(batch.gap for batch in self.batches for _ in range(batch.count))

    @property
    def is_reachable(self) -> bool:
        """Whether the last edge lands on its line without ripping."""
        return self.rip is None


def running_gap(run: OpenRun, spacing: Spacing) -> RunningGap:
    """Return the spacers for the boards to come.

    The spacer in use is kept while the last edge lands within the tolerance by it; else the fewest changes that bring
    it nearest to its line: in steps that the eye does not see up to one gap, and from some board on the next one. When
    a board must be ripped all the same, the spacer in use stays as long as one rip is wide enough.
    Source: such a run is the one of least change; its sum grows step by step with the gap, so that every sum between
    the least and the greatest is met to half a step (closed form, no search).
    Raises: OutOfRangeError (``run-done``) when no board is to come; (``spacing-unfit``) for spacers that do not fit.
    """
    _check(run, spacing)
    count = len(run.widths) - (0 if run.last_gap is not None else 1)
    room = run.left - math.fsum(run.widths)
    sure = NINETEEN_IN_TWENTY * math.sqrt(
        run.left_sigma**2 + len(run.widths) * run.width_sigma**2 + (len(run.widths) * run.common_sigma) ** 2
    )
    ladder = _Ladder.of(run.last_gap, spacing, count)
    gaps = ladder.nearest(room, within=spacing.within)
    misses = math.fsum(gaps) - room
    rip = None
    if abs(misses) > spacing.within + _SAME:
        kept = ladder.kept()
        over = math.fsum(kept) - room
        if misses > 0 and run.widths[-1] - over >= spacing.rip_min:
            gaps, misses = kept, over
        rip = _rip(run.widths, misses, spacing, gaps)
    batches = tuple(Batch(count=len(list(same)), gap=gap) for gap, same in groupby(gaps))
    return RunningGap(batches=batches, even=room / count if count else 0.0, misses=misses, sure=sure, rip=rip)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ladder:
    """Gaps counted in steps of the spacer: where they begin, how far each may differ from the one before, the ends."""

    begin: int | None
    stride: int
    low: int
    high: int
    count: int
    step: float

    @staticmethod
    def of(last: float | None, spacing: Spacing, count: int) -> _Ladder:
        step = spacing.step
        low, high = math.ceil(spacing.low / step - _SAME), math.floor(spacing.high / step + _SAME)
        begin = None if last is None else min(max(round(last / step), low), high)
        return _Ladder(
            begin=begin, stride=math.floor(spacing.seen / step + _SAME), low=low, high=high, count=count, step=step
        )

    def at(self, level: int) -> list[int]:
        """Return the gaps that go to ``level`` as soon as the eye allows, and stay there."""
        if self.begin is None:
            return [level] * self.count
        begin, stride = self.begin, self.stride
        return [min(max(level, begin - i * stride), begin + i * stride) for i in range(1, self.count + 1)]

    def kept(self) -> list[float]:
        """Return the gaps of the spacer in use, the narrowest where none is."""
        return [gap * self.step for gap in self.at(self.low if self.begin is None else self.begin)]

    def nearest(self, room: float, *, within: float) -> list[float]:
        """Return the gaps whose sum comes nearest to ``room`` [mm] with the fewest changes."""
        if not self.count:
            return []
        even = round(room / self.count / self.step)
        first = [self.begin] if self.begin is not None else []
        for level in [*first, min(max(even, self.low), self.high)]:
            if abs(sum(self.at(level)) * self.step - room) <= within + _SAME and len(set(self.at(level))) == 1:
                return [gap * self.step for gap in self.at(level)]
        level = self._level(room)
        gaps = self.at(level)
        over = round((room - sum(gaps) * self.step) / self.step)
        if level < self.high:
            higher = self.at(level + 1)
            for i in range(self.count - 1, -1, -1):
                if over <= 0:
                    break
                if higher[i] > gaps[i]:
                    gaps[i] = higher[i]
                    over -= 1
        return [gap * self.step for gap in gaps]

    def _level(self, room: float) -> int:
        """Return the highest level whose sum does not exceed ``room`` [mm], the lowest one when none does."""
        low, high = self.low, self.high
        while low < high:
            middle = (low + high + 1) // 2
            if sum(self.at(middle)) * self.step <= room + _SAME:
                low = middle
            else:
                high = middle - 1
        return low


def _rip(widths: Sequence[float], misses: float, spacing: Spacing, gaps: Sequence[float]) -> Rip:
    """Return what to rip: the last board alone, or as many of the last as share it and stay wide enough.

    When room is left over, a further ripped board takes it if it is wide enough.
    """
    if misses < 0:
        strip = -misses - (gaps[-1] if gaps else spacing.low)
        return Rip(count=0, width=strip if strip >= spacing.rip_min else 0.0)
    for count in range(1, len(widths) + 1):
        last = widths[len(widths) - count :]
        width = (math.fsum(last) - misses) / count
        if width >= spacing.rip_min:
            return Rip(count=count, width=width)
    return Rip(count=len(widths), width=0.0)


def _check(run: OpenRun, spacing: Spacing) -> None:
    if not run.widths:
        raise OutOfRangeError(Fault(where="boards", code="run-done", found=f"{run.left:g} mm"))
    is_fit = 0 <= spacing.low <= spacing.high and spacing.step > 0 and spacing.within > 0
    if not is_fit or math.floor(spacing.high / spacing.step + _SAME) < math.ceil(spacing.low / spacing.step - _SAME):
        found = f"{spacing.low:g} … {spacing.high:g} mm, step {spacing.step:g} mm"
        raise OutOfRangeError(Fault(where="boards", code="spacing-unfit", found=found, allowed="0 ≤ low ≤ high"))
    if spacing.seen < spacing.step:
        raise OutOfRangeError(
            Fault(where="boards", code="spacing-unfit", found=f"{spacing.step:g} mm", allowed=f"≤ {spacing.seen:g} mm")
        )
