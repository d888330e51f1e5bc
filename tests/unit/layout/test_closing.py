"""Each closing rule on both sides of each of its limits."""

import pytest

from evenfoot.job.kinds import Closing
from evenfoot.layout import RunWish, close_run


def wish(closing, **changes):
    values = {"width": 105.0, "gap": 5.0, "gap_min": 3.0, "gap_max": 8.0, "closing": closing, "rip_min": 52.5}
    return RunWish(**(values | changes))


def total(run):
    return sum(run.widths) + (run.count - 1) * run.gap


def test_even_gap_takes_the_count_nearest_the_wished_gap():
    run = close_run(extent=3000.0, wish=wish(Closing.EVEN_GAP))
    assert run.widths == (105.0,) * 27
    assert run.gap == pytest.approx((3000 - 27 * 105) / 26, abs=1e-12)
    assert run.is_met


def test_even_gap_prefers_a_gap_in_range_to_a_nearer_one_outside_it():
    asked = wish(Closing.EVEN_GAP, gap=5.0, gap_min=4.9, gap_max=12.0)
    run = close_run(extent=10 * 105.0 + 9 * 11.0, wish=asked)
    assert (run.count, run.gap) == (10, pytest.approx(11.0))
    assert run.is_met


@pytest.mark.parametrize(("gap_max", "is_met"), [(8.0, True), (7.999, False)])
def test_even_gap_fails_just_past_its_range(gap_max, is_met):
    run = close_run(extent=4 * 105.0 + 3 * 8.0, wish=wish(Closing.EVEN_GAP, gap_max=gap_max))
    assert run.count == 4
    assert run.is_met is is_met
    assert total(run) == pytest.approx(444.0, abs=1e-9)


def test_an_infeasible_gap_names_one_board_less_as_many_and_one_more():
    run = close_run(extent=500.0, wish=wish(Closing.EVEN_GAP, gap_max=6.0))
    assert not run.is_met
    assert [(w.count, w.shortest, w.longest) for w in run.nearby] == [
        (3, 321.0, 327.0),
        (4, 429.0, 438.0),
        (5, 537.0, 549.0),
    ]
    assert [w.gap for w in run.nearby] == [pytest.approx(g) for g in (92.5, 80 / 3, -6.25)]


def test_rip_last_keeps_the_wished_gap_when_the_rip_is_wide_enough():
    run = close_run(extent=3 * 110.0 + 52.5, wish=wish(Closing.RIP_LAST))
    assert run.widths == (105.0, 105.0, 105.0, 52.5)
    assert run.gap == 5.0
    assert run.is_met


def test_rip_last_shifts_the_gap_to_whole_boards_before_it_rips_too_narrow():
    extent = 20 * 110.0 + 20.0
    run = close_run(extent=extent, wish=wish(Closing.RIP_LAST))
    assert run.widths == (105.0,) * 20
    assert 5.0 < run.gap <= 8.0
    assert run.is_met
    assert total(run) == pytest.approx(extent, abs=1e-9)


def test_rip_last_tightens_the_gap_when_whole_boards_do_not_close():
    extent = 20 * 110.0 + 30.0
    run = close_run(extent=extent, wish=wish(Closing.RIP_LAST, gap_max=6.0))
    assert run.widths == (*(105.0,) * 20, 52.5)
    assert 3.0 <= run.gap < 5.0
    assert total(run) == pytest.approx(extent, abs=1e-9)


def test_rip_last_rips_both_edges_when_no_gap_helps():
    run = close_run(extent=4 * 110.0 + 20.0, wish=wish(Closing.RIP_LAST, gap_min=4.9, gap_max=5.1, rip_min=40.0))
    assert run.widths == (pytest.approx(62.5), 105.0, 105.0, 105.0, pytest.approx(62.5))
    assert run.gap == 5.0
    assert run.is_met


def test_rip_last_says_when_nothing_avoids_a_narrow_board():
    run = close_run(extent=4 * 110.0 + 20.0, wish=wish(Closing.RIP_LAST, gap_min=4.9, gap_max=5.1, rip_min=70.0))
    assert not run.is_met
    assert run.widths == (105.0,) * 4 + (20.0,)


def test_rip_both_shares_the_rip_equally_and_as_wide_as_can_be():
    run = close_run(extent=1000.0, wish=wish(Closing.RIP_BOTH, rip_min=40.0))
    assert run.widths[0] == run.widths[-1]
    assert (105.0 - 5.0) / 2 < run.widths[0] <= 105.0
    assert set(run.widths[1:-1]) == {105.0}
    assert total(run) == pytest.approx(1000.0, abs=1e-9)


def test_rip_both_leaves_whole_boards_alone_when_they_close():
    assert close_run(extent=6 * 110.0 - 5.0, wish=wish(Closing.RIP_BOTH)).widths == pytest.approx((105.0,) * 6)


@pytest.mark.parametrize(("extent", "count"), [(1094.0, 10), (1151.0, 11), (20.0, 1)])
def test_move_outline_takes_the_nearest_run_of_whole_boards_at_the_wished_gap(extent, count):
    run = close_run(extent=extent, wish=wish(Closing.MOVE_OUTLINE))
    assert run.widths == (105.0,) * count
    assert run.gap == 5.0
    assert run.extent == count * 105.0 + (count - 1) * 5.0


@pytest.mark.parametrize("closing", [Closing.EVEN_GAP, Closing.RIP_LAST, Closing.RIP_BOTH])
def test_one_board_that_fills_its_run_is_whole(closing):
    run = close_run(extent=105.0, wish=wish(closing))
    assert (run.widths, run.is_met) == ((105.0,), True)


@pytest.mark.parametrize(
    ("closing", "extent", "is_met"),
    [
        (Closing.EVEN_GAP, 80.0, False),
        (Closing.RIP_LAST, 80.0, True),
        (Closing.RIP_LAST, 52.4, False),
        (Closing.RIP_BOTH, 80.0, True),
    ],
)
def test_a_run_under_one_board_is_one_ripped_board(closing, extent, is_met):
    run = close_run(extent=extent, wish=wish(closing))
    assert (run.widths, run.is_met) == ((extent,), is_met)


@pytest.mark.parametrize("closing", [Closing.EVEN_GAP, Closing.RIP_LAST, Closing.RIP_BOTH])
def test_a_run_a_hair_over_one_board_still_closes(closing):
    run = close_run(extent=107.0, wish=wish(closing))
    assert not run.is_met or run.widths[0] >= 52.5
    assert total(run) == pytest.approx(107.0, abs=1e-9)


def test_strip_and_shared_are_told_whatever_the_rule():
    run = close_run(extent=4 * 110.0 + 20.0, wish=wish(Closing.EVEN_GAP))
    assert run.strip == pytest.approx(20.0)
    assert run.shared == pytest.approx(62.5)
