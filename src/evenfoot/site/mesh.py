"""Which readings speak for a place, with what weight, and how far the place lies from them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.site.model import GroundPoint, Triangle

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place seen from the readings: their indices and weights at (x, y), the nearest point that they enclose.

    ``off`` is the distance from there to the place [mm], 0 inside; ``nearest`` that to the nearest reading [mm].
    """

    indices: tuple[int, ...]
    weights: tuple[float, ...]
    x: float
    y: float
    off: float
    nearest: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spots:
    """The same of many places, a row for each: three indices and weights (the third weight 0 at the edge), and so on.

    ``indices`` and ``weights`` have shape (n, 3), ``foot`` (n, 2); ``off``, ``nearest`` and ``is_inside`` (n,).
    """

    indices: NDArray[np.intp]
    weights: Array
    foot: Array
    off: Array
    nearest: Array
    is_inside: NDArray[np.bool_]


class Mesh:
    """Readings and triangles as read-only arrays, made once per ground."""

    __slots__ = ("_edges", "_inverse", "_origin", "_triangles", "_xy")

    def __init__(self, points: Sequence[GroundPoint], triangles: Sequence[Triangle]) -> None:
        """Keep plan positions, one affine map to corner weights per triangle, and the outer edges."""
        xy = np.array([(p.x, p.y) for p in points], dtype=np.float64).reshape(-1, 2)
        corners = np.array([(t.a, t.b, t.c) for t in triangles], dtype=np.intp).reshape(-1, 3)
        a, b, c = (xy[corners[:, k]] for k in range(3))
        sides = np.stack([b - a, c - a], axis=2)
        self._xy = xy
        self._triangles = corners
        self._origin = a
        self._inverse = np.linalg.inv(sides) if len(corners) else np.zeros((0, 2, 2))
        self._edges = _outer_edges(corners) if len(corners) else _chain(xy)
        self._freeze()

    def __setstate__(self, state: tuple[None, dict[str, Array]]) -> None:
        """Come back from a pickle as read-only as before."""
        for name, array in state[1].items():
            setattr(self, name, array)
        self._freeze()

    def _freeze(self) -> None:
        for name in self.__slots__:
            getattr(self, name).setflags(write=False)

    def spot(self, x: float, y: float) -> Spot:
        """Return how the readings speak for plan point (x, y) [mm]."""
        here = np.array((x, y))
        apart = here - self._xy
        nearest = float(np.sqrt(np.min(np.einsum("ij,ij->i", apart, apart))))
        inside = self._inside(here)
        if inside is not None:
            indices, weights = inside
            return Spot(indices=indices, weights=weights, x=x, y=y, off=0.0, nearest=nearest)
        return self._outside(here, nearest)

    def _inside(self, here: Array) -> tuple[tuple[int, ...], tuple[float, ...]] | None:
        if not len(self._triangles):
            return None
        second = np.einsum("ijk,ik->ij", self._inverse, here - self._origin)
        first = 1.0 - second[:, 0] - second[:, 1]
        least = np.minimum(first, np.minimum(second[:, 0], second[:, 1]))
        best = int(np.argmax(least))
        if least[best] < -1e-12:
            return None
        corners = self._triangles[best]
        weights = (float(first[best]), float(second[best, 0]), float(second[best, 1]))
        return (int(corners[0]), int(corners[1]), int(corners[2])), weights

    def _outside(self, here: Array, nearest: float) -> Spot:
        start, end = self._xy[self._edges[:, 0]], self._xy[self._edges[:, 1]]
        along = end - start
        square = np.einsum("ij,ij->i", along, along)
        share = np.einsum("ij,ij->i", here - start, along) / np.where(square > 0, square, 1.0)
        share = np.clip(share, 0.0, 1.0)
        foot = start + share[:, None] * along
        apart = here - foot
        distance = np.sqrt(np.einsum("ij,ij->i", apart, apart))
        best = int(np.argmin(distance))
        t = float(share[best])
        return Spot(
            indices=(int(self._edges[best, 0]), int(self._edges[best, 1])),
            weights=(1.0 - t, t),
            x=float(foot[best, 0]),
            y=float(foot[best, 1]),
            off=float(distance[best]),
            nearest=nearest,
        )

    def spots(self, here: Array) -> Spots:
        """Return what ``spot`` does for many plan points at once, shape (n, 2) [mm], to the last bit."""
        apart = here[:, None, :] - self._xy
        nearest = np.sqrt((apart[..., 0] ** 2 + apart[..., 1] ** 2).min(axis=1))
        indices, weights, is_inside = self._insides(here)
        found = Spots(
            indices=indices,
            weights=weights,
            foot=here.copy(),
            off=np.zeros(len(here)),
            nearest=nearest,
            is_inside=is_inside,
        )
        if not is_inside.all():
            self._outsides(here, found, np.flatnonzero(~is_inside))
        return found

    def _insides(self, here: Array) -> tuple[NDArray[np.intp], Array, NDArray[np.bool_]]:
        """Return corners and weights of the triangle that holds each place best, and whether it does hold it."""
        count = len(here)
        if not len(self._triangles):
            return np.zeros((count, 3), dtype=np.intp), np.zeros((count, 3)), np.zeros(count, dtype=bool)
        apart, turn = here[:, None, :] - self._origin, self._inverse
        dx, dy = apart[..., 0], apart[..., 1]
        along, across = (turn[:, k, 0] * dx + turn[:, k, 1] * dy for k in (0, 1))
        first = 1.0 - along - across
        least = np.minimum(first, np.minimum(along, across))
        best, row = np.argmax(least, axis=1), np.arange(count)
        weights = np.stack([shares[row, best] for shares in (first, along, across)], axis=1)
        return self._triangles[best].copy(), weights, least[row, best] >= -1e-12

    def _outsides(self, here: Array, found: Spots, rows: NDArray[np.intp]) -> None:
        """Fill in the places beyond the readings: the nearest point of the outer edges speaks for each."""
        start, end = self._xy[self._edges[:, 0]], self._xy[self._edges[:, 1]]
        along = end - start
        square = along[:, 0] ** 2 + along[:, 1] ** 2
        step = here[rows, None, :] - start
        share = (step[..., 0] * along[:, 0] + step[..., 1] * along[:, 1]) / np.where(square > 0, square, 1.0)
        share = np.clip(share, 0.0, 1.0)
        foot = start + share[..., None] * along
        apart = here[rows, None, :] - foot
        distance = np.sqrt(apart[..., 0] ** 2 + apart[..., 1] ** 2)
        best, row = np.argmin(distance, axis=1), np.arange(len(rows))
        t = share[row, best]
        found.indices[rows, :2], found.indices[rows, 2] = self._edges[best], 0
        found.weights[rows] = np.stack([1.0 - t, t, np.zeros(len(rows))], axis=1)
        found.foot[rows], found.off[rows] = foot[row, best], distance[row, best]


def main_direction(xy: Array) -> Array:
    """Return the unit vector along which the places spread most, shape (2,); along x when they do not spread."""
    centred = xy - xy.mean(axis=0)
    _, axes = np.linalg.eigh(centred.T @ centred)
    main: Array = axes[:, 1]
    return main if np.any(centred) else np.array((1.0, 0.0))


def _outer_edges(corners: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return the edges that belong to one triangle only, shape (n_edges, 2)."""
    directed = {(int(t[k]), int(t[(k + 1) % 3])) for t in corners for k in range(3)}
    return np.array(sorted(e for e in directed if (e[1], e[0]) not in directed), dtype=np.intp)


def _chain(xy: Array) -> NDArray[np.intp]:
    """Return the readings of one line joined in order, shape (n - 1, 2); a single reading is joined to itself."""
    if len(xy) == 1:
        return np.zeros((1, 2), dtype=np.intp)
    order = np.argsort(xy @ main_direction(xy), kind="stable")
    return np.column_stack([order[:-1], order[1:]])
