"""Lengths that people write are read exactly, and what is no length is refused with what was found."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.units import parse_length

INCH = Fraction(254, 10)
SHAKU = Fraction(10_000, 33)


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        (3600, "mm", 3600),
        ("3600", "mm", 3600),
        ("3600", "cm", 36_000),
        (3.6, "m", 3600),
        (Decimal("3.6"), "m", 3600),
        ("3600 mm", "in", 3600),
        ("3600mm", "in", 3600),
        ("3.6 m", "mm", 3600),
        ("36 cm", "mm", 360),
        ("6' 2 1/2\"", "mm", 74 * INCH + INCH / 2),
        ("6'-2 1/2\"", "mm", 74 * INCH + INCH / 2),
        ("6'2-1/2\"", "mm", 74 * INCH + INCH / 2),
        ("6 ft 2 1/2 in", "mm", 74 * INCH + INCH / 2),
        ("6 feet 2 1/2 inches", "mm", 74 * INCH + INCH / 2),
        ("74 1/2 in", "mm", 74 * INCH + INCH / 2),
        ("74 1/2", "in", 74 * INCH + INCH / 2),
        ("12 ft", "mm", 144 * INCH),
        ("12'", "mm", 144 * INCH),
        ('1/2"', "mm", INCH / 2),
        ('11/16"', "mm", INCH * 11 / 16),
        ("0.5 in", "mm", INCH / 2),
        (".5 in", "mm", INCH / 2),
        ("6′ 2½″", "mm", 74 * INCH + INCH / 2),
        ("6’ 2¾”", "mm", 74 * INCH + INCH * 3 / 4),
        ("6' 2''", "mm", 74 * INCH),
        ("3尺5寸", "mm", SHAKU * 35 / 10),
        ("3尺5寸2分", "mm", SHAKU * 352 / 100),
        ("3尺5寸2分7厘", "mm", SHAKU * 3527 / 1000),
        ("３尺５寸", "mm", SHAKU * 35 / 10),
        ("３６００", "mm", 3600),
        ("3.5尺", "mm", SHAKU * 35 / 10),
        ("3 shaku 5 sun", "mm", SHAKU * 35 / 10),
        ("5寸5分", "shaku", SHAKU * 55 / 100),
        ("3尺 5分", "mm", SHAKU * 305 / 100),
        (12, "shaku", SHAKU * 12),
        ("2間", "mm", SHAKU * 12),
        ("1 ken 3 shaku", "mm", SHAKU * 9),
        ("2 m 5 cm", "mm", 2050),
        ("3.6 metres", "mm", 3600),
        ("450ミリ", "mm", 450),
        (-452, "mm", -452),
        ("-452", "mm", -452),
        ("−452 mm", "mm", -452),
        ('-26 1/4"', "mm", -26 * INCH - INCH / 4),
        ("-1尺2寸", "mm", -SHAKU * 12 / 10),
        ("+5", "mm", 5),
        ("  5  ", "mm", 5),
        (0, "mm", 0),
        (Fraction(1, 3), "mm", Fraction(1, 3)),
    ],
)
def test_a_length_is_read_exactly(text, unit, mm):
    assert parse_length(text, unit=unit) == mm


def test_a_decimal_typed_as_a_tenth_is_a_tenth_and_not_its_nearest_binary():
    assert parse_length(0.1, unit="mm") == Fraction(1, 10)
    assert parse_length(Decimal("0.1"), unit="in") == Fraction(254, 100)


def test_shaku_and_inch_are_their_legal_lengths():
    """33 shaku are 10 m (Weights and Measures Act, 1891); 10,000 inches are 254 m (1959)."""
    assert parse_length("33尺", unit="mm") == 10_000
    assert parse_length('10000"', unit="mm") == 254_000


def shown(text):
    if isinstance(text, str) and len(text) > 80:
        return text[:80] + "…"
    return str(text)


@pytest.mark.parametrize(
    ("text", "code", "nearest"),
    [
        ("6' 14\"", "length-part-too-large", "7' 2\""),
        ("3尺12寸", "length-part-too-large", "4尺2寸"),
        ("1 m 100 cm", "length-part-too-large", "2 m"),
        ("5 km", "length-unit-unknown", "m"),
        ("5 inchs", "length-unit-unknown", "in"),
        ("1e3", "length-unit-unknown", ""),
        ("3 m 2 in", "length-units-mixed", ""),
        ("2 1/2' 3\"", "length-unread", "838.2 mm"),
        ("2 in 6 ft", "length-unread", "1879.6 mm"),
        ("6' 2", "length-unread", ""),
        ("6 2", "length-unread", ""),
        ("3,600", "length-unread", ""),
        ("3 600", "length-unread", ""),
        ("", "length-unread", ""),
        ("   ", "length-unread", ""),
        ("mm", "length-unread", ""),
        ("about 5", "length-unread", ""),
        ("--5", "length-unread", ""),
        ("5-", "length-unread", ""),
        ("1/0 in", "length-unread", ""),
        ("1/00 in", "length-unread", ""),
        ("nan", "length-unread", ""),
        ("1" * 16, "length-unread", ""),
        ("1" * 100, "length-unread", ""),
        (float("nan"), "not-finite", ""),
        (float("inf"), "not-finite", ""),
        (Decimal("NaN"), "not-finite", ""),
        (Decimal("1e400"), "figure-too-long", ""),
        (Decimal("1e-400"), "figure-too-long", ""),
        (10**20, "figure-too-long", ""),
    ],
)
def test_what_is_no_length_is_refused(text, code, nearest):
    with pytest.raises(OutOfRangeError) as raised:
        parse_length(text, unit="mm")
    fault = raised.value.fault
    assert fault.code == code
    assert fault.where == ""
    assert fault.found == shown(text)
    if nearest:
        assert fault.nearest == nearest


def test_an_unknown_unit_is_refused_by_name():
    with pytest.raises(OutOfRangeError) as raised:
        parse_length(5, unit="cubit")
    assert (raised.value.fault.code, raised.value.fault.found) == ("unit-unknown", "cubit")
