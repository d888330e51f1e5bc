"""Laws of cutting: equal to trying everything, each piece once, kerf counted, more choice never dearer."""

from __future__ import annotations

import sys
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "solvers_cutstock"))
sys.path.insert(0, str(Path(__file__).parents[1] / "reference" / "cutting"))
from brute import cheapest, faults_of
from test_cutting_reference import piece, stock_item

from evenfoot.cutting import plan_cuts
from evenfoot.errors import NoSolutionError
from evenfoot.job import Yard, kinds
from evenfoot.job.shop import Offcut
from evenfoot.solvers.cutstock import CutItem, CutProof, CutStock, solve_cutting

items = st.lists(
    st.builds(CutItem, size=st.integers(3, 40), demand=st.integers(1, 3), grade=st.integers(0, 1)),
    min_size=1,
    max_size=3,
    unique_by=lambda i: (i.size, i.grade),
)
stocks = st.lists(
    st.builds(
        CutStock,
        size=st.integers(10, 80),
        price=st.integers(1, 50),
        available=st.sampled_from([None, None, 1, 2]),
        grade=st.integers(0, 1),
    ),
    min_size=1,
    max_size=3,
).map(lambda s: [*s, CutStock(size=80, price=60, available=None, grade=1)])


@given(items, stocks)
@settings(max_examples=150, deadline=None)
def test_the_plan_is_the_cheapest_of_all(wanted, had):
    result = solve_cutting(wanted, had)
    least = cheapest(wanted, had)
    assert faults_of(wanted, had, result) == []
    assert result.bound <= least <= result.cost
    if result.proof is not CutProof.NONE:
        assert result.cost == least


@given(items, stocks, st.integers(10, 80), st.integers(1, 50))
@settings(max_examples=60, deadline=None)
def test_more_choice_never_costs_more(wanted, had, size, price):
    before, after = solve_cutting(wanted, had), solve_cutting(wanted, [*had, CutStock(size=size, price=price)])
    if CutProof.NONE not in {before.proof, after.proof}:
        assert after.cost <= before.cost


def test_a_size_that_nothing_gives_is_refused():
    with pytest.raises(NoSolutionError) as error:
        solve_cutting([CutItem(size=90, demand=1)], [CutStock(size=80, price=1)])
    assert error.value.fault.code == "cut-no-stock"


lengths = st.lists(st.integers(200, 3900).map(float), min_size=1, max_size=12)


def yard_of(*sticks: float, rack: tuple[Offcut, ...] = (), kerf: float = 3.0) -> Yard:
    return Yard(stock=(stock_item(sticks, price="100"),), rack=rack, kerf=kerf, end_trim=15.0, keep=500.0)


@given(lengths, st.sampled_from([0.0, 2.5, 3.0]))
@settings(max_examples=60, deadline=None)
def test_each_piece_lies_once_on_a_stick_clear_of_trims_and_kerfs(wanted, kerf):
    pieces = tuple(piece(f"p{n}", length) for n, length in enumerate(wanted))
    (section,) = plan_cuts(pieces, yard_of(4000.0, 3000.0, kerf=kerf)).sections
    marks = [c.mark for stick in section.sticks for c in stick.cuts]
    assert sorted(marks) == sorted(p.mark for p in pieces)
    for stick in section.sticks:
        at = 15.0
        for cut in stick.cuts:
            assert cut.begin == pytest.approx(at, abs=0.51)  # pieces are rounded up to the half millimetre
            assert cut.finish - cut.begin == pytest.approx(wanted[int(cut.mark[1:])], abs=0.51)
            at = cut.finish + kerf
        assert stick.cuts[-1].finish <= stick.length - 15.0 + 1e-6
    assert section.cost >= section.bound


@given(lengths)
@settings(max_examples=30, deadline=None)
def test_an_offcut_in_the_rack_never_makes_a_job_dearer(wanted):
    pieces = tuple(piece(f"p{n}", length) for n, length in enumerate(wanted))
    offcut = Offcut(
        species="hinoki",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        width=105.0,
        depth=105.0,
        length=1500.0,
        count=1,
        clean_ends=1,
        value=Decimal(10),
        where="rack[0]",
    )
    plain = plan_cuts(pieces, yard_of(4000.0)).sections[0]
    with_rack = plan_cuts(pieces, yard_of(4000.0, rack=(offcut,))).sections[0]
    if plain.is_proved and with_rack.is_proved:
        assert with_rack.cost <= plain.cost


def test_better_may_stand_in_for_lesser_and_never_the_reverse():
    fine = replace(stock_item([4000.0], price="300"), look=kinds.Look.FINE)
    common = stock_item([4000.0], price="100")
    wanted = (piece("plain", 1900.0), replace(piece("seen", 1900.0), look=kinds.Look.FINE))
    yard = Yard(stock=(fine, common), rack=(), kerf=3.0, end_trim=15.0, keep=500.0)
    (section,) = plan_cuts(wanted, yard).sections
    # Both from one fine stick at 1200 is cheaper than one fine and one common at 1600.
    assert section.cost == Decimal(1200)
    only_common = plan_cuts(wanted, replace(yard, stock=(common,)))
    assert [(c.rule, c.subject) for c in only_common.checks if c.verdict.value == "fails"] == [("cut-no-look", "seen")]
