"""Laws of a cutting plan in the trade: it can be sawn, better timber never makes it worse, facts stay facts."""

from __future__ import annotations

import sys
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "solvers_cutstock"))
sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "cutting"))
from brute import cheapest
from cut_checker import problems_of
from cutting_factory import came, offcut, piece, sawn, stock_item, yard

from evenfoot.cutting import plan_cuts, with_spares
from evenfoot.job import kinds
from evenfoot.solvers.cutstock import CutItem, CutStock

LOOKS = [kinds.Look.FINE, kinds.Look.COMMON]
BOARD = {"width": 105.0, "depth": 20.0}


@st.composite
def stretches(draw, length, most=2):
    ends = sorted(draw(st.lists(st.integers(0, int(length)), min_size=0, max_size=2 * most, unique=True)))
    return tuple((float(a), float(b)) for a, b in zip(ends[::2], ends[1::2], strict=False))


@st.composite
def shops(draw):
    """A yard with limits, two looks, offcuts of all ends, bad stretches and flaws; sticks in hand; an offcut's worth."""
    stock = [
        stock_item(
            draw(st.lists(st.sampled_from([2000.0, 3000.0, 4000.0]), min_size=1, max_size=2, unique=True)),
            price=str(draw(st.integers(50, 400))),
            look=look,
            available=draw(st.sampled_from([None, None, 2])),
            where=f"stock[{n}]",
            **BOARD,
        )
        for n, look in enumerate(draw(st.lists(st.sampled_from(LOOKS), min_size=1, max_size=2, unique=True)))
    ]
    rack = []
    for n in range(draw(st.integers(0, 2))):
        length = float(draw(st.integers(400, 3000)))
        flawed = {"bad": draw(stretches(length)), "flaws": draw(stretches(length, 1))}
        rack.append(
            offcut(
                length,
                count=draw(st.integers(1, 2)),
                clean_ends=draw(st.integers(0, 2)),
                value=str(draw(st.integers(0, 90))),
                look=draw(st.sampled_from(LOOKS)),
                where=f"rack[{n}]",
                **flawed,
                **BOARD,
            )
        )
    hand = []
    for n in range(draw(st.integers(0, 2))):
        length = float(draw(st.integers(400, 4000)))
        hand.append(
            came(
                f"k{n}",
                length,
                look=draw(st.sampled_from(LOOKS)),
                clean_ends=draw(st.integers(0, 2)),
                bad=draw(stretches(length)),
                flaws=draw(stretches(length, 1)),
                **BOARD,
            )
        )
    saw = {"kerf": float(draw(st.integers(0, 5))), "end_trim": float(draw(st.integers(0, 30))), "keep": 300.0}
    made = yard(*stock, rack=rack, **saw)
    return replace(made, keep_worth=Decimal(draw(st.sampled_from(["0", "0", "0.3", "0.9"])))), tuple(hand)


@st.composite
def wanted(draw):
    kinds_of = draw(
        st.lists(
            st.tuples(
                st.integers(150, 3500), st.sampled_from(LOOKS), st.booleans(), st.sampled_from([None, None, 40.0, 51.0])
            ),
            min_size=1,
            max_size=5,
        )
    )
    marks = range(len(kinds_of))
    return tuple(
        piece(
            f"p{n}.{k}", float(length), use="board", look=look, is_clear=is_clear, rip_width=rip, place=f"r{n}", **BOARD
        )
        for n, (length, look, is_clear, rip) in zip(marks, kinds_of, strict=True)
        for k in range(draw(st.integers(1, 3)))
    )


@given(wanted(), shops())
@settings(max_examples=120, deadline=None)
def test_every_plan_can_be_sawn_as_it_is_told(pieces, shop):
    had, hand = shop
    assert problems_of(plan_cuts(pieces, had, hand), had, hand) == []


@given(wanted(), shops())
@settings(max_examples=40, deadline=None)
def test_better_timber_never_makes_a_plan_worse(pieces, shop):
    """All sticks of the best look without a flaw: no more left out, and no dearer when nothing was."""
    had, hand = shop
    best = kinds.Look.CLEAR
    better = replace(
        had,
        stock=tuple(replace(item, look=best) for item in had.stock),
        rack=tuple(replace(rest, look=best, flaws=()) for rest in had.rack),
    )
    finer = tuple(replace(line, came=replace(line.came, look=best, flaws=())) for line in hand)
    one, other = plan_cuts(pieces, had, hand), plan_cuts(pieces, better, finer)
    is_short = any(c.rule == "cut-supply-short" for plan in (one, other) for c in plan.checks)
    assert is_short or len(other.left_out) <= len(one.left_out)  # which piece a missing stick costs is not optimised
    if not one.left_out and not had.keep_worth and all(s.is_proved for s in other.sections):
        assert sum(s.cost for s in other.sections) <= sum(s.cost for s in one.sections)


