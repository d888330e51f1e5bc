"""Refuses an argument that lies outside the range in which a formula is valid."""

from __future__ import annotations

import math

from evenfoot.errors import Fault, OutOfRangeError


def require_above(name: str, value: float, limit: float = 0.0) -> None:
    """Refuse a value that is not a number above ``limit``.

    Raises: OutOfRangeError (``rule-range``) when it is not.
    """
    if not (math.isfinite(value) and value > limit):
        raise OutOfRangeError(Fault(where=name, code="rule-range", found=f"{value:g}", allowed=f"> {limit:g}"))


def require_between(name: str, value: float, least: float, most: float = math.inf) -> None:
    """Refuse a value that is not a number from ``least`` to ``most``, both included.

    Raises: OutOfRangeError (``rule-range``) when it is not; the fault names the nearest end.
    """
    if math.isfinite(value) and least <= value <= most:
        return
    allowed = f">= {least:g}" if math.isinf(most) else f"{least:g} to {most:g}"
    nearest = "" if math.isnan(value) else f"{min(max(value, least), most):g}"
    raise OutOfRangeError(Fault(where=name, code="rule-range", found=f"{value:g}", allowed=allowed, nearest=nearest))
