"""Which posts to cut and set first, so that those measured afterwards are measured on a floor that already stands."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.odds import WANTED, Odds, Sample, odds_of
from evenfoot.setting.posts.standing import Footing

Stages = tuple[tuple[int, ...], ...]
_OUTERMOST = 8
"""Posts among which the first to be set are looked for."""
_TRIED = 70
"""First sets compared roughly; the best few then with all samples."""
_ROUGH = 60
_BEST = 3
_MOST_FIRST = 6
"""A frame that needs more posts than this to stand at all is set beam by beam; no order is compared."""
_ABSENT = 1e4
"""Clearance of a post that is not there yet [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """One way to set the posts, by mark: all of a stage are measured together, on what stands by then."""

    stages: tuple[tuple[str, ...], ...]
    odds: Odds


@dataclass(frozen=True, slots=True, kw_only=True)
class Orders:
    """Orders compared on the same simulated errors. ``at_once`` cuts every post from the gaps over the jacks."""

    best: Order
    at_once: Order


def best_order(sample: Sample, done: Sequence[str] = ()) -> Orders:
    """Return the order of setting with the best odds, and those of cutting all at once.

    ``done`` are posts that stand already: they come first in every order.
    """
    frame = sample.footing.frame
    ready = tuple(k for k, m in enumerate(frame.marks) if m in done)
    rest = tuple(k for k in range(frame.count) if k not in ready)
    at_once: Stages = tuple(s for s in (ready, rest) if s)
    tried: list[Stages] = [at_once]
    if len(ready) >= frame.shapes.shape[1]:
        tried += [s for s in _after(ready, rest) if s not in tried]
    else:
        for first in _firsts(sample, ready):
            tried += _after(first, tuple(k for k in range(frame.count) if k not in first))
    found = [_order(sample, stages) for stages in tried]
    best = min(found, key=lambda o: (o.odds.chance, o.odds.rock_bad, len(o.stages)))
    return Orders(best=best, at_once=found[0])


def _after(first: tuple[int, ...], rest: tuple[int, ...]) -> list[Stages]:
    """Return what may follow: all the others together, or one after the other."""
    if not rest:
        return []
    return [(first, rest), (first, *((k,) for k in rest))]


def _firsts(sample: Sample, ready: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Return the few best sets of first posts: as many as the frame needs to stand, the floor steady on them."""
    frame = sample.footing.frame
    need = frame.shapes.shape[1]
    if need > _MOST_FIRST or need >= frame.count:
        return []
    rough = sample.normals[:_ROUGH]
    scored = []
    outer = _outermost_posts(sample.footing, ready)
    for added in itertools.islice(itertools.combinations(outer, need - len(ready)), _TRIED):
        first = tuple(sorted((*ready, *added)))
        if not _holds(sample.footing, first):
            continue
        rest = tuple(k for k in range(frame.count) if k not in first)
        rock = sample.rocks(cut_in_order(sample, (first, rest), rough))
        scored.append((float(np.mean(rock > sample.limit)), float(np.quantile(rock, WANTED)), first))
    return [first for _, _, first in sorted(scored)[:_BEST]]


def _outermost_posts(footing: Footing, ready: tuple[int, ...]) -> list[int]:
    frame = footing.frame
    at = np.column_stack((frame.x, frame.y))
    chosen: list[int] = list(ready)
    away = np.hypot(*(at - at.mean(axis=0)).T)
    while len(chosen) < min(_OUTERMOST + len(ready), frame.count):
        chosen.append(int(np.argmax(np.round(away, 6))))
        gaps = np.hypot(at[:, :1] - at[chosen, 0], at[:, 1:] - at[chosen, 1]).min(axis=1)
        away = gaps
    return sorted(k for k in chosen if k not in ready)


def _holds(footing: Footing, posts: tuple[int, ...]) -> bool:
    clearance = np.full(footing.frame.count, _ABSENT)
    clearance[list(posts)] = 0.0
    rest = footing.stand_once(clearance)
    return bool(rest.is_held[0]) and not np.delete(rest.is_touching[0], posts).any()


def cut_in_order(sample: Sample, stages: Stages, normals: FloatArray) -> FloatArray:
    """Return the clearances that come of cutting in these stages, shape (samples, n) [mm].

    The first stage is read over jacks with the frame unbent; each later one with the frame on the posts set so far,
    as it then stands by its own weight; what it would sag on perfect posts is taken out of the reading.
    """
    footing, frame = sample.footing, sample.footing.frame
    own = np.broadcast_to(frame.own, normals.shape)
    clearance = np.full(normals.shape, _ABSENT)
    perfect = np.full((1, frame.count), _ABSENT)
    for turn, stage in enumerate(stages):
        posts = list(stage)
        error = sample.errors.both * normals[:, posts]
        if turn > 0:
            stands = footing.stand(clearance, own).head
            sags = footing.stand(perfect, frame.own[None]).head
            error = error - (stands[:, posts] - sags[:, posts])
        clearance[:, posts] = error
        perfect[:, posts] = 0.0
    return clearance


def _order(sample: Sample, stages: Stages) -> Order:
    rock = sample.rocks(cut_in_order(sample, stages, sample.normals))
    marks = sample.footing.frame.marks
    named = tuple(tuple(marks[k] for k in stage) for stage in stages)
    return Order(stages=named, odds=odds_of(rock, limit=sample.limit, places=0))
