"""From readings on site to what each post has to be, and to how far each foot is clear of its footing."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from evenfoot.errors import Fault, NoSolutionError
from evenfoot.setting.posts.floating import FloatArray
from evenfoot.setting.posts.standing import Footing


class Basis(StrEnum):
    """Where the clearance of a foot comes from, the surest last."""

    ASKED = "asked"
    """The post is taken to be cut as asked."""
    CUT = "cut"
    """Its length as cut against the length that it needs."""
    SEEN = "seen"
    """It was seen to stand, or the gap under it was read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """What one post needs before the frame's own shape is taken out [mm].

    ``length`` is its length by the ground or by a measured gap, ``sigma`` the standard deviation of the cut post,
    ``sigma_gap`` that of the reading alone.
    """

    mark: str
    length: float
    sigma: float
    sigma_gap: float
    is_measured: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """The length that a post must have for a level, unbent frame [mm].

    ``taken_out`` is how far the frame lay below its place over this post when the gap was read (above: negative):
    the gap was that much too small.
    """

    base: Base
    length: float
    taken_out: float


def heads_on_jacks(footing: Footing, jacks: Collection[str]) -> FloatArray:
    """Return how high each head lies above its place, shape (n,) [mm], with the frame level on jacks beside posts.

    Less than nothing where the frame sags between them by its own weight. Without jacks it is taken as unbent.
    Raises: NoSolutionError (``jacks-do-not-hold``) when the frame would fall from them.
    """
    if not jacks:
        return np.zeros(footing.frame.count)
    heads = footing.heads_held_at(np.array([m in jacks for m in footing.frame.marks]))
    if heads is None:
        raise NoSolutionError(Fault(where="jack", code="jacks-do-not-hold", found=", ".join(sorted(jacks))))
    return heads


def needs(
    footing: Footing, bases: Sequence[Base], *, levels: Mapping[str, float], jacks: Mapping[str, frozenset[str]]
) -> tuple[Need, ...]:
    """Return what each post must be, in the order of the frame's posts.

    A head that lay off its place when its gap was read makes the gap wrong by as much: a level read there (``levels``,
    how high above its place, by mark [mm]) tells, else the sag between the jacks that stood then (``jacks``, by mark
    of the post whose gap was read). Lengths by the ground alone need nothing taken out.
    """
    sags = {stood: heads_on_jacks(footing, stood) for stood in set(jacks.values())}
    out = []
    for place, base in enumerate(bases):
        off = 0.0
        if base.is_measured and base.mark in levels:
            off = levels[base.mark]
        elif base.is_measured and base.mark in jacks:
            off = float(sags[jacks[base.mark]][place])
        out.append(Need(base=base, length=base.length - off, taken_out=-off))
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Known:
    """How far each foot is clear with the frame level and unbent, shape (n,) [mm], how sure, and from what.

    ``is_all_cut`` says that the length of every post is known, ``bases`` what each clearance rests on.
    """

    clearance: FloatArray
    sigma: FloatArray
    bases: tuple[Basis, ...]
    lengths: FloatArray
    """As cut [mm]; nan where not known."""

    @property
    def is_enough(self) -> bool:
        """Whether there is anything to say about how the floor stands: no post is taken on trust alone."""
        return all(b is not Basis.ASKED for b in self.bases)

    @property
    def swapped(self) -> FloatArray | None:
        """Clearance that post j would have at the place of post i, shape (n, n) [mm]; None without lengths."""
        if np.isnan(self.lengths).any():
            return None
        return self.clearance[:, None] + self.lengths[:, None] - self.lengths[None, :]


def clear_of(
    footing: Footing, wanted: Sequence[Need], *, lengths: Mapping[str, float], seen: Mapping[str, float], feeler: float
) -> Known:
    """Return how far each foot is clear of its footing.

    ``lengths`` are posts as cut, by mark; a post not among them is taken as it was asked. ``seen`` are gaps under
    hanging feet, by mark, 0 for one that stands: once there is one, every other foot is taken to stand and all that
    is seen wins over lengths. What the frame sags beside the feet that stand is taken out.

    Args: feeler, standard deviation of a gap under a foot [mm].
    Raises: NoSolutionError (``feet-do-not-hold``) when the frame would fall from the feet that stand.
    """
    cut = np.array([lengths.get(w.base.mark, np.nan) for w in wanted])
    if seen:
        return _seen(footing, cut, seen=seen, feeler=feeler)
    return Known(
        clearance=np.array([w.length for w in wanted]) - np.where(np.isnan(cut), [w.length for w in wanted], cut),
        sigma=np.array([w.base.sigma_gap for w in wanted]),
        bases=tuple(Basis.ASKED if np.isnan(c) else Basis.CUT for c in cut),
        lengths=cut,
    )


def _seen(footing: Footing, cut: FloatArray, *, seen: Mapping[str, float], feeler: float) -> Known:
    gaps = np.array([seen.get(m, 0.0) for m in footing.frame.marks])
    stands = gaps <= 0.0
    heads = footing.heads_held_at(stands)
    if heads is None:
        marks = [m for m, s in zip(footing.frame.marks, stands, strict=True) if s]
        raise NoSolutionError(Fault(where="stands", code="feet-do-not-hold", found=", ".join(marks)))
    return Known(
        clearance=np.where(stands, 0.0, gaps - heads),
        sigma=np.full(len(gaps), feeler),
        bases=tuple(Basis.SEEN for _ in gaps),
        lengths=cut,
    )


def lies_above(footing: Footing, known: Known, levels: Mapping[str, float]) -> FloatArray | None:
    """Return how high the level from which clearances are counted lies above its place, shape (n,) [mm].

    ``levels`` are how high above their places some heads were read with the floor on its feet, by mark [mm]. What the
    frame bends is known, so only what it does not resist (height, tilt, twist) is fitted, by least squares. None
    where too few heads were read for that.
    """
    frame = footing.frame
    read = np.array([k for k, m in enumerate(frame.marks) if m in levels], dtype=np.int64)
    shapes = frame.shapes[read]
    if len(read) < shapes.shape[1] or np.linalg.matrix_rank(shapes, tol=1e-6) < shapes.shape[1]:
        return None
    rest = footing.stand_once(known.clearance)
    if not rest.is_held[0]:
        return None
    over = np.array([levels[frame.marks[k]] for k in read]) - rest.head[0, read]
    return np.asarray(frame.shapes @ np.linalg.lstsq(shapes, over, rcond=None)[0])
