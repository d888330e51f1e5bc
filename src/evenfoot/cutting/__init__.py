"""What to cut from which stick, with a proof that no cheaper plan exists."""

from evenfoot.cutting.lengths import pieces_per_stick, usable_length
from evenfoot.cutting.model import CuttingPlan, Piece, PlacedCut, SectionPlan, Stick
from evenfoot.cutting.pieces import pieces_of
from evenfoot.cutting.plan import plan_cuts

__all__ = [
    "CuttingPlan",
    "Piece",
    "PlacedCut",
    "SectionPlan",
    "Stick",
    "pieces_of",
    "pieces_per_stick",
    "plan_cuts",
    "usable_length",
]
