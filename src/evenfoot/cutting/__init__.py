"""What to cut from which stick, with a proof that no cheaper plan exists."""

from evenfoot.cutting.model import CuttingPlan, Piece, PlacedCut, SectionPlan, Stick

__all__ = ["CuttingPlan", "Piece", "PlacedCut", "SectionPlan", "Stick"]
