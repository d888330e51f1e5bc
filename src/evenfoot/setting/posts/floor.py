"""The floor of a job as the posts feel it, and what its posts need by the ground and by measured gaps."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from evenfoot.frame import Frame
from evenfoot.job import Job
from evenfoot.posts import Basis as CutBasis
from evenfoot.posts import PostCut, Posts
from evenfoot.setting.posts.floating import FloatingFrame, float_frame
from evenfoot.setting.posts.measure import Base
from evenfoot.setting.posts.walk import GRAVITY
from evenfoot.strength import condense_frame
from evenfoot.tables import levels, species


def float_floor(job: Job, frame: Frame, posts: Posts, *, has_boards: bool) -> FloatingFrame:
    """Return the frame of a job without its feet; its posts are fixed to it and hang on it where they are clear."""
    heights = {c.mark: c.length for c in posts.cuts}
    weight: dict[str, float] = {c.mark: _weight(c) for c in posts.cuts if c.is_cut}
    return float_frame(condense_frame(job, frame, heights), has_boards=has_boards, post_weight=weight)


def _weight(cut: PostCut) -> float:
    """Return the weight of a post [N]."""
    volume = cut.width * cut.depth * cut.length * 1e-9
    return volume * species(cut.species).density * GRAVITY


def bases_of(posts: Posts, *, gap_accuracy: Mapping[str, float], reading: float) -> tuple[Base, ...]:
    """Return what each post of a job needs as ``posts`` cuts it.

    Args: gap_accuracy, standard deviation of the gaps that say theirs, by mark [mm]; reading, that of one that does
    not [mm].
    """
    return tuple(
        Base(
            mark=c.mark,
            length=c.length,
            sigma=c.sigma,
            sigma_gap=gap_accuracy.get(c.mark, reading) if c.basis is CutBasis.MEASURED else c.sigma,
            is_measured=c.basis is CutBasis.MEASURED,
        )
        for c in posts.cuts
    )


def cut_tolerance() -> float:
    """Return how exactly a post is cut, +- mm, 19 times in 20, as it is on record."""
    return levels.post_figure("cut_tolerance").value


def rough_step() -> float:
    """Return the step that rough lengths are rounded up to, as it is on record [mm]."""
    return levels.post_figure("rough_step").value


def may_stand_in(posts: Posts, swapped: np.ndarray) -> np.ndarray:
    """Return the swaps of ``Known.swapped`` that can be done, nan elsewhere: same section, same lean of the head."""
    kinds = [(c.width, c.depth, c.species, round(c.head_angle_deg, 1), c.head_falls_toward_deg) for c in posts.cuts]
    same = np.array([[a == b for b in kinds] for a in kinds])
    return np.where(same, swapped, np.nan)
