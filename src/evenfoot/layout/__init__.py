"""How the boards lie: every piece, the gap on the day, and the lines on which they ask for joists."""

from evenfoot.layout.board import lay_boards
from evenfoot.layout.closing import ClosedRun, RunWish, close_run
from evenfoot.layout.model import Axis, BoardPiece, Counts, Layout, Row
from evenfoot.layout.reckoning import board_span, even_centres, fit_stock, width_drift

__all__ = [
    "Axis",
    "BoardPiece",
    "ClosedRun",
    "Counts",
    "Layout",
    "Row",
    "RunWish",
    "board_span",
    "close_run",
    "even_centres",
    "fit_stock",
    "lay_boards",
    "width_drift",
]
