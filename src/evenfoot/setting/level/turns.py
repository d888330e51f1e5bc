"""Which adjustable feet to turn how far, so that the fewest are touched, and in which order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """An adjustable foot: one whole turn lifts it by ``pitch`` [mm], and it is turned in ``per_turn`` equal steps."""

    pitch: float
    per_turn: int

    @property
    def step(self) -> float:
        """Lift of one step [mm]."""
        return self.pitch / self.per_turn


@dataclass(frozen=True, slots=True, kw_only=True)
class Turns:
    """Steps for each foot, up positive (0 = leave it), and where every foot then lies about the common height [mm].

    ``is_within`` is False when no steps bring every foot within the tolerance: then these come nearest.
    """

    steps: Mapping[str, int]
    left: Mapping[str, float]
    is_within: bool


def best_turns(
    off: Mapping[str, float], thread: Thread, *, within: float, fixed: frozenset[str] = frozenset()
) -> Turns:
    """Return the turns that bring all feet within ``within`` of one common height, touching the fewest.

    Exact: each foot is right for common heights in an interval about it, and about each step from it; the best height
    lies at an end or the middle of one. Among equals the fewest steps, then the flattest floor. Half a step is told
    from more and from less than half to a billionth of one, so that the last figure of a sum decides nothing.
    Args: off, how far each foot lies above where it should [mm]; within, +- mm; fixed, feet that cannot be turned.
    """
    marks = tuple(off)
    values = np.array([off[m] for m in marks])
    step = thread.step
    reach = int(np.ceil((values.max() - values.min() + within) / step)) + 1
    rungs = (values[:, None] + step * np.arange(-reach, reach + 1)).ravel()
    ends = np.unique(np.concatenate([rungs - within, rungs, rungs + within]))
    heights = np.unique(np.concatenate([ends, (ends[1:] + ends[:-1]) / 2, [(values.max() + values.min()) / 2]]))
    best: tuple[tuple[float, float, float, float, float], Array, float] | None = None
    held = np.array([m in fixed for m in marks])
    for height in heights[(heights >= values.min() - within) & (heights <= values.max() + within)]:
        gap = height - values
        steps = np.where((np.abs(gap) <= within + 1e-9) | held, 0.0, np.round(np.round(gap / step, 9)))
        left = values + steps * step - height
        worst = float(np.abs(left).max())
        misses = max(0.0, worst - within - 1e-9)
        cost = (misses, float(np.count_nonzero(steps)), float(np.abs(steps).sum()), round(worst, 9), float(height))
        if best is None or cost < best[0]:
            best = (cost, steps, float(height))
    assert best is not None, "there is a foot"
    cost, steps, height = best
    return Turns(
        steps={m: int(s) for m, s in zip(marks, steps, strict=True)},
        left={m: float(v + s * step - height) for m, v, s in zip(marks, values, steps, strict=True)},
        is_within=cost[0] == 0.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """Go to a foot and turn it by ``steps``; ``lifts`` are feet that hang meanwhile because no order avoids it."""

    mark: str
    steps: int
    lifts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Press:
    """What the feet press with [N]: ``level`` when all lie right, and how that grows when each is lifted by 1 mm.

    ``stiffness`` has shape (n, n) [N/mm], rows and columns as ``marks``.
    """

    marks: tuple[str, ...]
    level: Array
    stiffness: Array


def order_visits(turns: Turns, thread: Thread, press: Press | None) -> tuple[Visit, ...]:
    """Return the order in which to turn the feet, with as few visits as keep every foot that stands on its footing.

    With ``press``: each visit turns a foot as far as it may without lifting one that stood; where there is no such
    turn, the one that lifts fewest, all the way, and the feet that hang are named. The feet are taken to press as on a
    level frame once all is done, so that what is left to turn is what they are off now: readings to a millimetre are
    too rough to tell the force in a stiff frame. Without ``press`` nothing is known of the frame's stiffness: one whole
    turn at a time, going round, the foot furthest off first.
    """
    left = {mark: steps for mark, steps in turns.steps.items() if steps}
    if press is None:
        return _rounds(left, thread)
    heights = np.array([-left.get(mark, 0) * thread.step for mark in press.marks])
    visits: list[Visit] = []
    while left:
        visit = _next(left, heights, press, thread)
        visits.append(visit)
        heights[press.marks.index(visit.mark)] += visit.steps * thread.step
        left[visit.mark] -= visit.steps
        left = {mark: steps for mark, steps in left.items() if steps}
    return tuple(visits)


def _rounds(left: Mapping[str, int], thread: Thread) -> tuple[Visit, ...]:
    todo = dict(sorted(left.items(), key=lambda item: -abs(item[1])))
    visits = []
    while todo:
        for mark in list(todo):
            steps = max(-thread.per_turn, min(thread.per_turn, todo[mark]))
            visits.append(Visit(mark=mark, steps=steps))
            todo[mark] -= steps
            if not todo[mark]:
                del todo[mark]
    return tuple(visits)


def _next(left: Mapping[str, int], heights: Array, press: Press, thread: Thread) -> Visit:
    """Return the visit that turns furthest of those that lift no foot, else the whole turn that lifts fewest."""
    now = press.level + press.stiffness @ heights
    safe: list[tuple[bool, int, float, str, int]] = []
    bad: list[tuple[int, float, str, int, tuple[str, ...]]] = []
    for mark, steps in left.items():
        place = press.marks.index(mark)
        for size in range(abs(steps), 0, -1):
            signed = size if steps > 0 else -size
            then = now + press.stiffness[:, place] * signed * thread.step
            lifted = (then < -_NOTHING) & (now >= -_NOTHING) & (np.arange(len(then)) != place)
            if not lifted.any():
                safe.append((size == abs(steps), size, float(then.min()), mark, signed))
                break
            if size == abs(steps):
                names = tuple(m for m, is_lifted in zip(press.marks, lifted, strict=True) if is_lifted)
                bad.append((len(names), float(-then[lifted].min()), mark, signed, names))
    if safe:
        _, _, _, mark, signed = max(safe)
        return Visit(mark=mark, steps=signed)
    _, _, mark, signed, names = min(bad)
    return Visit(mark=mark, steps=signed, lifts=names)


_NOTHING = 1e-6
"""A press this small is rounding [N]."""