@given(wanted(), shops(), st.data())
@settings(max_examples=60, deadline=None)
def test_what_is_sawn_stays_where_it_was_sawn(pieces, shop, data):
    """Saw some of the planned cuts of the sticks in hand, one of them wrong, and plan again."""
    had, hand = shop
    first = plan_cuts(pieces, had, hand)
    cuts = [(k, cut) for s in first.sections for k in s.sticks if k.source == "hand" for cut in k.cuts if not cut.rips]
    some = data.draw(st.lists(st.sampled_from(cuts), unique=True, max_size=3)) if cuts else []
    off = data.draw(st.sampled_from([0.0, 0.0, 0.9, -30.0]))
    facts = [
        sawn(c.mark, c.finish - c.begin + (off if n == 0 else 0.0), k.name, at=c.begin) for n, (k, c) in enumerate(some)
    ]
    facts = [f for f in facts if f.value > 20 and (off <= 0 or f is not facts[0])]
    again = plan_cuts(pieces, had, (*hand, *facts))
    looks = {p.mark: p.look for p in pieces}  # a miscut is at least what its piece asked for
    assert (
        problems_of(
            again, had, (*hand, *(came(f.mark, f.value, clean_ends=2, look=looks[f.mark], **BOARD) for f in facts))
        )
        == []
    )
    miscut = {f.mark for n, f in enumerate(facts) if off == -30.0 and f is facts[0]}
    assert {d.mark for d in again.done} == {f.mark for f in facts} - miscut
    told = {k.name: k for s in again.sections for k in s.sticks} | {k.name: k for k in again.idle}
    for fact in facts:
        (placed,) = [c for c in told[fact.stick].cuts if c.mark == fact.mark and c.is_done]
        assert placed.begin == fact.at
        assert placed.finish == pytest.approx(fact.at + fact.value)


@given(wanted(), st.integers(0, 3))
@settings(max_examples=30, deadline=None)
def test_spares_are_cut_with_the_rest(pieces, count):
    had = yard(stock_item([4000.0], look=kinds.Look.CLEAR, **BOARD))
    plan = plan_cuts(with_spares(pieces, (("board", count),)), had)
    assert problems_of(plan, had) == []
    spares = [p for p in plan.pieces if p.is_spare]
    assert len(spares) == count
    for spare in spares:
        assert spare.length == max(p.length for p in pieces)
        assert all(spare.look.rank <= p.look.rank for p in pieces)
        assert spare.rip_width is None


def pairings(rips, kerf):
    """Yield every way to rip some of the pieces two from one length: lists of single pieces and pairs."""
    if not rips:
        yield []
        return
    first, *rest = rips
    yield from ([(first,), *others] for others in pairings(rest, kerf))
    for n, other in enumerate(rest):
        if first.rip_width + other.rip_width + kerf <= 105.0:
            yield from ([(first, other), *others] for others in pairings([*rest[:n], *rest[n + 1 :]], kerf))


@given(
    st.lists(
        st.tuples(st.integers(3, 39), st.sampled_from([None, 30.0, 51.0, 60.0]), st.sampled_from(LOOKS)),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from([0.0, 3.0]),
    st.integers(20, 60),
)
@settings(max_examples=80, deadline=None)
def test_no_other_pairing_of_narrow_pieces_is_cheaper_than_a_proved_plan(wanted, kerf, price):
    """Lengths are whole decimetres, so that trying everything stays small."""
    pieces = tuple(
        piece(f"p{n}", 100.0 * length, look=look, rip_width=rip, **BOARD)
        for n, (length, rip, look) in enumerate(wanted)
    )
    items = [
        stock_item([4000.0], price="100", by=kinds.PriceBy.PIECE, look=kinds.Look.FINE, where="a", **BOARD),
        stock_item([3000.0], price=str(price), by=kinds.PriceBy.PIECE, where="b", **BOARD),
    ]
    had = yard(*items, kerf=kerf, end_trim=0.0)
    plan = plan_cuts(pieces, had)
    stocks = [
        CutStock(size=4000 + int(kerf), price=100, grade=-kinds.Look.FINE.rank),
        CutStock(size=3000 + int(kerf), price=price, grade=-kinds.Look.COMMON.rank),
    ]
    rips = [p for p in pieces if p.rip_width is not None]
    whole = [(p,) for p in pieces if p.rip_width is None]
    least = min(
        cheapest(
            [
                CutItem(
                    size=int(max(p.length for p in lot)) + int(kerf), demand=1, grade=max(-p.look.rank for p in lot)
                )
                for lot in (*whole, *pairing)
            ],
            stocks,
        )
        for pairing in pairings(rips, kerf)
    )
    cost, bound = (sum(getattr(s, name) for s in plan.sections) for name in ("cost", "bound"))
    assert bound <= least <= cost
    if all(s.is_proved for s in plan.sections):
        assert cost == least
    if len({p.look for p in rips}) <= 1 and len({p.rip_width for p in rips}) <= 1:
        assert all(s.is_proved for s in plan.sections)
