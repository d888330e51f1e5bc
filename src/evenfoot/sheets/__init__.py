"""What a carpenter holds: every sheet as marks on paper, every list as a table, every timber as a body in space."""

from evenfoot.sheets.bodies import bodies
from evenfoot.sheets.bundle import NAMES, calendar, drawing, drawings, labels, strips, tables
from evenfoot.sheets.drafting.code import code_page
from evenfoot.sheets.screen import OnScreen, on_screen

__all__ = [
    "NAMES",
    "OnScreen",
    "bodies",
    "calendar",
    "code_page",
    "drawing",
    "drawings",
    "labels",
    "on_screen",
    "strips",
    "tables",
]
