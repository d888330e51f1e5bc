"""What a tilted line of sight does to a reading, and which tilt explains an error."""

from __future__ import annotations

import math

from evenfoot.errors import Fault, OutOfRangeError


def error_from_tilt(*, distance: float, tilt: float) -> float:
    """Return how far a reading is off [mm] at a distance from the instrument when its line of sight is tilted.

    Positive tilt rises away from the instrument: the rod reads too much and the ground seems too low by this much.
    The mean with a second reading, the instrument turned round or at the other end, is free of it.
    Source: geometry of a plumb rod, error = distance tan(tilt).
    Args: distance, along the ground [mm], >= 0; tilt [rad], under a right angle.
    Raises: OutOfRangeError (``distance-negative``, ``tilt-too-steep``).
    """
    _check_distance(distance)
    if not abs(tilt) < math.pi / 2:
        raise OutOfRangeError(
            Fault(
                where="tilt", code="tilt-too-steep", found=f"{math.degrees(tilt):g} deg", allowed="-90 < tilt < 90 deg"
            )
        )
    return distance * math.tan(tilt)


def tilt_from_error(*, error: float, distance: float) -> float:
    """Return the tilt [rad] that puts a reading off by ``error`` [mm] at ``distance`` [mm] from the instrument.

    Source: as ``error_from_tilt``.   Valid: distance > 0.
    Raises: OutOfRangeError (``distance-negative``).
    """
    _check_distance(distance)
    if distance == 0:
        raise OutOfRangeError(Fault(where="distance", code="distance-negative", found="0 mm", allowed="> 0 mm"))
    return math.atan2(error, distance)


def _check_distance(distance: float) -> None:
    if not distance >= 0:
        raise OutOfRangeError(
            Fault(where="distance", code="distance-negative", found=f"{distance:g} mm", allowed=">= 0")
        )
