"""The steps of the work in order, with drying between them, and the upkeep after it."""

from evenfoot.programme.model import Programme, Upkeep, WorkStep

__all__ = ["Programme", "Upkeep", "WorkStep"]
