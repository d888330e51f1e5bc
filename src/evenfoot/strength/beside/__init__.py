"""What is checked beside the frame itself: stability, ground, fixings, guards, and how the floor feels."""

from evenfoot.strength.beside.checks import check_beside, settle
from evenfoot.strength.beside.witness import Witness
from evenfoot.strength.stability import give_of_ground, on_levels, set_down

__all__ = ["Witness", "check_beside", "give_of_ground", "on_levels", "set_down", "settle"]
