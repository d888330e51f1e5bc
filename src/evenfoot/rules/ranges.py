"""How a rule refuses an argument that lies outside the range in which it holds."""

from __future__ import annotations

import math

from evenfoot.errors import Fault, OutOfRangeError


def within(name: str, value: float, *, low: float = -math.inf, high: float = math.inf, unit: str = "") -> float:
    """Return ``value`` when low <= value <= high.

    Args: name, the argument's name; value, low, high, all in ``unit``.
    Raises: OutOfRangeError (``rule-range``) naming the argument, the range and the nearest value that works.
    """
    if low <= value <= high:
        return value
    nearest = "" if math.isnan(value) else _say(min(max(value, low), high), unit)
    raise OutOfRangeError(
        Fault(
            where=name,
            code="rule-range",
            found=_say(value, unit),
            allowed=f"{_bound(low)} .. {_bound(high)} {unit}".strip(),
            nearest=nearest,
        )
    )


def above(name: str, value: float, *, low: float = 0.0, unit: str = "") -> float:
    """Return ``value`` when it is a number above ``low``.

    Args: name, the argument's name; value, low, both in ``unit``.
    Raises: OutOfRangeError (``rule-range``) naming the argument and the range.
    """
    if low < value < math.inf:
        return value
    raise OutOfRangeError(Fault(where=name, code="rule-range", found=_say(value, unit), allowed=f"> {_say(low, unit)}"))


def _say(value: float, unit: str) -> str:
    return f"{value:g} {unit}".strip()


def _bound(value: float) -> str:
    return "" if math.isinf(value) else f"{value:g}"
