"""Joints on joists, against all splits that there are of small boards."""

import itertools
import random

import pytest

from evenfoot.layout.splits import Span, best_split, cost_of, shortest_stock, split_pair, step_graph
from evenfoot.layout.stagger import plan_splits

LENGTHS = (1500.0, 2100.0)


def span(count, *, spacing=450.0, overhang=52.5, first=0, end_gap=3.0):
    lines = tuple(overhang + spacing * i for i in range(count))
    return Span(u0=0.0, u1=lines[-1] + overhang, first=first, lines=lines, inset=end_gap / 2)


def uneven(seed, count):
    gaps = random.Random(seed).choices((310.0, 395.0, 450.0, 505.0), k=count)
    lines = tuple(itertools.accumulate(gaps))
    return Span(u0=0.0, u1=lines[-1] + 60.0, first=seed % 3, lines=lines, inset=1.5)


def pieces(board, joints):
    at = [board.lines[j - board.first] for j in joints]
    starts = (board.u0, *(u + board.inset for u in at))
    ends = (*(u - board.inset for u in at), board.u1)
    return [b - a for a, b in zip(starts, ends, strict=True)]


def all_splits(board, lengths):
    orders = range(board.first, board.first + len(board.lines))
    for count in range(len(board.lines) + 1):
        for joints in itertools.combinations(orders, count):
            at = (-1, *(j - board.first for j in joints), len(board.lines))
            supports = [b - a + 1 - (a < 0) - (b == len(board.lines)) for a, b in itertools.pairwise(at)]
            if min(supports) >= 2 and max(pieces(board, joints)) <= lengths[-1]:
                yield joints


def priced(board, joints, taken=frozenset()):
    cost = cost_of(board, step_graph(board, LENGTHS), joints=joints)
    near = sum((j - 1 in taken) + (j + 1 in taken) for j in joints)
    return (*cost[:3], near, cost[4])


@pytest.mark.parametrize("seed", range(12))
def test_best_split_is_the_cheapest_of_all_splits(seed):
    board = uneven(seed, 9)
    taken = frozenset(random.Random(seed).sample(range(board.first, board.first + 9), 3))
    found = best_split(board, step_graph(board, LENGTHS), taken=taken)
    allowed = [j for j in all_splits(board, LENGTHS) if taken.isdisjoint(j)]
    if not allowed:
        assert found is None
        return
    assert found is not None
    assert found.joints in allowed
    assert found.cost == pytest.approx(min(priced(board, j, taken) for j in allowed))


@pytest.mark.parametrize("seed", range(8))
def test_a_pair_is_the_cheapest_of_all_pairs_that_share_no_joist(seed):
    a, b = uneven(seed, 7), uneven(seed + 50, 8)
    found = split_pair((a, b), (step_graph(a, LENGTHS), step_graph(b, LENGTHS)))
    pairs = [(x, y) for x in all_splits(a, LENGTHS) for y in all_splits(b, LENGTHS) if not set(x) & set(y)]
    if not pairs:
        assert found is None
        return
    assert found is not None
    joints = (found[0].joints, found[1].joints)
    assert joints in pairs

    def price(pair):
        one, two = priced(a, pair[0]), priced(b, pair[1])
        near = sum(abs(i - j) == 1 for i in pair[0] for j in pair[1])
        return (one[0] + two[0], one[1] + two[1], one[2] + two[2], near, one[4] + two[4])

    assert price(joints) == pytest.approx(min(map(price, pairs)))


def test_no_split_when_a_bay_is_wider_than_the_stock():
    board = span(4, spacing=2200.0)
    assert best_split(board, step_graph(board, LENGTHS)) is None


@pytest.mark.parametrize("count", [4, 5, 7, 10])
def test_the_shortest_stock_is_the_least_that_staggers_on_even_joists(count):
    board = span(count)
    need = shortest_stock(board)
    enough, short = ((step_graph(board, (size,)),) * 2 for size in (need, need - 0.01))
    assert split_pair((board, board), enough) is not None
    assert split_pair((board, board), short) is None


