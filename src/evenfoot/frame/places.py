"""Where along a line things may stand: fewest supports, even spacing, clear of what is in the way."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from evenfoot.layout import even_centres

_STEP = 5.0
"""Grid on which a place is looked for when an even place is blocked [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Places chosen on a line [mm], rising, and the widest distance between neighbours."""

    at: tuple[float, ...]
    widest: float


def even_places(first: float, last: float, spacing_max: float) -> tuple[float, ...]:
    """Return the fewest evenly spaced places from ``first`` to ``last`` that are at most ``spacing_max`` apart [mm].

    Two places coincide into one when first equals last. Valid: first <= last, spacing_max > 0.
    """
    if last - first <= 1e-9:
        return (first,)
    return even_centres(first=first, last=last, spacing_max=spacing_max).lines


def choose(candidates: Sequence[float], spacing_max: float) -> Places:
    """Choose the fewest candidates, both ends included, that are at most ``spacing_max`` apart, as even as can be.

    Where neighbours stand further apart, the widest such gap becomes the limit and ``Places.widest`` tells it.
    ``candidates`` rise [mm] and are not empty.
    """
    limit = max(spacing_max, _widest(candidates)) + 1e-9
    best: list[tuple[int, float]] = [(1, 0.0)]
    back: list[int] = [-1]
    for i in range(1, len(candidates)):
        options: list[tuple[tuple[int, float], int]] = []
        for k in range(i - 1, -1, -1):
            gap = candidates[i] - candidates[k]
            if gap > limit:
                break
            count, unevenness = best[k]
            options.append(((count + 1, unevenness + gap * gap), k))
        cost, previous = min(options)
        best.append(cost)
        back.append(previous)
    chosen = [len(candidates) - 1]
    while back[chosen[-1]] >= 0:
        chosen.append(back[chosen[-1]])
    at = tuple(candidates[i] for i in reversed(chosen))
    return Places(at=at, widest=_widest(at))


def clear_places(*, first: float, last: float, spacing_max: float, blocked: Sequence[tuple[float, float]]) -> Places:
    """Return even places from ``first`` to ``last``, moved off the ``blocked`` stretches where they must [mm].

    ``blocked`` are open intervals. An end that is blocked moves inward.
    Returns no places at all when the whole line is blocked.
    """
    even = even_places(first, last, spacing_max)
    if not any(_is_blocked(p, blocked) for p in even):
        return Places(at=even, widest=_widest(even))
    steps = max(1, math.ceil((last - first) / _STEP))
    fine = {first + (last - first) * i / steps for i in range(steps + 1)} | set(even)
    free = sorted(p for p in fine if not _is_blocked(p, blocked))
    return choose(free, spacing_max) if free else Places(at=(), widest=math.inf)


def split_line(
    *, start: float, end: float, supports: Sequence[float], longest: float, avoid: frozenset[float]
) -> tuple[float, ...]:
    """Return where on ``supports`` a line is spliced so that no piece exceeds ``longest`` [mm].

    Fewest pieces first, then fewest splices on places to ``avoid`` (the neighbour's splices), then even pieces.
    Returns () when one piece does or when no splitting can do it.
    """
    if end - start <= longest + 1e-9:
        return ()
    nodes = [start, *(s for s in supports if start < s < end), end]
    unreached = (math.inf, math.inf, math.inf)
    best: list[tuple[float, float, float]] = [(0.0, 0.0, 0.0)]
    back = [-1]
    for i in range(1, len(nodes)):
        options = [(unreached, -1)]
        for k in range(i - 1, -1, -1):
            length = nodes[i] - nodes[k]
            if length > longest + 1e-9:
                break
            pieces, repeats, unevenness = best[k]
            repeated = 1.0 if k > 0 and nodes[k] in avoid else 0.0
            options.append(((pieces + 1, repeats + repeated, unevenness + length * length), k))
        cost, previous = min(options)
        best.append(cost)
        back.append(previous)
    if math.isinf(best[-1][0]):
        return ()
    cuts: list[float] = []
    node = back[-1]
    while node > 0:
        cuts.append(nodes[node])
        node = back[node]
    return tuple(reversed(cuts))


def _is_blocked(place: float, blocked: Sequence[tuple[float, float]]) -> bool:
    return any(low < place < high for low, high in blocked)


def _widest(at: Sequence[float]) -> float:
    return max((b - a for a, b in pairwise(at)), default=0.0)
