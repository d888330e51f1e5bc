"""Rips side by side, what a plan comes to, where a long piece may be spliced, what an offcut is worth."""

from __future__ import annotations

import sys
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import offcut, piece, pieces, stock_item, yard

from evenfoot.cutting import plan_cuts, told, with_spares
from evenfoot.job import kinds
from evenfoot.words import Language, Speaker

BOARD = {"width": 105.0, "depth": 20.0}


@pytest.mark.parametrize(("width", "lengths"), [(51.0, 1), (51.5, 2)])
def test_two_rips_come_from_one_length_where_they_fit_with_a_saw_cut(width, lengths):
    wanted = (piece("a", 1800.0, rip_width=width, **BOARD), piece("b", 1700.0, rip_width=width, **BOARD))
    (section,) = plan_cuts(wanted, yard(stock_item([2000.0], **BOARD), kerf=3.0)).sections
    cuts = [c for k in section.sticks for c in k.cuts]
    assert len(cuts) == lengths
    assert sorted(m for c in cuts for m in c.marks) == ["a", "b"]
    assert section.is_proved
    if lengths == 1:
        assert [(r.mark, r.length, r.width) for r in cuts[0].rips] == [("a", 1800.0, width), ("b", 1700.0, width)]
        assert cuts[0].finish - cuts[0].begin == 1800.0


def test_a_rip_beside_one_of_a_better_look_takes_the_better_stick():
    fine, common = (
        stock_item([2000.0], look=look, where=look.value, **BOARD) for look in (kinds.Look.FINE, kinds.Look.COMMON)
    )
    wanted = (
        piece("a", 1800.0, rip_width=40.0, **BOARD),
        piece("b", 1800.0, rip_width=40.0, look=kinds.Look.FINE, **BOARD),
    )
    plan = plan_cuts(wanted, yard(fine, common))
    assert [k.where for s in plan.sections for k in s.sticks] == ["fine"]


def test_waste_is_what_is_neither_piece_nor_kept_in_length_and_money():
    had = yard(stock_item([4000.0], price="100", by=kinds.PriceBy.METRE), kerf=3.0, end_trim=15.0, keep=500.0)
    sections = plan_cuts(pieces(1900.0, 1000.0), had).sections
    tally = told.tally(sections)
    assert (tally.sticks, tally.net_length, tally.bought_length) == (1, 2900.0, 4000.0)
    assert tally.kept_length == 4000.0 - 30.0 - 2900.0 - 6.0
    assert tally.waste_length == 36.0
    assert tally.waste_share == pytest.approx(0.009)
    assert tally.waste_cost == Decimal("3.60")
    assert (tally.price_low, tally.cost, tally.gap, tally.gap_sticks) == (400, 400, 0, 0)
    assert told.proof_of(tally).code == "cut.proved-best"


def test_an_open_gap_is_told_in_sticks_rounded_down():
    tally = told.tally(plan_cuts(pieces(1900.0), yard(stock_item([4000.0]))).sections)
    for bound, sticks, code in (("1", 0, "cut.gap-under-a-stick"), ("-400", 2, "cut.gap-sticks")):
        open_gap = replace(tally, bound=Decimal(bound), is_proved=False)
        proof = told.proof_of(open_gap)
        assert (proof.code, proof.sticks) == (code, sticks)
        for language in Language:
            Speaker(language).say(proof.code, gap=str(proof.gap), percent=proof.percent, count=proof.sticks)


def test_what_is_bought_is_counted_as_the_yard_counts():
    by_volume = stock_item([4000.0], by=kinds.PriceBy.CUBIC_METRE, price="65000", rough_width=110.0, rough_depth=110.0)
    had = yard(by_volume, rack=[offcut(1200.0, clean_ends=2)])
    rack, new = told.bought(plan_cuts(pieces(3900.0, 3900.0, 1100.0), had).sections)
    assert (rack.kind, rack.quantity, rack.unit, rack.section) == ("rack", 1, "piece", (105.0, 105.0))
    assert (new.kind, new.quantity, new.unit, new.section, new.planed) == (
        "yard",
        2,
        "m3",
        (110.0, 110.0),
        (105.0, 105.0),
    )
    assert new.amount == pytest.approx(2 * 0.11 * 0.11 * 4.0)
    assert new.low == Decimal("6292.00")


def beam(length, *supports):
    return piece("A1-9", length, use="beam", supports=tuple((at, f"P{n}") for n, at in enumerate(supports)))


