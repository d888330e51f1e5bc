"""Every timber, board, post and footing of a plan as a closed solid; worked out when first asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfoot.geom import Solid
from evenfoot.joints import board_solid, timber_solids
from evenfoot.plan.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standing:
    """One thing as it stands. ``thing`` is board, beam, joist, block, post or footing; ``length`` its cut length [mm].

    ``species`` is empty for a footing.
    """

    mark: str
    thing: str
    solid: Solid
    length: float
    width: float
    depth: float
    species: str = ""
    strength_grade: str = ""


def standing(plan: Plan) -> tuple[Standing, ...]:
    """Return everything that stands there, from the ground up: footings, posts, timbers, boards.

    A post that does not fit is left out, with its footing. Worked out once for a plan.
    """
    return plan.part("standing", lambda: (*_footings(plan), *_posts(plan), *_timbers(plan), *_boards(plan)))


def _footings(plan: Plan) -> Iterator[Standing]:
    footing = plan.job.frame.footing
    half = footing.size / 2
    for cut in plan.posts.cuts:
        if cut.is_cut and footing.height > 0.0:
            top = cut.footing_top
            solid = Solid.box((cut.x - half, cut.y - half, top - footing.height), (cut.x + half, cut.y + half, top))
            yield Standing(
                mark=cut.mark,
                thing="footing",
                solid=solid,
                length=footing.height,
                width=footing.size,
                depth=footing.size,
            )


def _posts(plan: Plan) -> Iterator[Standing]:
    for place, cut in zip(plan.frame.posts, plan.posts.cuts, strict=True):
        assert place.mark == cut.mark, "posts and their cuts go in one order"
        if cut.is_cut:
            yield Standing(
                mark=cut.mark,
                thing="post",
                solid=cut.solid(),
                length=cut.length,
                width=cut.width,
                depth=cut.depth,
                species=cut.species,
                strength_grade=place.strength_grade,
            )


def _timbers(plan: Plan) -> Iterator[Standing]:
    solids = timber_solids(plan.frame, plan.joinery)
    for m in plan.frame.members:
        yield Standing(
            mark=m.mark,
            thing=m.role.value,
            solid=solids[m.mark],
            length=m.length,
            width=m.width,
            depth=m.depth,
            species=m.species,
            strength_grade=m.strength_grade,
        )


def _boards(plan: Plan) -> Iterator[Standing]:
    board = plan.job.floor.board
    for piece in plan.layout.pieces:
        yield Standing(
            mark=piece.mark,
            thing="board",
            solid=board_solid(piece, plan.frame, board.thickness),
            length=piece.length,
            width=piece.width,
            depth=board.thickness,
            species=board.species,
            strength_grade=board.strength_grade,
        )
