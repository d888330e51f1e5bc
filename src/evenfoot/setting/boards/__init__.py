"""How wide the next gaps must be, where each board is marked, and which board to push straight."""

from evenfoot.setting.boards.bow import BowAdvice, Bowed, Straightening, straighten
from evenfoot.setting.boards.marks import BoardMark, PlannedRow, board_marks
from evenfoot.setting.boards.run import Batch, OpenRun, Rip, RunningGap, Spacing, running_gap

__all__ = [
    "Batch",
    "BoardMark",
    "BowAdvice",
    "Bowed",
    "OpenRun",
    "PlannedRow",
    "Rip",
    "RunningGap",
    "Spacing",
    "Straightening",
    "board_marks",
    "running_gap",
    "straighten",
]
