"""What the job says of safety: what holds the floor, what makers' metal bears, guards, ledgers, heavy things."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.job.kinds import Holding, LedgerFixing


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What holds the floor sideways, along the wall and outward; None = not said."""

    along: Holding | None = None
    out: Holding | None = None
    pieces_along: int | None = None
    """Ties, braces or posts that share the push along the wall; None = not said."""
    pieces_out: int | None = None
    each: float | None = None
    """Sideways force that each of them may take, by its maker or by a calculation [N]; None = not said."""
    friction: float | None = None
    """Friction of a foot that only stands [-]; None = as the trade reckons it."""
    where: str = "frame.held"

    @property
    def holds_heads(self) -> bool:
        """Whether the floor is tied or braced both ways, so that posts are held at their heads as well as their feet.

        Low rails hold the feet alone, and posts in concrete sway with the floor.
        """
        return {self.along, self.out} <= {Holding.BUILDING, Holding.BRACES}


HELD_UNSAID = Held()


@dataclass(frozen=True, slots=True, kw_only=True)
class Makers:
    """What makers say that one piece of metal, or one fixed joint, may bear by the job's standard [N]; None = not said.

    ``hanger`` and ``butt`` carry a joist's end; ``splice`` what passes from piece to piece; ``hold_down`` a lap that
    would lift; ``post_head`` and ``post_foot`` a pull or a push sideways; ``guard_post`` the pull at its upper fixing.
    """

    hanger: float | None = None
    butt: float | None = None
    splice: float | None = None
    hold_down: float | None = None
    post_head: float | None = None
    post_foot: float | None = None
    guard_post: float | None = None
    where: str = "makers"


MAKERS_UNSAID = Makers()


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """A guard along the edge [mm]: its rail's height over the floor, how far its posts stand apart, their section."""

    height: float
    spacing: float
    width: float
    """Along the edge."""
    depth: float
    """Across the edge, the way that people push."""
    species: str
    strength_grade: str
    lever: float
    """Between the upper and the lower fixing at the foot."""
    top_fixing: float
    """From the floor down to the upper fixing."""
    push: float | None
    """At the top of one post [N]; None = as the standard asks."""
    where: str = "guard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """How a ledger on the house is fixed: the kind of fixing and how far apart [mm]."""

    fixing: LedgerFixing
    spacing: float
    end: float
    """From an end of the ledger to the first fixing."""
    where: str = "frame.ledger"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeavyThing:
    """Something heavy that stays on the floor: its rectangle on the floor [mm] and its weight in use [N]."""

    name: str
    x: float
    y: float
    width: float
    depth: float
    weight: float
    where: str
