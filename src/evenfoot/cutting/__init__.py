"""What to cut from which stick, with a proof that no cheaper plan exists."""

from evenfoot.cutting.facts import timber_facts
from evenfoot.cutting.lengths import pieces_per_stick, usable_length
from evenfoot.cutting.model import CuttingPlan, DonePiece, Piece, PlacedCut, Rip, SectionPlan, Stick
from evenfoot.cutting.pieces import pieces_listed, pieces_of, with_spares
from evenfoot.cutting.plan import plan_cuts
from evenfoot.cutting.saw import told

__all__ = [
    "CuttingPlan",
    "DonePiece",
    "Piece",
    "PlacedCut",
    "Rip",
    "SectionPlan",
    "Stick",
    "pieces_listed",
    "pieces_of",
    "pieces_per_stick",
    "plan_cuts",
    "timber_facts",
    "told",
    "usable_length",
    "with_spares",
]
