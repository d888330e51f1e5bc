"""Lines from several devices."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from evenfoot.office.desk import by_clock, differing
from evenfoot.words import Speaker


def line(time, value, mark="A1"):
    return json.dumps({"time": time, "what": "post-gap", "mark": mark, "value_mm": value})


MORNING, NOON, EVENING = (
    line(f"2026-11-26T{hour}:00:00", value) for hour, value in (("08", 251), ("12", 252), ("18", 253))
)


def test_what_a_phone_brings_late_takes_its_place_by_the_clock():
    assert by_clock([NOON, MORNING]) == by_clock([MORNING, NOON]) == (MORNING, NOON)


def test_offsets_are_left_out_for_a_site_has_one_clock():
    there = line("2026-11-26T09:00:00+09:00", 1)
    assert by_clock([there, MORNING]) == (MORNING, there)


@given(st.permutations([MORNING, NOON, EVENING]))
def test_the_order_of_coming_does_not_matter(order):
    assert by_clock(order) == (MORNING, NOON, EVENING)


def test_lines_of_one_second_keep_the_order_they_came_in():
    twice = [line("2026-11-26T08:00:00", value) for value in (9, 3, 7)]
    assert by_clock(twice) == tuple(twice)


def test_readings_that_differ_are_told_and_those_that_agree_are_not():
    assert differing([MORNING], [NOON], Speaker())
    assert not differing([MORNING], [MORNING], Speaker())
    assert not differing([MORNING], [line("2026-11-26T09:00:00", 260, mark="B1")], Speaker())
