"""How one number is read exactly: digits, decimals and fractions, in half or full width."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction

from evenfoot.errors import Fault, OutOfRangeError

Typed = str | float | Decimal | Fraction

LONGEST_TEXT = 80
MOST_DIGITS = 15
"""Figures before the point, and places after it, that any figure on a building site can need."""

NUMBER = r"\d+[ -]+\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+"
_SIGN = re.compile(r"^\s*([+-]?)\s*")
_PRIMES = str.maketrans({"′": "'", "’": "'", "‘": "'", "”": '"', "“": '"', "″": '"', "−": "-", "–": "-", "⁄": "/"})


def plain(text: str) -> str:
    """Return ``text`` in half width, with plain primes, minus and fractions: ``６′２½″`` becomes ``6'2 1/2"``."""
    opened = "".join(f" {c}" if unicodedata.category(c) == "No" else c for c in text)
    return unicodedata.normalize("NFKC", opened.translate(_PRIMES)).translate(_PRIMES).replace("''", '"').strip()


def split_sign(text: str) -> tuple[int, str]:
    """Return -1 or 1 and what follows the sign."""
    sign = _SIGN.match(text)
    assert sign is not None
    return (-1 if sign[1] == "-" else 1), text[sign.end() :]


def number(digits: str) -> Fraction | None:
    """Return the value of text that matches ``NUMBER``; None when it divides by nothing or has too many figures."""
    if max(len(part) for part in re.findall(r"\d+", digits)) > MOST_DIGITS:
        return None
    whole, _, broken = re.sub(r"[ -]+", " ", digits).rpartition(" ")
    if re.search(r"/0+$", broken):
        return None
    return Fraction(whole or 0) + Fraction(f"0{broken}" if broken.startswith(".") else broken)


def exact(value: float | Decimal | Fraction) -> Fraction:
    """Return a bare number exactly as it reads in decimal: 0.1 is one tenth.

    Raises: OutOfRangeError ``not-finite`` for NaN and infinity, ``figure-too-long`` for more than 15 figures on either
    side of the point.
    """
    if isinstance(value, Fraction):
        return value
    decimal = Decimal(str(value)) if isinstance(value, float) else Decimal(value)
    if not decimal.is_finite():
        raise OutOfRangeError(Fault(where="", code="not-finite", found=str(value)))
    _, _, exponent = decimal.as_tuple()
    assert isinstance(exponent, int)
    if decimal and (decimal.adjusted() >= MOST_DIGITS or exponent < -2 * MOST_DIGITS):
        found = str(value) if len(str(value)) <= LONGEST_TEXT else f"{decimal:.3e}"
        raise OutOfRangeError(Fault(where="", code="figure-too-long", found=found, allowed=str(MOST_DIGITS)))
    return Fraction(decimal)


def decimal_text(value: Fraction) -> str:
    """Return ``value`` exactly: as a decimal where that ends within six places, else as ``1 1/3``."""
    scaled = value * 10**6
    if scaled.denominator == 1:
        text = f"{Decimal(int(scaled)).scaleb(-6):f}"
        return (text.rstrip("0").rstrip(".")) if "." in text else text
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"
