"""Which units of length there are, how long each is in mm exactly, and how each is spelled."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from evenfoot.errors import Fault, OutOfRangeError

INCH = Fraction(254, 10)
SHAKU = Fraction(10_000, 33)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One unit of length: its family, its length [mm], and the step that lengths in it are written to [mm]."""

    name: str
    family: str
    mm: Fraction
    step: Fraction


def _unit(name: str, family: str, mm: Fraction, step: Fraction) -> Unit:
    return Unit(name=name, family=family, mm=mm, step=step)


UNITS = {
    unit.name: unit
    for unit in (
        _unit("mm", "metric", Fraction(1), Fraction(1, 2)),
        _unit("cm", "metric", Fraction(10), Fraction(1, 2)),
        _unit("m", "metric", Fraction(1000), Fraction(1)),
        _unit("in", "inch", INCH, INCH / 16),
        _unit("ft", "inch", 12 * INCH, INCH / 16),
        _unit("rin", "shaku", SHAKU / 1000, SHAKU / 1000),
        _unit("bu", "shaku", SHAKU / 100, SHAKU / 100),
        _unit("sun", "shaku", SHAKU / 10, SHAKU / 100),
        _unit("shaku", "shaku", SHAKU, SHAKU / 100),
        _unit("ken", "shaku", 6 * SHAKU, SHAKU / 100),
    )
}
"""Source: inch, 25.4 mm (1959); shaku, 10/33 m (Weights and Measures Act of Japan, 1891). Exact by definition."""

SPELLINGS = {
    "mm": "mm",
    "cm": "cm",
    "m": "m",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "ミリ": "mm",
    "センチ": "cm",
    "メートル": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "ft": "ft",
    "foot": "ft",
    "feet": "ft",
    "'": "ft",
    "間": "ken",
    "ken": "ken",
    "尺": "shaku",
    "shaku": "shaku",
    "寸": "sun",
    "sun": "sun",
    "分": "bu",
    "bu": "bu",
    "厘": "rin",
    "rin": "rin",
}


def unit_named(name: str) -> Unit:
    """Return the unit called ``name``; raises OutOfRangeError ``unit-unknown`` for any other word."""
    try:
        return UNITS[name]
    except KeyError:
        raise OutOfRangeError(Fault(where="", code="unit-unknown", found=name, allowed=", ".join(UNITS))) from None
