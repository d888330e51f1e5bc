"""Laws of lengths: what is written reads back exactly, in every unit."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.errors import OutOfRangeError
from evenfoot.units import UNITS, format_exact, format_length, parse_length, round_to

units = st.sampled_from(sorted(UNITS))
counts = st.integers(min_value=-(10**6), max_value=10**6)


@given(unit=units, count=counts)
@settings(max_examples=300)
def test_a_multiple_of_the_step_reads_back_exactly(unit, count):
    mm = count * UNITS[unit].step
    assert parse_length(format_length(mm, unit=unit), unit="mm") == mm


@given(unit=units, mm=st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=9999))
@settings(max_examples=300)
def test_exact_text_reads_back_exactly(unit, mm):
    assert parse_length(format_exact(mm, unit=unit), unit="mm") == mm


@given(unit=units, mm=st.floats(min_value=-1e6, max_value=1e6))
@settings(max_examples=300)
def test_written_length_is_within_half_a_step(unit, mm):
    step = UNITS[unit].step
    back = parse_length(format_length(mm, unit=unit), unit="mm")
    assert abs(back - Fraction(str(mm))) <= step / 2
    assert back == round_to(mm, step=step)


@given(unit=units, figure=st.decimals(min_value=-9999, max_value=9999, places=4))
@settings(max_examples=200)
def test_a_bare_figure_is_in_the_declared_unit(unit, figure):
    assert parse_length(figure, unit=unit) == Fraction(figure) * UNITS[unit].mm
    assert parse_length(f"{figure:f}", unit=unit) == parse_length(f"{figure:f} {unit}", unit="mm")


def fault_of(text):
    try:
        parse_length(text, unit="mm")
    except OutOfRangeError as error:
        return error.fault
    return None


@given(text=st.text(max_size=90))
@settings(max_examples=250)
def test_any_text_is_read_or_refused_with_a_fault(text):
    fault = fault_of(text)
    if fault is not None:
        assert fault.code.startswith(("length-", "figure-"))
        assert text.startswith(fault.found.removesuffix("…"))


@given(text=st.from_regex(r"\A[-+]?[0-9０-９ ./'\"½尺寸分mcinft-]{0,24}\Z"))
@settings(max_examples=400)
def test_text_that_looks_like_a_length_never_breaks_the_reader(text):
    try:
        mm = parse_length(text, unit="in")
    except OutOfRangeError:
        return
    assert parse_length(format_exact(mm, unit="in"), unit="mm") == mm
