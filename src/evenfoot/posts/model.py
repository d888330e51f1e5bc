"""How long every post is, and whether everything fits between sill and ground."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check
from evenfoot.frame import Mark


class Basis(StrEnum):
    """Where a length comes from; a measured gap always wins."""

    SURFACE = "surface"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the height stack: ``thing`` is a code (sill, drop, board, joist, beam, post, footing, ground)."""

    thing: str
    top: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PostCut:
    """One post to cut [mm]. ``length`` is on its axis; ``sigma`` its standard deviation."""

    mark: Mark
    x: float
    y: float
    underside: float
    ground: float
    footing_top: float
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Posts:
    """All posts; ``checks`` name every place where the stack does not fit."""

    cuts: tuple[PostCut, ...]
    checks: tuple[Check, ...]
