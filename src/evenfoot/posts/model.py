"""How long every post is, and whether everything fits between sill and ground."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check
from evenfoot.frame import Mark
from evenfoot.geom import Solid


class Basis(StrEnum):
    """Where a length comes from; a measured gap always wins."""

    SURFACE = "surface"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the height stack: ``thing`` is a code (sill, drop, board, joist, beam, post, footing, ground).

    ``top`` is its level z on the post axis, ``thickness`` what it takes on the plumb line [mm]; sill and ground take
    none.
    """

    thing: str
    top: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PostCut:
    """One post to cut [mm]. ``length`` is on its axis; ``sigma`` its standard deviation.

    ``length`` = ``underside`` - ``footing_top``. It is zero or less where the timber lies too low for a post; there is
    nothing to cut then, ``rough_length`` is 0 and a check says by how much it does not fit.
    """

    mark: Mark
    x: float
    y: float
    underside: float
    ground: float
    """Ground level on the axis; by a measured gap where there is one."""
    footing_top: float
    """Level of the highest spot of the footing under the foot, where a square foot stands."""
    length: float
    sigma: float
    rough_length: float
    basis: Basis
    head_angle_deg: float
    """Lean of the head cut from square."""
    head_falls_toward_deg: float
    """Direction in which the head is lower, degrees counter-clockwise from +x (0 when square)."""
    foot_lift: float
    """How far the ground rises under the foot above the level on the axis (high edge carries)."""
    width: float
    depth: float
    species: str
    stack: tuple[Layer, ...]
    foot_gap: float = 0.0
    """Air under the lowest corner of a square foot that stands on its high edge."""
    foot_high_toward_deg: float = 0.0
    """Direction of that high edge or corner, degrees counter-clockwise from +x (0 when level)."""
    foot_angle_deg: float = 0.0
    """How far the footing's top leans from level: to this a foot is trimmed that is to stand flat."""

    @property
    def is_cut(self) -> bool:
        """Whether there is a post to cut at all."""
        return self.rough_length > 0

    def solid(self) -> Solid:
        """Return the post in its place [mm]: square foot, head cut to the lean of the timber that it carries."""
        assert self.is_cut, "there is no post to cut here"
        half_x, half_y = self.width / 2, self.depth / 2
        lean, toward = math.radians(self.head_angle_deg), math.radians(self.head_falls_toward_deg)
        highest = self.underside + math.tan(lean) * math.hypot(half_x, half_y) + 1.0
        whole = Solid.box(
            (self.x - half_x, self.y - half_y, self.footing_top), (self.x + half_x, self.y + half_y, highest)
        )
        normal = (math.sin(lean) * math.cos(toward), math.sin(lean) * math.sin(toward), math.cos(lean))
        return whole.below((self.x, self.y, self.underside), normal)


@dataclass(frozen=True, slots=True, kw_only=True)
class Posts:
    """All posts; ``checks`` name every place where the stack does not fit."""

    cuts: tuple[PostCut, ...]
    checks: tuple[Check, ...]
