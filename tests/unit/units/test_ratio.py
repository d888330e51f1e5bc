"""Slopes, loads and temperatures are read exactly."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.units import parse_force, parse_ratio, parse_temperature


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("1/80", Fraction(1, 80)),
        ("1:80", Fraction(1, 80)),
        ("1 : 80", Fraction(1, 80)),
        ("１／８０", Fraction(1, 80)),
        ("1 in 80", Fraction(1, 80)),
        ("1/8 in 12", Fraction(1, 96)),
        ('1/8" per ft', Fraction(1, 96)),
        ("1 cm per m", Fraction(1, 100)),
        ("1.25 %", Fraction(1, 80)),
        ("1.25%", Fraction(1, 80)),
        ("0.0125", Fraction(1, 80)),
        ("-1/80", Fraction(-1, 80)),
        (0.0125, Fraction(1, 80)),
        (Decimal("0.0125"), Fraction(1, 80)),
        (0, 0),
    ],
)
def test_a_slope_is_read_exactly(text, ratio):
    assert parse_ratio(text) == ratio


@pytest.mark.parametrize(
    "text", ["1/0", "1:0", "0:80", "1:x", "steep", "", "1.25 ‰", "1/80/2", "5 ells per ft", "1 per", "1°"]
)
def test_what_is_no_slope_is_refused(text):
    with pytest.raises(OutOfRangeError) as raised:
        parse_ratio(text)
    fault = raised.value.fault
    assert (fault.code, fault.found, fault.where) == ("ratio-unread", text, "")
    assert fault.allowed


@pytest.mark.parametrize(
    ("text", "newtons"),
    [
        (1000, 1000),
        ("1000", 1000),
        ("1000 N", 1000),
        ("2 kN", 2000),
        ("2.5kN", 2500),
        ("100 kg", Fraction("980.665")),
        ("300 lb", Fraction("1334.46648457815")),
    ],
)
def test_a_load_is_read_exactly(text, newtons):
    """Standard gravity 9.80665 m/s2; the pound-force is 4.4482216152605 N by definition."""
    assert parse_force(text) == newtons


def test_a_pound_force_has_its_defined_size():
    assert parse_force("1 lbf") == Fraction("4.4482216152605")


@pytest.mark.parametrize("text", ["heavy", "2 stone", "", "1/0 N"])
def test_what_is_no_load_is_refused(text):
    with pytest.raises(OutOfRangeError) as raised:
        parse_force(text)
    assert (raised.value.fault.code, raised.value.fault.found) == ("force-unread", text)


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        (18, 18),
        ("18", 18),
        ("18 C", 18),
        ("18°C", 18),
        ("-5 C", -5),
        ("65 F", Fraction(165, 9)),
        ("-40 F", -40),
        ("32F", 0),
    ],
)
def test_a_temperature_is_read_exactly(text, celsius):
    """-40 is the same in both scales; 32 F is freezing."""
    assert parse_temperature(text) == celsius


@pytest.mark.parametrize("text", ["warm", "300 K", ""])
def test_what_is_no_temperature_is_refused(text):
    with pytest.raises(OutOfRangeError) as raised:
        parse_temperature(text)
    assert (raised.value.fault.code, raised.value.fault.found) == ("temperature-unread", text)


@pytest.mark.parametrize("read", [parse_ratio, parse_force, parse_temperature])
def test_bare_figures_must_be_finite(read):
    with pytest.raises(OutOfRangeError) as raised:
        read(float("inf"))
    assert (raised.value.fault.code, raised.value.fault.found) == ("not-finite", "inf")
