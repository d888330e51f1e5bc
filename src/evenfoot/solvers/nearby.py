"""What loads that stand at one place after another do near where they stand, exactly and without solving all again.

The frame is cut into slices; about each slice its answer to any load is known (``slices``). Around a frame at rest the
contacts near the load are opened and closed anew for each place of the load; contacts further off stay as they were.
That is exact while all contacts further off are closed. One that stands open at rest out of reach keeps its opening;
frames small enough to be seen whole have nothing out of reach.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from evenfoot.solvers import beam_element, slices
from evenfoot.solvers.contact import SHARE, Answers, let_go
from evenfoot.solvers.grillage import GROUND, Prepared, Response

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

WHOLE = 2_500
"""A frame of so many freedoms is seen whole where contacts stand open at rest."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Points:
    """Loads on elements: ``force[k]`` [N] presses element ``element[k]`` at ``at[k]`` mm from its first end.

    ``place`` numbers the place of the walk that each belongs to; all loads of one place act together.
    """

    place: IntArray
    element: IntArray
    at: FloatArray
    force: FloatArray

    def of(self, chosen: npt.NDArray[Any]) -> Points:
        """Return some of the loads."""
        return Points(
            place=self.place[chosen], element=self.element[chosen], at=self.at[chosen], force=self.force[chosen]
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Near:
    """What some places of a walk do to the parts near them: rows of ``response`` are ``elements`` and ``contacts``.

    ``places`` are the columns. ``points`` are the loads between the ends of elements, ``place`` and ``element`` being
    column and row here; the end forces are those on the whole element with its loads on it. ``response.moved`` is how
    far the four freedoms of each element move beyond where they rest without the load, shape (n_elements, 4, n_places).
    """

    places: IntArray
    elements: IntArray
    contacts: IntArray
    response: Response
    points: Points


class Surroundings:
    """A frame at rest, ready to tell what loads at one place after another add to it.

    Args: grillage, as prepared; rest, one case of it (a single column); node_places, one or two plan coordinates of
    each node [mm], shape (n_directions, n_nodes): slices are cut along the one that costs least.
    """

    def __init__(self, prepared: Prepared, rest: Response, node_places: FloatArray) -> None:
        self.rest = rest
        self.prepared = prepared
        self.grid = prepared.grillage
        self.opened = np.flatnonzero(rest.lifts[:, 0])
        touching, column = prepared.touching, prepared.column
        inner = (touching.gather @ touching.matrix @ touching.base).tocsr()
        # Windows come from the last slice to the first: turned round, places come in their own order.
        cuts = [slices.cut(inner, -self._freedom_places(one)) for one in node_places]
        self._sliced = slices.eliminate(inner, min(cuts, key=lambda c: c.work))
        slicing = self._sliced.slicing
        at = np.empty(len(slicing.order), dtype=np.int64)
        at[slicing.order] = np.arange(len(slicing.order))
        self.at = np.where(column >= 0, at[np.maximum(column, 0)], -1)
        """Where each freedom lies in slice order; -1 on rigid ground."""
        pull = touching.matrix @ touching.lift
        self.meets = (touching.gather @ pull).tocsr()[slicing.order].tocsc()
        self.own = (touching.feel @ pull).tocsr()
        self._four = prepared.four
        self._element_span = _span(self.at[self._four])
        self._contact_span = self._contact_spans()

    def _freedom_places(self, node_place: FloatArray) -> FloatArray:
        """Return the place of each free freedom; levels of posts take that of what stands on them."""
        g, column = self.grid, self.prepared.column
        of_level = np.full(g.n_levels, np.nan)
        of_level[g.level] = node_place
        turning = np.tile(node_place, (g.size - g.n_levels) // len(node_place))
        for upper, lower in zip(g.upper.tolist(), g.lower.tolist(), strict=True):
            if lower != GROUND and np.isnan(of_level[lower]):
                of_level[lower] = of_level[upper]
        place = np.full(int(column.max(initial=-1)) + 1, np.nan)
        each = np.concatenate((of_level, turning))
        known = (column >= 0) & ~np.isnan(each)
        place[column[known]] = each[known]
        assert not np.isnan(place).any(), "every freedom lies on a beam or under one"
        return place

    def _contact_spans(self) -> tuple[IntArray, IntArray]:
        """Return the first and last freedom in slice order that each contact's lift meets."""
        pointer, rows = self.meets.indptr, self.meets.indices
        low = np.zeros(len(pointer) - 1, dtype=np.int64)
        high, full = low.copy(), np.flatnonzero(np.diff(pointer))
        low[full] = np.minimum.reduceat(rows, pointer[full])
        high[full] = np.maximum.reduceat(rows, pointer[full])
        return low, high

    def near(self, points: Points, reach: float, most: int = 1_000) -> Iterator[Near]:
        """Yield what each place does to everything within ``reach`` mm of its slice, at most so many places at once."""
        if len(self.opened) and len(self._sliced.slicing.order) <= WHOLE:
            reach = math.inf
        starts = self._sliced.slicing.starts
        first = self.at[self._four[points.element]].max(axis=1)
        slice_of_point = np.searchsorted(starts, np.maximum(first, 0), side="right") - 1
        count = int(points.place.max(initial=-1)) + 1
        slice_of_place = np.full(count, -1, dtype=np.int64)
        np.maximum.at(slice_of_place, points.place, slice_of_point)
        for window in slices.windows(self._sliced, reach):
            places = np.flatnonzero((slice_of_place >= window.cores.start) & (slice_of_place < window.cores.stop))
            for k in range(0, len(places), most):
                yield self._within(window, places[k : k + most], points)

    def _within(self, window: slices.Window, places: IntArray, points: Points) -> Near:
        g, rest = self.grid, self.rest
        column = np.full(int(places.max()) + 1, -1, dtype=np.int64)
        column[places] = np.arange(len(places))
        inside = points.place <= places.max()
        inside[inside] = column[points.place[inside]] >= 0
        loads = points.of(inside)
        elements = _inside(self._element_span, window)
        row = np.full(len(g.length), -1, dtype=np.int64)
        row[elements] = np.arange(len(elements))
        loads = Points(place=column[loads.place], element=row[loads.element], at=loads.at, force=loads.force)
        assert (loads.element >= 0).all(), "a load stands within its own window"
        contacts = _inside(self._contact_span, window)
        part = {"length": g.length[elements], "ei": g.ei[elements], "ga": g.ga[elements]}
        nodal = beam_element.point_load(at=loads.at, **{k: v[loads.element] for k, v in part.items()})
        nodal *= loads.force[:, None]
        four = self._four[elements]
        frame = _Part(self, window, contacts, (four, loads, nodal), len(places))
        least = SHARE * float(max(loads.force.max(initial=0.0), 1.0))
        moved, press, lifts, is_settled = frame.come_to_rest(least)
        ends = beam_element.end_forces(stiffness=self.prepared.bend[elements], moved=moved)
        # A load at an end stands on the node; only loads between the ends are within the element.
        between = (loads.at > 0.0) & (loads.at < part["length"][loads.element])
        loads = loads.of(between)
        np.subtract.at(ends.swapaxes(1, 2), (loads.element, loads.place), nodal[between])
        ends += rest.ends[elements]
        is_held = (press < -10.0 * least) & ~g.tied[contacts, None]
        response = Response(
            moved=moved,
            ends=ends,
            press=press,
            lifts=lifts,
            is_held=is_held,
            is_settled=is_settled & rest.is_settled[0],
        )
        return Near(places=places, elements=elements, contacts=contacts, response=response, points=loads)


class _Part:
    """The freedoms of one window under the loads of its places."""

    def __init__(
        self,
        around: Surroundings,
        window: slices.Window,
        contacts: IntArray,
        loads: tuple[IntArray, Points, FloatArray],
        count: int,
    ) -> None:
        self._around, self._contacts, self._count = around, contacts, count
        four, points, nodal = loads
        at = around.at[four] - window.first
        self._at = np.where(around.at[four] >= 0, at, window.last - window.first)
        self._four, self._points, self._nodal = four, points, nodal
        self._meets = around.meets[window.first : window.last][:, contacts]
        self._met = self._meets.T.tocsr()
        self._followed: dict[int, FloatArray] = {}
        """How the free freedoms of the window follow the lift of each contact asked for, but for the sign."""
        self._own = around.own[contacts][:, contacts].tocsc()
        self._lift = around.prepared.touching.lift[:, contacts]
        self._reopened = np.flatnonzero(np.isin(contacts, around.opened))
        self._inverse = window.inverse

    def come_to_rest(self, least: float) -> tuple[FloatArray, FloatArray, FloatArray, BoolArray]:
        """Return how element freedoms move beyond rest, forces and lifts of contacts, and which places settled."""
        around, contacts = self._around, self._contacts
        moved = self._under_loads()
        at_rest = around.rest.lifts[contacts]
        # What the contacts would bear with all of them closed, at rest and under each place.
        closed = around.rest.press[contacts] - self._met @ moved + self._own_loads()
        answers = Answers(np.asarray(self._own.diagonal()), self._columns)
        if len(self._reopened):
            answers.add(self._reopened.tolist())
            closed += answers.columns(self._reopened.tolist()) @ at_rest[self._reopened]
        lifts, is_settled = let_go(answers, closed, np.full(self._count, least), around.grid.tied[contacts])
        change = lifts - at_rest
        loose = np.flatnonzero(change.any(axis=1)).tolist()
        press = closed
        if loose:
            raised = change[loose]
            answers.add(loose)
            moved -= np.stack([self._followed[c] for c in loose], axis=1) @ raised
            press = closed - answers.columns(loose) @ lifts[loose]
            press = np.where(lifts != 0.0, 0.0, press)
        four: FloatArray = np.concatenate((moved, np.zeros((1, self._count))))[self._at]
        if loose:
            self._add_lifts(four, self._lift[:, loose].tocsc(), raised)
        return four, press, lifts, is_settled

    def _add_lifts(self, four: FloatArray, lift: Any, raised: FloatArray) -> None:  # noqa: ANN401 - scipy has no types
        """Add to the element freedoms what stands on the contacts that opened or closed."""
        levels, rows = np.unique(lift.indices, return_inverse=True)
        share = np.zeros((len(levels), len(raised)))
        share[rows, np.repeat(np.arange(len(raised)), np.diff(lift.indptr))] = lift.data
        place = np.full(self._lift.shape[0], -1, dtype=np.int64)
        place[levels] = np.arange(len(levels))
        hit = np.nonzero(place[self._four] >= 0)
        four[hit] += (share @ raised)[place[self._four[hit]]]

    def _under_loads(self) -> FloatArray:
        from scipy.sparse import csc_array

        size = len(self._inverse)
        rows = self._at[self._points.element]
        columns = np.repeat(self._points.place, 4)
        free = rows.ravel() < size
        forces = csc_array((self._nodal.ravel()[free], (rows.ravel()[free], columns[free])), shape=(size, self._count))
        # The inverse is symmetric: its product from the left keeps the sparse factor first.
        out: FloatArray = (forces.T @ self._inverse).T
        return out

    def _own_loads(self) -> FloatArray:
        """Return the loads that stand on what each contact carries, for each place."""
        from scipy.sparse import csr_array

        four = self._four[self._points.element].ravel()
        columns = np.repeat(self._points.place, 4)
        forces = csr_array((self._nodal.ravel(), (four, columns)), shape=(self._lift.shape[0], self._count))
        out: FloatArray = (self._lift.T @ forces).toarray()
        return out

    def _columns(self, contacts: Sequence[int]) -> FloatArray:
        """Return how the forces of all contacts answer to lifts of some, shape (n_contacts, n)."""
        chosen = self._meets[:, list(contacts)].tocoo()
        rows, place = np.unique(chosen.row, return_inverse=True)
        meets = np.zeros((len(rows), len(contacts)))
        meets[place, chosen.col] = chosen.data
        followed = self._inverse[:, rows] @ meets
        self._followed.update({c: followed[:, k] for k, c in enumerate(contacts)})
        out: FloatArray = self._own[:, list(contacts)].toarray() - self._met @ followed
        return out


def _span(at: IntArray) -> tuple[IntArray, IntArray]:
    """Return the first and last freedom of each row in slice order; rows on rigid ground alone lie nowhere."""
    low = np.where(at >= 0, at, np.iinfo(np.int64).max).min(axis=1)
    return low, at.max(axis=1)


def _inside(span: tuple[IntArray, IntArray], window: slices.Window) -> IntArray:
    low, high = span
    return np.flatnonzero((low >= window.first) & (high < window.last))
