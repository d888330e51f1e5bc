"""Where joints cut into timbers, which cuts an end has to pass, and what is left whole between them (note 042)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from evenfoot.frame import Joint, JointKind
from evenfoot.solvers import beam_element, nearby
from evenfoot.strength.findings import Batch
from evenfoot.strength.statics import FloatArray, IntArray, Rest, Skeleton, Statics, Timber


class Side(StrEnum):
    """Where a timber is cut."""

    TOP = "top"
    UNDERSIDE = "underside"
    CHEEK = "cheek"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut in one timber, from ``low`` to ``high`` along it [mm], ``notch`` deep [mm]."""

    timber: int
    joint: Joint
    side: Side
    low: float
    at: float
    high: float
    notch: float
    is_end_notch: bool
    """True at an end whose load or bearing has to pass the notch."""


def find_cuts(skeleton: Skeleton) -> tuple[Cut, ...]:
    """Return every cut that joints make in the timbers, in order of the joints; cheek cuts at one place add up."""
    bearings = skeleton.lies_on
    out: list[Cut] = []
    cheeks: dict[tuple[int, int], float] = {}
    for rest in skeleton.rests:
        joint = rest.joint
        if joint.cut_upper > 0.0 and rest.lower is not None:
            half = skeleton.timbers[rest.lower].member.width / 2.0
            upper = skeleton.timbers[rest.upper]
            out.append(_cut(upper, (rest, Side.UNDERSIDE), (rest.at, half), bearings[rest.upper]))
        if joint.cut_lower > 0.0 and rest.lower is not None:
            half = skeleton.timbers[rest.upper].member.width / 2.0
            lower = skeleton.timbers[rest.lower]
            if joint.kind is not JointKind.HOUSING:
                out.append(_cut(lower, (rest, Side.TOP), (joint.at_lower, half), bearings[rest.lower]))
                continue
            place = (rest.lower, round(joint.at_lower))
            cheeks[place] = cheeks.get(place, 0.0) + joint.cut_lower
            if cheeks[place] == joint.cut_lower:
                out.append(_cut(lower, (rest, Side.CHEEK), (joint.at_lower, half), bearings[rest.lower]))
    return tuple(replace(c, notch=cheeks[c.timber, round(c.at)]) if c.side is Side.CHEEK else c for c in out)


def _cut(timber: Timber, made: tuple[Rest, Side], place: tuple[float, float], bearings: Sequence[Rest]) -> Cut:
    """Return the cut that one rest makes in a timber at ``place`` (middle and half its length) [mm]."""
    (rest, side), (at, half) = made, place
    joint, length = rest.joint, timber.member.length
    is_end = joint.is_end_of_upper if side is Side.UNDERSIDE else joint.is_end_of_lower
    is_far = at > length / 2.0
    low = 0.0 if is_end and not is_far else max(0.0, at - half)
    high = length if is_end and is_far else min(length, at + half)
    # A post under both timbers: under the cut of the lower one, or close beside the notch of the upper one.
    beside = half if side is Side.UNDERSIDE else 0.0
    is_relieved = any(r is not rest and low - beside <= r.at <= high + beside for r in bearings)
    return Cut(
        timber=timber.number,
        joint=joint,
        side=side,
        low=low,
        at=at,
        high=high,
        notch=joint.cut_upper if side is Side.UNDERSIDE else joint.cut_lower,
        is_end_notch=is_end and side is not Side.CHEEK and not is_relieved,
    )


def clear_parts(statics: Statics, cuts: Iterable[Cut]) -> tuple[FloatArray, FloatArray]:
    """Return from where to where each element is whole [mm from its first end]; nowhere if low passes high."""
    begin, length = statics.begin.tolist(), statics.grid.length.tolist()
    low, high = [0.0] * len(begin), list(length)
    for cut in cuts:
        first, last = (int(k) for k in statics.first_element[cut.timber : cut.timber + 2])
        for k in range(first, last):
            end = begin[k] + length[k]
            if cut.low <= begin[k] + 1e-9 and begin[k] < cut.high:
                low[k] = min(length[k], max(low[k], cut.high - begin[k]))
            if cut.low < end and end - 1e-9 <= cut.high:
                high[k] = max(0.0, min(high[k], cut.low - begin[k]))
    return np.array(low), np.array(high)


class Slits:
    """Reads moments and shear at cuts off the elements that they lie in."""

    def __init__(self, statics: Statics, cuts: Sequence[Cut]) -> None:
        owner = np.array([c.timber for c in cuts], dtype=np.int64)
        self._count = len(statics.begin)
        self._sign = np.array([-1.0 if c.side is Side.TOP else 1.0 for c in cuts])[:, None]
        self._is_cheek = np.array([c.side is Side.CHEEK for c in cuts], dtype=bool)[:, None]
        self._places = [
            (*statics.elements_at(owner, np.array([getattr(c, name) for c in cuts], dtype=float), is_before=b), b)
            for name, b in (("low", False), ("at", True), ("at", False), ("high", True))
        ]

    def forces(self, batch: Batch) -> tuple[IntArray, tuple[FloatArray, FloatArray, FloatArray]]:
        """Return the cuts among the batch's rows, with moments that pull and press the cut face, and shear.

        Each is the worst within the cut, shape (n_cuts, n_columns).
        """
        row = np.full(self._count, -1, dtype=np.int64)
        elements = np.arange(self._count) if batch.elements is None else batch.elements
        row[elements] = np.arange(len(elements))
        seen = np.min([row[element] for element, _, _ in self._places], axis=0) >= 0
        which = np.flatnonzero(seen)
        sign, is_cheek = self._sign[which], self._is_cheek[which]
        pulled = pressed = shear = np.zeros((len(which), batch.response.ends.shape[2]))
        for element, at, is_before in self._places:
            rows, x = row[element[which]], at[which]
            ends, q = batch.response.ends[rows, :2], batch.even[rows]
            m = beam_element.moment(ends=ends, x=x[:, None], q=q)
            v = beam_element.shear(ends=ends, x=x[:, None], q=q)
            if batch.points is not None:
                _pass_loads((m, v), rows, np.nextafter(x, -1.0 if is_before else np.inf), batch.points)
            pulled, pressed = np.maximum(pulled, sign * m), np.maximum(pressed, -sign * m)
            shear = np.maximum(shear, np.abs(v))
        both = np.maximum(pulled, pressed)
        return which, (np.where(is_cheek, 0.0, pulled), np.where(is_cheek, both, pressed), shear)


def _pass_loads(forces: tuple[FloatArray, FloatArray], rows: IntArray, x: FloatArray, points: nearby.Points) -> None:
    """Take account of loads that stand between the start of an element and the place looked at; rows may repeat."""
    moment, shear = forces
    order = np.argsort(rows, kind="stable")
    first = np.searchsorted(rows[order], points.element, side="left")
    count = np.searchsorted(rows[order], points.element, side="right") - first
    load = np.repeat(np.arange(len(count)), count)
    place = order[np.repeat(first - np.cumsum(count) + count, count) + np.arange(int(count.sum()))]
    past = np.maximum(x[place] - points.at[load], 0.0)
    column, force = points.place[load], points.force[load]
    np.subtract.at(moment, (place, column), force * past)
    np.subtract.at(shear, (place, column), force * (past > 0.0))
