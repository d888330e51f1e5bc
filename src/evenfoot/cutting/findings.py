"""What cannot be cut as asked, and the nearest change that would do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from evenfoot.checks import Check, Fact, Verdict
from evenfoot.cutting.group import GroupPlan, grid_for
from evenfoot.cutting.model import Piece, Stick
from evenfoot.cutting.saw.rips import split
from evenfoot.cutting.supply import Source, group_of, same_section, through_flaws
from evenfoot.job import Yard
from evenfoot.tables import species_ids

REMEDIES = {
    "post": "cut-raise-footing",
    "board": "cut-shorten-board",
    "block": "cut-shorten-timber",
    "piece": "cut-shorten-timber",
}
"""What would do for a piece that is too long, by its use; other timbers may be spliced."""
SPLICE = "cut-shorten-or-splice"
NO_SECTION = (0.0, 0.0)
"""Section of pieces in a plain list that tells none."""

Alike = list[Piece]


def sort_out(
    pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard
) -> tuple[list[Piece], list[Piece], list[Check]]:
    """Return the pieces that some stick gives, those that none gives, and a failing check for each kind of these."""
    is_served = served_by(sources, yard)
    fitting: list[Piece] = []
    others: dict[tuple[float, str, int, str, str], Alike] = {}
    for piece in pieces:
        if piece.length > 0 and is_served(piece):
            fitting.append(piece)
        else:
            others.setdefault((piece.length, piece.use, piece.look.rank, *group_of(piece)[:2]), []).append(piece)
    left_out = [piece for alike in others.values() for piece in alike]
    return fitting, left_out, [_why_not(alike, _ways(sources, yard), yard) for alike in others.values()]


def _ways(sources: Sequence[Source], yard: Yard) -> tuple[Source, ...]:
    """Return the sources, those with flaws also as sawn through them."""
    return (*sources, *(through_flaws(s, kerf=yard.kerf) for s in sources if s.flaws))


def served_by(sources: Sequence[Source], yard: Yard) -> Callable[[Piece], bool]:
    """Return what says of a piece whether it may be cut from one of the sources."""
    grid, ways = grid_for(sources, yard), _ways(sources, yard)
    return lambda piece: any(source.suits(piece, grid) for source in ways)


def _why_not(alike: Alike, sources: Sequence[Source], yard: Yard) -> Check:
    piece = alike[0]
    if not piece.length > 0:
        return _fails(alike, rule="cut-no-length")
    sources = [source for source in sources if source.is_wood_of(piece)]
    if not sources:
        return _no_section(alike, yard)
    looks = sorted({source.look for source in sources}, key=lambda look: look.rank)
    serving = [source for source in sources if source.serves(piece)]
    if not serving:
        facts: tuple[Fact, ...] = (("best_code", f"sheet-look.{looks[0]}"), ("look_code", f"sheet-look.{piece.look}"))
        return _fails(alike, rule="cut-no-look", facts=facts, remedy="cut-ask-yard")
    return _too_long(alike, serving, yard)


def wood(species: str) -> Fact:
    """Return the fact that names a wood: a code where it is one of ours, else as it was typed."""
    if species in species_ids():
        return ("species_code", f"species.{species}")
    return ("species", species) if species else ("species_code", "cut.timber")


def _no_section(alike: Alike, yard: Yard) -> Check:
    """Say which part of what was asked the yard lacks, and the nearest that it has."""
    piece = alike[0]
    species, _, section = group_of(piece)
    asked: tuple[Fact, ...] = (wood(species), ("width_mm", piece.width), ("depth_mm", piece.depth))
    plain = "-plain" if section == NO_SECTION else ""
    same = [i for i in yard.stock if i.species == species and same_section(i.width, i.depth) == section]
    if same:
        grades: tuple[Fact, ...] = (("grade", piece.strength_grade), ("sold", same[0].strength_grade))
        return _fails(alike, rule=f"cut-no-grade{plain}", facts=(*asked, *grades), remedy="cut-ask-yard")
    sold = [same_section(i.width, i.depth) for i in yard.stock if i.species == species]
    if not sold:
        return _fails(alike, rule=f"cut-no-species{plain}", facts=asked, remedy="cut-ask-yard")
    near = min(sold, key=lambda s: (abs(s[0] - section[0]) + abs(s[1] - section[1]), s))
    nearest: tuple[Fact, ...] = (("near_width_mm", near[0]), ("near_depth_mm", near[1]))
    return _fails(alike, rule="cut-no-section", facts=(*asked, *nearest), remedy="cut-ask-yard")


def _too_long(alike: Alike, serving: Sequence[Source], yard: Yard) -> Check:
    piece = alike[0]
    grid = grid_for(serving, yard)
    longest = max(source.usable(grid) for source in serving) * grid.step
    needed = piece.length + 2 * yard.end_trim
    sold = sorted(length for item in yard.stock for length in item.lengths if length >= needed)
    short: Fact = ("short_mm", piece.length - longest)
    facts: tuple[Fact, ...] = (short, ("needed_mm", needed))
    if sold:
        facts = (*facts, ("stick_mm", sold[0]))
    remedy, more = _splice(piece, longest)
    return _fails(
        alike,
        rule="cut-too-long",
        capacity=longest,
        facts=(*facts, *more),
        reason="cut-other-sections-are-longer" if sold else "",
        remedy=REMEDIES.get(piece.use, remedy),
    )


def _splice(piece: Piece, longest: float) -> tuple[str, tuple[Fact, ...]]:
    """Return the remedy of a splice and its facts: over what it rests on, or where a support would be wanted.

    Never over the outermost bearing: an end piece would rest on one support alone.
    """
    splices, at = [], 0.0
    while piece.length - at > longest:
        inner = [s for s in piece.supports[1:-1] if at < s[0] <= at + longest]
        if not inner:
            break
        whole = [s for s in inner if piece.length - s[0] <= longest]
        over = min(whole, key=lambda s: abs(s[0] - piece.length / 2)) if whole else inner[-1]
        splices.append(over)
        at = over[0]
    else:
        ends = (0.0, *(s[0] for s in splices), piece.length)
        part = max(b - a for a, b in pairwise(ends))
        return "cut-splice-over", (("marks", ", ".join(s[1] for s in splices)), ("part_mm", part))
    if piece.supports and piece.length <= 2 * longest:
        return "cut-add-support", (("from_mm", piece.length - longest), ("to_mm", longest))
    return SPLICE, ()


def _fails(  # noqa: PLR0913 - a check is its facts
    alike: Alike,
    *,
    rule: str,
    capacity: float | None = None,
    facts: tuple[Fact, ...] = (),
    reason: str = "",
    remedy: str = "",
) -> Check:
    """Return a failing check for pieces alike; its subject is the first, ``others`` how many more there are."""
    piece = alike[0]
    return Check(
        subject=piece.mark,
        rule=rule,
        verdict=Verdict.FAILS,
        demand=piece.length,
        capacity=capacity,
        ratio=piece.length / capacity if capacity else None,
        unit="mm",
        place=piece.use,
        reason=reason,
        remedy=remedy,
        facts=(("length_mm", piece.length), ("count", len(alike)), *facts),
    )


def supply_short(plan: GroupPlan) -> list[Check]:
    """Return a failing check for every length of stick that the yard or the rack has too few of."""
    checks = []
    for source in dict.fromkeys(sawn.source for sawn in plan.short):
        sticks = [sawn for sawn in plan.short if sawn.source == source]
        pieces = [piece for sawn in sticks for piece in split(sawn.pieces)]
        facts: tuple[Fact, ...] = (
            ("stick_mm", source.length),
            ("had", source.available or 0),
            ("more", len(sticks)),
        )
        checks.append(_fails(pieces, rule="cut-supply-short", facts=facts, remedy="cut-get-more"))
    return checks


def in_the_way(plan: GroupPlan) -> list[Check]:
    """Return a failing check for pieces whose only stick is sawn through its flaws, for a piece that needs it whole."""
    pieces = list(split(plan.unserved))
    return [_fails(pieces, rule="cut-flaw-in-the-way", remedy="cut-get-more")] if pieces else []


def unproved(piece: Piece, plan: GroupPlan) -> list[Check]:
    """Return a plain word where a cheaper plan was not ruled out."""
    if plan.is_proved:
        return []
    gap = float((plan.cost - plan.bound) / plan.cost * 100)
    section = same_section(piece.width, piece.depth)
    plain = "-plain" if section == NO_SECTION else ""
    return [
        Check(
            subject=piece.mark,
            rule=f"cut-not-proved{plain}",
            verdict=Verdict.NOT_CHECKED,
            place=piece.use,
            facts=(
                wood(piece.species),
                ("width_mm", section[0]),
                ("depth_mm", section[1]),
                ("gap", round(gap, 2)),
            ),
        )
    ]


def idle_sticks(idle: Sequence[Stick]) -> list[Check]:
    """Return a word on the sticks in hand that nothing is or was cut from: they may go back."""
    whole = [stick for stick in idle if not stick.cuts]
    if not whole:
        return []
    return [
        Check(
            subject=whole[0].name,
            rule="cut-idle-sticks",
            verdict=Verdict.OK,
            facts=(("names", ", ".join(stick.name for stick in whole)), ("count", len(whole))),
        )
    ]
