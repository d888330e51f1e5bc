"""How far apart, how near an edge nails and screws sit by North American practice, and what they hold in withdrawal."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within


def edge(*, d: float) -> float:
    """Return the least distance to an edge, no pilot hole [mm]: 2.5 d.

    Source: NDS 2018 commentary, wood side members, recalled (id nds_memory).   Valid: 1 <= d <= 10.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 2.5 * within("d", d, low=1.0, high=10.0, unit="mm")


def end_loaded(*, d: float) -> float:
    """Return the least distance to an end that the force points to, no pilot hole [mm]: 15 d.

    Source: NDS 2018 commentary, wood side members, recalled (id nds_memory).   Valid: 1 <= d <= 10.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 15.0 * within("d", d, low=1.0, high=10.0, unit="mm")


def end_unloaded(*, d: float) -> float:
    """Return the least distance to an end that no force points to, no pilot hole [mm]: 10 d.

    Source: NDS 2018 commentary, wood side members, recalled (id nds_memory).   Valid: 1 <= d <= 10.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 10.0 * within("d", d, low=1.0, high=10.0, unit="mm")


def spacing_along(*, d: float) -> float:
    """Return the least spacing along the grain, no pilot hole [mm]: 15 d.

    Source: NDS 2018 commentary, wood side members, recalled (id nds_memory).   Valid: 1 <= d <= 10.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 15.0 * within("d", d, low=1.0, high=10.0, unit="mm")


def spacing_across(*, d: float) -> float:
    """Return the least distance between rows, no pilot hole [mm]: 5 d.

    Source: NDS 2018 commentary, wood side members, recalled (id nds_memory).   Valid: 1 <= d <= 10; not staggered.
    Args: d, shank [mm].
    Raises: OutOfRangeError when d leaves the valid range.
    """
    return 5.0 * within("d", d, low=1.0, high=10.0, unit="mm")


def bored_share() -> float:
    """Return the share of these distances that remains where holes are bored [-]: roughly two thirds.

    Source: NDS 2018 commentary, recalled (id nds_memory).   Valid: all distances of this module.
    Raises: nothing.
    """
    return 2.0 / 3.0


def bore_max(*, d: float, g: float) -> float:
    """Return the widest pilot hole of a nail [mm]: 0.75 d up to a specific gravity of 0.6, 0.90 d above.

    Source: NDS, prebored nail holes (id nds_prebore).   Valid: 1 <= d <= 10; 0.1 <= g <= 1.3.
    Args: d, shank [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("d", d, low=1.0, high=10.0, unit="mm")
    within("g", g, low=0.1, high=1.3)
    return (0.75 if g <= 0.6 else 0.90) * d


def nail_withdrawal(*, d: float, length: float, g: float) -> float:
    """Return the allowable withdrawal of a smooth carbon-steel nail [N]: 9.515 G^2.5 d L.

    Source: 1380 G^2.5 D lb per inch (ids nds_eqtable, nds_example); 1 lb/in2 = 0.00689476 N/mm2.
    Valid: 0.1 <= g <= 1.3; sizes above 0.
    Args: d, shank [mm]; length, penetration [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _withdrawal(1380.0, 2.5, d=d, length=length, g=g)


def stainless_nail_withdrawal(*, d: float, length: float, g: float) -> float:
    """Return the allowable withdrawal of a smooth stainless nail [N]: 3.206 G^1.5 d L.

    Source: 465 G^1.5 D lb per inch, recalled (ids nds_memory, nds_stainless).   Valid: 0.1 <= g <= 1.3; sizes above 0.
    Args: d, shank [mm]; length, penetration [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _withdrawal(465.0, 1.5, d=d, length=length, g=g)


def ring_nail_withdrawal(*, d: float, length: float, g: float) -> float:
    """Return the allowable withdrawal of a ring-shank carbon-steel nail [N]: 12.41 G^2 d L.

    Source: 1800 G^2 D lb per inch, recalled (id nds_memory).   Valid: 0.1 <= g <= 1.3; sizes above 0.
    Args: d, shank [mm]; length, penetration [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _withdrawal(1800.0, 2.0, d=d, length=length, g=g)


def screw_withdrawal(*, d: float, length: float, g: float) -> float:
    """Return the allowable withdrawal of a wood screw [N]: 19.65 G^2 d L.

    Source: 2850 G^2 D lb per inch of thread (id screw_withdraw).   Valid: 0.1 <= g <= 1.3; sizes above 0.
    Args: d, shank [mm]; length, thread in the timber [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return _withdrawal(2850.0, 2.0, d=d, length=length, g=g)


def nail_withdrawal_ultimate(*, d: float, length: float, g: float) -> float:
    """Return the mean ultimate withdrawal of a smooth bright nail in side grain [N]: 54.12 G^2.5 d L.

    A mean of tests, about 5.7 times the allowable value: never compare the two.
    Source: Wood handbook (id wh_withdraw).   Valid: 0.1 <= g <= 1.3; sizes above 0.
    Args: d, shank [mm]; length, penetration [mm]; g, specific gravity [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    _check(d=d, length=length, g=g)
    return 54.12 * math.pow(g, 2.5) * d * length


_PSI = 4.4482216152605 / 25.4**2
"""One lb per square inch in N/mm2."""


def _withdrawal(psi: float, power: float, *, d: float, length: float, g: float) -> float:
    _check(d=d, length=length, g=g)
    return psi * _PSI * math.pow(g, power) * d * length


def _check(*, d: float, length: float, g: float) -> None:
    within("d", d, low=0.0, unit="mm")
    within("length", length, low=0.0, unit="mm")
    within("g", g, low=0.1, high=1.3)
