"""Lets go the contacts that would pull, case by case, until all that touch press and all that lifted are clear.

The system is solved once with all contacts closed. Letting a contact go adds one freedom, the lift of what lies on it;
the lifts of one case are found from a small matrix of these freedoms alone, so that nothing is factorised again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
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
SHARE = 1e-9
"""A force below this share of the greatest load of the case is none."""
_LEAST_PIVOT = 1e-9
"""A lift that meets less than this share of its own stiffness meets nothing: what lies on the contact would tip."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Touching:
    """A system with all its contacts closed.

    ``matrix`` is the stiffness of all freedoms, sparse, (n, n); ``base`` puts the freedoms that stay when all contacts
    are closed back among all, (n, n_base), and ``factors`` solves for them; ``lift`` holds for each contact what moves
    when it lifts, (n, n_contacts). ``gather`` and ``feel`` are these two turned over: what forces on all freedoms are
    on those that stay, and at the contacts. Contacts that ``is_tied`` also pull: they are never let go.
    """

    matrix: Any
    base: Any
    lift: Any
    gather: Any
    feel: Any
    factors: Factors
    is_tied: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rest:
    """Where a system comes to rest; see ``grillage.Response``."""

    moved: FloatArray
    press: FloatArray
    lifts: FloatArray
    is_held: BoolArray
    is_settled: BoolArray


def settle(system: Touching, forces: FloatArray) -> Rest:
    """Return how the system rests under ``forces``, shape (n, n_cases); no contact pulls unless tied or held.

    A contact is held where the frame would tip without it.
    """
    moved = system.base @ system.factors.solve(system.gather @ forces)
    press = system.feel @ (forces - system.matrix @ moved)
    least = SHARE * np.max(np.abs(forces), axis=0, initial=0.0)
    is_settled = np.ones(forces.shape[1], dtype=bool)
    lifts = np.zeros_like(press)
    one_sided = np.flatnonzero(~system.is_tied)
    pulled = np.flatnonzero((press[one_sided] < -least).any(axis=0))
    if len(pulled):
        lifts[:, pulled], is_settled[pulled] = let_go(_answers(system), press[:, pulled], least[pulled], system.is_tied)
        raised = system.lift @ lifts[:, pulled]
        raised -= system.base @ system.factors.solve(system.gather @ (system.matrix @ raised))
        moved[:, pulled] += raised
        press[:, pulled] = system.feel @ (forces[:, pulled] - system.matrix @ moved[:, pulled])
        press = np.where(lifts != 0.0, 0.0, press)
    is_held = (press < -10.0 * least) & ~system.is_tied[:, None]
    return Rest(moved=moved, press=press, lifts=lifts, is_held=is_held, is_settled=is_settled)


def while_open(system: Touching, opened: IntArray) -> Callable[[FloatArray], FloatArray]:
    """Return how the system moves under forces while the contacts ``opened`` stand open and all others stay closed.

    What is returned takes forces on the freedoms, shape (n, n_cases), and gives how these move; it is linear.
    """
    raised = system.lift[:, opened].toarray()
    raised -= system.base @ system.factors.solve(system.gather @ (system.matrix @ raised))
    # By Betti's theorem a closed contact bears what the forces do on the shape of its lift.
    give = raised @ np.linalg.inv((system.feel @ (system.matrix @ raised))[opened])

    def follow(forces: FloatArray) -> FloatArray:
        moved: FloatArray = system.base @ system.factors.solve(system.gather @ forces)
        return moved + give @ (raised.T @ forces) if len(opened) else moved

    return follow


def _answers(system: Touching) -> Answers:
    own = np.asarray((system.lift * (system.matrix @ system.lift)).sum(axis=0)).ravel()

    def columns(contacts: list[int]) -> FloatArray:
        raised = system.lift[:, contacts].toarray()
        raised -= system.base @ system.factors.solve(system.gather @ (system.matrix @ raised))
        found: FloatArray = system.feel @ (system.matrix @ raised)
        return found

    return Answers(own, columns)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Loose:
    """Contacts let go together: the inverse of their small matrix, and what each lift does to all contacts."""

    contacts: list[int]
    inverse: FloatArray
    columns: FloatArray


class Answers:
    """How the forces of all contacts answer to the lift of one, worked out when first asked for.

    ``own`` is the stiffness that each lift meets alone; ``columns`` works out answers to unit lifts of some contacts.
    """

    def __init__(self, own: FloatArray, columns: Callable[[list[int]], FloatArray]) -> None:
        self.own = own
        self._work_out = columns
        self._place: dict[int, int] = {}
        self._columns = np.zeros((len(own), 0))
        self._sets: dict[tuple[int, ...], _Loose] = {}

    def add(self, contacts: Sequence[int]) -> None:
        """Work out the answers to the lift of these contacts, as far as they are not known."""
        new = [c for c in contacts if c not in self._place]
        if new:
            self._place.update({c: self._columns.shape[1] + k for k, c in enumerate(new)})
            self._columns = np.hstack((self._columns, self._work_out(new)))

    def columns(self, contacts: Sequence[int]) -> FloatArray:
        """Return the answers of all contacts to unit lifts of some, shape (n_contacts, n)."""
        self.add(contacts)
        return self._columns[:, [self._place[c] for c in contacts]]

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
        loose = list(wanted)
        while True:
            columns = self.columns(loose)
            small = columns[loose]
            soft = _first_soft(small, self.own[loose])
            if soft is None:
                inverse: FloatArray = np.linalg.inv(small).astype(float, copy=False)
                return _Loose(contacts=loose, inverse=inverse, columns=columns)
            del loose[soft]


