"""How a frame of crossing beams moves under load, each beam in its own plane, resting on the others by contacts.

Beams have nodes; a node has a *level* (its w, down positive), a slope along its beam, and where the beam is given a
torsional stiffness a twist, the slope across it. Nodes that are tied share one level. A contact lets an upper level
rest on a lower one, or on rigid ground: it presses, passes no moment, and never pulls unless it is tied. A link is a
spring between two freedoms: it makes the slope of one beam follow the twist of the other where a joint holds them at
right angles.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from evenfoot.errors import NoSolutionError
from evenfoot.solvers import beam_element
from evenfoot.solvers.contact import Touching, settle, while_open
from evenfoot.solvers.symmetric import Factors, factorise

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

GROUND = -1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Links:
    """Springs of ``stiffness`` [N mm], shape (n,), that resist the difference of two freedoms, shape (n, 2)."""

    freedoms: IntArray
    stiffness: FloatArray

    @classmethod
    def none(cls) -> Links:
        """Return no links."""
        return cls(freedoms=np.zeros((0, 2), dtype=np.int64), stiffness=np.zeros(0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Grillage:
    """The beams and how they rest on each other.

    ``ends`` are the two nodes of each element, shape (n_elements, 2), with ``length`` [mm], ``ei`` [N mm2] and ``ga``
    [N, may be infinite]. ``level`` is the level of each node, shape (n_nodes,). Springs hold ``spring_level`` to
    rigid ground by ``spring`` [N/mm]. Contacts lay level ``upper`` on level ``lower`` (``GROUND`` for rigid ground);
    a level is the upper of one contact at most, and no chain of contacts closes on itself.

    Where ``gj`` [N mm2], shape (n_elements,), is given every node can twist. ``links`` hold slopes and twists together.
    ``is_tied`` are contacts that pull as well as press, shape (n_contacts,); without it none does.
    """

    ends: IntArray
    length: FloatArray
    ei: FloatArray
    ga: FloatArray
    level: IntArray
    n_levels: int
    spring_level: IntArray
    spring: FloatArray
    upper: IntArray
    lower: IntArray
    gj: FloatArray | None = None
    links: Links = field(default_factory=Links.none)
    is_tied: BoolArray | None = None

    @property
    def size(self) -> int:
        """Number of freedoms: levels first, then the slope of each node, then the twist of each where beams twist."""
        return self.n_levels + len(self.level) * (1 if self.gj is None else 2)

    def freedoms(self) -> IntArray:
        """Return the four freedoms of each element, shape (n_elements, 4)."""
        first, second = self.ends[:, 0], self.ends[:, 1]
        return np.stack((self.level[first], self.n_levels + first, self.level[second], self.n_levels + second), axis=1)

    def twists(self) -> IntArray:
        """Return the twists of the two ends of each element, shape (n_elements, 2); none without ``gj``."""
        if self.gj is None:
            return np.zeros((0, 2), dtype=np.int64)
        return self.n_levels + len(self.level) + self.ends

    @property
    def tied(self) -> BoolArray:
        """Which contacts also pull, shape (n_contacts,)."""
        return np.zeros(len(self.upper), dtype=bool) if self.is_tied is None else self.is_tied


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Response:
    """What a grillage does in each case, columns are cases.

    ``moved`` are all freedoms [mm, -], shape (size, n_cases); ``ends`` the forces on each element at its four freedoms,
    shape (n_elements, 4, n_cases); ``press`` the force of each contact [N, pressing positive], shape (n_contacts,
    n_cases); ``lifts`` how far each contact has opened [mm], up negative. ``is_held`` marks contacts that had to be
    held down or the frame would tip: there ``press`` is negative. ``is_settled`` is False for a case whose contacts
    did not come to rest within the rounds allowed.
    """

    moved: FloatArray
    ends: FloatArray
    press: FloatArray
    lifts: FloatArray
    is_held: BoolArray
    is_settled: BoolArray

    def column(self, case: int) -> Response:
        """Return one case alone, still with its column."""
        return self.columns(slice(case, case + 1))

    def columns(self, cases: slice) -> Response:
        """Return some of the cases."""
        return Response(
            moved=self.moved[:, cases],
            ends=self.ends[:, :, cases],
            press=self.press[:, cases],
            lifts=self.lifts[:, cases],
            is_held=self.is_held[:, cases],
            is_settled=self.is_settled[cases],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prepared:
    """A grillage made ready, factorised with all contacts closed.

    ``even`` turns even loads on elements into forces on freedoms, sparse, (size, n_elements). ``column`` is the place
    of each freedom among those that stay when all contacts are closed, -1 on rigid ground or where nothing uses it.
    ``four`` are the freedoms of the elements, shape (n_elements, 4), ``bend`` their stiffnesses, (n_elements, 4, 4),
    and ``bow`` what 1 N/mm on each presses its freedoms with, (n_elements, 4).
    """

    grillage: Grillage
    touching: Touching
    even: Any
    column: IntArray
    four: IntArray
    bend: FloatArray
    bow: FloatArray


def prepare(grillage: Grillage) -> Prepared:
    """Return the grillage with its stiffness factorised, all contacts closed.

    Raises: NoSolutionError (``mechanism``) when some beam is not held: ``found`` is the number of a node of it.
    """
    from scipy.sparse import csr_array

    g = grillage
    freedoms = g.freedoms()
    bend = beam_element.stiffness(length=g.length, ei=g.ei, ga=g.ga)
    rows, columns, values = entries = _entries(g, bend)
    roots, chains = _chains(g)
    column = _base_columns(g, roots)
    free = np.flatnonzero(column >= 0)
    n_base = int(column.max(initial=-1)) + 1
    chained = [(level, contact) for level, chain in enumerate(chains) for contact in chain]
    lifted = np.array(chained, dtype=np.int64).reshape(-1, 2)
    base = csr_array((np.ones(len(free)), (free, column[free])), shape=(g.size, n_base))
    lift = csr_array((np.ones(len(lifted)), (lifted[:, 0], lifted[:, 1])), shape=(g.size, len(g.upper)))
    touching = Touching(
        matrix=csr_array((values, (rows, columns)), shape=(g.size, g.size)),
        base=base,
        lift=lift,
        gather=base.T.tocsr(),
        feel=lift.T.tocsr(),
        factors=_factors(g, column, entries),
        is_tied=g.tied,
    )
    count = len(g.length)
    places = (freedoms.ravel(), np.repeat(np.arange(count), 4))
    bow = beam_element.even_load(length=g.length)
    even = csr_array((bow.ravel(), places), shape=(g.size, count))
    return Prepared(grillage=g, touching=touching, even=even, column=column, four=freedoms, bend=bend, bow=bow)


def respond(prepared: Prepared, forces: FloatArray, even: FloatArray) -> Response:
    """Return what the grillage does under each case; contacts that would pull are let go, case by case.

    Args: forces on the freedoms, shape (size, n_cases) [N, N mm], without the even loads; even, load on each element
    [N/mm], shape (n_elements, n_cases).
    """
    rest = settle(prepared.touching, forces + prepared.even @ even)
    ends = beam_element.end_forces(stiffness=prepared.bend, moved=rest.moved[prepared.four])
    ends -= prepared.bow[:, :, None] * even[:, None, :]
    return Response(
        moved=rest.moved,
        ends=ends,
        press=rest.press,
        lifts=rest.lifts,
        is_held=rest.is_held,
        is_settled=rest.is_settled,
    )


def move(prepared: Prepared, forces: FloatArray, even: FloatArray) -> FloatArray:
    """Return only how all freedoms move under each case [mm, -], shape (size, n_cases).

    Args: as for ``respond``.
    """
    return settle(prepared.touching, forces + prepared.even @ even).moved


def as_at_rest(prepared: Prepared, rest: Response) -> Callable[[FloatArray, FloatArray], FloatArray]:
    """Return how all freedoms move under further loads [mm, -] while contacts stay as they are at rest: it is linear.

    What is returned takes ``forces`` and ``even`` as ``respond`` does.

    Args: rest, a single case.
    """
    follow = while_open(prepared.touching, np.flatnonzero(rest.lifts[:, 0]))
    return lambda forces, even: follow(forces + prepared.even @ even)


def torques(grillage: Grillage, moved: FloatArray) -> FloatArray:
    """Return the torsional moment in each element [N mm], shape (n_elements, n_cases); all freedoms in ``moved``."""
    if grillage.gj is None:
        return np.zeros((len(grillage.length), moved.shape[1]))
    first, second = grillage.twists().T
    out: FloatArray = (grillage.gj / grillage.length)[:, None] * (moved[second] - moved[first])
    return out


def _entries(g: Grillage, bend: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
    """Return rows, columns and values of the stiffness of all freedoms; equal places add up."""
    freedoms, twists, links = g.freedoms(), g.twists(), g.links
    pair = np.array([1.0, -1.0, -1.0, 1.0])
    turn = pair * (np.zeros(0) if g.gj is None else g.gj / g.length)[:, None]
    held = pair * links.stiffness[:, None]
    groups = (
        (freedoms, bend.reshape(-1, 16)),
        (twists, turn),
        (links.freedoms, held),
        (g.spring_level[:, None], g.spring[:, None]),
    )
    rows = np.concatenate([np.repeat(of, of.shape[1], axis=1).ravel() for of, _ in groups])
    columns = np.concatenate([np.tile(of, (1, of.shape[1])).ravel() for of, _ in groups])
    return rows, columns, np.concatenate([values.ravel() for _, values in groups])


def _factors(g: Grillage, column: IntArray, entries: tuple[IntArray, IntArray, FloatArray]) -> Factors:
    rows, columns, values = entries
    inside = (column[rows] >= 0) & (column[columns] >= 0)
    size = int(column.max(initial=-1)) + 1
    try:
        return factorise(column[rows[inside]], column[columns[inside]], values[inside], size)
    except NoSolutionError as error:
        loose = int(error.fault.found)
        turning = column[g.n_levels :].reshape(-1, len(g.level))
        node = int(np.flatnonzero((turning == loose).any(axis=0) | (column[g.level] == loose))[0])
        raise NoSolutionError(replace(error.fault, found=str(node))) from error


def _chains(g: Grillage) -> tuple[IntArray, list[list[int]]]:
    """Return the level (or GROUND) that each level comes to rest on, and the contacts on the way there."""
    below: dict[int, tuple[int, int]] = {}
    for contact, (upper, lower) in enumerate(zip(g.upper.tolist(), g.lower.tolist(), strict=True)):
        assert upper not in below, "a level rests on one other level only"
        below[upper] = (lower, contact)
    roots = np.arange(g.n_levels)
    chains: list[list[int]] = [[] for _ in range(g.n_levels)]
    for level in range(g.n_levels):
        at = level
        while at in below:
            at, contact = below[at]
            chains[level].append(contact)
            assert len(chains[level]) <= len(below), "a chain of contacts closes on itself"
        roots[level] = at
    return roots, chains


def _base_columns(g: Grillage, roots: IntArray) -> IntArray:
    """Return the place of each freedom among those that stay when all contacts are closed; -1 on rigid ground."""
    in_use = roots[np.unique(np.concatenate((g.level, g.spring_level)))]
    used = np.unique(in_use[in_use != GROUND])
    place = np.full(g.n_levels, -1, dtype=np.int64)
    place[used] = np.arange(len(used))
    levels = np.where(roots == GROUND, -1, place[np.maximum(roots, 0)])
    return np.concatenate((levels, len(used) + np.arange(g.size - g.n_levels)))
