"""Lets go the contacts that would pull, case by case, until all that touch press and all that lifted are clear.

The system is solved once with all contacts closed. Letting a contact go adds one freedom, the lift of what lies on it;
the lifts of one case are found from a small matrix of these freedoms alone, so that nothing is factorised again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from evenfoot.solvers.symmetric import Factors

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

_ROUNDS = 200
_ROUNDS_TOGETHER = 12
"""After so many rounds one contact changes at a time, lowest number first: that always ends."""
_SHARE = 1e-9
"""A force below this share of the greatest load of the case is none."""
_LEAST_PIVOT = 1e-9
"""A lift that meets less than this share of its own stiffness meets nothing: what lies on the contact would tip."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Touching:
    """A system with all its contacts closed.

    ``matrix`` is the stiffness of all freedoms, sparse, (n, n); ``base`` puts the freedoms that stay when all contacts
    are closed back among all, (n, n_base), and ``factors`` solves for them; ``lift`` holds for each contact what moves
    when it lifts, (n, n_contacts).
    """

    matrix: Any
    base: Any
    lift: Any
    factors: Factors


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rest:
    """Where a system comes to rest; see ``grillage.Response``."""

    moved: FloatArray
    press: FloatArray
    is_held: BoolArray
    is_settled: BoolArray


def settle(system: Touching, forces: FloatArray) -> Rest:
    """Return how the system rests under ``forces``, shape (n, n_cases); no contact pulls unless it is held.

    A contact is held where the frame would tip without it.
    """
    moved = system.base @ system.factors.solve(system.base.T @ forces)
    press = system.lift.T @ (forces - system.matrix @ moved)
    least = _SHARE * np.max(np.abs(forces), axis=0, initial=0.0)
    is_settled = np.ones(forces.shape[1], dtype=bool)
    pulled = np.flatnonzero((press < -least).any(axis=0))
    if len(pulled):
        answers = _Answers(system)
        answers.add(np.flatnonzero((press[:, pulled] < -least[pulled]).any(axis=1)))
        lifts = np.zeros((press.shape[0], len(pulled)))
        for at, case in enumerate(pulled):
            lifts[:, at], is_settled[case] = _let_go(answers, press[:, case], float(least[case]))
        raised = system.lift @ lifts
        raised -= system.base @ system.factors.solve(system.base.T @ (system.matrix @ raised))
        moved[:, pulled] += raised
        press[:, pulled] = system.lift.T @ (forces[:, pulled] - system.matrix @ moved[:, pulled])
        press[:, pulled] = np.where(lifts != 0.0, 0.0, press[:, pulled])
    return Rest(moved=moved, press=press, is_held=press < -10.0 * least, is_settled=is_settled)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Loose:
    """Contacts let go together: the inverse of their small matrix, and what each lift does to all contacts."""

    contacts: list[int]
    inverse: FloatArray
    columns: FloatArray


class _Answers:
    """How the forces of all contacts answer to the lift of one, worked out when first asked for."""

    def __init__(self, system: Touching) -> None:
        self._system = system
        self._place: dict[int, int] = {}
        self._columns = np.zeros((system.lift.shape[1], 0))
        self._sets: dict[tuple[int, ...], _Loose] = {}
        self.own = np.asarray((system.lift * (system.matrix @ system.lift)).sum(axis=0)).ravel()

    def add(self, contacts: IntArray) -> None:
        system = self._system
        new = [int(c) for c in contacts if int(c) not in self._place]
        if not new:
            return
        raised = system.lift[:, new].toarray()
        raised -= system.base @ system.factors.solve(system.base.T @ (system.matrix @ raised))
        self._place.update({c: self._columns.shape[1] + k for k, c in enumerate(new)})
        self._columns = np.hstack((self._columns, system.lift.T @ (system.matrix @ raised)))

    def without(self, loose: list[int]) -> _Loose:
        """Return which of ``loose`` can be let go, those named first before the others, and how.

        Neighbouring load cases let go the same contacts, so each set is worked out once. In what order they are
        taken matters only where not all can go.
        """
        rising = tuple(sorted(loose))
        if rising not in self._sets:
            self._sets[rising] = self._without(rising)
        if len(self._sets[rising].contacts) == len(loose):
            return self._sets[rising]
        return self._without(tuple(loose))

    def _without(self, wanted: tuple[int, ...]) -> _Loose:
        self.add(np.array(wanted, dtype=np.int64))
        loose = list(wanted)
        while True:
            columns = self._columns[:, [self._place[c] for c in loose]]
            small = columns[loose]
            soft = _first_soft(small, self.own[loose])
            if soft is None:
                return _Loose(contacts=loose, inverse=np.linalg.inv(small), columns=columns)
            del loose[soft]


def _let_go(answers: _Answers, closed: FloatArray, least: float) -> tuple[FloatArray, bool]:
    """Return the lift of each contact (up is negative) in one case, and whether it came to rest.

    ``closed`` are the forces of the contacts when all are closed.
    """
    lifts, press = np.zeros_like(closed), closed
    loose: list[int] = []
    held: set[int] = set()
    for turn in range(_ROUNDS):
        falls = [c for c in loose if lifts[c] * answers.own[c] > least]
        pulling = np.flatnonzero(press < -least)
        rises = [int(c) for c in pulling[np.argsort(press[pulling], kind="stable")] if c not in held and c not in loose]
        if not falls and not rises:
            return lifts, True
        if turn >= _ROUNDS_TOGETHER:
            first = min((*falls, *rises))
            falls, rises = [c for c in falls if c == first], [c for c in rises if c == first]
        if falls:
            held.clear()
        loose, lifts, press = _solve(answers, closed, [c for c in loose if c not in falls] + rises)
        held.update(c for c in rises if c not in loose)
    return lifts, False


def _solve(answers: _Answers, closed: FloatArray, loose: list[int]) -> tuple[list[int], FloatArray, FloatArray]:
    """Return the contacts that can really be let go, their lifts, and the forces of all contacts."""
    kept = answers.without(loose)
    found = kept.inverse @ closed[kept.contacts]
    lifts = np.zeros_like(closed)
    lifts[kept.contacts] = found
    return kept.contacts, lifts, closed - kept.columns @ found


def _first_soft(small: FloatArray, own: FloatArray) -> int | None:
    """Return the first row of a symmetric matrix whose pivot is nothing beside its own stiffness."""
    try:
        pivots = np.linalg.cholesky(small).diagonal() ** 2
    except np.linalg.LinAlgError:
        return _first_soft_by_hand(small, own)
    soft = np.flatnonzero(pivots <= _LEAST_PIVOT * own)
    return int(soft[0]) if len(soft) else None


def _first_soft_by_hand(small: FloatArray, own: FloatArray) -> int:
    """Eliminate step by step where a library would stop without saying where."""
    rest = small.copy()
    for k in range(len(rest)):
        if rest[k, k] <= _LEAST_PIVOT * own[k]:
            return k
        rest[k + 1 :, k + 1 :] -= rest[k + 1 :, k, None] * (rest[k, k + 1 :] / rest[k, k])
    return len(rest) - 1
