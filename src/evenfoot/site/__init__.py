"""What the ground does: a surface through the readings, its fall, and which reading to doubt."""

from evenfoot.site.model import ClosingError, DoubtfulReading, Fall, Ground, GroundPoint, Level, Plane, WallLine

__all__ = ["ClosingError", "DoubtfulReading", "Fall", "Ground", "GroundPoint", "Level", "Plane", "WallLine"]
