"""The design standards behind one interface; each is applied to the loads of one job."""

from evenfoot.strength.standards.choose import practice_for
from evenfoot.strength.standards.europe import Europe
from evenfoot.strength.standards.japan import Japan
from evenfoot.strength.standards.north_america import NorthAmerica
from evenfoot.strength.standards.practice import (
    Aim,
    Bearer,
    Case,
    Contact,
    Figure,
    Notch,
    Notched,
    Part,
    Piece,
    PostRule,
    Practice,
    SagRule,
    Stress,
    Wood,
)

__all__ = [
    "Aim",
    "Bearer",
    "Case",
    "Contact",
    "Europe",
    "Figure",
    "Japan",
    "NorthAmerica",
    "Notch",
    "Notched",
    "Part",
    "Piece",
    "PostRule",
    "Practice",
    "SagRule",
    "Stress",
    "Wood",
    "practice_for",
]
