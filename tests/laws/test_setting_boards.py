"""Laws of the running gap, against every sequence there is on small runs."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.setting.boards import OpenRun, PlannedRow, Spacing, board_marks, running_gap

widths = st.lists(st.floats(80, 150), min_size=1, max_size=30)
spacings = st.builds(
    lambda low, span, step, seen, within: Spacing(
        low=low, high=low + span, step=step, seen=max(seen, step), within=within, rip_min=50.0
    ),
    st.floats(0, 6),
    st.floats(1.01, 8),
    st.sampled_from([0.5, 1.0]),
    st.floats(0.5, 2.0),
    st.floats(0.1, 3.0),
)


def opened(found, room, last):
    return OpenRun(
        left=math.fsum(found) + room,
        widths=tuple(found),
        last_gap=last,
        left_sigma=0.5,
        width_sigma=0.2,
        common_sigma=0.0,
    )


@settings(deadline=None)
@given(widths, spacings, st.floats(0, 16), st.floats(0, 12))
def test_gaps_are_whole_spacers_in_range_and_the_eye_sees_no_jump(found, spacing, even, last):
    answer = running_gap(opened(found, even * len(found), last), spacing)
    assert len(answer.gaps) == len(found)
    for gap in answer.gaps:
        assert spacing.low - 1e-9 <= gap <= spacing.high + 1e-9
        assert gap / spacing.step == pytest.approx(round(gap / spacing.step), abs=1e-9)
    low, high = math.ceil(spacing.low / spacing.step - 1e-9), math.floor(spacing.high / spacing.step + 1e-9)
    begun = min(max(round(last / spacing.step), low), high) * spacing.step
    assert abs(answer.gaps[0] - begun) <= spacing.seen + 1e-9
    for a, b in itertools.pairwise(answer.gaps):
        assert abs(b - a) <= spacing.seen + 1e-9


@settings(deadline=None)
@given(widths, spacings, st.floats(0, 16), st.floats(0, 12))
def test_the_spacers_land_the_last_edge_where_it_says(found, spacing, even, last):
    run = opened(found, even * len(found), last)
    answer = running_gap(run, spacing)
    rows = [PlannedRow(number=n + 1, near=0.0, far=0.0) for n in range(len(found))]
    marks = board_marks(rows, laid_to=1234.0, gaps=answer.gaps, widths=found)
    assert marks[-1].far - (1234.0 + run.left) == pytest.approx(answer.misses, abs=1e-6)
    if answer.is_reachable:
        assert abs(answer.misses) <= spacing.within + 1e-6
    elif answer.rip is not None and answer.rip.width > 0 and answer.rip.count > 0:
        ripped = [*found[: len(found) - answer.rip.count], *([answer.rip.width] * answer.rip.count)]
        closed = board_marks(rows, laid_to=1234.0, gaps=answer.gaps, widths=ripped)
        assert closed[-1].far == pytest.approx(1234.0 + run.left, abs=1e-6)


small = Spacing(low=2.0, high=6.0, step=1.0, seen=1.0, within=0.5, rip_min=50.0)


@settings(deadline=None)
@given(st.integers(1, 6), st.floats(0, 8), st.integers(2, 6))
def test_no_other_sequence_of_spacers_comes_nearer_by_more_than_the_tolerance(count, even, last):
    room = even * count
    answer = running_gap(opened([100.0] * count, room, float(last)), small)
    best = min(
        abs(sum(gaps) - room)
        for gaps in itertools.product(range(2, 7), repeat=count)
        if all(abs(b - a) <= 1 for a, b in itertools.pairwise((last, *gaps)))
    )
    assert answer.is_reachable == (best <= small.within + 1e-9)
    if answer.is_reachable or answer.misses < 0:
        assert abs(answer.misses) <= max(best, small.within) + 1e-6


@settings(deadline=None)
@given(widths, spacings, st.floats(0, 16))
def test_one_spacer_is_kept_where_one_will_do(found, spacing, even):
    run = opened(found, even * len(found), None)
    answer = running_gap(run, spacing)
    gaps = len(found) - 1
    room = even * len(found)
    ladder = range(math.ceil(spacing.low / spacing.step - 1e-9), math.floor(spacing.high / spacing.step + 1e-9) + 1)
    single = [k for k in ladder if abs(k * spacing.step * gaps - room) <= spacing.within]
    if gaps and single:
        assert len(answer.batches) == 1
