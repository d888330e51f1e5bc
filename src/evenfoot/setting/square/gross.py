"""Which typed distances are so far out that a slip of the hand is likelier than a crooked frame."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from evenfoot.setting.slips import likely_slip
from evenfoot.setting.square.model import Distance, Pair, Point, Suspect

_FAR = 0.05
"""A distance off by more than this share is no matter of tape or squareness."""
_NEAR = 0.02
"""A slip explains it when it brings the distance this near."""
_ALONG, _AWAY = frozenset({(0, 1), (2, 3)}), frozenset({(1, 2), (0, 3)})


def likely_box(distances: Sequence[Distance]) -> tuple[float, float] | None:
    """Return the width and depth [mm] that most distances between four corners agree with; None when none can be told.

    Of all sizes that two of the readings give, the one from which the fewest readings are far off, then the nearest.
    """
    by_pair = {ordered(d.pair): d.value for d in distances}
    sizes = list(_sizes(by_pair))
    if not sizes:
        return None
    return min(sizes, key=lambda size: _disagreement(by_pair, size))


def gross_slips(distances: Sequence[Distance], corners: Sequence[Point]) -> tuple[Suspect, ...]:
    """Return the distances that are far from what the corners, as they should be, say, each with a likely slip."""
    found = []
    for d in distances:
        first, second = corners[d.pair[0]], corners[d.pair[1]]
        expected = math.dist(first, second)
        if abs(d.value - expected) > _FAR * expected:
            slip = likely_slip(d.value, expected=expected, within=_NEAR * expected)
            found.append(Suspect(pair=d.pair, found=d.value, expected=expected, sure=_NEAR * expected, slip=slip))
    return tuple(found)


def ordered(pair: Pair) -> Pair:
    """Return two corners with the lower first."""
    return min(pair), max(pair)


def _sizes(by_pair: Mapping[Pair, float]) -> Iterator[tuple[float, float]]:
    along = [value for pair, value in by_pair.items() if pair in _ALONG]
    away = [value for pair, value in by_pair.items() if pair in _AWAY]
    across = [value for pair, value in by_pair.items() if pair not in _ALONG | _AWAY]
    for width in along:
        yield from ((width, depth) for depth in away)
        yield from ((width, math.sqrt(d**2 - width**2)) for d in across if d > width)
    for depth in away:
        yield from ((math.sqrt(d**2 - depth**2), depth) for d in across if d > depth)


def _disagreement(by_pair: Mapping[Pair, float], size: tuple[float, float]) -> tuple[int, float]:
    width, depth = size
    off = []
    for pair, value in by_pair.items():
        expected = width if pair in _ALONG else depth if pair in _AWAY else math.hypot(width, depth)
        off.append(abs(value - expected) / expected)
    return sum(one > _FAR for one in off), math.fsum(min(one, _FAR) for one in off)
