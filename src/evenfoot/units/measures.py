"""In which units forces, stresses and loads are written for people who measure in inches, and for those who do not."""

from __future__ import annotations

from fractions import Fraction

_POUND = Fraction("0.45359237") * Fraction("9.80665")
"""Newtons. Source: pound 0.45359237 kg (1959), standard gravity 9.80665 m/s2 (CGPM 1901). Exact by definition."""
_INCH = Fraction("25.4")
_FOOT = 12 * _INCH
_METRIC = {"N/mm2": ("N/mm²", 1.0), "kN/m2": ("kN/m²", 1.0)}
_CUSTOMARY = {
    "N/mm2": ("psi", float(_INCH**2 / _POUND)),
    "kN/m2": ("psf", float(_FOOT**2 / _POUND / 1000)),
    "N": ("lb", float(1 / _POUND)),
}


def measure(unit: str, *, length_unit: str) -> tuple[str, float]:
    """Return how a kept unit (``N``, ``N/mm2``, ``kN/m2``) is written beside such lengths, and how many of it make one.

    A unit that is written as it is kept comes back with 1.
    """
    known = _CUSTOMARY if length_unit in {"in", "ft"} else _METRIC
    return known.get(unit, (unit, 1.0))
