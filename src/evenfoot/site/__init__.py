"""What the ground does: a surface through the readings, its fall, and which reading to doubt."""

from evenfoot.site.ground import Ground
from evenfoot.site.levelling import error_from_tilt, tilt_from_error
from evenfoot.site.model import (
    ClosingError,
    DoubtfulReading,
    Fall,
    GroundPoint,
    Level,
    Plane,
    Triangle,
    Trust,
    WallLine,
)
from evenfoot.site.read import read_ground

__all__ = [
    "ClosingError",
    "DoubtfulReading",
    "Fall",
    "Ground",
    "GroundPoint",
    "Level",
    "Plane",
    "Triangle",
    "Trust",
    "WallLine",
    "error_from_tilt",
    "read_ground",
    "tilt_from_error",
]
