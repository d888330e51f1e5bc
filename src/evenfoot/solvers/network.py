"""Where points lie in plan when only distances between them were measured, how sure that is, and what is missing."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.solvers.fit import LinearFit, fit_linear

Array = NDArray[np.float64]
Pair = tuple[int, int]

_ROUNDS = 200
_SINGULAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A distance measured between two points, by their indices, and its standard deviation, same unit."""

    pair: Pair
    value: float
    sigma: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """What is known of two distances together: the first less the second is ``value``, with its standard deviation."""

    first: Pair
    second: Pair
    value: float
    sigma: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Network:
    """Points fitted to measured distances: the first of ``base`` at the origin, the second on the positive x axis."""

    points: Array
    """Shape (n, 2)."""
    scale: float
    """How much the tape reads too long, as a share [-]."""
    fit: LinearFit
    """Of the last step: rows are the spans, then the ties, then the tape's scale when it has a sigma."""
    places: NDArray[np.intp]
    """Which coordinates (row by row in ``points``) the unknowns of ``fit`` are, shape (2n - 3,)."""

    def sigma_of(self, figure: Callable[[Array], float]) -> float:
        """Return the standard deviation of a figure of the points, by its slope at them."""
        flat = self.points.ravel()
        step = 1e-6 * max(1.0, float(np.abs(flat).max()))
        slope = np.zeros(len(self.fit.coefficients))
        for index, place in enumerate(self.places):
            ahead, behind = flat.copy(), flat.copy()
            ahead[place] += step
            behind[place] -= step
            slope[index] = (figure(ahead.reshape(-1, 2)) - figure(behind.reshape(-1, 2))) / (2 * step)
        variance = float(slope @ self.fit.covariance @ slope)
        return math.sqrt(max(0.0, variance))


def fit_distances(
    start: Array, spans: Sequence[Span], *, ties: Sequence[Tie] = (), scale_sigma: float = 0.0, base: Pair = (0, 1)
) -> Network:
    """Return the points that agree best with the distances measured between them, from ``start`` on.

    Readings are (1 + scale) times the true distance, one scale for all of them: a tape's own error.
    Source: variation of coordinates, by Gauss and Newton with halved steps; free of datum by one point and one
    direction held. E. Mikhail and F. Ackermann, Observations and Least Squares, 1976, chapter 9.
    Args: start, about where the points are, shape (n, 2), seen the right way round; scale_sigma, standard deviation of
    the scale [-], 0 = it is exact.
    Raises: OutOfRangeError (``fit-underdetermined``) when the distances do not fix every point.
    """
    points = _turned(start, base)
    places = np.array([p for p in range(points.size) if p not in {2 * base[0], 2 * base[0] + 1, 2 * base[1] + 1}])
    model = _Model(spans=tuple(spans), ties=tuple(ties), places=places, scale_sigma=scale_sigma)
    scale = 0.0
    for _ in range(_ROUNDS):
        fit = model.step(points, scale)
        now, share, reach = model.cost(points, scale), 1.0, float(np.abs(fit.coefficients).max())
        while share > 1e-6:
            moved, other = model.moved(points, scale, share * fit.coefficients)
            if model.cost(moved, other) <= now * (1 + 1e-12):
                break
            share /= 2
        points, scale = moved, other
        if share * reach < 1e-11 * max(1.0, float(np.abs(points).max())) or share <= 1e-6:
            break
    points.setflags(write=False)
    return Network(points=points, scale=scale, fit=model.step(points, scale), places=places)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Model:
    spans: tuple[Span, ...]
    ties: tuple[Tie, ...]
    places: NDArray[np.intp]
    scale_sigma: float

    @property
    def sigmas(self) -> Array:
        own = [s.sigma for s in self.spans] + [t.sigma for t in self.ties]
        return np.array([*own, *([self.scale_sigma] if self.scale_sigma > 0 else [])])

    def misfit(self, points: Array, scale: float) -> Array:
        own = [s.value - (1 + scale) * _length(points, s.pair) for s in self.spans]
        own += [t.value - _length(points, t.first) + _length(points, t.second) for t in self.ties]
        return np.array([*own, *([-scale] if self.scale_sigma > 0 else [])])

    def cost(self, points: Array, scale: float) -> float:
        return float(np.sum((self.misfit(points, scale) / self.sigmas) ** 2))

    def step(self, points: Array, scale: float) -> LinearFit:
        rows = [(1 + scale) * _slope(points, s.pair) for s in self.spans]
        rows += [_slope(points, t.first) - _slope(points, t.second) for t in self.ties]
        design = np.array(rows).reshape(len(rows), points.size)[:, self.places]
        if self.scale_sigma > 0:
            lengths = [_length(points, s.pair) for s in self.spans] + [0.0] * len(self.ties)
            design = np.hstack([design, np.array(lengths)[:, None]])
            design = np.vstack([design, np.append(np.zeros(len(self.places)), 1.0)])
        return fit_linear(design, self.misfit(points, scale), sigmas=self.sigmas)

    def moved(self, points: Array, scale: float, by: Array) -> tuple[Array, float]:
        flat = points.ravel().copy()
        flat[self.places] += by[: len(self.places)]
        return flat.reshape(-1, 2), scale + float(by[-1]) if self.scale_sigma > 0 else scale