def test_the_shortest_stock_will_do_on_uneven_joists_and_is_the_board_itself_on_three():
    board = uneven(3, 8)
    graph = step_graph(board, (shortest_stock(board),))
    assert split_pair((board, board), (graph, graph)) is not None
    assert shortest_stock(span(3)) == span(3).length


def least_total(board, rows, lengths):
    """Fewest pieces of ``rows`` equal boards with no joint in line, by trying every split of each row."""
    options = list(all_splits(board, lengths))
    totals = {joints: len(joints) + 1 for joints in options}
    for _ in range(rows - 1):
        totals = {
            j: len(j) + 1 + min(t for before, t in totals.items() if not set(before) & set(j))
            for j in options
            if any(not set(before) & set(j) for before in totals)
        }
    return min(totals.values())


@pytest.mark.parametrize("count", [5, 6, 8, 9, 10])
@pytest.mark.parametrize("rows", [2, 4])
def test_rows_take_the_fewest_pieces_that_staggering_allows(count, rows):
    board = span(count)
    plan = plan_splits([[board]] * rows, lengths=LENGTHS)
    assert sum(len(joints) + 1 for row in plan.joints for joints in row) == least_total(board, rows, LENGTHS)
    assert plan.in_line == ()


def test_rows_repeat_every_second_row():
    plan = plan_splits([[span(14)]] * 7, lengths=LENGTHS)
    assert plan.joints[0::2] == (plan.joints[0],) * 4
    assert plan.joints[1::2] == (plan.joints[1],) * 3
    assert not set(plan.joints[0][0]) & set(plan.joints[1][0])


def test_a_board_that_fits_the_stock_is_not_split():
    board = Span(u0=0.0, u1=2100.0, first=0, lines=(50.0, 1000.0, 2050.0), inset=1.5)
    longer = Span(u0=0.0, u1=2100.1, first=0, lines=(50.0, 1000.0, 2050.0), inset=1.5)
    assert plan_splits([[board]], lengths=LENGTHS).joints == (((),),)
    assert plan_splits([[longer]], lengths=LENGTHS).joints == (((1,),),)


def test_rows_that_can_only_be_joined_on_one_joist_say_so():
    board = Span(u0=0.0, u1=4000.0, first=0, lines=(60.0, 2000.0, 3940.0), inset=1.5)
    plan = plan_splits([[board]] * 4, lengths=(2000.0,))
    assert plan.in_line == ((1, 0), (2, 0), (3, 0))


def test_boards_that_cannot_be_split_are_named_and_left_whole():
    plan = plan_splits([[span(4, spacing=2200.0)]] * 3, lengths=LENGTHS)
    assert plan.unsplit == ((0, 0), (1, 0), (2, 0))
    assert plan.joints == (((),),) * 3


def test_no_piece_is_left_on_a_single_joist():
    board = Span(u0=0.0, u1=2130.0, first=0, lines=(30.0, 1065.0, 2100.0), inset=1.5)
    assert plan_splits([[board]], lengths=(2110.0,)).joints == (((1,),),)
    two = Span(u0=0.0, u1=2130.0, first=0, lines=(30.0, 2100.0), inset=1.5)
    assert plan_splits([[two]], lengths=(2110.0,)).unsplit == ((0, 0),)
    assert shortest_stock(two) == 2130.0


def test_without_stock_nothing_is_split():
    assert plan_splits([[span(14)]], lengths=()).joints == (((),),)


def test_two_boards_beside_one_keep_clear_of_it():
    whole = span(14)
    left = Span(u0=0.0, u1=2500.0, first=0, lines=whole.lines[:6], inset=1.5)
    right = Span(u0=3400.0, u1=whole.u1, first=8, lines=whole.lines[8:], inset=1.5)
    plan = plan_splits([[whole], [left, right], [whole]], lengths=LENGTHS)
    for before, after in itertools.pairwise(plan.joints):
        assert not {j for x in before for j in x} & {j for x in after for j in x}
    assert plan.in_line == ()
