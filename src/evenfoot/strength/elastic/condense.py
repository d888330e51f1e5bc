"""How the frame answers at its post heads: its stiffness and its loads, all as seen from there (note 090)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.errors import NoSolutionError
from evenfoot.frame import Frame, Mark
from evenfoot.job import Job
from evenfoot.solvers import grillage
from evenfoot.strength import loads
from evenfoot.strength.elastic.woods import unit_weight_of, woods_of
from evenfoot.strength.standards import practice_for
from evenfoot.strength.statics import FloatArray, Skeleton, Spot, Statics, draw_skeleton, post_gives, set_nodes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CondensedFrame:
    """The frame without feet, elastic, seen from its post heads; order of posts as in ``Frame.posts``.

    With heads moved by u [mm, down positive] under head loads p [N], the posts press with r = p - stiffness @ u [N],
    and the foot of each has gone down by u - r / post_stiffness.
    The frame alone cannot stand, so ``stiffness`` is singular: it does not resist being lowered or tilted as a whole.

    Timbers are taken to stay in touch with each other: a lap that would open is held closed. They rest on each other
    without holding each other at right angles, so that a frame of straight timbers gives way to a plain twist as well.

    ``x`` and ``y`` are the plan places of the posts [mm]. ``timbers_weight`` and ``boards_weight`` are head loads [N]
    of the timbers alone and of boards and blocking. ``walked`` are places a person may stand on, ``walked_at`` their
    plan places [mm], shape (n_places, 2); row k of ``walked_load`` is what 1 N at place k is at the heads [-].
    ``doubts`` names figures that are not confirmed, or stand in for unknown ones.
    """

    posts: tuple[Mark, ...]
    x: FloatArray
    y: FloatArray
    stiffness: FloatArray
    """Shape (n_posts, n_posts), symmetric [N/mm]."""
    post_stiffness: FloatArray
    """Of each post with the wood over its head, not the ground [N/mm]; without end where a post has no height."""
    timbers_weight: FloatArray
    boards_weight: FloatArray
    walked: tuple[tuple[Mark, float], ...]
    """Mark of a joist and the distance from its start [mm]."""
    walked_at: FloatArray
    walked_load: FloatArray
    doubts: tuple[str, ...]


def condense_frame(
    job: Job, frame: Frame, post_heights: Mapping[Mark, float], spots: Sequence[tuple[Mark, float]] | None = None
) -> CondensedFrame:
    """Return the frame as its posts feel it: stiffness, weights and walked loads at the post heads.

    Weights are those of wet timber; the posts' own is not among them. Moduli are the mean ones of the job's standard,
    or those of common softwood where it has none (``doubts`` tells).

    Args: post_heights, clear height of each post [mm], at or below 0 where one does not fit; spots, joist marks and
    distances from the joist's start [mm] to walk on; without them every bearing, tip and middle of span of each joist.
    Raises: NoSolutionError (``mechanism``) when a timber rests on too little to stay where it is even with all posts
    standing; ``where`` is the timber.
    """
    practice = practice_for(job)
    woods = woods_of(practice, frame)
    unit_weight = unit_weight_of(practice)
    skeleton = draw_skeleton(frame, woods, {p.mark: 0.0 for p in frame.posts})
    walked = _spots(skeleton, spots)
    statics = set_nodes(skeleton, walked)
    prepared = _prepare(statics)
    heads = _Heads(skeleton, prepared)
    share = loads.share_loads(frame, job.floor, statics, unit_weight.value)
    own = heads.feel(prepared.even @ share.own[:, None])[:, 0]
    at_levels = np.zeros((statics.grid.size, 1))
    at_levels[: statics.grid.n_levels, 0] = share.at_levels
    boards = share.dead * heads.feel(at_levels + prepared.even @ share.line[:, None])[:, 0]
    return CondensedFrame(
        posts=tuple(p.mark for p in frame.posts),
        x=np.array([p.x for p in frame.posts]),
        y=np.array([p.y for p in frame.posts]),
        stiffness=heads.stiffness(),
        post_stiffness=_post_stiffness(post_gives(draw_skeleton(frame, woods, post_heights))),
        timbers_weight=own,
        boards_weight=boards,
        walked=tuple((skeleton.timbers[n].member.mark, at) for n, at in walked),
        walked_at=np.array([_in_plan(skeleton, spot) for spot in walked]).reshape(-1, 2),
        walked_load=heads.feel_at([statics.level(s) for s in walked]),
        doubts=tuple(dict.fromkeys(d for w in woods.values() for d in w.doubts)) + unit_weight.doubts,
    )


class _Heads:
    """What the post heads feel while they are held where they are."""

    def __init__(self, skeleton: Skeleton, prepared: grillage.Prepared) -> None:
        touching = prepared.touching
        self._touching = touching
        stands = [(k, r.post) for k, r in enumerate(skeleton.rests) if r.post is not None]
        on_post = [k for k, _ in stands]
        head = np.zeros((len(on_post), len(skeleton.posts)))
        head[np.arange(len(on_post)), [post for _, post in stands]] = 1.0
        # A shape of the frame for each head lowered by 1 mm, all others held: it also says what any load is felt as.
        lifted = touching.lift[:, on_post] @ head
        self._pull = touching.matrix @ lifted
        self._shape = lifted - touching.base @ touching.factors.solve(touching.gather @ self._pull)

    def stiffness(self) -> FloatArray:
        """Return the forces that lower one head by 1 mm while the others stay, shape (n_posts, n_posts) [N/mm]."""
        found = self._shape.T @ self._pull
        return np.asarray((found + found.T) / 2.0)

    def feel(self, forces: FloatArray) -> FloatArray:
        """Return what forces on the freedoms, shape (size, n_cases), are at the heads, shape (n_posts, n_cases) [N]."""
        return np.asarray(self._shape.T @ forces)

    def feel_at(self, levels: Sequence[int]) -> FloatArray:
        """Return what 1 N on each level is at the heads, shape (n_levels, n_posts) [-]."""
        return np.asarray(self._shape[list(levels)])


def _prepare(statics: Statics) -> grillage.Prepared:
    try:
        return grillage.prepare(statics.grid)
    except NoSolutionError as error:
        raise NoSolutionError(statics.name_timber(error.fault)) from error


def _spots(skeleton: Skeleton, spots: Sequence[tuple[Mark, float]] | None) -> tuple[Spot, ...]:
    if spots is None:
        return loads.every_place(skeleton)
    number = {t.member.mark: t.number for t in skeleton.timbers}
    return tuple((number[mark], at) for mark, at in spots)


def _in_plan(skeleton: Skeleton, spot: Spot) -> tuple[float, float]:
    member = skeleton.timbers[spot[0]].member
    share = spot[1] / member.length
    (x0, y0, _), (x1, y1, _) = member.start, member.end
    return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def _post_stiffness(gives: Sequence[float]) -> FloatArray:
    return np.array([1.0 / give if give > 0.0 else np.inf for give in gives])
