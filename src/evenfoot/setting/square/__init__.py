"""What shape the frame really has, and which corner to push which way; how to set it out square from the house."""

from evenfoot.setting.square.frame import Wanted, square_up
from evenfoot.setting.square.gross import gross_slips, likely_box, ordered
from evenfoot.setting.square.lines import Triangle, WallPoint, set_out, wall_line
from evenfoot.setting.square.model import (
    Distance,
    Shape,
    Side,
    Squareness,
    Suspect,
    Tape,
)

__all__ = [
    "Distance",
    "Shape",
    "Side",
    "Squareness",
    "Suspect",
    "Tape",
    "Triangle",
    "WallPoint",
    "Wanted",
    "gross_slips",
    "likely_box",
    "ordered",
    "set_out",
    "square_up",
    "wall_line",
]
