"""What a carpenter holds: every sheet as marks on paper, every list as a table, every timber as a body in space."""

from evenfoot.sheets.bodies import bodies
from evenfoot.sheets.bundle import NAMES, calendar, drawing, drawings, labels, strips, tables
from evenfoot.sheets.drafting.code import code_page
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.parts.posts import foot_of, head_of
from evenfoot.sheets.screen import OnScreen, on_screen

__all__ = [
    "NAMES",
    "Figures",
    "OnScreen",
    "bodies",
    "calendar",
    "code_page",
    "drawing",
    "drawings",
    "foot_of",
    "head_of",
    "labels",
    "on_screen",
    "strips",
    "tables",
]
