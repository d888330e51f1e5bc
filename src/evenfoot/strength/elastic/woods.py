"""How stiff the timbers of a frame are, also where the job's standard does not know the wood."""

from __future__ import annotations

from itertools import chain

from evenfoot.errors import OutOfRangeError
from evenfoot.frame import Frame
from evenfoot.strength.standards import Figure, Piece, Practice, Wood
from evenfoot.strength.statics import list_pieces
from evenfoot.tables import strength_jp

MODULUS = 8000.0
"""Mean modulus along the grain where none is known [N/mm2]. Source: EN 338:2016, table 1, class C16."""
SHEAR_MODULUS = 500.0
"""Mean shear modulus where none is known [N/mm2]. Source: EN 338:2016, table 1, class C16."""


def woods_of(practice: Practice | None, frame: Frame) -> dict[Piece, Wood]:
    """Return the wood of each piece in the frame's timbers and posts.

    Where there is no practice, or it does not know the wood, the stiffness is that of common softwood (``MODULUS``)
    and ``doubts`` says so.
    """
    return {piece: _wood(practice, piece) for piece in dict.fromkeys(chain(*list_pieces(frame)))}


def _wood(practice: Practice | None, piece: Piece) -> Wood:
    if practice is not None:
        try:
            return practice.wood(piece)
        except OutOfRangeError:
            pass
    return Wood(
        piece=piece,
        species=piece.species,
        grade=piece.grade,
        modulus=MODULUS,
        shear_modulus=SHEAR_MODULUS,
        doubts=(f"{piece.species} {piece.grade} E_0",),
    )


def unit_weight_of(practice: Practice | None) -> Figure:
    """Return the weight of wet timber [N/mm3]; where there is no practice, the trade's 6 kN/m3."""
    if practice is not None:
        return practice.unit_weight
    wet = strength_jp.factor("dead.wet-timber")
    return Figure(value=wet.value * 1e-6, doubts=(wet.name,))
