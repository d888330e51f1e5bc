"""The geometry of boring and driving that every standard shares."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within


def pilot_diameter(*, d: float, ratio: float) -> float:
    """Return the pilot hole [mm], to the nearest 0.1 mm of the drill set; 0 = none.

    Source: share of the shank by density, our table (id fixing_own).   Valid: d > 0; 0 <= ratio <= 1.
    Args: d, shank of a nail or outer thread of a screw [mm]; ratio, share of it that is bored [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("d", d, low=0.0, unit="mm")
    return round(d * within("ratio", ratio, low=0.0, high=1.0), 1)


def board_screw_length(*, board: float, d: float, times: float, into_joist: float, into_joist_d: float) -> float:
    """Return the least length of a screw through a board into a joist [mm].

    The larger of ``times`` the board, and the board plus what must sit in the joist.
    Source: deck screw notes (id jp_deck_screw); 6 d of penetration: EN 1995-1-1:2004, 8.7, NDS (ids ec5_sheets,
    nds_example).   Valid: all sizes above 0.
    Args: board, its thickness [mm]; d, outer thread [mm]; times, share of the board [-]; into_joist [mm];
    into_joist_d, the same in diameters [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("board", board, low=0.0, unit="mm")
    within("d", d, low=0.0, unit="mm")
    return max(times * board, board + max(into_joist, into_joist_d * d))


def board_nail_length(*, board: float, times: float) -> float:
    """Return the least length of a nail through a board [mm]: 2.5 times the board.

    Source: Japanese public building standard specification for timber (id nail_2_5).   Valid: board > 0.
    Args: board, its thickness [mm]; times, 2.5 on record [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return times * within("board", board, low=0.0, unit="mm")


def skew_penetration(*, length: float, angle: float, start: float) -> float:
    """Return how deep a slanting nail or screw reaches past the joint into the next timber [mm].

    It is driven at ``angle`` to the face it starts in, ``start`` of its length away from the joint.
    Source: toe-nailing, NDS 2018, recalled (id nds_memory).   Valid: length > 0; angle 0 to 90 degrees; start 0 to 1.
    Args: length [mm]; angle [rad]; start, share of the length [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("length", length, low=0.0, unit="mm")
    within("angle", angle, low=0.0, high=math.pi / 2, unit="rad")
    within("start", start, low=0.0, high=1.0)
    return length * (math.cos(angle) - start)


def skew_reach(*, length: float, angle: float) -> float:
    """Return how far a slanting nail or screw goes in from the face it starts in, square to that face [mm].

    Source: geometry.   Valid: length > 0; 0 < angle < 90 degrees.
    Args: length [mm]; angle to the face [rad].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("length", length, low=0.0, unit="mm")
    return length * math.sin(within("angle", angle, low=0.0, high=math.pi / 2, unit="rad"))
