"""Lengths are written as the trade writes them, and rounded halves go away from zero."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenfoot.errors import OutOfRangeError
from evenfoot.units import UNITS, format_exact, format_length, format_ratio, format_typed, parse_length, round_to

INCH = Fraction(254, 10)
SHAKU = Fraction(10_000, 33)


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (3600, "mm", "3600 mm"),
        (3600.24, "mm", "3600 mm"),
        (3600.25, "mm", "3600.5 mm"),
        (-3600.25, "mm", "-3600.5 mm"),
        (-0.1, "mm", "0 mm"),
        (364.5, "cm", "36.45 cm"),
        (3600, "m", "3.600 m"),
        (-1499.5, "m", "-1.500 m"),
        (3600, "ft", "11' 9 3/4\""),
        (3600, "in", '141 3/4"'),
        (float(12 * INCH), "ft", "1'"),
        (float(11 * INCH), "ft", '11"'),
        (0, "ft", '0"'),
        (float(INCH * 3 / 8), "in", '3/8"'),
        (float(-74 * INCH - INCH / 2), "ft", "-6' 2 1/2\""),
        (float(SHAKU * 35 / 10), "shaku", "3尺5寸"),
        (float(SHAKU * 352 / 100), "shaku", "3尺5寸2分"),
        (float(SHAKU * 5 / 100), "shaku", "5分"),
        (3600, "shaku", "11尺8寸8分"),
        (0, "shaku", "0分"),
    ],
)
def test_a_length_is_written_to_the_usual_step(mm, unit, text):
    assert format_length(mm, unit=unit) == text


def test_no_fraction_is_a_single_glyph():
    for sixteenths in range(1, 16):
        text = format_length(INCH * sixteenths / 16, unit="in")
        assert all(ord(character) < 128 for character in text)


def test_a_finer_step_shows_rin_and_thirty_seconds():
    assert format_length(SHAKU * 3527 / 1000, unit="shaku", step=SHAKU / 1000) == "3尺5寸2分7厘"
    assert format_length(INCH * 5 / 32, unit="in", step=INCH / 32) == '5/32"'
    assert format_length(1.24, unit="mm", step=Fraction(1, 10)) == "1.2 mm"


def test_bare_leaves_out_the_name_of_a_metric_unit_only():
    assert format_length(3600, unit="mm", is_bare=True) == "3600"
    assert format_length(3600, unit="m", is_bare=True) == "3.600"
    assert format_length(3600, unit="ft", is_bare=True) == "11' 9 3/4\""


def test_exact_text_never_rounds():
    assert format_exact(INCH / 3, unit="in") == '1/3"'
    assert format_exact(SHAKU, unit="mm") == "303 1/33 mm"
    assert format_exact(Fraction(-1, 3), unit="mm") == "-1/3 mm"
    assert format_exact(Fraction(-1, 4), unit="mm") == "-0.25 mm"
    assert format_exact(SHAKU / 3, unit="shaku") == "3寸3分3 1/3厘"


@pytest.mark.parametrize(("mm", "rounded"), [(0.25, 0.5), (0.2499, 0), (-0.25, -0.5), (1.75, 2), (Fraction(1, 4), 0.5)])
def test_halves_round_away_from_zero(mm, rounded):
    assert round_to(mm, step=Fraction(1, 2)) == rounded


@pytest.mark.parametrize(
    ("ratio", "text"),
    [
        (0, "0"),
        (0.0125, "1/80"),
        (-0.0125, "-1/80"),
        (0.0127, "1/79"),
        (0.3, "30.00 %"),
        (0.7, "70.00 %"),
        (2.0, "200.00 %"),
    ],
)
def test_a_slope_is_written_as_one_in_so_many_where_that_is_true(ratio, text):
    assert format_ratio(ratio) == text


def test_nothing_endless_is_written():
    with pytest.raises(OutOfRangeError) as raised:
        format_length(float("nan"), unit="mm")
    assert (raised.value.fault.code, raised.value.fault.found) == ("not-finite", "nan")
    with pytest.raises(OutOfRangeError) as raised:
        format_length(1, unit="ell")
    assert (raised.value.fault.code, raised.value.fault.found) == ("unit-unknown", "ell")


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (105.0, "mm", "105"),
        (38.1, "in", '1 1/2"'),
        (1066.8, "ft", "3' 6\""),
        (35.0, "in", "35 mm"),
        (340.0, "shaku", "340 mm"),
        (float(SHAKU * 3), "shaku", "3尺"),
        (0.123, "mm", "0.123 mm"),
        (909.0, "m", "0.909"),
    ],
)
def test_a_length_is_typed_as_a_tape_reads_it_and_else_in_mm(mm, unit, text):
    assert format_typed(mm, unit=unit) == text


@given(st.integers(0, 200_000_000), st.sampled_from(["mm", "cm", "m", "in", "ft", "shaku"]))
def test_what_is_typed_reads_back_as_the_same_length(fine, unit):
    for mm in (fine / 10_000, float(fine), float(UNITS[unit].step * fine)):
        assert float(parse_length(format_typed(mm, unit=unit), unit=unit)) == mm
