"""Solves every load case of a standard on one frame: even loads together, loads that walk by what is near them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenfoot.solvers import grillage, nearby
from evenfoot.strength.elastic.patterns import Patterns, find_patterns
from evenfoot.strength.elastic.spots import press, stand
from evenfoot.strength.findings import Batch
from evenfoot.strength.loads import Share, tips
from evenfoot.strength.standards import Aim, Bearer, Case
from evenfoot.strength.statics import FloatArray, Skeleton, Spot, Statics

_REACH = 3.0
"""A load is felt over so many of the longest spans; what lies further off has its greatest forces from nearer loads."""
_COLUMNS = 400
"""Places of a walk that are solved at once."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loaded:
    """A frame made ready with what lies on it."""

    prepared: grillage.Prepared
    statics: Statics
    share: Share
    heavy: FloatArray
    """Forces of heavy things on the freedoms [N], shape (size,)."""

    def even(self, cases: Sequence[Case]) -> tuple[FloatArray, FloatArray]:
        """Return forces on the freedoms [N] and line loads on the elements [N/mm] of cases, without heavy things."""
        share = self.share
        area = np.array([c.dead * share.dead + c.area for c in cases])
        lines = share.own[:, None] * np.array([c.dead for c in cases]) + share.line[:, None] * area
        forces = np.zeros((self.statics.grid.size, len(cases)))
        forces[: self.statics.grid.n_levels] = share.at_levels[:, None] * area
        return forces, lines


def solve_cases(loaded: Loaded, cases: Sequence[Case], spots: tuple[Spot, ...]) -> Iterator[Batch]:
    """Yield every load case solved, the own weight first; a walked load a few places at a time (note 093)."""
    yield from _even(loaded, cases)
    walked: dict[tuple[float, float, float, float], list[Case]] = {}
    for case in cases:
        if case.point > 0.0 and case.aim is Aim.SAG:
            yield from _on_tips(loaded, case, tips(loaded.statics.skeleton, spots))
        elif case.point > 0.0:
            walked.setdefault((case.dead, case.area, case.point, case.patch), []).append(case)
    for alike in walked.values():
        yield from walk(loaded, alike, spots)


def _even(loaded: Loaded, cases: Sequence[Case]) -> Iterator[Batch]:
    """Yield the cases without a point load; those of strength without and with heavy things, those of sag with them.

    The first column of each is the whole floor loaded, further ones the patterns of a load that is free.
    """
    dead = Case(code="dead", aim=Aim.REPORT, decides=frozenset(Bearer), area=0.0, lasts="long")
    bare = [dead, *(c for c in cases if c.point == 0.0)]
    even = bare + [c for c in bare[1:] if c.aim is Aim.STRENGTH and loaded.heavy.any()]
    patterns = find_patterns(loaded.statics) if any(c.free > 0.0 for c in bare) else None
    forces, lines = [], []
    for k, case in enumerate(even):
        on_freedoms, on_elements = _columns(loaded, case, patterns)
        if k >= len(bare) or case.aim is Aim.SAG:
            on_freedoms += case.dead * loaded.heavy[:, None]
        forces.append(on_freedoms)
        lines.append(on_elements)
    solved = grillage.respond(loaded.prepared, np.hstack(forces), np.hstack(lines))
    first = 0
    for case, on_elements in zip(even, lines, strict=True):
        last = first + on_elements.shape[1]
        yield Batch(case=case, response=solved.columns(slice(first, last)), even=on_elements)
        first = last


def _columns(loaded: Loaded, case: Case, patterns: Patterns | None) -> tuple[FloatArray, FloatArray]:
    """Return the forces on freedoms and lines on elements of a case, with one column for each pattern beside."""
    forces, lines = loaded.even([case])
    if patterns is None or case.free <= 0.0:
        return forces, lines
    share = loaded.share
    forces, lines = (np.repeat(one, 1 + len(patterns), axis=1) for one in (forces, lines))
    forces[: len(share.at_levels), 1:] -= case.free * share.at_levels[:, None] * (1.0 - patterns.levels)
    lines[:, 1:] -= case.free * share.line[:, None] * (1.0 - patterns.elements)
    return forces, lines


def _on_tips(loaded: Loaded, case: Case, ends: tuple[Spot, ...]) -> Iterator[Batch]:
    """Yield what a load set on the end of each overhang does by itself, if there are any ends.

    The frame bears its own weight meanwhile, which keeps its timbers together; what that does is taken off again.
    """
    if not ends:
        return
    resting = replace(case, dead=1.0, point=0.0)
    forces, lines = loaded.even([resting] * (1 + len(ends)))
    forces[:, 1:] += press(loaded.statics, ends, case.point)
    solved = grillage.respond(loaded.prepared, forces, lines)
    alone = replace(solved.columns(slice(1, None)), moved=solved.moved[:, 1:] - solved.moved[:, :1])
    yield Batch(case=case, response=alone, even=np.zeros_like(lines[:, 1:]), spots=ends)


def walk(loaded: Loaded, cases: Sequence[Case], spots: tuple[Spot, ...]) -> Iterator[Batch]:
    """Yield what a load does at each spot, for cases with the same loads; first the frame without it."""
    forces, lines = loaded.even(cases[:1])
    rest = grillage.respond(loaded.prepared, forces, lines)
    for case in cases:
        yield Batch(case=case, response=rest, even=lines)
    if not spots:
        return
    statics = loaded.statics
    around = nearby.Surroundings(loaded.prepared, rest, statics.plan())
    points = stand(statics, spots, cases[0].point, cases[0].patch)
    for near in around.near(points, reach(statics.skeleton), _COLUMNS):
        here = tuple(spots[k] for k in near.places)
        for case in cases:
            yield Batch(
                case=case,
                response=near.response,
                even=lines[near.elements],
                spots=here,
                elements=near.elements,
                contacts=near.contacts,
                points=near.points,
            )


def reach(skeleton: Skeleton) -> float:
    """Return how far from a load its effects are followed [mm]: three of the frame's longest spans."""
    longest = 0.0
    for timber, rests in zip(skeleton.timbers, skeleton.lies_on, strict=True):
        stops = [0.0, *(r.at for r in rests), timber.member.length]
        longest = max(longest, *(b - a for a, b in itertools.pairwise(stops)))
    return math.ceil(_REACH * longest)
