"""Where to saw: running dimensions, order of pieces and sticks, offcuts, prices."""

from __future__ import annotations

import sys
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import offcut, piece, pieces, stock_item, yard

from evenfoot.cutting import plan_cuts
from evenfoot.errors import OutOfRangeError
from evenfoot.job import kinds

PATTERNS, OFFCUTS = kinds.CutGoal.FEWER_PATTERNS, kinds.CutGoal.LONGER_OFFCUTS


def only(plan):
    assert [c for c in plan.checks if c.verdict.value != "ok"] == []
    (section,) = plan.sections
    return section


def placed(stick):
    return [(c.mark, c.begin, c.finish) for c in stick.cuts]


def test_pieces_run_from_the_trimmed_end_longest_first_a_kerf_apart():
    section = only(plan_cuts(pieces(700.0, 1500.25, 900.0), yard(stock_item([4000.0]))))
    (stick,) = section.sticks
    assert placed(stick) == [("p1", 15.0, 1515.25), ("p2", 1518.25, 2418.25), ("p0", 2421.25, 3121.25)]
    assert stick.left_over == 4000.0 - 15.0 - 3121.25 - 3.0
    assert stick.is_kept
    assert (stick.source, stick.where) == ("yard", "stock[0]")


def test_what_is_left_is_kept_from_the_shortest_length_worth_keeping():
    left = 4000.0 - 15.0 - 15.0 - 2970.0 - 3.0
    for keep, is_kept in ((left, True), (left + 0.5, False)):
        (stick,) = only(plan_cuts(pieces(2970.0), yard(stock_item([4000.0]), keep=keep))).sticks
        assert stick.left_over == left
        assert stick.is_kept is is_kept


@pytest.mark.parametrize("length", [3970.0, 3968.0, 3966.5])
def test_sawdust_is_no_offcut(length):
    (stick,) = only(plan_cuts(pieces(length), yard(stock_item([4000.0]), keep=0.0))).sticks
    assert stick.left_over == 0.0
    assert not stick.is_kept


@pytest.mark.parametrize(("clean", "begin", "longest"), [(0, 15.0, 1170.0), (1, 0.0, 1185.0), (2, 0.0, 1200.0)])
def test_an_offcut_is_begun_from_its_clean_end_and_trimmed_only_where_it_must_be(clean, begin, longest):
    had = yard(stock_item([4000.0]), rack=[offcut(1200.0, clean_ends=clean, value="1")])
    (stick,) = only(plan_cuts(pieces(longest), had)).sticks
    assert (stick.source, stick.length, placed(stick)) == ("rack", 1200.0, [("p0", begin, begin + longest)])
    (bought,) = only(plan_cuts(pieces(longest + 0.5), had)).sticks
    assert bought.source == "yard"


def test_the_rack_is_told_first_and_costs_its_value():
    had = yard(stock_item([4000.0]), rack=[offcut(1200.0, value="12.346")])
    section = only(plan_cuts(pieces(1100.0, 3900.0), had))
    assert [s.source for s in section.sticks] == ["rack", "yard"]
    assert [s.cost_low for s in section.sticks] == [Decimal("12.35"), Decimal("400.00")]
    assert section.cost == Decimal("412.35")
    assert section.bought_length == 5200.0
    assert section.net_length == 5000.0


def test_an_offcut_that_costs_more_than_new_timber_stays_in_the_rack():
    had = yard(stock_item([2000.0]), rack=[offcut(1200.0, value="201")])
    (stick,) = only(plan_cuts(pieces(1100.0), had)).sticks
    assert stick.source == "yard"


def test_at_the_same_price_the_offcut_goes_first():
    had = yard(stock_item([2000.0]), rack=[offcut(1200.0, value="200")])
    (stick,) = only(plan_cuts(pieces(1100.0), had)).sticks
    assert stick.source == "rack"


def test_an_offcut_of_another_wood_stays_in_the_rack():
    had = yard(stock_item([2000.0]), rack=[offcut(1200.0, species="sugi"), offcut(1200.0, width=90.0)])
    (stick,) = only(plan_cuts(pieces(1100.0), had)).sticks
    assert stick.source == "yard"


def test_no_more_offcuts_are_used_than_there_are():
    had = yard(stock_item([2000.0]), rack=[offcut(1200.0, count=2)])
    section = only(plan_cuts(pieces(*[1100.0] * 5), had))
    assert [s.source for s in section.sticks].count("rack") == 2


def test_equal_sticks_stand_together_with_marks_in_the_order_of_the_job():
    section = only(plan_cuts(pieces(*[1300.0, 900.0] * 4), yard(stock_item([4000.0]))))
    alike = [tuple(round(c.finish - c.begin) for c in s.cuts) for s in section.sticks]
    assert len(set(alike)) == 1 + sum(a != b for a, b in pairwise(alike))
    long = [c.mark for s in section.sticks for c in s.cuts if round(c.finish - c.begin) == 1300]
    assert long == ["p0", "p2", "p4", "p6"]


