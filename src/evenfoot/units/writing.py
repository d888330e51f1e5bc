"""How a length in mm is written for people, in their unit and to a step that they can cut to."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import isfinite

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.units.number import decimal_text
from evenfoot.units.scale import INCH, SHAKU, unit_named

_SHAKU_MARKS = (("尺", SHAKU), ("寸", SHAKU / 10), ("分", SHAKU / 100), ("厘", SHAKU / 1000))


@lru_cache(maxsize=16_384)
def format_length(mm: float | Fraction, *, unit: str, step: Fraction | None = None, is_bare: bool = False) -> str:
    """Return a length [mm] in ``unit``, rounded to ``step`` [mm], halves away from zero.

    Without a step: 0.5 mm for mm and cm, 1 mm for m, 1/16 inch for in and ft, one bu for shaku. The text reads back
    as exactly the rounded length. ``is_bare`` leaves out the name of a metric unit, as dimension lines do.

    Raises: OutOfRangeError ``unit-unknown``, ``not-finite``.
    """
    scale = unit_named(unit)
    rounded = round_to(mm, step=step if step is not None else scale.step)
    sign, size = ("-", -rounded) if rounded < 0 else ("", rounded)
    if scale.family == "inch":
        return sign + _inches(size, has_feet=unit == "ft")
    if scale.family == "shaku":
        return sign + _shaku(size)
    text = f"{float(size / 1000):.3f}" if unit == "m" and size.denominator == 1 else decimal_text(size / scale.mm)
    return f"{sign}{text}" if is_bare else f"{sign}{text} {unit}"


def format_exact(mm: Fraction, *, unit: str) -> str:
    """Return a length [mm] in ``unit`` without rounding; reads back as exactly the same length."""
    scale = unit_named(unit)
    sign, size = ("-", -mm) if mm < 0 else ("", mm)
    if scale.family == "inch":
        return sign + _inches(size, has_feet=unit == "ft")
    if scale.family == "shaku":
        return sign + _shaku(size)
    return f"{sign}{decimal_text(size / scale.mm)} {unit}"


def format_typed(mm: float, *, unit: str) -> str:
    """Return a length [mm] as it is typed where a bare number is in ``unit``; reads back as exactly the same length.

    Inches are typed as feet and inches, shaku in their parts; what cannot be read off such a tape is typed in mm.
    Valid: what a tape of this unit reads, or whole ten-thousandths of a mm.
    """
    told = "ft" if unit_named(unit).family == "inch" else unit
    if float(round_to(mm, step=unit_named(told).step)) == mm:
        return format_length(mm, unit=told, is_bare=True)
    return f"{decimal_text(Fraction(str(mm)))} mm"


def round_to(mm: float | Fraction, *, step: Fraction) -> Fraction:
    """Return the multiple of ``step`` nearest to a length, halves away from zero; raises ``not-finite``."""
    assert step > 0, "a step is a length"
    if isinstance(mm, float) and not isfinite(mm):
        raise OutOfRangeError(Fault(where="", code="not-finite", found=str(mm)))
    value = Fraction(str(mm)) if isinstance(mm, float) else Fraction(mm)
    whole = (abs(value) / step + Fraction(1, 2)).__floor__()
    return whole * step if value >= 0 else -whole * step


def _inches(size: Fraction, *, has_feet: bool) -> str:
    inches = size / INCH
    feet, inches = divmod(inches, 12) if has_feet else (0, inches)
    whole, part = divmod(inches, 1)
    fraction = f"{whole} {part}" if whole and part else str(part or whole)
    if not feet:
        return f'{fraction}"'
    return f"{feet}'" if not inches else f"{feet}' {fraction}\""


def _shaku(size: Fraction) -> str:
    parts: list[str] = []
    rest = size
    for mark, length in _SHAKU_MARKS:
        count, rest = divmod(rest, length)
        if mark == "厘" and rest:
            parts.append(f"{decimal_text(count + rest / length)}{mark}")
        elif count:
            parts.append(f"{count}{mark}")
    return "".join(parts) or "0分"
