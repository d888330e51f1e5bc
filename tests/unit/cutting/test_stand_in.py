"""A better wood or strength grade may stand in for a lesser one at its price, never the reverse."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import came, offcut, piece, stock_item, yard

from evenfoot.cutting import plan_cuts
from evenfoot.cutting.group import nested
from evenfoot.job import kinds

HINOKI = {"species": "hinoki", "stands_in_for": ("sugi",), "where": "hinoki"}
SUGI = {"species": "sugi", "where": "sugi"}


def where(plan):
    return {c.mark: k.where for s in plan.sections for k in s.sticks for c in k.cuts}


def test_what_is_left_of_the_better_wood_serves_the_lesser():
    wanted = (piece("good", 1900.0), piece("plain", 1900.0, species="sugi"))
    apart = yard(stock_item([4000.0], species="hinoki", where="hinoki"), stock_item([4000.0], price="50", **SUGI))
    joined = yard(stock_item([4000.0], **HINOKI), stock_item([4000.0], price="50", **SUGI))
    assert where(plan_cuts(wanted, apart)) == {"good": "hinoki", "plain": "sugi"}
    plan = plan_cuts(wanted, joined)
    assert where(plan) == {"good": "hinoki", "plain": "hinoki"}
    assert sum(s.cost for s in plan.sections) == Decimal(400)
    assert all(s.is_proved for s in plan.sections)
    assert [s.species for s in plan.sections] == ["hinoki"]


def test_the_lesser_never_stands_in_for_the_better():
    plan = plan_cuts(
        (piece("good", 1900.0),), yard(stock_item([4000.0], price="50", **SUGI), stock_item([1000.0], **HINOKI))
    )
    assert [p.mark for p in plan.left_out] == ["good"]
    assert [c.rule for c in plan.checks if c.verdict.value == "fails"] == ["cut-too-long"]


def test_a_wood_that_the_yard_lacks_is_had_in_the_better_one():
    plan = plan_cuts((piece("plain", 1900.0, species="sugi"),), yard(stock_item([2000.0], **HINOKI)))
    assert where(plan) == {"plain": "hinoki"}


def test_a_strength_grade_stands_in_in_the_same_way():
    strong = stock_item([2000.0], strength_grade="c30", stands_in_for=("c24",), where="c30")
    plan = plan_cuts((piece("a", 900.0, strength_grade="c24"), piece("b", 900.0, strength_grade="c30")), yard(strong))
    assert where(plan) == {"a": "c30", "b": "c30"}
    assert len(plan.sections) == 1


def test_an_offcut_and_a_stick_in_hand_stand_in_as_their_wood_does():
    had = yard(
        stock_item([4000.0], **HINOKI), stock_item([4000.0], **SUGI), rack=[offcut(1500.0, clean_ends=2, value="1")]
    )
    assert where(plan_cuts((piece("a", 1400.0, species="sugi"),), had)) == {"a": "rack[0]"}
    assert where(plan_cuts((piece("a", 1400.0, species="sugi"),), had, [came("k1", 1500.0)])) == {"a": ""}


def test_woods_whose_sticks_cannot_be_ranked_are_planned_apart_and_not_called_proved():
    """A fine stick of the lesser wood and a common one of the better: each serves what the other does not."""
    had = yard(
        stock_item([4000.0], **HINOKI),
        stock_item([4000.0], look=kinds.Look.FINE, **SUGI),
    )
    wanted = (piece("good", 1900.0), piece("fine", 1900.0, species="sugi", look=kinds.Look.FINE))
    plan = plan_cuts(wanted, had)
    assert where(plan) == {"good": "hinoki", "fine": "sugi"}
    assert not any(s.is_proved for s in plan.sections)


@pytest.mark.parametrize(
    ("given", "parts"),
    [
        (["a", "ab", "abc"], ["a", "ab", "abc"]),
        (["abc", "a", "ab"], ["abc", "a", "ab"]),
        (["ab", "abcd", "bc"], ["ab", "abcd", "b"]),
        (["ab", "cd"], ["ab", ""]),
        (["a", "abc", "abd"], ["a", "abc", "ab"]),
    ],
)
def test_sets_are_ranked_by_leaving_out_as_little_as_that_takes(given, parts):
    made = nested([frozenset(text) for text in given])
    assert made == [frozenset(text) for text in parts]
    assert all(part <= frozenset(text) for part, text in zip(made, given, strict=True))
