"""How a length that a person typed becomes mm, exactly."""

from __future__ import annotations

import difflib
import re
from fractions import Fraction
from itertools import pairwise

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.units.number import LONGEST_TEXT, NUMBER, Typed, exact, number, plain, split_sign
from evenfoot.units.scale import SPELLINGS, UNITS, Unit, unit_named
from evenfoot.units.writing import format_exact

_TERM = re.compile(rf"({NUMBER})\s*([^\d\s.,/-]*)\.?")
_BETWEEN = re.compile(r"[\s-]*")
EXAMPLES = "3600, 3600 mm, 3.6 m, 6' 2 1/2\", 3尺5寸"

Term = tuple[Fraction, Unit]


def parse_length(text: Typed, *, unit: str) -> Fraction:
    """Return a length [mm], exactly; a bare number is in ``unit`` (mm, cm, m, in, ft, ken, shaku, sun, bu or rin).

    Reads ``3600``, ``3.6 m``, ``6' 2 1/2"``, ``6'-2 1/2"``, ``74 1/2 in``, ``3尺5寸2分``, ``3 shaku 5 sun``, in half or
    full width; a leading minus covers the whole length. Larger units come first, and a smaller one never fills up
    the next larger (``5' 14"`` is a slip of the pen, not six feet two).

    Raises: OutOfRangeError ``length-unread``, ``length-unit-unknown``, ``length-units-mixed``,
    ``length-part-too-large``, ``not-finite``, ``figure-too-long``; its nearest value reads well.
    """
    declared = unit_named(unit)
    if not isinstance(text, str):
        return exact(text) * declared.mm
    if len(text) > LONGEST_TEXT:
        raise _fault("length-unread", f"{text[:LONGEST_TEXT]}…", allowed=EXAMPLES)
    sign, body = split_sign(plain(text))
    terms = _terms(text, body, declared)
    _check_order(text, terms, declared)
    return sign * sum((value * each.mm for value, each in terms), Fraction(0))


def _terms(text: str, body: str, declared: Unit) -> list[Term]:
    terms: list[Term] = []
    place = 0
    while place < len(body):
        term = _TERM.match(body, place)
        value = number(term[1]) if term else None
        if term is None or value is None:
            raise _fault("length-unread", text, allowed=EXAMPLES)
        terms.append((value, _unit_of(text, term, declared=declared, is_first=not terms)))
        between = _BETWEEN.match(body, term.end())
        assert between is not None
        place = between.end()
    if not terms or body[-1:] == "-":
        raise _fault("length-unread", text, allowed=EXAMPLES)
    return terms


def _unit_of(text: str, term: re.Match[str], *, declared: Unit, is_first: bool) -> Unit:
    word = term[2].lower()
    if word in SPELLINGS:
        return UNITS[SPELLINGS[word]]
    if word:
        close = difflib.get_close_matches(word, list(SPELLINGS), n=1, cutoff=0.0)
        nearest = SPELLINGS[close[0]]
        raise _fault("length-unit-unknown", text, allowed=", ".join(UNITS), nearest=nearest)
    if is_first and term.end() == len(term.string):
        return declared
    raise _fault("length-unread", text, allowed=EXAMPLES)


def _check_order(text: str, terms: list[Term], declared: Unit) -> None:
    families = {each.family for _, each in terms}
    if len(families) > 1:
        raise _fault("length-units-mixed", text, allowed=EXAMPLES)
    total = sum((value * each.mm for value, each in terms), Fraction(0))
    for (large, larger), (small, smaller) in pairwise(terms):
        if large.denominator != 1 or smaller.mm >= larger.mm:
            raise _fault("length-unread", text, allowed=EXAMPLES, nearest=format_exact(total, unit=declared.name))
        if small * smaller.mm >= larger.mm:
            nearest = format_exact(total, unit=terms[0][1].name)
            raise _fault(
                "length-part-too-large",
                text,
                allowed=f"< {format_exact(larger.mm, unit=smaller.name)}",
                nearest=nearest,
            )


def _fault(code: str, found: str, *, allowed: str = "", nearest: str = "") -> OutOfRangeError:
    return OutOfRangeError(Fault(where="", code=code, found=found, allowed=allowed, nearest=nearest))
