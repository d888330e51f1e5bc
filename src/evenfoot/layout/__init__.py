"""How the boards lie: every piece, the gap on the day, and the lines on which they ask for joists."""

from evenfoot.layout.board import lay_boards
from evenfoot.layout.centres import EvenCentres, board_span, even_centres
from evenfoot.layout.closing import ClosedRun, RunWish, WholeRun, close_run
from evenfoot.layout.model import Axis, BoardPiece, Layout, Row

__all__ = [
    "Axis",
    "BoardPiece",
    "ClosedRun",
    "EvenCentres",
    "Layout",
    "Row",
    "RunWish",
    "WholeRun",
    "board_span",
    "close_run",
    "even_centres",
    "lay_boards",
]
