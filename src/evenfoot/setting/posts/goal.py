"""What a floor must come to before it is called steady, and how far a set of post lengths is from it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.standing import BoolArray, Footing, Rest
from evenfoot.setting.posts.walk import loads_of, stand_everywhere

IntArray = npt.NDArray[np.int64]

HAIR = 1e-4
"""A limit that is passed by less than this is kept [mm]."""
_SHARE_HAIR = 1e-6


class Hand(StrEnum):
    """What the carpenter would rather do to a post."""

    SHAVE = "shave"
    PACK = "pack"


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """When a floor is steady, and how a post may be changed.

    ``rock`` is the widest gap [mm] that may be under any foot while a person walks anywhere: then no foot travels
    further, and every post bears as soon as the timber gives that little. ``share`` is how many times the force that
    the most loaded foot would have on perfect lengths any foot may have [-], None where it is not asked for.
    ``step`` is the finest change that a hand makes [mm], ``most`` the greatest one [mm]. ``level`` is how far a head
    may lie off its place with nobody on the floor [mm], None where that is not known or not asked for.
    """

    rock: float
    step: float
    most: float
    share: float | None = None
    level: float | None = None
    prefer: Hand = Hand.SHAVE

    @property
    def most_steps(self) -> int:
        """The greatest change in steps."""
        return max(1, int(self.most / self.step + 1e-9))


@dataclass(frozen=True, slots=True, kw_only=True)
class Steadiness:
    """How a set of lengths stands against the goal; lengths in mm, forces in N."""

    rock: float
    """Greatest travel of a foot."""
    hang: float
    """Widest gap under a foot."""
    press: float
    most_press: float
    """What the goal allows for ``press``; without end where it asks nothing."""
    off: float
    """How far the head that is furthest off lies from its place with nobody on the floor."""
    is_steady: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Trial:
    """One floor, its goal and the person on it: what candidate lengths are tried on.

    ``loads`` are the head loads of the empty floor and of the person on each place, shape (positions, n) [N]; places
    where the floor tips over its feet are left out, being no matter of lengths. ``lies`` is how high the level from
    which clearances are counted lies above where it should be, at each head, shape (n,) [mm].
    """

    footing: Footing
    goal: Goal
    person: float
    """[N]"""
    loads: FloatArray
    most_press: float
    lies: FloatArray

    def judge(self, clearance: FloatArray) -> Steadiness:
        """Return how these clearances, shape (n,) [mm], stand against the goal."""
        rest = self.footing.stand(np.broadcast_to(clearance, self.loads.shape), self.loads)
        rock = float((rest.gap.max(axis=0) - rest.gap.min(axis=0)).max())
        return Steadiness(
            rock=rock,
            hang=float(rest.gap.max()),
            press=float(rest.press.max()),
            most_press=self.most_press,
            off=float(np.abs(rest.head[0] + self.lies).max()),
            is_steady=bool(self._keeps(rest).all() and self._is_level(rest)[0]),
        )

    def passes(self, clearances: FloatArray, position: int) -> BoolArray:
        """Return which of many clearances, shape (k, n) [mm], keep the goal at one position."""
        load = np.broadcast_to(self.loads[position], clearances.shape)
        rest = self.footing.stand(clearances, load)
        return self._keeps(rest) & self._is_level(rest) if position == 0 else self._keeps(rest)

    def off_level(self, rest: Rest) -> FloatArray:
        """Return by how much each head passes the level asked for with nobody on the floor, shape (k, n) [mm]."""
        if self.goal.level is None:
            return np.zeros(rest.head.shape)
        return np.asarray(np.maximum(np.abs(rest.head + self.lies) - self.goal.level, 0.0))

    def _is_level(self, rest: Rest) -> BoolArray:
        return np.asarray((self.off_level(rest) <= HAIR).all(axis=1))

    def worst_positions(self, clearance: FloatArray) -> tuple[int, ...]:
        """Return the positions that show best where these clearances fail; none where they are steady."""
        rest = self.footing.stand(np.broadcast_to(clearance, self.loads.shape), self.loads)
        found = []
        if rest.gap.max() > self.goal.rock + HAIR:
            hangs = rest.gap.max(axis=0)
            widest = [post for post in np.argsort(-hangs, kind="stable")[:2] if hangs[post] > self.goal.rock + HAIR]
            found += [int(np.argmax(rest.gap[:, post])) for post in widest]
        if rest.press.max() > self.most_press * (1.0 + _SHARE_HAIR):
            found.append(int(np.argmax(rest.press.max(axis=1))))
        if not self._is_level(rest)[0]:
            found.append(0)
        return tuple(dict.fromkeys(found))

    def _keeps(self, rest: Rest) -> BoolArray:
        is_close = rest.gap.max(axis=1) <= self.goal.rock + HAIR
        return np.asarray(is_close & (rest.press.max(axis=1) <= self.most_press * (1.0 + _SHARE_HAIR)))


def make_trial(footing: Footing, goal: Goal, *, person: float, lies: FloatArray | None = None) -> Trial | None:
    """Return the trial of a floor; None where it would tip even with nobody on it. ``lies``: see ``Trial``.

    What the most loaded foot may carry follows from perfect lengths. A rigid frame has no say in how feet share.
    """
    ideal = stand_everywhere(footing, np.zeros(footing.frame.count), person=person)
    if not ideal.is_held[0]:
        return None
    most = np.inf
    if goal.share is not None and not footing.frame.is_rigid:
        most = goal.share * float(ideal.press[ideal.is_held].max())
    loads = loads_of(footing.frame, person=person)[ideal.is_held]
    base = np.zeros(footing.frame.count) if lies is None else lies
    return Trial(footing=footing, goal=goal, person=person, loads=loads, most_press=most, lies=base)
