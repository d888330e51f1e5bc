"""How the boards lie: every piece, the gap on the day, and the lines on which they ask for joists."""

from evenfoot.layout.model import Axis, BoardPiece, Layout, Row

__all__ = ["Axis", "BoardPiece", "Layout", "Row"]