def test_of_equal_prices_the_high_one_decides_then_fewer_sticks():
    short = stock_item([2000.0], price="200", high="200", by=kinds.PriceBy.PIECE, where="short")
    long = stock_item([4000.0], price="400", high="500", by=kinds.PriceBy.PIECE, where="long")
    section = only(plan_cuts(pieces(*[1900.0] * 4), yard(short, long)))
    assert [s.where for s in section.sticks] == ["short"] * 4
    alike = stock_item([4000.0], price="400", high="400", by=kinds.PriceBy.PIECE, where="long")
    section = only(plan_cuts(pieces(*[1900.0] * 4), yard(short, alike)))
    assert [s.where for s in section.sticks] == ["long"] * 2
    assert sum(s.cost_high for s in section.sticks) == 800


def test_the_order_of_the_goals_decides_between_plans_of_one_price():
    wanted, plain = pieces(1000.0, 1000.0, 1000.0, 1000.0), yard(stock_item([4000.0]), keep=1000.0)
    alike = only(plan_cuts(wanted, replace(plain, goals=(PATTERNS, OFFCUTS))))
    assert [len(s.cuts) for s in alike.sticks] == [2, 2]
    long = only(plan_cuts(wanted, replace(plain, goals=(OFFCUTS, PATTERNS))))
    assert sorted(len(s.cuts) for s in long.sticks) == [1, 3]
    assert max(s.left_over for s in long.sticks) == 4000.0 - 15.0 - 1015.0 - 3.0


def test_a_section_lies_either_way_round_and_tells_what_is_bought():
    item = stock_item([4000.0], width=38.0, depth=90.0, rough_width=40.0, rough_depth=95.0, label="2x4")
    section = only(plan_cuts(pieces(900.0, width=90.0, depth=38.0), yard(item)))
    assert (section.width, section.depth, section.rough_width, section.rough_depth) == (90.0, 38.0, 40.0, 95.0)
    assert (section.label, section.look, section.strength_grade) == ("2x4", kinds.Look.COMMON, "ungraded")


def test_groups_do_not_share_sticks():
    wanted = (
        piece("a", 900.0),
        piece("b", 900.0, species="sugi"),
        piece("c", 900.0, strength_grade="e70"),
        piece("d", 900.0, width=90.0),
    )
    items = [
        stock_item([2000.0]),
        stock_item([2000.0], species="sugi"),
        stock_item([2000.0], strength_grade="e70"),
        stock_item([2000.0], width=90.0),
    ]
    plan = plan_cuts(wanted, yard(*items))
    assert [[c.mark for s in section.sticks for c in s.cuts] for section in plan.sections] == [
        ["a"],
        ["b"],
        ["c"],
        ["d"],
    ]
    assert plan.pieces == wanted


def test_two_looks_bought_are_told_in_two_sections_whose_bounds_add_up():
    fine = stock_item([2000.0], price="300", look=kinds.Look.FINE, label="fine")
    common = stock_item([4000.0], label="plain")
    wanted = (piece("seen", 1900.0, look=kinds.Look.FINE), piece("hidden", 3900.0))
    plan = plan_cuts(wanted, yard(common, fine, rack=[offcut(500.0, look=kinds.Look.CLEAR, value="0")]))
    assert [(s.look, s.label, s.cost) for s in plan.sections] == [
        (kinds.Look.FINE, "fine", Decimal("600.00")),
        (kinds.Look.COMMON, "plain", Decimal("400.00")),
    ]
    assert all(s.is_proved for s in plan.sections)
    assert sum(s.bound for s in plan.sections) == Decimal("1000.00")


def test_an_offcut_of_a_look_that_nothing_bought_has_stands_by_itself():
    had = yard(stock_item([4000.0]), rack=[offcut(1200.0, look=kinds.Look.CLEAR, value="1")])
    plan = plan_cuts(pieces(1100.0, 3900.0), had)
    assert [(s.look, [k.source for k in s.sticks]) for s in plan.sections] == [
        (kinds.Look.CLEAR, ["rack"]),
        (kinds.Look.COMMON, ["yard"]),
    ]
    assert (plan.sections[0].rough_width, plan.sections[0].label) == (105.0, "")


@pytest.mark.parametrize(
    ("by", "low", "high", "cost"),
    [
        (kinds.PriceBy.PIECE, "1234.5", "1300", ("1234.50", "1300.00")),
        (kinds.PriceBy.METRE, "333.333", "400", ("1333.33", "1600.00")),
        (kinds.PriceBy.CUBIC_METRE, "65000", "100000", ("3146.00", "4840.00")),
    ],
)
def test_a_stick_is_priced_by_piece_metre_or_rough_volume(by, low, high, cost):
    item = stock_item([4000.0], price=low, high=high, by=by, rough_width=110.0, rough_depth=110.0)
    (stick,) = only(plan_cuts(pieces(3900.0), yard(item))).sticks
    assert (stick.cost_low, stick.cost_high) == tuple(Decimal(c) for c in cost)


def test_a_price_that_a_stick_has_nothing_of_is_refused():
    item = stock_item([4000.0], by=kinds.PriceBy.LITRE, where="stock[3]")
    with pytest.raises(OutOfRangeError) as error:
        plan_cuts(pieces(900.0), yard(item))
    fault = error.value.fault
    assert (fault.where, fault.code, fault.found) == ("stock[3].price_by", "stick-priced-by", "litre")


def test_nothing_to_cut_is_an_empty_plan():
    plan = plan_cuts((), yard(stock_item([4000.0])))
    assert (plan.pieces, plan.sections, plan.checks, plan.left_out) == ((), (), (), ())
