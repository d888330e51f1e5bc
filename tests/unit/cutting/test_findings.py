"""What cannot be cut as asked is said, with the nearest change, and left out of the plan."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import offcut, piece, pieces, stock_item, yard

from evenfoot.checks import Verdict
from evenfoot.cutting import plan_cuts
from evenfoot.errors import OutOfRangeError
from evenfoot.job import kinds
from evenfoot.solvers.cutstock import CutLimits
from evenfoot.words import Language, Speaker

PLAIN = stock_item([3000.0, 4000.0])


def finding(plan, rule):
    (check,) = [c for c in plan.checks if c.rule == rule]
    for language in Language:
        assert Speaker(language).check(check)
    return check


def test_a_piece_too_long_is_named_with_what_would_do():
    wanted = (*pieces(900.0), piece("A1-3", 4100.0, use="beam"), piece("B1-3", 4100.0, use="beam"))
    plan = plan_cuts(wanted, yard(PLAIN))
    check = finding(plan, "cut-too-long")
    assert (check.subject, check.verdict, check.demand, check.capacity) == ("A1-3", Verdict.FAILS, 4100.0, 3970.0)
    assert check.ratio == pytest.approx(4100 / 3970)
    assert check.fact("count") == 2
    assert check.fact("short_mm") == 130.0
    assert check.fact("needed_mm") == 4130.0
    assert (check.reason, check.remedy) == ("", "cut-shorten-or-splice")
    assert [p.mark for p in plan.left_out] == ["A1-3", "B1-3"]
    assert [c.mark for s in plan.sections for k in s.sticks for c in k.cuts] == ["p0"]


@pytest.mark.parametrize(("length", "is_cut"), [(3970.0, True), (3970.5, False)])
def test_both_sides_of_the_longest_piece(length, is_cut):
    plan = plan_cuts(pieces(length), yard(PLAIN))
    assert bool(plan.sections) is is_cut
    assert bool(plan.left_out) is not is_cut


@pytest.mark.parametrize(
    ("use", "remedy"),
    [
        ("post", "cut-raise-footing"),
        ("board", "cut-shorten-board"),
        ("block", "cut-shorten-timber"),
        ("joist", "cut-shorten-or-splice"),
    ],
)
def test_the_nearest_change_suits_the_use(use, remedy):
    plan = plan_cuts(pieces(4100.0, use=use), yard(PLAIN))
    assert finding(plan, "cut-too-long").remedy == remedy


def test_a_length_that_the_yard_has_in_other_sections_is_named():
    other = stock_item([3000.0, 5000.0, 6000.0], width=120.0)
    check = finding(plan_cuts(pieces(4100.0), yard(PLAIN, other)), "cut-too-long")
    assert check.reason == "cut-other-sections-are-longer"
    assert check.fact("stick_mm") == 5000.0


def test_a_long_offcut_counts_as_the_longest():
    had = yard(PLAIN, rack=[offcut(4500.0, clean_ends=2)])
    check = finding(plan_cuts(pieces(4600.0), had), "cut-too-long")
    assert check.capacity == 4500.0


def test_a_section_that_is_not_sold_is_named_with_the_nearest_one():
    plan = plan_cuts(pieces(900.0, width=90.0, depth=120.0), yard(PLAIN, stock_item([3000.0], width=90.0, depth=45.0)))
    check = finding(plan, "cut-no-section")
    assert (check.fact("width_mm"), check.fact("depth_mm")) == (90.0, 120.0)
    assert (check.fact("near_width_mm"), check.fact("near_depth_mm")) == (105.0, 105.0)
    assert plan.left_out


def test_a_wood_that_is_not_sold_is_named():
    check = finding(plan_cuts(pieces(900.0, species="sugi"), yard(PLAIN)), "cut-no-species")
    assert check.fact("species_code") == "species.sugi"


def test_a_strength_grade_that_is_not_sold_is_named_with_the_one_that_is():
    check = finding(plan_cuts(pieces(900.0, strength_grade="e70"), yard(PLAIN)), "cut-no-grade")
    assert (check.fact("grade"), check.fact("sold")) == ("e70", "ungraded")


def test_a_lesser_look_never_stands_in_for_a_better_one():
    check = finding(plan_cuts(pieces(900.0, look=kinds.Look.SMALL_KNOT), yard(PLAIN)), "cut-no-look")
    assert (check.fact("look_code"), check.fact("best_code")) == ("sheet-look.small-knot", "sheet-look.common")


def test_a_better_look_that_is_too_short_does_not_hide_behind_a_lesser_long_one():
    fine = stock_item([2000.0], look=kinds.Look.FINE)
    check = finding(plan_cuts(pieces(2500.0, look=kinds.Look.FINE), yard(PLAIN, fine)), "cut-too-long")
    assert check.capacity == 1970.0


@pytest.mark.parametrize("length", [0.0, -241.3])
def test_a_piece_without_length_is_reported_and_left_out(length):
    plan = plan_cuts((piece("C2", length, use="post"), *pieces(900.0)), yard(PLAIN))
    assert finding(plan, "cut-no-length").subject == "C2"
    assert [p.mark for p in plan.left_out] == ["C2"]
    assert len(plan.sections) == 1


@pytest.mark.parametrize("length", [float("nan"), float("inf")])
def test_a_length_that_is_no_number_is_refused(length):
    with pytest.raises(OutOfRangeError) as error:
        plan_cuts((*pieces(900.0), piece("C2", length)), yard(PLAIN))
    fault = error.value.fault
    assert (fault.where, fault.code, fault.found) == ("pieces[1].length", "piece-length", f"{length} mm")


def test_too_few_sticks_are_counted_and_the_rest_is_planned():
    few = stock_item([4000.0], available=2)
    plan = plan_cuts(pieces(*[1900.0] * 9), yard(few))
    check = finding(plan, "cut-supply-short")
    assert (check.verdict, check.fact("had"), check.fact("more"), check.fact("stick_mm")) == (
        Verdict.FAILS,
        2,
        3,
        4000.0,
    )
    assert check.fact("count") == len(plan.left_out) == 5
    (section,) = plan.sections
    assert len(section.sticks) == 2
    assert section.cost == section.bound == Decimal("800.00")
    assert section.is_proved


def test_supply_that_just_lasts_is_no_finding():
    plan = plan_cuts(pieces(*[1900.0] * 4), yard(stock_item([4000.0], available=2)))
    assert plan.checks == ()
    assert len(plan.sections[0].sticks) == 2


def test_long_pieces_get_the_few_long_sticks():
    few = stock_item([4000.0], available=1, price="1", by=kinds.PriceBy.PIECE)
    plenty = stock_item([2000.0], price="900", by=kinds.PriceBy.PIECE)
    plan = plan_cuts(pieces(1900.0, 1900.0, 3900.0), yard(few, plenty))
    assert plan.left_out == ()
    assert plan.sections[0].cost == Decimal("1801.00")


def test_stock_of_which_none_can_be_had_is_not_stock():
    plan = plan_cuts(pieces(1900.0), yard(stock_item([4000.0], available=0)))
    assert plan.left_out
    assert plan.sections == ()


def test_a_plan_that_is_not_proved_says_so_with_its_gap(monkeypatch):
    monkeypatch.setattr(
        sys.modules[plan_cuts.__module__], "LIMITS", CutLimits(pricing_rounds=1, work=0, patterns=5, tie_work=0)
    )
    lengths = [775.0, 1665.0, 2235.0, 2143.0, 2064.0, 629.0, 1022.0, 741.0, 1514.0] * 4
    stock = [
        stock_item([n], price=p, by=kinds.PriceBy.PIECE) for n, p in ((3000.0, "313"), (4000.0, "409"), (3650.0, "377"))
    ]
    made = plan_cuts(pieces(*lengths), yard(*stock))
    (section,) = made.sections
    assert not section.is_proved
    assert section.bound < section.cost
    check = finding(made, "cut-not-proved")
    assert check.verdict is Verdict.NOT_CHECKED
    gap = (section.cost - section.bound) / section.cost * 100
    assert check.fact("gap") == pytest.approx(float(gap), abs=0.006)


def test_a_missing_stick_costs_no_piece_that_another_stick_has_room_for():
    """Three of 2001 from two sticks of 3000: one is left out, the short pieces are not."""
    plan = plan_cuts(pieces(150.0, 2001.0, 2001.0, 2001.0, 160.0), yard(stock_item([3000.0], available=2)))
    assert [p.length for p in plan.left_out] == [2001.0]
    assert finding(plan, "cut-supply-short").fact("more") == 1
