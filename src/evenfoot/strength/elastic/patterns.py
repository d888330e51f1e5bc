"""Which parts of a floor are loaded and which left bare, so that every span and bearing meets its worst (note 092)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.strength.statics import FloatArray, Skeleton, Statics

_ONE_LINE = 200.0
"""Bearings nearer to each other than this are one line [mm]."""
_ON_LINE = 60.0
"""What lies this near to a line belongs half to the bay on either side [mm]."""
_MANY = 12
"""Beyond so many bays in one direction bearings are not loaded one by one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patterns:
    """Share of the free load on each element, shape (n_elements, n_patterns), and level, (n_levels, n_patterns) [-]."""

    elements: FloatArray
    levels: FloatArray

    def __len__(self) -> int:
        """Return the number of patterns."""
        return int(self.elements.shape[1])


def find_patterns(statics: Statics) -> Patterns:
    """Return the patterns of a floor: bays along the joists on their bearings, and across them from post to post.

    In each direction: every other bay, the other ones, for each bearing the bays beside it and every other one from
    there (two of every three where there are many), and each of the outermost bays alone. Bays past the last bearing
    count as bays.
    """
    plan = statics.plan()
    axis = 1 if _runs_along_y(statics.skeleton) else 0
    along, across = _bearing_lines(statics.skeleton, axis), _post_lines(statics.skeleton, 1 - axis)
    of_level = np.zeros((2, statics.grid.n_levels))
    of_level[:, statics.grid.level] = plan
    middle = (plan[:, statics.grid.ends[:, 0]] + plan[:, statics.grid.ends[:, 1]]) / 2.0
    columns = [
        (_shares(lines, loaded, middle[direction]), _shares(lines, loaded, of_level[direction]))
        for lines, direction in ((along, axis), (across, 1 - axis))
        for loaded in _loaded(lines, plan[direction])
    ]
    elements = np.array([e for e, _ in columns]).reshape(-1, len(statics.begin)).T
    levels = np.array([at for _, at in columns]).reshape(-1, statics.grid.n_levels).T
    return Patterns(elements=elements, levels=levels)


def _runs_along_y(skeleton: Skeleton) -> bool:
    return next(t.member.axis for t in skeleton.timbers if t.is_joist) == "y"


def _bearing_lines(skeleton: Skeleton, axis: int) -> FloatArray:
    """Return where joists bear, along them [mm]."""
    places = []
    for rest in skeleton.rests:
        timber = skeleton.timbers[rest.upper]
        if timber.is_joist:
            places.append(timber.member.start[axis] + rest.at * timber.level_share)
    return _merged(places)


def _post_lines(skeleton: Skeleton, axis: int) -> FloatArray:
    """Return where posts stand, across the joists [mm]."""
    return _merged([(p.place.x, p.place.y)[axis] for p in skeleton.posts])


def _merged(places: Sequence[float]) -> FloatArray:
    """Return places rising, near ones as their mean."""
    groups: list[list[float]] = []
    for place in sorted(places):
        if groups and place - groups[-1][-1] < _ONE_LINE:
            groups[-1].append(place)
        else:
            groups.append([place])
    return np.array([(min(g) + max(g)) / 2.0 for g in groups])


def _loaded(lines: FloatArray, places: FloatArray) -> list[FloatArray]:
    """Return the patterns as 1 or 0 for each bay, the one before the first line first; all bays at once is none."""
    bays = np.arange(len(lines) + 1)
    is_there = np.ones(len(bays), dtype=bool)
    is_there[0] = places.min() < lines[0] - _ON_LINE
    is_there[-1] = places.max() > lines[-1] + _ON_LINE
    there = np.flatnonzero(is_there)
    wished = [bays % 2 == 0, bays % 2 == 1, *(bays == there[k] for k in (0, -1))]
    if len(there) <= _MANY:
        # Away from the bearing between bays k and k + 1 every other bay is loaded, those two among them.
        wished += [np.where(bays <= k, k - bays, bays - k - 1) % 2 == 0 for k in there[:-1]]
    else:
        wished += [bays % 3 != k for k in range(3)]
    out: list[FloatArray] = []
    for one in wished:
        # Where nothing lies past the last line, that line is the edge of the bay before it.
        pattern = one[np.clip(bays, there[0], there[-1])].astype(float)
        if 0.0 < pattern[there].sum() < len(there) and not any((pattern == other).all() for other in out):
            out.append(pattern)
    return out


def _shares(lines: FloatArray, loaded: FloatArray, places: FloatArray) -> FloatArray:
    """Return the share of the load at each place: that of its bay, on a line the mean of both sides."""
    bay = np.searchsorted(lines, places)
    nearest = np.clip(np.searchsorted((lines[1:] + lines[:-1]) / 2.0, places), 0, len(lines) - 1)
    is_on_line = np.abs(places - lines[nearest]) <= _ON_LINE
    halves = (loaded[nearest] + loaded[nearest + 1]) / 2.0
    return np.where(is_on_line, halves, loaded[bay])
