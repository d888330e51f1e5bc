"""What is asked of the frame and what it bears: checks, post loads and sags by load case."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check
from evenfoot.frame import Mark
from evenfoot.job import kinds


@dataclass(frozen=True, slots=True, kw_only=True)
class PostLoad:
    """Force that a post carries in one load case, positive down [N]."""

    mark: Mark
    case: str
    force: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """Greatest sag of one timber between its supports under one load case [mm]; ``span`` is the span it belongs to."""

    mark: Mark
    case: str
    sag: float
    span: float
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """The answer of one standard. ``is_complete`` is False while anything on the load path is not checked."""

    standard: kinds.Standard
    checks: tuple[Check, ...]
    post_loads: tuple[PostLoad, ...]
    sags: tuple[Sag, ...]
    is_complete: bool
