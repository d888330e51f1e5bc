"""What is cut on every timber, and the order in which the frame goes together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Check
from evenfoot.frame import Mark


class Face(StrEnum):
    """The face of a timber that a cut is made from, seen from its start looking along it."""

    TOP = "top"
    BOTTOM = "bottom"
    LEFT = "left"
    RIGHT = "right"
    START = "start"
    END = "end"


class CutKind(StrEnum):
    """The kind of cut."""

    LAP = "lap"
    HOUSING = "housing"
    SQUARE_END = "square-end"
    BEVEL_END = "bevel-end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut: from ``begin`` to ``finish`` along the timber, measured from its start, ``depth`` into ``face`` [mm].

    A housing is cut ``depth`` into a side face from the top down to ``height`` below it. End cuts have
    begin = finish = 0 or the length; ``angle_deg`` is their lean from square.
    """

    member: Mark
    kind: CutKind
    face: Face
    begin: float
    finish: float
    depth: float
    height: float
    angle_deg: float
    joint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of putting the frame together: these timbers, set this way (code ``assembly.<how>``).

    ``play`` is what each shoulder must be eased by so that a timber can be tilted in [mm]; 0 for all other ways.
    """

    number: int
    how: str
    marks: tuple[Mark, ...]
    play: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Joinery:
    """All cuts, by timber, and the order of assembly."""

    cuts: tuple[Cut, ...]
    steps: tuple[Step, ...]
    checks: tuple[Check, ...]

    def cuts_on(self, mark: str) -> tuple[Cut, ...]:
        """Return the cuts of one timber in order from its start."""
        return tuple(c for c in self.cuts if c.member == mark)
