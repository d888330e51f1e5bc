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
_LEAST = 0.02
"""Shorter pieces of an edge than this are not drawn [mm]."""
_AT_ONCE = 2_000_000
"""So many pairs of an edge and a face are looked at together; keeps memory small on large floors."""


def seen_edges(meshes: Sequence[Mesh], turn: FloatArray) -> tuple[Stroke, ...]:
    """Return every seen piece of every edge, body by body; rows of ``turn`` are right, up, and toward the eye.

    An edge is where two faces of a body meet at an angle. It is hidden where a face of any body stands before it.
    """
    found = [_edges(mesh, turn) for mesh in meshes]
    edges = np.concatenate(found) if found else np.zeros((0, 2, 3))
    owner = np.repeat(np.arange(len(found)), [len(f) for f in found])
    faces = _Faces(
        np.concatenate([(m.points @ turn.T)[m.triangles] for m in meshes]) if meshes else np.zeros((0, 3, 3))
    )
    hidden = faces.hidden_parts(edges)
    out: list[Stroke] = []
    for number, (a, b) in enumerate(edges[..., :2].tolist()):
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        for start, end in _gaps(hidden.get(number, [])):
            if (end - start) * length >= _LEAST:
                p = (a[0] + start * (b[0] - a[0]), a[1] + start * (b[1] - a[1]))
                q = (a[0] + end * (b[0] - a[0]), a[1] + end * (b[1] - a[1]))
                out.append(Stroke(body=int(owner[number]), a=p, b=q))
    return tuple(out)


def _edges(mesh: Mesh, turn: FloatArray) -> FloatArray:
    """Return the edges of a body that could be seen, (n, 2, 3): at least one of their faces looks at the eye."""
    corners = mesh.points[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None]
    # Every side of every triangle, named by its two corners; the two triangles beside an edge stand side by side.
    sides = np.concatenate([mesh.triangles[:, [k, (k + 1) % 3]] for k in range(3)])
    sides.sort(axis=1)
    owner = np.tile(np.arange(len(mesh.triangles)), 3)
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, owner = sides[order].reshape(-1, 2, 2)[:, 0], owner[order].reshape(-1, 2)
    is_facing = normals @ turn[2] > 1e-9
    is_edge = np.einsum("ij,ij->i", normals[owner[:, 0]], normals[owner[:, 1]]) <= _FLAT
    seen: FloatArray = (mesh.points @ turn.T)[sides[is_edge & is_facing[owner].any(axis=1)]]
    return seen


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
        self._slope = -normal[:, :2] / normal[:, 2:]
        self._level = kept[:, 0, 2] - np.einsum("tc,tc->t", self._slope, kept[:, 0, :2])
        self._low, self._high = flat.min(axis=1), flat.max(axis=1)

    def hidden_parts(self, edges: FloatArray) -> dict[int, list[tuple[float, float]]]:
        """Return for each edge, by its number, the parts that some face hides, in order of their starts."""
        out: dict[int, list[tuple[float, float]]] = {}
        step = max(1, _AT_ONCE // max(1, len(self._level)))
        for first in range(0, len(edges), step):
            part = edges[first : first + step]
            edge, face = self._touching(part)
            enter, leave = self._hidden(part[edge], face)
            is_hiding = leave - enter > 1e-9
            rows = zip(edge[is_hiding].tolist(), enter[is_hiding].tolist(), leave[is_hiding].tolist(), strict=True)
            for number, begin, end in sorted(rows):
                out.setdefault(first + number, []).append((begin, end))
        return out

    def _touching(self, edges: FloatArray) -> tuple[IntArray, IntArray]:
        """Return the pairs of an edge and a face whose boxes overlap in the picture."""
        low, high = edges[..., :2].min(axis=1), edges[..., :2].max(axis=1)
        is_near = np.ones((len(edges), len(self._level)), dtype=bool)
        for k in (0, 1):
            is_near &= self._low[None, :, k] < high[:, None, k]
            is_near &= self._high[None, :, k] > low[:, None, k]
        edge, face = np.nonzero(is_near)
        return edge, face

    def _hidden(self, edges: FloatArray, face: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return from which to which share each edge lies behind its face; nothing where the first is not less."""
        a, along = edges[:, 0, :2], edges[:, 1] - edges[:, 0]
        start = np.einsum("pkc,pc->pk", self._n[face], a) - self._d[face]
        rise = np.einsum("pkc,pc->pk", self._n[face], along[:, :2])
        is_rising, is_falling = rise > 1e-9, rise < -1e-9
        share = -start / np.where(is_rising | is_falling, rise, 1.0)
        enter = np.where(is_rising, share, 0.0).max(axis=1, initial=0.0)
        leave = np.where(is_falling, share, 1.0).min(axis=1, initial=1.0)
        is_beside = ((~is_rising & ~is_falling) & (start <= 1e-6)).any(axis=1)
        # How much nearer the face is than the edge changes evenly along the edge.
        slope = self._slope[face]
        front = self._level[face] + np.einsum("pc,pc->p", slope, a) - edges[:, 0, 2] - _BEHIND
        gain = np.einsum("pc,pc->p", slope, along[:, :2]) - along[:, 2]
        is_even = np.abs(gain) <= 1e-12
        turn = -front / np.where(is_even, 1.0, gain)
        enter = np.where(~is_even & (gain > 0.0), np.maximum(enter, turn), enter)
        leave = np.where(~is_even & (gain < 0.0), np.minimum(leave, turn), leave)
        return enter, np.where(is_beside | (is_even & (front <= 0.0)), enter, leave)


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
