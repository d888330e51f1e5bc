"""How far each foot moves while a person walks over the floor: rock, tipping and sudden jumps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.setting.posts.floating import FloatArray, FloatingFrame
from evenfoot.setting.posts.standing import Footing, Rest

Place = tuple[float, float]
GRAVITY = 9.80665
"""Standard acceleration of gravity [m/s²]. Source: 3rd CGPM (1901)."""
_JUMP = 0.3
"""A foot that moves further than this between two neighbouring places is looked at for a jump [mm]."""
_HALVINGS = 12
"""How often the step between two places is halved: 1 m becomes a quarter of a millimetre."""
_NEIGHBOURS = 4
_PAIRS = 24
"""Pairs of neighbouring places looked at closely, those with the longest movement first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jump:
    """A foot that comes down at once when a person steps past a place: how far [mm], whose and where [mm]."""

    mark: str
    fall: float
    at: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """What a walk over the whole floor shows.

    ``travel`` is the way of each foot: its largest minus its smallest gap, the empty floor among the positions [mm].
    The greatest of all is the rock, at the post ``mark``: it hangs furthest with the person at ``highest`` and least
    at ``lowest`` (None = nobody on the floor). ``tips`` are places where the floor would tip over its feet.
    ``most_press`` is the greatest force on any foot [N].
    """

    marks: tuple[str, ...]
    travel: tuple[float, ...]
    rock: float
    mark: str
    highest: Place | None
    lowest: Place | None
    tips: tuple[Place, ...]
    stands_empty: bool
    """Whether the floor stands at all with nobody on it."""
    jump: Jump | None
    most_press: float
    places: int


def walk(footing: Footing, clearance: FloatArray, *, person: float) -> Walk:
    """Return what a person of this weight [N] finds on a floor with these clearances, shape (n,) [mm]."""
    frame = footing.frame
    rest = stand_everywhere(footing, clearance, person=person)
    gap = rest.gap[rest.is_held]
    if not len(gap):
        return _fallen(frame)
    places: list[Place | None] = [None, *((float(x), float(y)) for x, y in frame.walked_at)]
    kept = np.flatnonzero(rest.is_held)
    travel = gap.max(axis=0) - gap.min(axis=0)
    worst = int(np.argmax(np.round(travel, 9)))
    return Walk(
        marks=frame.marks,
        travel=tuple(float(t) for t in travel),
        rock=float(travel[worst]),
        mark=frame.marks[worst],
        highest=places[kept[int(np.argmax(gap[:, worst]))]],
        lowest=places[kept[int(np.argmin(gap[:, worst]))]],
        tips=tuple(p for p, held in zip(places, rest.is_held, strict=True) if not held and p is not None),
        stands_empty=bool(rest.is_held[0]),
        jump=_find_jump(footing, clearance, rest, person=person),
        most_press=float(rest.press[rest.is_held].max()),
        places=len(frame.walked_at),
    )


def stand_everywhere(footing: Footing, clearance: FloatArray, *, person: float) -> Rest:
    """Return how the floor stands empty (row 0) and with the person on each place in turn."""
    loads = loads_of(footing.frame, person=person)
    return footing.stand(np.broadcast_to(clearance, loads.shape), loads)


def loads_of(frame: FloatingFrame, *, person: float) -> FloatArray:
    """Return the head loads of the empty floor and of a person [N] on each place, shape (places + 1, n) [N]."""
    return np.vstack((frame.own, frame.own + person * frame.walked_load))


def _fallen(frame: FloatingFrame) -> Walk:
    return Walk(
        marks=frame.marks,
        travel=tuple(0.0 for _ in frame.marks),
        rock=0.0,
        mark=frame.marks[0],
        highest=None,
        lowest=None,
        tips=tuple((float(x), float(y)) for x, y in frame.walked_at),
        stands_empty=False,
        jump=None,
        most_press=0.0,
        places=len(frame.walked_at),
    )


def _find_jump(footing: Footing, clearance: FloatArray, rest: Rest, *, person: float) -> Jump | None:
    """Return the greatest fall of a foot within a step that is halved again and again, if there is one.

    A foot that moves steadily halves its way with the step; what is left after many halvings happens at once.
    """
    frame = footing.frame
    gap = rest.gap[1:]
    moved = [(float(np.nanmax(np.abs(gap[a] - gap[b]), initial=0.0)), a, b) for a, b in _pairs(frame, rest)]
    pairs = [(a, b) for way, a, b in sorted(moved, reverse=True)[:_PAIRS] if way > _JUMP]
    if not pairs:
        return None
    near, far = (np.array([pair[k] for pair in pairs]) for k in (0, 1))
    low, high = frame.walked_load[near], frame.walked_load[far]
    share_low, share_high = np.zeros(len(pairs)), np.ones(len(pairs))
    gap_low, gap_high = gap[near], gap[far]
    for _ in range(_HALVINGS):
        share = (share_low + share_high) / 2.0
        load = frame.own + person * (low + share[:, None] * (high - low))
        middle = footing.stand(np.broadcast_to(clearance, load.shape), load).gap
        first = np.nanmax(np.abs(middle - gap_low), axis=1) >= np.nanmax(np.abs(gap_high - middle), axis=1)
        share_low, share_high = np.where(first, share_low, share), np.where(first, share, share_high)
        gap_low = np.where(first[:, None], gap_low, middle)
        gap_high = np.where(first[:, None], middle, gap_high)
    fall = np.abs(gap_high - gap_low)
    pair, post = np.unravel_index(int(np.nanargmax(fall)), fall.shape)
    if not fall[pair, post] > _JUMP:
        return None
    spot = frame.walked_at[near[pair]] + share_low[pair] * (frame.walked_at[far[pair]] - frame.walked_at[near[pair]])
    return Jump(mark=frame.marks[post], fall=float(fall[pair, post]), at=(float(spot[0]), float(spot[1])))


def neighbours(frame: FloatingFrame) -> tuple[tuple[int, int], ...]:
    """Return pairs of neighbouring places that a person may stand on, by their rows, in order."""
    from scipy.spatial import cKDTree

    at = frame.walked_at
    count = min(_NEIGHBOURS + 1, len(at))
    if count < 2:
        return ()
    _, near = cKDTree(at).query(at, k=count)
    return tuple(sorted({(min(a, b), max(a, b)) for a, row in enumerate(near.tolist()) for b in row if a != b}))


def _pairs(frame: FloatingFrame, rest: Rest) -> Sequence[tuple[int, int]]:
    """Return pairs of neighbouring places on which the floor does not tip."""
    held = rest.is_held[1:]
    return [(a, b) for a, b in neighbours(frame) if held[a] and held[b]]