@pytest.mark.parametrize(
    ("supports", "remedy", "marks"),
    [
        ((0.0, 2500.0, 5000.0), "cut-splice-over", "P1"),
        ((100.0, 1500.0, 2600.0, 3600.0, 4900.0), "cut-splice-over", "P2"),
        ((0.0, 900.0, 5000.0), "cut-add-support", ""),
        ((0.0, 5000.0), "cut-add-support", ""),
        ((), "cut-shorten-or-splice", ""),
    ],
)
def test_a_piece_too_long_is_told_over_which_post_it_may_be_spliced(supports, remedy, marks):
    plan = plan_cuts((beam(5000.0, *supports),), yard(stock_item([4000.0])))
    (check,) = [c for c in plan.checks if c.rule == "cut-too-long"]
    assert check.remedy == remedy
    if marks:
        assert check.fact("marks") == marks
        assert check.fact("part_mm") <= 3970.0
    if remedy == "cut-add-support":
        assert (check.fact("from_mm"), check.fact("to_mm")) == (1030.0, 3970.0)
    for language in Language:
        assert Speaker(language).check(check)


def test_two_splices_are_named_where_one_is_not_enough():
    plan = plan_cuts((beam(9000.0, 0.0, 2000.0, 3900.0, 6000.0, 7500.0, 9000.0),), yard(stock_item([4000.0])))
    (check,) = [c for c in plan.checks if c.rule == "cut-too-long"]
    assert (check.remedy, check.fact("marks")) == ("cut-splice-over", "P2, P3")
    assert check.fact("part_mm") == 3900.0


def test_an_offcut_that_counts_turns_the_choice_of_stick():
    """900 from a stick of 1000 at 100, or from one of 2000 at 150 that leaves 1097 worth half of 75 a metre."""
    items = [
        stock_item([1000.0], price="100", by=kinds.PriceBy.PIECE, where="short"),
        stock_item([2000.0], price="150", by=kinds.PriceBy.PIECE, where="long"),
    ]
    plain = yard(*items, kerf=3.0, end_trim=0.0, keep=500.0)
    (section,) = plan_cuts(pieces(900.0), plain).sections
    assert [k.where for k in section.sticks] == ["short"]
    (section,) = plan_cuts(pieces(900.0), replace(plain, keep_worth=Decimal("0.9"))).sections
    (stick,) = section.sticks
    assert stick.where == "long"
    assert stick.kept_worth == pytest.approx(Decimal("0.9") * 75 * Decimal("1.097"), abs=Decimal("0.001"))
    assert section.cost == stick.cost_low - stick.kept_worth
    assert section.is_proved


def test_pieces_for_one_place_come_from_one_stick_where_that_is_asked():
    had = yard(stock_item([4000.0]), kerf=3.0, end_trim=15.0)
    wanted = tuple(piece(f"{row}{n}", 1900.0, use="board", place=row) for n in (1, 2) for row in "abc")
    asked = replace(had, together=(kinds.Part.BOARD,), goals=(kinds.CutGoal.TOGETHER,))
    rows = [{c.mark[0] for c in k.cuts} for k in plan_cuts(wanted, asked).sections[0].sticks]
    assert sorted(map(sorted, rows)) == [["a"], ["b"], ["c"]]


def test_a_spare_is_whole_and_as_good_as_the_best_of_its_part():
    wanted = (
        piece("a", 1800.0, use="board", look=kinds.Look.COMMON, **BOARD),
        piece("b", 1200.0, use="board", look=kinds.Look.FINE, rip_width=40.0, **BOARD),
        piece("c", 2500.0, use="joist"),
    )
    *_, spare = with_spares(wanted, (("board", 1), ("post", 3)))
    assert (spare.mark, spare.length, spare.look, spare.rip_width, spare.is_spare) == (
        "spare1",
        1800.0,
        kinds.Look.FINE,
        None,
        True,
    )
    assert [Speaker(language).mark("spare1") for language in Language] == ["spare 1", "予備1"]


def test_narrow_pieces_listed_by_their_count_are_each_cut_once():
    one = piece("a", 1800.0, rip_width=40.0, **BOARD)
    for count in (1, 2, 3, 5):
        plan = plan_cuts((one,) * count, yard(stock_item([2000.0], **BOARD)))
        marks = [m for s in plan.sections for k in s.sticks for c in k.cuts for m in c.marks]
        assert marks == ["a"] * count
        assert sum(len(s.sticks) for s in plan.sections) == -(-count // 2)


def test_two_woods_are_never_ripped_from_one_length():
    stock = (
        stock_item([2000.0], where="better", stands_in_for=("sugi",), price="200", **BOARD),
        stock_item([2000.0], where="lesser", species="sugi", **BOARD),
    )
    wanted = (
        piece("long", 1800.0, rip_width=40.0, **{**BOARD, "species": "sugi"}),
        piece("short", 1700.0, rip_width=40.0, **BOARD),
    )
    plan = plan_cuts(wanted, yard(*stock))
    assert {c.marks: k.where for s in plan.sections for k in s.sticks for c in k.cuts} == {
        ("long",): "lesser",
        ("short",): "better",
    }
