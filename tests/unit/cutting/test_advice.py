"""Lengths that miss a cheaper stick by a little."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from cutting_factory import piece, pieces, stock_item, yard

from evenfoot.checks import Verdict
from evenfoot.cutting import plan_cuts
from evenfoot.cutting.advice import near_misses
from evenfoot.cutting.supply import sources_for
from evenfoot.words import Language, Speaker

INCH = 25.4
FOOT = 12 * INCH


def advice(plan):
    return [c for c in plan.checks if c.rule == "cut-near-miss"]


def test_posts_that_miss_eight_feet_are_told_how_much_higher_the_footings_would_have_to_be():
    had = yard(stock_item([8 * FOOT, 10 * FOOT]), kerf=INCH / 8, end_trim=INCH / 2)
    posts = tuple(piece(f"P{n}", 97.5 * INCH, use="post") for n in range(4))
    (check,) = advice(plan_cuts(posts, had))
    assert check.verdict is Verdict.OK
    assert check.fact("by_mm") == pytest.approx(2.5 * INCH)
    assert check.fact("stick_mm") == 8 * FOOT
    assert check.fact("percent") == 20.0
    assert check.remedy == "cut-near-post"
    for language in Language:
        assert Speaker(language, "in").check(check)


def test_the_advice_is_true():
    """Cut that much shorter, the section does cost that much less."""
    had = yard(stock_item([3000.0, 4000.0, 6000.0]))
    long = pieces(*[3990.0] * 3, use="beam")
    plan = plan_cuts(long, had)
    (check,) = advice(plan)
    shorter = plan_cuts(pieces(*[3990.0 - check.fact("by_mm")] * 3), had)
    assert float(1 - shorter.sections[0].cost / plan.sections[0].cost) * 100 == pytest.approx(
        check.fact("percent"), abs=0.05
    )
    assert check.remedy == "cut-near-timber"


def test_one_more_piece_from_a_stick_is_a_near_miss_too():
    (miss,) = near_misses(
        pieces(1995.0), sources_for(pieces(1.0), yard(stock_item([4000.0]))), yard(stock_item([4000.0]))
    )
    assert (miss.count, miss.stick, miss.by) == (2, 4000.0, 1995.0 - 1983.5)
    assert miss.saving == Decimal(200)


@pytest.mark.parametrize(("length", "is_told"), [(3970.0 + 75.0, True), (3970.0 + 75.5, False), (3970.0, False)])
def test_only_little_changes_are_told(length, is_told):
    had = yard(stock_item([4000.0, 6000.0]))
    assert bool(advice(plan_cuts(pieces(*[length] * 4, use="board"), had))) is is_told


def test_a_change_that_saves_little_is_not_told():
    had = yard(stock_item([3000.0]), stock_item([3100.0]))
    assert advice(plan_cuts(pieces(*[3000.0] * 4), had)) == []


def test_a_change_that_the_rest_of_the_plan_makes_useless_is_not_told():
    """Alone the long piece would save a stick; but its long stick also gives the short pieces."""
    had = yard(stock_item([4000.0, 6000.0]))
    assert advice(plan_cuts(pieces(3990.0, 1900.0), had)) == []


def test_no_advice_where_pieces_are_left_out():
    had = yard(stock_item([4000.0], available=1), stock_item([6000.0], available=1))
    assert advice(plan_cuts(pieces(*[3990.0] * 4), had)) == []