def missing_distances(start: Array, measured: Sequence[Pair], *, ties: Sequence[Tie] = ()) -> tuple[Pair, ...]:
    """Return the fewest distances that must be measured beside ``measured`` so that every point is fixed.

    Each is, in turn, the one that stiffens the loosest point most; none when nothing is missing.
    Source: the rank of the rigidity matrix; H. Gluck, Almost all simply connected closed surfaces are rigid, 1975.
    """
    count = len(start)
    rows = [_slope(start, pair) for pair in measured]
    rows += [_slope(start, t.first) - _slope(start, t.second) for t in ties]
    found: list[Pair] = []
    while _rank(rows) < 2 * count - 3:
        loose = [pair for pair in combinations(range(count), 2) if _rank([*rows, _slope(start, pair)]) > _rank(rows)]
        assert loose, "all distances together fix every point"
        best = max(loose, key=lambda pair: (_stiffness([*rows, _slope(start, pair)]), -pair[0], -pair[1]))
        rows.append(_slope(start, best))
        found.append(best)
    return tuple(found)


def _rank(rows: Sequence[Array]) -> int:
    return int(np.linalg.matrix_rank(np.array(rows), tol=1e-6)) if rows else 0


def _stiffness(rows: Sequence[Array]) -> float:
    """Return the weakest of the singular values that count; small when a point hangs on grazing distances."""
    values = np.linalg.svd(np.array(rows), compute_uv=False)
    kept = values[values > 1e-6]
    return round(float(kept.min()), 9)


def _turned(start: Array, base: Pair) -> Array:
    origin: Array = start[base[0]]
    along: Array = start[base[1]] - origin
    reach = float(np.hypot(*along))
    if reach < _SINGULAR:
        raise OutOfRangeError(Fault(where="start", code="fit-underdetermined", found="0", allowed="> 0"))
    c, s = along / reach
    turn: Array = (start - origin) @ np.array([[c, -s], [s, c]])
    return turn


def _length(points: Array, pair: Pair) -> float:
    return float(np.hypot(*(points[pair[1]] - points[pair[0]])))


def _slope(points: Array, pair: Pair) -> Array:
    """Return how a distance grows with each coordinate, shape (2n,)."""
    way = points[pair[1]] - points[pair[0]]
    unit = way / max(float(np.hypot(*way)), _SINGULAR)
    out = np.zeros(points.shape)
    out[pair[0]], out[pair[1]] = -unit, unit
    return out.ravel()
