"""What came and what is sawn: sticks shrink, pieces are done, a miscut is timber in hand, nothing is forgotten."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import came, fact, offcut, piece, pieces, sawn, stock_item, yard

from evenfoot.cutting import plan_cuts
from evenfoot.words import Language, Speaker

HAD = yard(stock_item([4000.0], where="stock[0]"), kerf=3.0, end_trim=15.0)


def sticks_of(plan):
    return {
        (k.source, k.name): [(c.mark, c.begin, c.finish, c.is_done) for c in k.cuts]
        for s in plan.sections
        for k in s.sticks
    }


def rules(plan):
    for check in plan.checks:
        for language in Language:
            assert Speaker(language).check(check)
    return [c.rule for c in plan.checks if c.rule.startswith(("cut-fact", "cut-idle"))]


def test_a_stick_in_hand_goes_before_one_that_must_be_bought():
    plan = plan_cuts(pieces(1900.0, 1900.0), HAD, [came("k1", 3990.0)])
    assert sticks_of(plan) == {("hand", "k1"): [("p0", 15.0, 1915.0, False), ("p1", 1918.0, 3818.0, False)]}
    assert sum(s.cost for s in plan.sections) == 0
    assert all(s.is_proved for s in plan.sections)


def test_a_stick_that_came_short_is_taken_as_it_is():
    plan = plan_cuts(pieces(1980.0, 1980.0, 1980.0), HAD, [came("k1", 3991.0)])
    assert [len(cuts) for _, cuts in sorted(sticks_of(plan).items())] == [1, 2]
    assert sticks_of(plan)[("hand", "k1")][0][1:] == (15.0, 1995.0, False)


def test_a_sawn_piece_stays_and_its_stick_is_shorter_by_it_and_a_kerf():
    lines = [came("k1", 4000.0), sawn("p1", 1000.0, "k1")]
    plan = plan_cuts(pieces(2900.0, 1000.0), HAD, lines)
    assert [d.mark for d in plan.done] == ["p1"]
    assert sticks_of(plan) == {("hand", "k1"): [("p1", 15.0, 1015.0, True), ("p0", 1018.0, 3918.0, False)]}
    (stick,) = plan.sections[0].sticks
    assert stick.rests == ((3921.0, 3985.0),)


@pytest.mark.parametrize(("length", "is_done"), [(1001.0, True), (999.0, True), (998.9, False), (1001.1, False)])
def test_a_millimetre_either_way_is_the_piece(length, is_done):
    plan = plan_cuts(pieces(1000.0), HAD, [came("k1", 4000.0), sawn("p0", length, "k1")])
    assert bool(plan.done) is is_done
    assert ("cut-fact-short" in rules(plan) or "cut-fact-long" in rules(plan)) is not is_done


def test_a_piece_sawn_short_is_planned_again_and_serves_for_a_shorter_one():
    lines = [came("k1", 2100.0), sawn("long", 1960.0, "k1")]
    wanted = (piece("long", 2000.0), piece("other", 1965.0), piece("short", 1955.0))
    plan = plan_cuts(wanted, HAD, lines)
    assert plan.done == ()
    assert rules(plan) == ["cut-fact-short"]
    assert sticks_of(plan)[("hand", "long")] == [("short", 0.0, 1955.0, False)]
    assert [m for (source, _), cuts in sticks_of(plan).items() if source == "yard" for m, *_ in cuts] == [
        "long",
        "other",
    ]


def test_a_piece_sawn_long_is_sawn_again_from_itself():
    plan = plan_cuts(pieces(1000.0), HAD, [came("k1", 1035.0), sawn("p0", 1004.0, "k1")])
    assert rules(plan) == ["cut-fact-long"]
    assert sticks_of(plan) == {("hand", "p0"): [("p0", 0.0, 1000.0, False)]}
    done = plan_cuts(pieces(1000.0), HAD, [came("k1", 1035.0), sawn("p0", 1004.0, "k1"), sawn("p0", 1000.0, "p0")])
    assert [(d.mark, d.stick) for d in done.done] == [("p0", "p0")]
    assert done.sections == ()


def test_where_a_piece_lies_may_be_told_and_both_sides_of_it_stay():
    plan = plan_cuts(pieces(1000.0, 900.0, 1800.0), HAD, [came("k1", 4000.0), sawn("p0", 1000.0, "k1", at=1000.0)])
    (cuts,) = [c for (source, _), c in sticks_of(plan).items() if source == "hand"]
    assert cuts == [("p1", 15.0, 915.0, False), ("p0", 1000.0, 2000.0, True), ("p2", 2003.0, 3803.0, False)]


def test_a_stick_measured_again_is_what_it_is_now():
    lines = [came("k1", 4000.0), sawn("p0", 1000.0, "k1"), came("k1", 2500.0, clean_ends=1)]
    plan = plan_cuts(pieces(1000.0, 2480.0), HAD, lines)
    assert [d.mark for d in plan.done] == ["p0"]
    assert sticks_of(plan) == {("hand", "k1"): [("p1", 0.0, 2480.0, False)]}


def test_a_stick_that_is_gone_gives_nothing():
    plan = plan_cuts(pieces(1000.0), HAD, [came("k1", 4000.0), fact("stick-gone", "k1")])
    assert list(sticks_of(plan)) == [("yard", "")]


def test_bad_stretches_are_sawn_out_and_the_saw_goes_inside_them():
    plan = plan_cuts(pieces(1400.0, 700.0), HAD, [came("k1", 3000.0, bad=((800.0, 950.0), (2400.0, 2401.0)))])
    (stick,) = plan.sections[0].sticks
    assert [(c.mark, c.begin, c.finish) for c in stick.cuts] == [("p1", 15.0, 715.0), ("p0", 950.0, 2350.0)]
    assert stick.rests == ((718.0, 800.0), (2353.0, 2400.0), (2403.0, 2985.0))
    assert stick.left_over == 582.0


def test_a_flaw_is_kept_off_a_seen_face_and_led_through_for_the_rest():
    flawed = came("k1", 3000.0, flaws=((1000.0, 1050.0),))
    clear = plan_cuts(pieces(2000.0, is_clear=True), yard(stock_item([4000.0])), [flawed])
    assert list(sticks_of(clear)) == [("yard", "")] or sticks_of(clear)[("hand", "k1")][0][1] >= 1050.0
    longer = plan_cuts(pieces(2500.0, is_clear=True), HAD, [flawed])
    assert list(sticks_of(longer)) == [("yard", "")]
    hidden = plan_cuts(pieces(2500.0), HAD, [flawed])
    assert list(sticks_of(hidden)) == [("hand", "k1")]
    assert all(s.is_proved for s in hidden.sections)


def test_a_flawed_offcut_takes_a_piece_that_nothing_else_gives():
    had = yard(rack=[offcut(3000.0, flaws=((1000.0, 1050.0),), clean_ends=2)])
    plan = plan_cuts((piece("a", 2500.0), piece("b", 400.0, is_clear=True)), had)
    assert [c.mark for s in plan.sections for k in s.sticks for c in k.cuts] == ["a"]
    assert [p.mark for p in plan.left_out] == ["b"]


def test_sticks_that_nothing_is_cut_from_are_named():
    plan = plan_cuts(pieces(3900.0), HAD, [came("k1", 4000.0), came("k2", 4000.0), came("k3", 900.0, species="sugi")])
    assert rules(plan) == ["cut-idle-sticks"]
    (check,) = [c for c in plan.checks if c.rule == "cut-idle-sticks"]
    assert check.fact("count") == 2
    assert {k.name for k in plan.idle} == {"k3", *({"k1", "k2"} - {k.name for s in plan.sections for k in s.sticks})}


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        (sawn("p0", 1000.0, "k9"), "cut-fact-stick-unknown"),
        (fact("stick-gone", "k9"), "cut-fact-stick-unknown"),
        (sawn("q", 500.0, "k1"), "cut-fact-piece-unknown"),
        (sawn("p0", 1000.0, "k2"), "cut-fact-no-room"),
        (sawn("p0", 1000.0, "k1", at=3500.0), "cut-fact-no-room"),
    ],
)
def test_a_fact_that_cannot_be_is_said(line, rule):
    plan = plan_cuts(pieces(1000.0), HAD, [came("k1", 4000.0), came("k2", 900.0), line])
    assert rule in rules(plan)


def test_timber_in_hand_counts_for_what_an_offcut_counts_for():
    from dataclasses import replace
    from decimal import Decimal

    had = replace(HAD, keep_worth=Decimal("0.5"))
    (section,) = plan_cuts(pieces(1000.0), had, [came("k1", 1030.0)]).sections
    (stick,) = section.sticks
    assert (stick.source, stick.new_low) == ("hand", Decimal("103.00"))
    assert section.cost == Decimal("50.00")  # half the price of a clear metre
