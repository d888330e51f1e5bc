"""How far apart, how near an edge and how long nails and screws are by Japanese practice."""

from __future__ import annotations

from evenfoot.rules.ranges import within


def spacing_along(*, d: float) -> float:
    """Return the least spacing along the grain, force along the grain [mm]: 12 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 12.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def end_along(*, d: float) -> float:
    """Return the least distance to an end, force along the grain [mm]: 15 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 15.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def row_along(*, d: float) -> float:
    """Return the least distance between rows, force along the grain [mm]: 5 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 5.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def edge_along(*, d: float) -> float:
    """Return the least distance to an edge, force along the grain [mm]: 5 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 5.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def spacing_across(*, d: float) -> float:
    """Return the least spacing across the grain, force across the grain [mm]: 8 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 8.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def edge_across(*, d: float) -> float:
    """Return the least distance to an edge, force across the grain [mm]: 8 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 8.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def fibre_across(*, d: float) -> float:
    """Return the least spacing on the same fibre, force across the grain [mm]: 10 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 10.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def end_across(*, d: float) -> float:
    """Return the least distance to an end, force across the grain [mm]: 10 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 10.0 * within("d", d, low=1.0, high=8.0, unit="mm")


def thickness(*, d: float) -> float:
    """Return the least thickness of a nailed piece [mm]: 6 d.

    Source: temporary works manual vol. 16, p. 284 (id jp_temp_works).   Valid: nails, 1 <= d <= 8.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 6.0 * within("d", d, low=1.0, high=8.0, unit="mm")
