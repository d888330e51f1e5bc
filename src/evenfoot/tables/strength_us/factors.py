"""The factors, loads and limits, turned from the units they are printed in; nothing else here knows those units."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from evenfoot.errors import OutOfRangeError
from evenfoot.tables.figures import Figure, read_figures, unknown

INCH = 25.4
FOOT = 304.8
_POUND = 0.45359237 * 9.80665
PSI = _POUND / INCH**2
"""One lb per square inch in N/mm2 (exact: pound and inch of 1959, standard gravity of 1901)."""
_KEPT = {
    "-": ("-", 1.0),
    "in": ("mm", INCH),
    "ft": ("mm", FOOT),
    "lb": ("N", _POUND),
    "psi": ("N/mm2", PSI),
    "psf": ("N/mm2", _POUND / FOOT**2),
    "pcf": ("N/mm3", _POUND / FOOT**3),
}


def factor(name: str) -> Figure:
    """Return one figure by its name, as ``duration.ten-years``, in mm, N, N/mm2 or N/mm3.

    Raises: OutOfRangeError (``factor-unknown``).
    """
    known = figures()
    if name not in known:
        raise OutOfRangeError(unknown("name", "factor-unknown", name, tuple(known)))
    return known[name]


@cache
def figures() -> dict[str, Figure]:
    """Return every figure by its name, in the units that are kept."""
    return {name: _kept(printed) for name, printed in read_figures("us_factors.toml").items()}


def _kept(printed: Figure) -> Figure:
    unit, scale = _KEPT[printed.unit]
    return replace(printed, value=printed.value * scale, unit=unit)
