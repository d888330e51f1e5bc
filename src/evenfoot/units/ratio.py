"""How slopes, loads, pressures and temperatures that a person typed are read, exactly."""

from __future__ import annotations

import re
from fractions import Fraction

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.units.number import LONGEST_TEXT, NUMBER, Typed, exact, number, plain, split_sign
from evenfoot.units.reading import parse_length

_PAIR = re.compile(r"(\s*:\s*|\s+in\s+|\s+per\s+)")
_RATIOS = '1/80, 1:80, 1/8" per ft, 1.25 %, 0.0125'
_WITH_UNIT = re.compile(rf"({NUMBER})\s*(\S*)")

_NEWTONS = {
    "": Fraction(1),
    "n": Fraction(1),
    "kn": Fraction(1000),
    "kg": Fraction("9.80665"),
    "kgf": Fraction("9.80665"),
    "lb": Fraction("0.45359237") * Fraction("9.80665"),
    "lbf": Fraction("0.45359237") * Fraction("9.80665"),
}
"""Source: standard gravity 9.80665 m/s2 (CGPM 1901); pound 0.45359237 kg (1959). Exact by definition."""


_PRESSURES = {
    "": Fraction(1, 1000),
    "kn/m2": Fraction(1, 1000),
    "kpa": Fraction(1, 1000),
    "n/m2": Fraction(1, 10**6),
    "pa": Fraction(1, 10**6),
    "n/mm2": Fraction(1),
    "mpa": Fraction(1),
    "psf": Fraction("0.45359237") * Fraction("9.80665") / Fraction("304.8") ** 2,
}
"""In N/mm2. Source: as the newtons above; foot 0.3048 m (1959). Exact by definition."""


def parse_ratio(text: Typed) -> Fraction:
    """Return a slope [-] from ``1/80``, ``1:80``, ``1/8 in 12``, ``1/8" per ft``, ``1.25 %`` or a bare number.

    Raises: OutOfRangeError ``ratio-unread``, ``not-finite``, ``figure-too-long``.
    """
    if not isinstance(text, str):
        return exact(text)
    sign, body = split_sign(plain(text[: LONGEST_TEXT + 1]))
    rise, between, run = _PAIR.split(body, maxsplit=1) if _PAIR.search(body) else (body, "", "")
    if between.strip() == "per":
        return sign * _length(rise, text) / _length(f"1 {run}", text)
    if between:
        return sign * _positive(rise, text) / _positive(run, text)
    single = _WITH_UNIT.fullmatch(body)
    value = number(single[1]) if single else None
    if single is None or value is None or single[2] not in ("", "%"):
        raise _fault("ratio-unread", text, allowed=_RATIOS)
    return sign * (value / 100 if single[2] else value)


def _positive(digits: str, text: str) -> Fraction:
    value = number(digits) if re.fullmatch(NUMBER, digits) else None
    if not value:
        raise _fault("ratio-unread", text, allowed=_RATIOS)
    return value


def _length(digits: str, text: str) -> Fraction:
    try:
        return parse_length(digits, unit="mm")
    except OutOfRangeError:
        raise _fault("ratio-unread", text, allowed=_RATIOS) from None


def format_ratio(ratio: float | Fraction) -> str:
    """Return a slope as ``1/80`` where that is true to half a percent, else as ``1.27 %``; 0 when there is none."""
    if ratio == 0:
        return "0"
    run = round(1 / abs(float(ratio)))
    sign = "-" if ratio < 0 else ""
    if run >= 1 and abs(abs(float(ratio)) * run - 1) < 0.005:
        return f"{sign}1/{run}"
    return f"{float(ratio) * 100:.2f} %"


def parse_force(text: Typed) -> Fraction:
    """Return a force [N] from a bare number of newtons, ``2 kN``, ``100 kg`` or ``300 lb`` (a weight at rest).

    Raises: OutOfRangeError ``force-unread``, ``not-finite``, ``figure-too-long``.
    """
    if not isinstance(text, str):
        return exact(text)
    sign, body = split_sign(plain(text[: LONGEST_TEXT + 1]))
    term = _WITH_UNIT.fullmatch(body)
    value = number(term[1]) if term else None
    if term is None or value is None or term[2].lower() not in _NEWTONS:
        raise _fault("force-unread", text, allowed="1000 N, 1 kN, 100 kg, 300 lb")
    return sign * value * _NEWTONS[term[2].lower()]


def parse_pressure(text: Typed) -> Fraction:
    """Return a pressure [N/mm2] from a bare number of kN/m2, ``50 kN/m2``, ``50 kPa``, ``600 N/m2`` or ``1500 psf``.

    Raises: OutOfRangeError ``pressure-unread``, ``not-finite``, ``figure-too-long``.
    """
    if not isinstance(text, str):
        return exact(text) * _PRESSURES[""]
    sign, body = split_sign(plain(text[: LONGEST_TEXT + 1].replace("²", "2")))
    term = _WITH_UNIT.fullmatch(body)
    value = number(term[1]) if term else None
    if term is None or value is None or term[2].lower() not in _PRESSURES:
        raise _fault("pressure-unread", text, allowed="50 kN/m2, 50 kPa, 600 N/m2, 1500 psf")
    return sign * value * _PRESSURES[term[2].lower()]


def parse_temperature(text: Typed) -> Fraction:
    """Return a temperature [degrees C] from a bare number of degrees C, ``18 C`` or ``65 F``.

    Raises: OutOfRangeError ``temperature-unread``, ``not-finite``, ``figure-too-long``.
    """
    if not isinstance(text, str):
        return exact(text)
    sign, body = split_sign(plain(text[: LONGEST_TEXT + 1]).replace("°", ""))
    term = _WITH_UNIT.fullmatch(body)
    value = number(term[1]) if term else None
    if term is None or value is None or term[2].upper() not in ("", "C", "F"):
        raise _fault("temperature-unread", text, allowed="18, 18 C, 65 F")
    return (sign * value - 32) * Fraction(5, 9) if term[2].upper() == "F" else sign * value


def _fault(code: str, found: str, *, allowed: str) -> OutOfRangeError:
    return OutOfRangeError(Fault(where="", code=code, found=found[:LONGEST_TEXT], allowed=allowed))
