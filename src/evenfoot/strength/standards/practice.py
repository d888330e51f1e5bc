"""What a design standard must answer so that the engine can check a frame by it; one interface for all standards."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from evenfoot.job import kinds


class Aim(StrEnum):
    """What a load case is for."""

    STRENGTH = "strength"
    SAG = "sag"
    REPORT = "report"
    """Reckoned for what the posts carry only."""


class Bearer(StrEnum):
    """Parts of a floor that a standard may load differently."""

    FLOOR = "floor"
    """Boards and joists."""
    FRAME = "frame"
    """Beams and posts."""


class Stress(StrEnum):
    """Ways in which timber is stressed."""

    BENDING = "bending"
    SHEAR = "shear"
    ALONG = "along"
    """Pressed along the grain."""
    ACROSS = "across"
    """Pressed across the grain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A number of a standard; ``doubts`` names every figure behind it that is not confirmed."""

    value: float
    doubts: tuple[str, ...] = ()


class Part(StrEnum):
    """What a timber is in the floor."""

    BOARD = "board"
    JOIST = "joist"
    BEAM = "beam"
    POST = "post"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A timber as a standard asks for it: what it is, the job's wood and grade, and its section [mm].

    ``pitch`` is the widest distance between centres of three or more like it side by side under the boards [mm];
    without end for a timber that stands alone.
    """

    part: Part
    species: str
    grade: str
    width: float
    depth: float
    pitch: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """A piece as the standard knows it: its own names of wood and grade, stiffness [N/mm2]."""

    piece: Piece
    species: str
    grade: str
    modulus: float
    shear_modulus: float
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One load case. Dead load is always in it, ``dead`` times [-].

    ``code`` is ``case.<code>`` in the catalogue; ``area`` is live and snow load on the boards [N/mm2 of plan], of which
    ``free`` may lie on any bays and leave others bare; ``point`` a load that is walked over the floor [N], 0 when there
    is none, on a square of side ``patch`` [mm]; ``lasts`` the standard's own word for how long. ``decides`` are the
    parts of the floor that are checked with it.
    """

    code: str
    aim: Aim
    decides: frozenset[Bearer]
    area: float
    lasts: str
    point: float = 0.0
    dead: float = 1.0
    free: float = 0.0
    patch: float = 0.0
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """What is cut out of a timber's top or underside [mm]; ``is_end`` where its end rests or bears on the notch.

    ``reach`` is how far the corner of an end notch lies from the line of the force on it.
    """

    depth: float
    length: float
    is_end: bool
    reach: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Notched:
    """What a notch leaves.

    ``limit`` is the deepest notch that the standard allows where the wood is pulled [mm], 0 where it has no rule, and
    ``longest`` how long along the timber one may be there [mm].
    ``modulus`` [mm3] and ``area`` [mm2, for shear] hold where the notched face is pressed; the ``pulled`` ones where it
    is in tension, None beyond the limit.
    """

    limit: float
    modulus: float
    area: float
    pulled_modulus: float | None
    pulled_area: float | None
    doubts: tuple[str, ...] = ()
    longest: float = math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where something presses across the grain of a timber [mm].

    ``length`` is the contact's length along the grain, ``beyond`` the wood past it to the nearer end, ``clear`` the
    distance along the timber from its edge to that of the nearest contact on the other face, endless without one.
    """

    wood: Wood
    depth: float
    length: float
    beyond: float
    clear: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PostRule:
    """How slender a post is over the length that it may buckle over [mm], against the standard's limit, if any [-]."""

    slenderness: float
    limit: float | None
    length: float
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SagRule:
    """How far a span may sag in a case [mm]; ``shallow`` is the depth above which no check is asked [mm].

    ``usual`` is the trade's own limit, for information, None where it has none beside the standard's. ``code`` is the
    rule's code; that of boards is the same after ``board-``.
    """

    limit: float
    shallow: float
    usual: float | None
    doubts: tuple[str, ...]
    code: str = "sag"


class Practice(Protocol):
    """A standard applied to one job's loads. Arguments and results in mm, N and N/mm2."""

    @property
    def standard(self) -> kinds.Standard:
        """Which standard it is."""
        ...

    @property
    def clauses(self) -> Mapping[str, str]:
        """The clause behind each rule, by the rule's code."""
        ...

    @property
    def unit_weight(self) -> Figure:
        """Weight of wet timber [N/mm3]."""
        ...

    @property
    def dead_least(self) -> Figure:
        """The least dead load of joists and boards together [N/mm2 of plan]; 0 where it is as they weigh."""
        ...

    def wood(self, piece: Piece) -> Wood:
        """Return the piece as the standard knows it; raises OutOfRangeError when it does not."""
        ...

    def cases(self) -> tuple[Case, ...]:
        """Return the load cases that the job asks for."""
        ...

    def strength(self, stress: Stress, wood: Wood, case: Case) -> Figure:
        """Return the stress that the wood may bear in this case [N/mm2]."""
        ...

    def sideways(self, *, wood: Wood, unheld: float, case: Case) -> Figure:
        """Return the factor on bending strength where the pressed edge may move sideways over this length [-]."""
        ...

    def section_modulus(self, *, width: float, depth: float) -> float:
        """Return the section modulus of a whole section [mm3]."""
        ...

    def shear_stress_factor(self) -> float:
        """Return the greatest shear stress over the mean one [-]."""
        ...

    def notched(self, *, wood: Wood, width: float, depth: float, notch: Notch) -> Notched:
        """Return what a notch leaves of a section of this wood; ``width`` may be less than the piece's own."""
        ...

    def end_bearing(self, contact: Contact) -> Figure:
        """Return the factor on strength across the grain of this contact [-]."""
        ...

    def wood_under_seat(self, *, load: float) -> Figure | None:
        """Return the depth of wood wanted under a seat cut into a beam's side [mm]; None where there is no rule."""
        ...

    def post(self, *, wood: Wood, height: float) -> PostRule:
        """Return how slender a post of this clear height is."""
        ...

    def buckling(self, *, wood: Wood, rule: PostRule, case: Case) -> Figure:
        """Return what buckling leaves of a post's strength along the grain in this case [-]."""
        ...

    def tie_height(self) -> Figure | None:
        """Return the post height from which the trade ties posts together [mm]; None where it names none."""
        ...

    def sag(self, *, span: float, is_overhang: bool, case: Case) -> SagRule | None:
        """Return how far a span, or an overhang of this length, may sag; None where this case asks nothing of it."""
        ...
