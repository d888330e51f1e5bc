"""The frame without feet: how its post heads give way, and what own weight and a walking person are at them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.strength import CondensedFrame

FloatArray = npt.NDArray[np.float64]

_FREE = 1e-9
"""A motion that meets less than this share of the greatest stiffness meets nothing."""
_NOTHING = 1e-4
"""A stiffness that is nothing for any frame of timber: ten thousandths of a newton per millimetre [N/mm]."""
_HARD = 1e-9
"""What a post without end of stiffness gives [mm/N]: a thousandth of a micron under a person."""
_ACROSS = 13
"""Places across a floor without joists that a person is set on."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FloatingFrame:
    """A frame seen from its n post heads, up positive; ``marks`` tell whose heads.

    Balanced forces f [N] move the heads by ``give`` f [mm], shape (n, n), and by any mix of ``shapes``, shape (n, m),
    orthonormal: motions that the frame does not resist (lifting, tilting, and twisting where nothing hinders it).
    ``seat`` is what each post shortens under load [mm/N]; ``own`` the head loads of the frame's weight [N].
    ``walked_at`` are places that a person may stand on [mm], shape (k, 2); row k of ``walked_load`` is what 1 N there
    is at the heads [-], shape (k, n).
    """

    marks: tuple[str, ...]
    x: FloatArray
    y: FloatArray
    give: FloatArray
    shapes: FloatArray
    seat: FloatArray
    own: FloatArray
    walked_at: FloatArray
    walked_load: FloatArray
    is_rigid: bool = False
    doubts: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many posts there are."""
        return len(self.marks)


def float_frame(
    condensed: CondensedFrame, *, has_boards: bool, post_weight: Mapping[str, float] | None = None
) -> FloatingFrame:
    """Return the frame as ``strength`` sees it from its post heads.

    Args: has_boards, whether the boards lie on it already; post_weight, weight of each post that hangs on the frame
    when its foot is clear [N].
    """
    values, vectors = np.linalg.eigh(condensed.stiffness)
    is_free = values <= max(_FREE * values[-1], _NOTHING)
    inverse = np.where(is_free, 0.0, 1.0 / np.where(is_free, 1.0, values))
    hung = np.array([(post_weight or {}).get(mark, 0.0) for mark in condensed.posts])
    boards = condensed.boards_weight if has_boards else 0.0
    return FloatingFrame(
        marks=condensed.posts,
        x=condensed.x,
        y=condensed.y,
        give=(vectors * inverse) @ vectors.T,
        shapes=vectors[:, is_free],
        seat=np.maximum(1.0 / condensed.post_stiffness, _HARD),
        own=condensed.timbers_weight + boards + hung,
        walked_at=condensed.walked_at,
        walked_load=condensed.walked_load,
        doubts=condensed.doubts,
    )


def rigid_frame(places: Mapping[str, tuple[float, float]], *, weight: float) -> FloatingFrame:
    """Return a floor that does not give at all, on posts at these places [mm]; its own weight [N] lies evenly.

    It rocks no less than any frame of timber does on the same feet, as long as that resists twisting. A person walks
    inside the outermost posts; posts in one line make a beam that is held from falling sideways.
    Raises: OutOfRangeError (``posts-too-few``) below two posts; ``posts-on-one-spot`` where two share a place.
    """
    marks = tuple(places)
    at = np.array([places[m] for m in marks], dtype=float).reshape(-1, 2)
    if len(marks) < 2:
        raise OutOfRangeError(Fault(where="posts", code="posts-too-few", found=str(len(marks)), allowed="≥ 2"))
    _refuse_twins(marks, at)
    walked = _places_inside(at)
    middle = at.mean(axis=0)
    loads = _felt(at, np.vstack((middle, walked)))
    return FloatingFrame(
        marks=marks,
        x=at[:, 0],
        y=at[:, 1],
        give=np.zeros((len(marks), len(marks))),
        shapes=_plane_shapes(at),
        seat=np.full(len(marks), _HARD),
        own=weight * loads[0],
        walked_at=walked,
        walked_load=loads[1:],
        is_rigid=True,
    )


def _refuse_twins(marks: Sequence[str], at: FloatArray) -> None:
    for k in range(len(marks)):
        for j in range(k):
            if np.hypot(*(at[k] - at[j])) < 1.0:
                found = f"{marks[j]}, {marks[k]}"
                raise OutOfRangeError(Fault(where=f"posts.{marks[k]}", code="posts-on-one-spot", found=found))


def _plane_shapes(at: FloatArray) -> FloatArray:
    """Return an orthonormal base of all planes over the places; of all straight lines where they stand in a line."""
    planes = _planes(at)
    left, sizes, _ = np.linalg.svd(planes, full_matrices=False)
    return np.asarray(left[:, sizes > 1e-9 * sizes[0]])


def _planes(at: FloatArray) -> FloatArray:
    middle = at.mean(axis=0)
    reach = max(float(np.abs(at - middle).max()), 1.0)
    return np.column_stack((np.ones(len(at)), (at - middle) / reach))


def _felt(at: FloatArray, spots: FloatArray) -> FloatArray:
    """Return 1 N at each spot as head loads with the same sum and moments, spread as evenly as that allows."""
    middle = at.mean(axis=0)
    reach = max(float(np.abs(at - middle).max()), 1.0)
    wanted = np.column_stack((np.ones(len(spots)), (spots - middle) / reach))
    return np.asarray(wanted @ np.linalg.pinv(_planes(at), rcond=1e-9))


def _places_inside(at: FloatArray) -> FloatArray:
    """Return the posts and places between them, inside the outermost; along the line for posts in a line."""
    middle = at.mean(axis=0)
    _, sizes, ways = np.linalg.svd(at - middle, full_matrices=False)
    along = (at - middle) @ ways[0]
    if len(at) == 2 or sizes[1] <= 1e-9 * sizes[0]:
        line = np.linspace(along.min(), along.max(), 4 * _ACROSS)
        return np.vstack((at, middle + line[:, None] * ways[0]))
    from scipy.spatial import Delaunay

    (x0, y0), (x1, y1) = at.min(axis=0), at.max(axis=0)
    grid = np.stack(np.meshgrid(np.linspace(x0, x1, _ACROSS), np.linspace(y0, y1, _ACROSS)), axis=-1).reshape(-1, 2)
    return np.vstack((at, grid[Delaunay(at).find_simplex(grid, tol=1e-9) >= 0]))
