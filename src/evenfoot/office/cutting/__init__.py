"""What is asked about cutting: the plan of a job or of two plain lists, and facts from the saw."""

from evenfoot.office.cutting.ask import cut
from evenfoot.office.cutting.asked import CutAsked

__all__ = ["CutAsked", "cut"]
