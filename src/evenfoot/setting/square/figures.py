"""Lengths, lean and angles of an outline's points, each as a figure that a fit can tell the certainty of."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from evenfoot.setting.square.model import Pair

Array = NDArray[np.float64]
Figure = Callable[[Array], float]


def reach(pair: Pair) -> Figure:
    """Return the distance between two points [mm]."""
    first, second = pair
    return lambda points: float(np.hypot(*(points[second] - points[first])))


def lean(points: Array) -> float:
    """Return how far the outer side of four corners stands to the right of where it belongs [mm]."""
    return float((points[3, 0] - points[0, 0] + points[2, 0] - points[1, 0]) / 2)


def difference(side: int) -> Figure:
    """Return how much longer a side of four is than the one opposite [mm]."""
    own, other = side % 4, (side + 2) % 4
    return lambda points: reach((own, (own + 1) % 4))(points) - reach((other, (other + 1) % 4))(points)


def angle(index: int) -> Figure:
    """Return the inner angle at a corner of a counter-clockwise outline [rad], 0 to 2 pi."""

    def figure(points: Array) -> float:
        count = len(points)
        ahead, behind = points[(index + 1) % count] - points[index], points[index - 1] - points[index]
        turn = math.atan2(ahead[0] * behind[1] - ahead[1] * behind[0], float(ahead @ behind))
        return turn % (2 * math.pi)

    return figure


def place(index: int, axis: int) -> Figure:
    """Return one coordinate of a point [mm]: axis 0 is x, 1 is y."""
    return lambda points: float(points[index, axis])


def laid(corners: Array) -> Array:
    """Return corners moved so that the first is the origin and the second lies along x."""
    c, s = (corners[1] - corners[0]) / reach((0, 1))(corners)
    moved: Array = (corners - corners[0]) @ np.array([[c, -s], [s, c]])
    return moved
