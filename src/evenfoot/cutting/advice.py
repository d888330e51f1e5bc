"""Which length misses a cheaper stick by a little, and what changing it would save."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from evenfoot.checks import Check, Verdict
from evenfoot.cutting.group import GroupPlan, cut_group, grid_for
from evenfoot.cutting.model import Piece
from evenfoot.cutting.supply import Source
from evenfoot.job import Yard
from evenfoot.solvers import cutstock

LITTLE = 75.0
"""Changes up to this are worth telling [mm]: a footing or an overhang gives so much, a bay or a post place does not."""
WORTH = Decimal("0.05")
"""Share of the group's price that a change has to save to be told."""
TRIED = 3
"""Changes of one group whose saving is worked out in full."""
LIMITS = cutstock.CutLimits(work=10_000, program_nodes=0)

REMEDIES = {"post": "cut-near-post", "board": "cut-near-board", "piece": "cut-near-piece"}


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMiss:
    """Pieces of one ``length`` that, ``by`` shorter, come ``count`` from a stick of ``stick`` [mm].

    ``saving`` is the low price saved on all of them, each taken from the cheapest stick by itself.
    """

    use: str
    length: float
    by: float
    stick: float
    count: int
    saving: Decimal


def near_misses(
    pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard, *, little: float = LITTLE
) -> tuple[NearMiss, ...]:
    """Return the lengths that miss a cheaper stick, or one more piece from a stick, by up to ``little`` [mm].

    Each length is looked at alone, from bought sticks of endless supply; best saving first.
    """
    grid = grid_for(sources, yard)
    kerf = grid.up(yard.kerf)
    found = []
    alike = Counter((p.length, p.use, p.look) for p in pieces)
    for piece in {(p.length, p.use, p.look): p for p in pieces}.values():
        able = [s for s in sources if s.available is None and s.serves(piece)]
        size = grid.up(piece.length)
        now = min((s.low / n for s in able if (n := (s.usable(grid) + kerf) // (size + kerf))), default=None)
        best = None
        for source in able if now else ():
            count = (source.usable(grid) + kerf) // (size + kerf) + 1
            by = piece.length - ((source.usable(grid) + kerf) // count - kerf) * grid.step
            if by <= little and now is not None and source.low / count < now:
                miss = NearMiss(
                    use=piece.use,
                    length=piece.length,
                    by=by,
                    stick=source.length,
                    count=count,
                    saving=(now - source.low / count) * alike[piece.length, piece.use, piece.look],
                )
                best = miss if best is None or miss.saving > best.saving else best
        if best is not None:
            found.append(best)
    return tuple(sorted(found, key=lambda miss: (-miss.saving, miss.length, miss.use)))


def advise(pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard, plan: GroupPlan) -> Iterator[Check]:
    """Say which small change of a length would make the whole group cheaper, and by how much (told, not required).

    The group is planned again with the change, so the saving counts what else is cut from the same sticks.
    """
    if plan.short or not plan.cost:
        return
    plain = replace(yard, goals=())  # only the price is asked for
    for miss in near_misses(pieces, sources, yard)[:TRIED]:
        if miss.saving < plan.cost * WORTH:
            break
        changed = [
            replace(p, length=p.length - miss.by) if (p.length, p.use) == (miss.length, miss.use) else p for p in pieces
        ]
        saved = plan.cost - cut_group(changed, sources, plain, LIMITS).cost
        if saved >= plan.cost * WORTH:
            same = [p for p in pieces if (p.length, p.use) == (miss.length, miss.use)]
            yield _check(same, miss, share=float(saved / plan.cost))


def _check(same: Sequence[Piece], miss: NearMiss, *, share: float) -> Check:
    return Check(
        subject=same[0].mark,
        rule="cut-near-miss",
        verdict=Verdict.OK,
        demand=miss.length,
        unit="mm",
        place=miss.use,
        remedy=REMEDIES.get(miss.use, "cut-near-timber"),
        facts=(
            ("length_mm", miss.length),
            ("pieces", len(same)),
            ("by_mm", miss.by),
            ("stick_mm", miss.stick),
            ("count", miss.count),
            ("percent", round(share * 100, 1)),
        ),
    )
