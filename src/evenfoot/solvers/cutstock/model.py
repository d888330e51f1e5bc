"""What a one-dimensional cutting problem is in whole numbers, and what an answer to it holds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutItem:
    """A size wanted ``demand`` times. ``size`` includes one saw cut; it may come from stock of ``grade`` or higher.

    ``place`` names where the pieces go; it matters only to the goal ``TOGETHER``.
    """

    size: int
    demand: int
    grade: int = 0
    place: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOffcut:
    """What a stick's left-over end is worth: ``value`` for each unit of size, from ``keep`` on, else nothing.

    ``keep`` is the shortest end that counts and includes one saw cut; ``kerf`` is that cut, which is not paid for.
    """

    keep: int
    value: int
    kerf: int = 0

    def worth(self, room: int) -> int:
        """Return what an end of ``room`` (a saw cut included) is worth."""
        return self.value * (room - self.kerf) if room >= self.keep else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStock:
    """A size that can be had. ``size`` is the usable length plus one saw cut (n pieces need n - 1 cuts).

    ``price`` is what counts; ``tie`` decides between plans of equal price. ``available`` None = as many as wanted.
    ``offcut`` is what its end is worth when it is long enough; that lowers the cost of the stick.
    ``runs``, where a stick is clear in parts only: the usable length of each part plus one saw cut, ``size`` their sum;
    no piece spans two of them. Such a stick has no ``offcut``.
    """

    size: int
    price: int
    available: int | None = None
    grade: int = 0
    tie: int = 0
    offcut: CutOffcut | None = None
    runs: Counts = ()

    def cost(self, load: int) -> int:
        """Return what a stick costs of which ``load`` is cut, less what its end is worth."""
        return self.price - (self.offcut.worth(self.size - load) if self.offcut else 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUse:
    """``times`` pieces of stock number ``stock``, each cut into ``counts[i]`` pieces of item i.

    ``runs``, where the stock has runs: how many of each item come from each run; they add up to ``counts``.
    """

    stock: int
    times: int
    counts: Counts
    runs: tuple[Counts, ...] = ()


class CutProof(StrEnum):
    """Why no cheaper plan exists.

    ``bound``: a lower bound meets the cost. ``search``: branch and bound over every pattern that a cheaper plan could
    hold ended without one. ``none``: not proved. Both proofs are reckoned in whole numbers.
    """

    BOUND = "bound"
    SEARCH = "search"
    NONE = "none"


class CutGoal(StrEnum):
    """What a plan is made better in once its price is settled; none of it is proved."""

    FEWER_STICKS = "fewer_sticks"
    FEWER_PATTERNS = "fewer_patterns"
    """Fewer sticks that are cut differently."""
    LONGER_OFFCUTS = "longer_offcuts"
    """One long end that can be kept rather than two short ones (the sum of their squares)."""
    TOGETHER = "together"
    """Pieces for one place from one stick (as few pairs of place and stick as can be)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWishes:
    """Further goals in their order, after price and ``tie``; ``keep``: the shortest end that counts, a cut included."""

    goals: tuple[CutGoal, ...] = ()
    keep: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLimits:
    """When to stop: counts, never the clock, so that the same problem always gives the same plan."""

    patterns: int = 120_000
    """Most patterns that are listed when all that matter are asked for."""
    whole: int = 400
    """Most different sizes that are solved together; more are solved part by part."""
    pricing_rounds: int = 3_000
    """Most rounds of column generation."""
    work: int = 5_000_000
    """Thousands of multiplications that branching may take; a million is about a second."""
    tie_work: int = 20_000
    """The same, for the search among plans of equal price."""
    program_nodes: int = 300
    """Branches of the outside integer program, over 3 000 patterns (more over fewer), that may look for a plan.

    Fewer where a plan it finds would not settle the matter. 0 leaves it out: its first branch cannot be cut short
    and may take seconds.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class CutResult:
    """A plan, what it costs (added up from its patterns), and the most that is known about the cheapest plan."""

    uses: tuple[CutUse, ...]
    cost: int
    bound: int
    """No plan costs less than this."""
    proof: CutProof

    @property
    def is_proved(self) -> bool:
        """Whether no cheaper plan exists."""
        return self.proof is not CutProof.NONE
