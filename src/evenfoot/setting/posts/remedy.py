"""What makes a rocking floor steady: posts that change places, else the fewest to shave or pack, with the proof."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from evenfoot.setting.posts.choose import Choice, Program
from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.goal import Hand, Steadiness, Trial
from evenfoot.setting.posts.tries import improve, likeliest, try_all

_NEAR = 10
"""Posts beside those that hang which are tried on a floor of more posts."""
EXACT_UP_TO = 24
"""Posts up to which the fewest changes are searched to the end."""
_NODES, _NODES_BEYOND = 20_000, 300
_ROUNDS, _ROUNDS_BEYOND = 200, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One post made longer (packed, positive) or shorter (shaved, negative) by so many millimetres."""

    mark: str
    by: float

    @property
    def hand(self) -> Hand:
        """What is done to it."""
        return Hand.PACK if self.by > 0 else Hand.SHAVE


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """What to do and what it brings. ``swaps`` are pairs of posts that change places; then ``changes`` are empty.

    ``least`` is the proved smallest number of posts that have to be changed where no swap helps; ``is_proved`` says
    whether it is reached. With neither swaps nor changes nothing has to be done, or (``is_found`` False) nothing
    within the goal's steps helps.
    """

    before: Steadiness
    after: Steadiness
    swaps: tuple[tuple[str, str], ...]
    changes: tuple[Change, ...]
    least: int
    is_proved: bool
    is_found: bool


def find_remedy(
    trial: Trial, clearance: FloatArray, *, may_swap: FloatArray | None = None, proves: bool = True
) -> Remedy:
    """Return the smallest remedy for a floor with these clearances, shape (n,) [mm].

    Args: may_swap, shape (n, n), clearance that post j would have at the place of post i [mm], nan where it may not
    stand there; None = no lengths are known, so that nothing can be swapped; proves, whether smaller sets of posts are
    ruled out too (else a small set is found, and ``is_proved`` is False where it has more than one).
    """
    before = trial.judge(clearance)
    if before.is_steady:
        return _remedy(trial, before, clearance)
    if may_swap is not None:
        for pairs, tried in swaps(clearance, may_swap):
            after = trial.judge(tried)
            if after.is_steady:
                marks = trial.footing.frame.marks
                named = tuple((marks[a], marks[b]) for a, b in pairs)
                return Remedy(
                    before=before, after=after, swaps=named, changes=(), least=0, is_proved=True, is_found=True
                )
    return _change(trial, before, clearance, rounds=_rounds(trial) if proves else 0)


def swaps(clearance: FloatArray, may_swap: FloatArray) -> Iterator[tuple[tuple[tuple[int, int], ...], FloatArray]]:
    """Yield single swaps and then pairs of swaps, those that even the clearances most first, with what they give."""
    n = len(clearance)
    singles = []
    for a in range(n):
        for b in range(a):
            tried = clearance.copy()
            tried[a], tried[b] = may_swap[a, b], may_swap[b, a]
            gain = float(np.sum(clearance**2) - np.sum(tried**2))
            if np.isfinite(gain) and gain > 1e-9:
                singles.append((gain, (b, a), tried))
    singles.sort(key=lambda s: (-round(s[0], 9), s[1]))
    for _, pair, tried in singles:
        yield (pair,), tried
    for k, (_, first, tried) in enumerate(singles[:_PAIRED]):
        for _, second, other in singles[k + 1 : _PAIRED]:
            if not set(first) & set(second):
                both = tried.copy()
                both[list(second)] = other[list(second)]
                yield (first, second), both


_PAIRED = 12
"""Best single swaps of which two are tried together."""


def _rounds(trial: Trial) -> int:
    return _ROUNDS if trial.footing.frame.count <= EXACT_UP_TO else _ROUNDS_BEYOND


def _change(trial: Trial, before: Steadiness, clearance: FloatArray, *, rounds: int) -> Remedy:
    """Find a small set of posts step by step, then rule out every smaller one, or find it.

    The program names a smaller set that might do; every change of just those posts is tried on the floor itself; a
    set that does not do is ruled out, and the program asked again.
    """
    program = Program(trial, clearance, positions=[0, *(p for p in trial.worst_positions(clearance) if p)])
    n = trial.footing.frame.count
    nodes = _NODES if n <= EXACT_UP_TO else _NODES_BEYOND
    best = improve(program, near=n if n <= EXACT_UP_TO else _NEAR)
    least, is_finished = 1, best is not None and np.count_nonzero(best) == 1
    for _ in range(rounds):
        most = n if best is None else int(np.count_nonzero(best)) - 1
        if least > most:
            is_finished = True
            break
        choice = program.choose(least=least, most=most, nodes=nodes)
        least = choice.least
        if choice.steps is None:
            is_finished = choice.is_finished
            break
        posts = tuple(int(p) for p in np.flatnonzero(choice.steps))
        tried = try_all(program, posts)
        if tried.steps is not None:
            best = tried.steps
            continue
        if not tried.is_finished:
            break
        program.refuted.append(posts)
        worse = trial.worst_positions(clearance - trial.goal.step * choice.steps)
        program.positions += [p for p in worse if p not in program.positions]
    count = n + 1 if best is None else int(np.count_nonzero(best))
    steps = likeliest(program) if count == 1 else best
    return _remedy(
        trial,
        before,
        clearance,
        Choice(steps=steps, least=count if is_finished else min(least, count), is_finished=is_finished),
    )


def _remedy(trial: Trial, before: Steadiness, clearance: FloatArray, choice: Choice | None = None) -> Remedy:
    if choice is None:
        return Remedy(before=before, after=before, swaps=(), changes=(), least=0, is_proved=True, is_found=True)
    if choice.steps is None:
        return Remedy(
            before=before,
            after=before,
            swaps=(),
            changes=(),
            least=choice.least,
            is_proved=choice.is_finished,
            is_found=False,
        )
    marks, step = trial.footing.frame.marks, trial.goal.step
    changes = tuple(Change(mark=m, by=float(step * s)) for m, s in zip(marks, choice.steps, strict=True) if s != 0)
    return Remedy(
        before=before,
        after=trial.judge(clearance - step * choice.steps),
        swaps=(),
        changes=changes,
        least=choice.least,
        is_proved=choice.is_finished,
        is_found=True,
    )
