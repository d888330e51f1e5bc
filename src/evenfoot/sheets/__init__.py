"""What a carpenter holds: every sheet as marks on paper, every list as a table, every timber as a body in space."""

from evenfoot.sheets.binding import revision_of
from evenfoot.sheets.bodies import bodies
from evenfoot.sheets.bundle import NAMES, calendar, drawing, drawings, labels, strips, tables
from evenfoot.sheets.drafting.code import code_page
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.parts.posts import post_ends
from evenfoot.sheets.screen import OnScreen, compared, on_screen

__all__ = [
    "NAMES",
    "Figures",
    "OnScreen",
    "bodies",
    "calendar",
    "code_page",
    "compared",
    "drawing",
    "drawings",
    "labels",
    "on_screen",
    "post_ends",
    "revision_of",
    "strips",
    "tables",
]
