"""What a job file says of safety, key by key: what holds the floor, makers' values, guards, ledgers, heavy things."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Annotated

from pydantic import Field

from evenfoot.errors import Fault
from evenfoot.job import holding, kinds
from evenfoot.job.file import sense
from evenfoot.job.file.common import Coordinate, Grade, Name, Section, Species, Table
from evenfoot.job.file.fields import Choice, Figure, Length, Whole, force_between

Force = Annotated[Fraction, force_between(low=0, high=1_000_000)]
Held = Annotated[kinds.Holding, Choice(kinds.Holding)]
Pieces = Annotated[int, Whole(low=1, high=10_000)]


class HeldTable(Table):
    """What holds the floor sideways."""

    along: Held | None = Field(None, description="what keeps it from swaying along the wall")
    out: Held | None = Field(None, description="what keeps it from swaying outward and back")
    pieces_along: Pieces | None = Field(None, description="ties, braces or posts that share the push along the wall")
    pieces_out: Pieces | None = Field(None, description="the same for the push outward")
    each: Force | None = Field(None, description="sideways force that each of them may take")
    friction: Annotated[Fraction, Figure(above=0, high=1)] | None = Field(
        None, description="friction under a foot that only stands; the trade's figure when left out"
    )


class MakersTable(Table):
    """What makers say that their metal bears."""

    hanger: Force | None = Field(None, description="one joist hanger, load downward")
    butt: Force | None = Field(None, description="the fixings of one butt joint, load downward")
    splice: Force | None = Field(None, description="one splice, load across")
    hold_down: Force | None = Field(None, description="what holds one lap down, upward pull")
    post_head: Force | None = Field(None, description="fixing at a post's head, pull or push sideways")
    post_foot: Force | None = Field(None, description="fixing at a post's foot, pull or push sideways")
    guard_post: Force | None = Field(None, description="upper fixing of a guard post, pull")


class GuardTable(Table):
    """A guard along the edge."""

    height: Annotated[Fraction, Length(low=200, high=3000)] = Field(description="rail above the floor")
    spacing: Annotated[Fraction, Length(low=100, high=5000)] = Field(description="from post to post")
    width: Section = Field(description="post along the edge")
    depth: Section = Field(description="post across the edge")
    species: Species = Field(description="wood of the posts")
    strength_grade: Grade = Field(description="strength grade of the standard, or ungraded")
    lever: Annotated[Fraction, Length(low=20, high=2000)] = Field(
        description="between the upper and the lower fixing at its foot"
    )
    top_fixing: Annotated[Fraction, Length(low=0, high=1000)] = Field(
        description="from the floor down to the upper fixing"
    )
    push: Force | None = Field(None, description="push at the top of one post; as the standard asks when left out")


class LedgerTable(Table):
    """A ledger on the house."""

    fixing: Annotated[kinds.LedgerFixing, Choice(kinds.LedgerFixing)] = Field(
        description="lag screws or bolts of half an inch; spaced: with half an inch of washers behind the ledger"
    )
    spacing: Annotated[Fraction, Length(low=50, high=2000)] = Field(description="from one to the next along the ledger")
    end: Annotated[Fraction, Length(low=20, high=500)] = Field(description="from its end to the first")


class HeavyTable(Table):
    """Something heavy that stays on the floor."""

    name: Name = Field(description="what it is: a tub, a planter, a stove")
    x: Coordinate = Field(description="left edge")
    y: Coordinate = Field(description="edge nearest to the house")
    width: Annotated[Fraction, Length(above=0, high=20_000)] = Field(description="size along the wall")
    depth: Annotated[Fraction, Length(above=0, high=20_000)] = Field(description="size away from the wall")
    weight: Annotated[Fraction, force_between(low=0, high=1_000_000)] = Field(
        description="weight in use: water, wet earth and people in it counted"
    )


def held_of(table: HeldTable | None) -> holding.Held:
    """Return what holds the floor, all unsaid where nothing was typed."""
    if table is None:
        return holding.Held()
    return holding.Held(
        along=table.along,
        out=table.out,
        pieces_along=table.pieces_along,
        pieces_out=table.pieces_out,
        each=_optional(table.each),
        friction=_optional(table.friction),
    )


def makers_of(table: MakersTable | None) -> holding.Makers:
    """Return the makers' values, all unsaid where nothing was typed."""
    if table is None:
        return holding.Makers()
    return holding.Makers(
        hanger=_optional(table.hanger),
        butt=_optional(table.butt),
        splice=_optional(table.splice),
        hold_down=_optional(table.hold_down),
        post_head=_optional(table.post_head),
        post_foot=_optional(table.post_foot),
        guard_post=_optional(table.guard_post),
    )


def guard_of(table: GuardTable | None) -> holding.Guard | None:
    """Return the guard, if there is one."""
    if table is None:
        return None
    return holding.Guard(
        height=float(table.height),
        spacing=float(table.spacing),
        width=float(table.width),
        depth=float(table.depth),
        species=table.species,
        strength_grade=table.strength_grade,
        lever=float(table.lever),
        top_fixing=float(table.top_fixing),
        push=_optional(table.push),
    )


def ledger_of(table: LedgerTable | None) -> holding.Ledger | None:
    """Return how the ledger is fixed, if there is one."""
    if table is None:
        return None
    return holding.Ledger(fixing=table.fixing, spacing=float(table.spacing), end=float(table.end))


def heavy_of(tables: Iterable[HeavyTable]) -> tuple[holding.HeavyThing, ...]:
    """Return the heavy things on the floor."""
    return tuple(
        holding.HeavyThing(
            name=one.name,
            x=float(one.x),
            y=float(one.y),
            width=float(one.width),
            depth=float(one.depth),
            weight=float(one.weight),
            where=f"loads.heavy[{index}]",
        )
        for index, one in enumerate(tables)
    )


def heavy_faults(tables: list[HeavyTable], edges: tuple[Fraction, ...], say: sense.Say) -> Iterable[Fault]:
    """Find heavy things that reach past the floor: ``edges`` are its left, right, near and far ones [mm]."""
    left, right, near, far = edges
    for index, one in enumerate(tables):
        for key, low, high, size in (("x", left, right, one.width), ("y", near, far, one.depth)):
            at = getattr(one, key)
            if at < low or at + size > high:
                yield Fault(
                    where=f"loads.heavy[{index}].{key}",
                    code="heavy-off-floor",
                    found=f"{say(at)} … {say(at + size)}",
                    allowed=f"{say(low)} … {say(high)}",
                    nearest=say(max(low, min(at, high - size))),
                )


def _optional(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
