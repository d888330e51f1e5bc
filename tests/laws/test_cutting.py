"""Laws of cutting: equal to trying everything, each piece once, kerf counted, more choice never dearer."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "solvers_cutstock"))
sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "cutting"))
from brute import cheapest, faults_of
from cutting_factory import offcut, piece, pieces, stock_item, yard

from evenfoot.cutting import plan_cuts
from evenfoot.errors import NoSolutionError
from evenfoot.job import kinds
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


def marks_of(plan):
    return [c.mark for section in plan.sections for stick in section.sticks for c in stick.cuts]


def check_sticks(plan, had):
    """Check by the tape: every cut in its stick, a kerf apart, clear of the trims."""
    by_mark = {p.mark: p for p in plan.pieces}
    trim = {"yard": (had.end_trim, had.end_trim)}
    for number, item in enumerate(had.rack):
        trim[f"rack[{number}]"] = {0: (had.end_trim, had.end_trim), 1: (0.0, had.end_trim), 2: (0.0, 0.0)}[
            item.clean_ends
        ]
    for section in plan.sections:
        for stick in section.sticks:
            first, far = trim[stick.where if stick.source == "rack" else "yard"]
            at = first
            for cut in stick.cuts:
                assert cut.begin == pytest.approx(at, abs=1e-9)
                assert cut.finish - cut.begin == pytest.approx(by_mark[cut.mark].length, abs=1e-9)
                at = cut.finish + had.kerf
            assert stick.cuts[-1].finish <= stick.length - far + 1e-6
            rest = stick.length - far - at
            assert stick.left_over == pytest.approx(rest if rest > 0.5 else 0.0, abs=1e-9)
            assert stick.is_kept == (stick.left_over > 0 and stick.left_over >= had.keep)
        assert section.cost == sum(stick.cost_low for stick in section.sticks)
        assert section.bound <= section.cost
        assert section.is_proved == (section.bound == section.cost)


@given(lengths, st.sampled_from([0.0, 2.5, 3.0, 3.2]), st.sampled_from([0.0, 15.0, 12.7]))
@settings(max_examples=60, deadline=None)
def test_each_piece_lies_once_on_a_stick_clear_of_trims_and_kerfs(wanted, kerf, trim):
    had = yard(stock_item([4000.0, 3000.0]), kerf=kerf, end_trim=trim)
    plan = plan_cuts(pieces(*wanted), had)
    assert sorted(marks_of(plan)) == sorted(p.mark for p in plan.pieces)
    check_sticks(plan, had)


LOOKS = [kinds.Look.FINE, kinds.Look.COMMON]


@st.composite
def small_yards(draw):
    """At most eight pieces of four lengths; two looks, prices of any kind, limited sticks, offcuts of all ends."""
    lengths = draw(st.lists(st.integers(300, 2900), min_size=1, max_size=4, unique=True))
    wanted = draw(st.lists(st.tuples(st.sampled_from(lengths), st.sampled_from(LOOKS)), min_size=1, max_size=8))
    stock = [stock_item([3000.0], price=str(draw(st.integers(5, 40))), by=kinds.PriceBy.PIECE, look=kinds.Look.FINE)]
    for _ in range(draw(st.integers(0, 2))):
        item = stock_item(
            draw(
                st.lists(st.sampled_from([1000.0, 1820.0, 2000.0, 3000.0, 4000.0]), min_size=1, max_size=2, unique=True)
            ),
            price=str(draw(st.integers(1, 40))),
            by=draw(st.sampled_from([kinds.PriceBy.PIECE, kinds.PriceBy.METRE])),
            look=draw(st.sampled_from(LOOKS)),
            available=draw(st.sampled_from([None, None, 1, 3])),
        )
        stock.append(item)
    rack = [
        offcut(
            float(draw(st.integers(300, 3000))),
            count=draw(st.integers(1, 2)),
            clean_ends=draw(st.integers(0, 2)),
            value=str(draw(st.integers(0, 9))),
            look=draw(st.sampled_from(LOOKS)),
            where=f"rack[{n}]",
        )
        for n in range(draw(st.integers(0, 2)))
    ]
    had = yard(*stock, rack=rack, kerf=float(draw(st.integers(0, 5))), end_trim=float(draw(st.integers(0, 30))))
    return tuple(piece(f"p{n}", float(length), look=look) for n, (length, look) in enumerate(wanted)), had


def in_plain_numbers(wanted, had):
    """Put a yard into whole millimetres and hundredths by hand, for the search that tries everything."""
    kerf, trim = int(had.kerf), int(had.end_trim)
    kinds_of = {(p.length, p.look) for p in wanted}
    items = [
        CutItem(
            size=int(length) + kerf, demand=sum((p.length, p.look) == (length, look) for p in wanted), grade=-look.rank
        )
        for length, look in sorted(kinds_of)
    ]
    stocks = []
    for item in had.stock:
        for length in item.lengths:
            price = item.price.low * (1 if item.price.by is kinds.PriceBy.PIECE else Decimal(length) / 1000)
            size = int(length) - 2 * trim + kerf
            stocks.append(
                CutStock(size=size, price=round(price * 100), available=item.available, grade=-item.look.rank)
            )
    for rest in had.rack:
        size = max(0, int(rest.length) - (2 - rest.clean_ends) * trim + kerf)
        stocks.append(CutStock(size=size, price=int(rest.value * 100), available=rest.count, grade=-rest.look.rank))
    return items, stocks


@given(small_yards())
@settings(max_examples=120, deadline=None)
def test_a_plan_with_everything_in_it_is_the_cheapest_of_all(case):
    wanted, had = case
    longest = 3000 - 2 * had.end_trim
    plan = plan_cuts(wanted, had)
    check_sticks(plan, had)
    assert all(p.length > longest for p in plan.left_out)
    assert sorted([*marks_of(plan), *(p.mark for p in plan.left_out)]) == sorted(p.mark for p in wanted)
    fitting = tuple(p for p in wanted if p not in plan.left_out)
    looks = {
        stick.where: item.look
        for item in had.rack
        for s in plan.sections
        for stick in s.sticks
        if stick.where == item.where
    }
    asked = {p.mark: p.look for p in wanted}
    for section in plan.sections:
        for stick in section.sticks:
            given_look = looks.get(stick.where, section.look) if stick.source == "rack" else section.look
            assert all(given_look.rank <= asked[c.mark].rank for c in stick.cuts)
    if fitting:
        assert all(s.is_proved for s in plan.sections)
        assert sum(s.cost for s in plan.sections) * 100 == cheapest(*in_plain_numbers(fitting, had))


@given(lengths, st.integers(1000, 5000), st.integers(0, 2))
@settings(max_examples=40, deadline=None)
def test_an_offcut_or_another_length_never_makes_a_job_dearer(wanted, length, clean):
    def cost(*stock, rack=()):
        plan = plan_cuts(pieces(*wanted), yard(*stock, rack=rack))
        assert all(s.is_proved for s in plan.sections)
        return sum(s.cost for s in plan.sections)

    plain = stock_item([4000.0])
    assert cost(plain, rack=[offcut(float(length), clean_ends=clean)]) <= cost(plain)
    assert cost(plain, stock_item([float(length)], price="97")) <= cost(plain)
    assert cost(stock_item([4000.0], price="99")) <= cost(plain)


def test_better_may_stand_in_for_lesser_and_never_the_reverse():
    fine = stock_item([4000.0], price="300", look=kinds.Look.FINE)
    common = stock_item([4000.0], price="100")
    wanted = (piece("plain", 1900.0), piece("seen", 1900.0, look=kinds.Look.FINE))
    (section,) = plan_cuts(wanted, yard(fine, common)).sections
    # Both from one fine stick at 1200 is cheaper than one fine and one common at 1600.
    assert section.cost == Decimal(1200)
    only_common = plan_cuts(wanted, yard(common))
    assert [(c.rule, c.subject) for c in only_common.checks if c.verdict.value == "fails"] == [("cut-no-look", "seen")]


@given(lengths)
@settings(max_examples=20, deadline=None)
def test_the_same_pieces_give_the_same_plan(wanted):
    had = yard(stock_item([4000.0, 3000.0]), rack=[offcut(1500.0)])
    assert plan_cuts(pieces(*wanted), had) == plan_cuts(pieces(*wanted), had)
