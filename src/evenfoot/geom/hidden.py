"""Which edges of solids an eye sees, and how much of each: exact to rounding, no picture elements."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from evenfoot.geom.solid import Mesh, Stroke

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

_FLAT = 1.0 - 1e-6
"""Cosine of the angle below which two triangles lie in one face."""
_BEHIND = 0.05
"""A face hides an edge only when it is this much nearer to the eye: timbers that touch keep their edges [mm]."""
_SURE = 1e-6
"""What rounding may do to a nearness, and far less than a face must be nearer [mm]."""
_LEAST = 0.02
"""Shorter pieces of an edge than this are not drawn [mm]."""
_AT_ONCE = 2_000_000
"""So many pairs of an edge and a face are looked at together; keeps memory small on large floors."""


def seen_edges(meshes: Sequence[Mesh], turn: FloatArray) -> tuple[Stroke, ...]:
    """Return every seen piece of every edge, body by body; rows of ``turn`` are right, up, and toward the eye.

    An edge is where two faces of a body meet at an angle. It is hidden where a face of any body stands before it.
    """
    points, triangles, body = _together(meshes)
    seen = points @ turn.T
    sides, owner = _edges(points, triangles, turn[2])
    edges, holder = seen[sides], body[owner].tolist()
    hidden = _Faces(seen[triangles]).hidden_parts(edges)
    out: list[Stroke] = []
    for number, (a, b) in enumerate(edges[..., :2].tolist()):
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        for start, end in _gaps(hidden.get(number, [])):
            if (end - start) * length >= _LEAST:
                p = (a[0] + start * (b[0] - a[0]), a[1] + start * (b[1] - a[1]))
                q = (a[0] + end * (b[0] - a[0]), a[1] + end * (b[1] - a[1]))
                out.append(Stroke(body=holder[number], a=p, b=q))
    return tuple(out)


def _together(meshes: Sequence[Mesh]) -> tuple[FloatArray, IntArray, IntArray]:
    """Return the points and triangles of all bodies as one, and the number of the body of each triangle."""
    if not meshes:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64), np.zeros(0, dtype=np.int64)
    firsts = np.cumsum([0, *(len(m.points) for m in meshes[:-1])])
    triangles = np.concatenate([m.triangles + first for m, first in zip(meshes, firsts, strict=True)])
    body = np.repeat(np.arange(len(meshes)), [len(m.triangles) for m in meshes])
    return np.concatenate([m.points for m in meshes]), triangles, body


def _edges(points: FloatArray, triangles: IntArray, toward: FloatArray) -> tuple[IntArray, IntArray]:
    """Return the edges that could be seen, body by body: at least one of their faces looks ``toward`` the eye.

    An edge is given by its two points, (n, 2), and by a triangle beside it, (n,).
    """
    corners = points[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    # Every side of every triangle, named by its two corners; the two triangles beside an edge stand side by side.
    sides = np.concatenate([triangles[:, [k, (k + 1) % 3]] for k in range(3)])
    sides.sort(axis=1)
    owner = np.tile(np.arange(len(triangles)), 3)
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, owner = sides[order].reshape(-1, 2, 2)[:, 0], owner[order].reshape(-1, 2)
    is_facing = normals @ toward > 1e-9
    is_edge = np.einsum("ij,ij->i", normals[owner[:, 0]], normals[owner[:, 1]]) <= _FLAT
    kept = is_edge & is_facing[owner].any(axis=1)
    return sides[kept], owner[kept, 0]


class _Faces:
    """All faces that look at the eye, ready to be asked what they hide."""

    def __init__(self, triangles: FloatArray) -> None:
        a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
        turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
        size = float(np.ptp(triangles[..., :2])) if len(triangles) else 1.0
        kept = triangles[turn > 1e-9 * size * size]
        flat = kept[..., :2]
        # Each side as a line: inside is where n.p >= d; corners run counter-clockwise as seen.
        along = np.roll(flat, -1, axis=1) - flat
        self._n = np.stack([-along[..., 1], along[..., 0]], axis=-1)
        self._n /= np.maximum(np.linalg.norm(self._n, axis=-1), 1e-300)[..., None]
        self._d = np.einsum("tkc,tkc->tk", self._n, flat)
        # Nearness over the picture: level + slope . p
        normal = np.cross(kept[:, 1] - kept[:, 0], kept[:, 2] - kept[:, 0])
        slope = -normal[:, :2] / normal[:, 2:]
        self._level = kept[:, 0, 2] - np.einsum("tc,tc->t", slope, kept[:, 0, :2])
        self._right, self._up = np.ascontiguousarray(slope.T)
        self._low, self._high = flat.min(axis=1), flat.max(axis=1)
        self._nearest = kept[..., 2].max(axis=1)

    def hidden_parts(self, edges: FloatArray) -> dict[int, list[tuple[float, float]]]:
        """Return for each edge, by its number, the parts that some face hides, in order of their starts."""
        out: dict[int, list[tuple[float, float]]] = {}
        step = max(1, _AT_ONCE // max(1, len(self._level)))
        for first in range(0, len(edges), step):
            edge, enter, leave = self._hidden(edges[first : first + step])
            is_hiding = leave - enter > 1e-9
            edge, enter, leave = edge[is_hiding], enter[is_hiding], leave[is_hiding]
            order = np.lexsort((leave, enter, edge))
            rows = zip(edge[order].tolist(), enter[order].tolist(), leave[order].tolist(), strict=True)
            for number, begin, end in rows:
                out.setdefault(first + number, []).append((begin, end))
        return out

    def _touching(self, edges: FloatArray) -> tuple[IntArray, IntArray]:
        """Return the pairs of an edge and a face whose boxes overlap in the picture, the face not wholly behind."""
        low, high = edges[..., :2].min(axis=1), edges[..., :2].max(axis=1)
        is_near = np.ones((len(edges), len(self._level)), dtype=bool)
        for k in (0, 1):
            is_near &= self._low[None, :, k] < high[:, None, k]
            is_near &= self._high[None, :, k] > low[:, None, k]
        is_near &= self._nearest > edges[..., 2].min(axis=1)[:, None] + (_BEHIND - _SURE)
        edge, face = np.nonzero(is_near)
        return edge, face

    def _hidden(self, edges: FloatArray) -> tuple[IntArray, FloatArray, FloatArray]:
        """Return edges and from which to which share each lies behind one face; nothing where the first is not less.

        Pairs of an edge and a face are dropped as soon as both ends of the edge lie on the wrong side of anything:
        before the face, or outside one of its sides.
        """
        a, along = np.ascontiguousarray(edges[:, 0].T), np.ascontiguousarray((edges[:, 1] - edges[:, 0]).T)
        edge, face = self._touching(edges)
        # How much nearer the face is than the edge changes evenly along the edge.
        right, up = self._right[face], self._up[face]
        front = self._level[face] + (right * a[0][edge] + up * a[1][edge]) - a[2][edge] - _BEHIND
        gain = right * along[0][edge] + up * along[1][edge] - along[2][edge]
        kept = np.maximum(front, front + gain) > 0.0
        edge, face, front, gain = edge[kept], face[kept], front[kept], gain[kept]
        for k in range(3):
            start, rise = self._side(k, face, a[:, edge], along[:, edge])
            kept = np.maximum(start, start + rise) > 0.0
            edge, face, front, gain = edge[kept], face[kept], front[kept], gain[kept]
        enter, leave = np.zeros(len(edge)), np.ones(len(edge))
        is_clear = np.zeros(len(edge), dtype=bool)
        for k in range(3):
            start, rise = self._side(k, face, a[:, edge], along[:, edge])
            is_rising, is_falling = rise > 1e-9, rise < -1e-9
            share = -start / np.where(is_rising | is_falling, rise, 1.0)
            enter = np.where(is_rising, np.maximum(enter, share), enter)
            leave = np.where(is_falling, np.minimum(leave, share), leave)
            is_clear |= ~is_rising & ~is_falling & (start <= 1e-6)
        is_even = np.abs(gain) <= 1e-12
        turn = -front / np.where(is_even, 1.0, gain)
        enter = np.where(~is_even & (gain > 0.0), np.maximum(enter, turn), enter)
        leave = np.where(~is_even & (gain < 0.0), np.minimum(leave, turn), leave)
        return edge, enter, np.where(is_clear | (is_even & (front <= 0.0)), enter, leave)

    def _side(self, k: int, face: IntArray, a: FloatArray, along: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return how far inside side ``k`` of its face each edge begins, and how much that grows to its end."""
        n_x, n_y = self._n[face, k, 0], self._n[face, k, 1]
        return n_x * a[0] + n_y * a[1] - self._d[face, k], n_x * along[0] + n_y * along[1]


def _gaps(hidden: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what [0, 1] keeps when the intervals, in order of their starts, are taken out."""
    out: list[tuple[float, float]] = []
    place = 0.0
    for enter, leave in hidden:
        if enter > place:
            out.append((place, enter))
        place = max(place, leave)
    if place < 1.0:
        out.append((place, 1.0))
    return out
