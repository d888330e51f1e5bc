"""How wide the next gaps must be, where each board is marked, and which board to push straight."""

from evenfoot.setting.boards.bow import BowAdvice, Bowed, Straightening, straighten
from evenfoot.setting.boards.marks import BoardMark, PlannedRow, board_marks
from evenfoot.setting.boards.moist import MoistGap, Year, moist_gap, movement_of
from evenfoot.setting.boards.run import OpenRun, RunningGap, Spacing, running_gap

__all__ = [
    "BoardMark",
    "BowAdvice",
    "Bowed",
    "MoistGap",
    "OpenRun",
    "PlannedRow",
    "RunningGap",
    "Spacing",
    "Straightening",
    "Year",
    "board_marks",
    "moist_gap",
    "movement_of",
    "running_gap",
    "straighten",
]
