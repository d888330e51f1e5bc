"""How a run of boards closes: how many, how wide, at which gap, and what would close near it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfoot.job import kinds

EPS = 1e-6
"""Lengths nearer than this are the same length [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunWish:
    """What is asked of a run [mm]: board width, gap and its range, who gives way, and the narrowest rip."""

    width: float
    gap: float
    gap_min: float
    gap_max: float
    closing: kinds.Closing
    rip_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeRun:
    """A run of ``count`` whole boards [mm]: the gap that closes the extent asked for, and the extents it can close.

    ``gap`` is negative when the boards alone are too much, and None for a single board.
    """

    count: int
    gap: float | None
    shortest: float
    longest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedRun:
    """A run that closes: the sum of ``widths`` and ``len(widths) - 1`` gaps is ``extent`` [mm]."""

    widths: tuple[float, ...]
    """Board widths as laid, from the starting edge."""
    gap: float
    extent: float
    """The extent closed: the one asked for, or the moved one."""
    is_met: bool
    """False when the wish cannot be met; the run closes all the same, outside the wish."""
    strip: float
    """Last board when whole boards are laid at the wished gap (0 when none is left to fill)."""
    shared: float
    """Both edge boards when they share the rip at the wished gap (0 when that cannot be)."""
    nearby: tuple[WholeRun, ...]
    """Runs of whole boards with one board less, as many, and one more."""

    @property
    def count(self) -> int:
        """How many boards lie side by side."""
        return len(self.widths)


def close_run(*, extent: float, wish: RunWish) -> ClosedRun:
    """Return how boards fill ``extent`` [mm] under the closing rule of ``wish``.

    even-gap: whole boards, the count whose gap lies nearest the wished one. rip-last: whole boards at the wished gap
    and one ripped board at the far edge; a rip that would be too narrow is avoided by shifting the gap within its
    range, then by ripping both edges. rip-both: two equal edge boards, each at most a whole one. move-outline: whole
    boards at the wished gap, the nearest extent that they fill. Where the rule cannot be kept the run closes with what
    comes nearest and ``is_met`` is False.

    Valid: extent > 0, width > 0, 0 <= gap_min <= gap <= gap_max.
    """
    assert extent > 0.0, "a run has an extent"
    assert wish.width > 0.0, "a board has a width"
    widths, gap, is_met = _close(extent, wish)
    moved = math.fsum(widths) + (len(widths) - 1) * gap
    return ClosedRun(
        widths=widths,
        gap=gap,
        extent=moved if wish.closing is kinds.Closing.MOVE_OUTLINE else extent,
        is_met=is_met,
        strip=_strip(extent, wish),
        shared=_shared(extent, wish),
        nearby=_nearby(extent, wish),
    )


def run_to_corner(*, extent: float, wish: RunWish) -> ClosedRun:
    """Return whole boards at the wished gap with what is left as the last row [mm], whatever its width.

    For a run that ends at a corner of the outline: its last board is cut from a whole one in any case.
    """
    whole, strip = _whole(extent, wish), _strip(extent, wish)
    widths = (wish.width,) * whole + ((strip,) if strip > 0.0 else ())
    return ClosedRun(
        widths=widths,
        gap=wish.gap,
        extent=math.fsum(widths) + (len(widths) - 1) * wish.gap,
        is_met=True,
        strip=strip,
        shared=_shared(extent, wish),
        nearby=_nearby(extent, wish),
    )


_Closed = tuple[tuple[float, ...], float, bool]


def _close(extent: float, wish: RunWish) -> _Closed:
    if wish.closing is kinds.Closing.MOVE_OUTLINE:
        count = max(1, round((extent + wish.gap) / (wish.width + wish.gap)))
        return (wish.width,) * count, wish.gap, True
    if abs(extent - wish.width) <= EPS:
        return (extent,), wish.gap, True
    if extent < wish.width:
        can_rip = wish.closing is not kinds.Closing.EVEN_GAP and extent >= wish.rip_min - EPS
        return (extent,), wish.gap, can_rip
    rules = {
        kinds.Closing.EVEN_GAP: _even_gap,
        kinds.Closing.RIP_LAST: _rip_last,
        kinds.Closing.RIP_BOTH: _rip_both,
    }
    return rules[wish.closing](extent, wish) or _nearest(extent, wish)


def _gap_of(count: int, extent: float, width: float) -> float | None:
    """Return the gap at which ``count`` boards of ``width`` close ``extent``; None when one board cannot."""
    return None if count < 2 else (extent - count * width) / (count - 1)


def _whole(extent: float, wish: RunWish) -> int:
    """Return how many whole boards fit at the wished gap."""
    return math.floor((extent + wish.gap + EPS) / (wish.width + wish.gap))


def _strip(extent: float, wish: RunWish) -> float:
    whole = _whole(extent, wish)
    left = extent - whole * (wish.width + wish.gap)
    return left if left > EPS else 0.0


def _edge(extent: float, wish: RunWish, *, gap: float) -> tuple[int, float]:
    """Return whole boards between two equal edge boards, as wide as they can be up to a whole one."""
    whole = max(0, math.ceil((extent - gap - 2.0 * wish.width - EPS) / (wish.width + gap)))
    return whole, (extent - whole * wish.width - (whole + 1) * gap) / 2.0


def _shared(extent: float, wish: RunWish) -> float:
    return max(0.0, _edge(extent, wish, gap=wish.gap)[1])


def _nearby(extent: float, wish: RunWish) -> tuple[WholeRun, ...]:
    best = _best_count(extent, wish)
    return tuple(
        WholeRun(
            count=n,
            gap=_gap_of(n, extent, wish.width),
            shortest=n * wish.width + (n - 1) * wish.gap_min,
            longest=n * wish.width + (n - 1) * wish.gap_max,
        )
        for n in (best - 1, best, best + 1)
        if n >= 1
    )


def _miss(gap: float, wish: RunWish) -> tuple[float, float]:
    """Return how far a gap lies outside its range, then how far from the wish."""
    return max(wish.gap_min - gap - EPS, gap - wish.gap_max - EPS, 0.0), abs(gap - wish.gap)


def _best_count(extent: float, wish: RunWish) -> int:
    """Return the count of whole boards whose gap lies nearest the wish, in range if any is, never negative."""
    guess = (extent + wish.gap) / (wish.width + wish.gap)
    counts = {math.floor(guess), math.ceil(guess)}
    for end in (wish.gap_min, wish.gap_max):
        at_end = (extent + end) / (wish.width + end)
        counts |= {math.floor(at_end + EPS), math.ceil(at_end - EPS)}
    gaps = [(n, gap) for n in sorted(counts) if (gap := _gap_of(n, extent, wish.width)) is not None and gap >= -1e-12]
    if not gaps:
        return 1
    return min(gaps, key=lambda pair: (_miss(pair[1], wish), pair[0]))[0]


def _even_gap(extent: float, wish: RunWish) -> _Closed | None:
    count = _best_count(extent, wish)
    gap = _gap_of(count, extent, wish.width)
    if gap is None:
        return None
    return (wish.width,) * count, max(gap, 0.0), _miss(gap, wish)[0] == 0.0


def _all_whole(extent: float, wish: RunWish) -> _Closed | None:
    """Return whole boards with a gap in range, if there are any: better than any rip."""
    closed = _even_gap(extent, wish)
    return closed if closed and closed[2] else None


def _rip_last(extent: float, wish: RunWish) -> _Closed | None:
    whole, strip = _whole(extent, wish), _strip(extent, wish)
    if strip > 0.0 and strip >= wish.rip_min - EPS:
        return (*(wish.width,) * whole, strip), wish.gap, True
    even = _all_whole(extent, wish)
    if even:
        return even
    tight = (extent - whole * wish.width - wish.rip_min) / whole
    if tight >= wish.gap_min - EPS and wish.rip_min > 0.0:
        return (*(wish.width,) * whole, wish.rip_min), max(tight, 0.0), True
    return _rip_both(extent, wish)


def _rip_both(extent: float, wish: RunWish) -> _Closed | None:
    whole, edge = _edge(extent, wish, gap=wish.gap)
    if edge > 0.0 and edge >= wish.rip_min - EPS:
        return (edge, *(wish.width,) * whole, edge), wish.gap, True
    even = _all_whole(extent, wish)
    if even:
        return even
    gap = (extent - whole * wish.width - 2.0 * wish.rip_min) / (whole + 1)
    if gap >= wish.gap_min - EPS and wish.rip_min > 0.0:
        return (wish.rip_min, *(wish.width,) * whole, wish.rip_min), max(gap, 0.0), True
    return None


def _nearest(extent: float, wish: RunWish) -> _Closed:
    """Return the run that closes although the wish cannot be met: whole boards and what is left, else two halves."""
    whole, strip = _whole(extent, wish), _strip(extent, wish)
    if strip > 0.0:
        return (*(wish.width,) * whole, strip), wish.gap, False
    gap = _gap_of(whole, extent, wish.width)
    if gap is not None:
        return (wish.width,) * whole, gap, False
    half = (extent - wish.gap_min) / 2.0
    return (half, half), wish.gap_min, False