def let_go(answers: Answers, closed: FloatArray, least: FloatArray, is_tied: BoolArray) -> tuple[FloatArray, BoolArray]:
    """Return the lift of each contact (up is negative) in each case, and whether the case came to rest.

    Cases are worked out together; where something would tip, each alone.

    Args: closed, forces of the contacts when all are closed, shape (n_contacts, n_cases) [N]; least, force that counts
    as none, shape (n_cases,) [N]; is_tied, contacts that stay.
    """
    lifts, press = np.zeros_like(closed), closed.copy()
    loose = np.zeros(closed.shape, dtype=bool)
    may_go = ~is_tied[:, None]
    moving = np.arange(closed.shape[1])
    alone: list[int] = []
    for _ in range(min(_ROUNDS, _ROUNDS_TOGETHER)):
        opened = loose[:, moving]
        change = opened & (lifts[:, moving] * answers.own[:, None] > least[moving])
        change |= ~opened & may_go & (press[:, moving] < -least[moving])
        is_moving = change.any(axis=0)
        moving, change = moving[is_moving], change[:, is_moving]
        if not len(moving):
            break
        loose[:, moving] ^= change
        alone += _lift_together(answers, closed, (lifts, press), (loose, moving))
        moving = np.setdiff1d(moving, alone)
    is_settled = np.ones(closed.shape[1], dtype=bool)
    for case in (*alone, *moving.tolist()):
        lifts[:, case], is_settled[case] = _let_go_alone(answers, closed[:, case], float(least[case]), is_tied)
    return lifts, is_settled


def _lift_together(
    answers: Answers, closed: FloatArray, out: tuple[FloatArray, FloatArray], opened: tuple[BoolArray, IntArray]
) -> list[int]:
    """Set lifts and forces of cases whose contacts stand open as marked; return the cases in which that would tip.

    Cases with equally many open contacts are solved as one stack of small systems.
    """
    lifts, press = out
    loose, cases = opened
    used = np.flatnonzero(loose[:, cases].any(axis=1))
    columns = answers.columns(used.tolist())
    small, own = columns[used], answers.own[used]
    wanted, found = closed[np.ix_(used, cases)], np.zeros((len(used), len(cases)))
    marks = loose[np.ix_(used, cases)].T
    counts = marks.sum(axis=1)
    tips: list[int] = []
    for size in np.unique(counts[counts > 0]).tolist():
        at = np.flatnonzero(counts == size)
        rows = np.nonzero(marks[at])[1].reshape(len(at), size)
        blocks = small[rows[:, :, None], rows[:, None, :]]
        stiff = _are_stiff(blocks, own[rows])
        tips += cases[at[~stiff]].tolist()
        at, rows = at[stiff], rows[stiff]
        found[rows, at[:, None]] = np.linalg.solve(blocks[stiff], wanted[rows, at[:, None]][:, :, None])[:, :, 0]
    lifts[:, cases] = 0.0
    lifts[np.ix_(used, cases)] = found
    press[:, cases] = closed[:, cases] - columns @ found
    return tips


def _are_stiff(blocks: FloatArray, own: FloatArray) -> BoolArray:
    """Return for each of a stack of small matrices whether no lift in it meets nothing."""
    try:
        pivots = np.linalg.cholesky(blocks).diagonal(axis1=1, axis2=2) ** 2
    except np.linalg.LinAlgError:
        return np.array([_first_soft(block, one) is None for block, one in zip(blocks, own, strict=True)])
    return np.asarray((pivots > _LEAST_PIVOT * own).all(axis=1))


def _let_go_alone(answers: Answers, closed: FloatArray, least: float, is_tied: BoolArray) -> tuple[FloatArray, bool]:
    """Return the lifts of one case, and whether it came to rest; what cannot be let go is held."""
    lifts, press = np.zeros_like(closed), closed
    loose: list[int] = []
    held: set[int] = set(np.flatnonzero(is_tied).tolist())
    tied = frozenset(held)
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
            held = set(tied)
        loose, lifts, press = _solve(answers, closed, [c for c in loose if c not in falls] + rises)
        held.update(c for c in rises if c not in loose)
    return lifts, False


def _solve(answers: Answers, closed: FloatArray, loose: list[int]) -> tuple[list[int], FloatArray, FloatArray]:
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
