"""What is asked about cutting: the plan of a job or of two plain lists, and facts from the saw."""

from evenfoot.office.cutting.ask import CutAsked, cut

__all__ = ["CutAsked", "cut"]
