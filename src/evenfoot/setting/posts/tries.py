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


def likeliest(program: Program) -> IntArray | None:
    """Return the change of one post that a carpenter would make first, of all that make the floor steady.

    The hand preferred comes first, then the smallest change, then the post that is furthest off: to pack, the one
    that hangs most; to shave, the one that is longest.
    """
    goal = program.trial.goal
    found = []
    for post in range(len(program.clearance)):
        steps = try_all(program, (post,)).steps
        if steps is not None:
            by = int(steps[post])
            off = float(program.clearance[post]) * (1.0 if by > 0 else -1.0)
            is_disliked = (by > 0) == (goal.prefer is Hand.SHAVE)
            found.append((is_disliked, abs(by), -round(off, 6), post, steps))
    return min(found, key=lambda f: f[:4])[4] if found else None


def _cost(steps: IntArray, prefer: Hand) -> FloatArray:
    """Return what each row of changes costs: posts changed in the way not preferred first, then steps."""
    disliked = steps > 0 if prefer is Hand.SHAVE else steps < 0
    return np.asarray(np.count_nonzero(disliked, axis=1) * 1000.0 + np.abs(steps).sum(axis=1))


def improve(program: Program, *, near: int) -> IntArray | None:
    """Return changes of few posts that make the floor steady, not proved the fewest; None where that ends nowhere.

    Each step changes one post by one step of the goal: the one that leaves the least beyond the limits. What came
    first is taken back where the rest does without it. Only the ``near`` posts beside the one that fails are tried.
    """
    trial, clearance = program.trial, program.clearance
    n, goal = len(clearance), trial.goal
    steps = np.zeros(n, dtype=np.int64)
    watched = list(program.positions)
    for _ in range(4 * n):
        worse = trial.worst_positions(clearance - goal.step * steps)
        if not worse:
            return _spared(program, steps)
        watched += [p for p in worse if p not in watched]
        unit = np.eye(n, dtype=np.int64)[_beside(trial, clearance - goal.step * steps, worse, near)]
        moves = np.vstack((unit, -unit)) + steps
        moves = moves[np.abs(moves).max(axis=1) <= goal.most_steps]
        now, *left = _excess(trial, clearance - goal.step * np.vstack((steps, moves)), watched)
        best = int(np.argmin(np.round(left, 9)))
        if left[best] >= now - 1e-9:
            return None
        steps = moves[best]
    return None


def _beside(trial: Trial, clearance: FloatArray, positions: Sequence[int], count: int) -> IntArray:
    """Return the posts nearest in plan to the one that fails most at some positions, at most so many."""
    frame = trial.footing.frame
    if count >= frame.count:
        return np.arange(frame.count)
    loads = trial.loads[list(positions)]
    rest = trial.footing.stand(np.broadcast_to(clearance, loads.shape), loads)
    is_wide = rest.gap.max() > trial.goal.rock
    worst = int(np.argmax((rest.gap if is_wide else rest.press).max(axis=0)))
    away = np.hypot(frame.x - frame.x[worst], frame.y - frame.y[worst])
    return np.sort(np.argsort(away, kind="stable")[:count])


def _spared(program: Program, steps: IntArray) -> IntArray:
    """Return the same with every post left out that the others do without, and the rest changed as liked best."""
    kept = tuple(int(p) for p in np.flatnonzero(steps))
    best = try_all(program, kept).steps
    best = steps if best is None else best
    for post in kept:
        fewer = tuple(p for p in np.flatnonzero(best).tolist() if p != post)
        if len(fewer) == np.count_nonzero(best) or not fewer:
            continue
        tried = try_all(program, fewer).steps
        best = best if tried is None else tried
    return np.asarray(best)


def _excess(trial: Trial, clearances: FloatArray, positions: Sequence[int]) -> FloatArray:
    """Return how much is wrong with each of many clearances, shape (k, n): squares of what passes the limits."""
    out = np.zeros(len(clearances))
    for position in positions:
        rest = trial.footing.stand(clearances, np.broadcast_to(trial.loads[position], clearances.shape))
        out += (np.maximum(rest.gap - trial.goal.rock, 0.0) ** 2).sum(axis=1)
        if np.isfinite(trial.most_press):
            out += (np.maximum(rest.press / trial.most_press - 1.0, 0.0) ** 2).sum(axis=1)
        if position == 0:
            out += (trial.off_level(rest) ** 2).sum(axis=1)
    return out
