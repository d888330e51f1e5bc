"""Trying changes of posts on the floor itself: every one of a few posts, or step by step what helps most."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.setting.posts.choose import Program
from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.goal import Hand, IntArray, Trial

_MOST_TRIES = 60_000
"""Candidates for one set of posts; more are not tried."""
_BATCH = 256


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tries:
    """What came of trying: the steps of all posts, shape (n,), or None; and whether everything was tried."""

    steps: IntArray | None
    is_finished: bool


def try_all(program: Program, posts: Sequence[int]) -> Tries:
    """Return the cheapest change of these posts alone that makes the floor steady, every one tried."""
    ranges = program.ranges(posts)
    if ranges is None or any(low > high for low, high in ranges):
        return Tries(steps=None, is_finished=True)
    if math.prod(high - low + 1 for low, high in ranges) > _MOST_TRIES:
        return Tries(steps=None, is_finished=False)
    trial = program.trial
    every = np.array(list(itertools.product(*(range(low, high + 1) for low, high in ranges))), dtype=np.int64)
    every = every[np.lexsort((*every.T[::-1], _cost(every, trial.goal.prefer)))]
    n = trial.footing.frame.count
    first = [*program.positions, *(k for k in range(len(trial.loads)) if k not in program.positions)]
    for at in range(0, len(every), _BATCH):
        steps = np.zeros((len(every[at : at + _BATCH]), n), dtype=np.int64)
        steps[:, list(posts)] = every[at : at + _BATCH]
        kept = np.arange(len(steps))
        for position in first:
            kept = kept[trial.passes(program.clearance - trial.goal.step * steps[kept], position)]
            if not len(kept):
                break
        if len(kept):
            return Tries(steps=steps[kept[0]], is_finished=True)
    return Tries(steps=None, is_finished=True)


def _cost(steps: IntArray, prefer: Hand) -> FloatArray:
    """Return what each row of changes costs: posts changed in the way not preferred first, then steps."""
    disliked = steps > 0 if prefer is Hand.SHAVE else steps < 0
    return np.asarray(np.count_nonzero(disliked, axis=1) * 1000.0 + np.abs(steps).sum(axis=1))


def improve(trial: Trial, clearance: FloatArray) -> IntArray | None:
    """Return changes that make the floor steady, found step by step, not the fewest; None where that ends nowhere.

    Each step changes one post by one step of the goal: the one that leaves the least hanging beyond the limit.
    """
    n, goal = len(clearance), trial.goal
    steps = np.zeros(n, dtype=np.int64)
    excess = _excess(trial, clearance[None])[0]
    for _ in range(4 * n):
        if trial.judge(clearance - goal.step * steps).is_steady:
            return steps
        moves = np.vstack((np.eye(n, dtype=np.int64), -np.eye(n, dtype=np.int64))) + steps
        moves = moves[np.abs(moves).max(axis=1) <= goal.most_steps]
        left = _excess(trial, clearance - goal.step * moves)
        best = int(np.argmin(np.round(left, 9)))
        if left[best] >= excess - 1e-9:
            return None
        steps, excess = moves[best], left[best]
    return None


def _excess(trial: Trial, clearances: FloatArray) -> FloatArray:
    """Return how much is wrong with each of many clearances, shape (k, n): squares of what passes the limits."""
    out = np.zeros(len(clearances))
    for load in trial.loads:
        rest = trial.footing.stand(clearances, np.broadcast_to(load, clearances.shape))
        out += (np.maximum(rest.gap - trial.goal.rock, 0.0) ** 2).sum(axis=1)
        if np.isfinite(trial.most_press):
            out += (np.maximum(rest.press / trial.most_press - 1.0, 0.0) ** 2).sum(axis=1)
    return out
