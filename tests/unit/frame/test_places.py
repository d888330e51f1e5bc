"""Places on a line: fewest, even, clear."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.frame.places import choose, clear_places, even_places, split_line

spots = st.lists(st.integers(0, 60), min_size=2, max_size=9, unique=True).map(lambda v: [float(x) for x in sorted(v)])


@given(spots, st.integers(3, 40))
@settings(max_examples=200)
def test_choose_equals_trying_every_subset(candidates, spacing):
    def cost(chosen):
        gaps = [b - a for a, b in itertools.pairwise(chosen)]
        worst = max(max(0.0, g - spacing) for g in gaps)
        return (worst, len(chosen), sum(g * g for g in gaps))

    inner = candidates[1:-1]
    everything = [
        (candidates[0], *mid, candidates[-1]) for n in range(len(inner) + 1) for mid in itertools.combinations(inner, n)
    ]
    best = min(cost(c) for c in everything)
    assert cost(choose(candidates, float(spacing)).at) == pytest.approx(best)


@given(st.floats(100, 9000), st.floats(200, 3000))
def test_even_places_keep_the_spacing_with_the_fewest(run, spacing):
    places = even_places(0.0, run, spacing)
    gaps = [b - a for a, b in itertools.pairwise(places)]
    assert places[0] == 0.0
    assert places[-1] == run
    assert max(gaps) <= spacing * (1 + 1e-9)
    assert len(gaps) == max(1, math.ceil(run / spacing - 1e-9))


def test_a_blocked_place_moves_and_the_rest_share_the_room():
    places = clear_places(first=0.0, last=2400.0, spacing_max=1300.0, blocked=[(1100.0, 1290.0)])
    assert places.at[1] in (1100.0, 1290.0)
    assert places.widest <= 1300.0


def test_a_blocked_end_moves_inward():
    places = clear_places(first=0.0, last=2000.0, spacing_max=1000.0, blocked=[(-50.0, 100.0)])
    assert places.at[0] == pytest.approx(100.0)
    assert places.at[-1] == 2000.0


@given(
    st.lists(st.integers(1, 99), min_size=1, max_size=7, unique=True).map(sorted),
    st.integers(20, 90),
)
@settings(max_examples=200)
def test_split_line_uses_the_fewest_pieces_that_fit(supports, longest):
    cuts = split_line(start=0.0, end=100.0, supports=supports, longest=float(longest), avoid=frozenset())
    feasible = [
        c
        for n in range(len(supports) + 1)
        for c in itertools.combinations(supports, n)
        if all(b - a <= longest for a, b in zip((0, *c), (*c, 100), strict=True))
    ]
    if not feasible:
        assert cuts == ()
    else:
        assert len(cuts) == min(len(c) for c in feasible)
        ends = (0.0, *cuts, 100.0)
        assert all(b - a <= longest for a, b in itertools.pairwise(ends))
