"""Sticks that are cut alike: two patterns become one, three become two, with the same sticks and pieces.

The exchanges are those of H. Foerster and G. Waescher, "Pattern reduction in one-dimensional cutting stock problems",
International Journal of Production Research 38 (2000), 2 to 1 and 3 to 2.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from evenfoot.solvers.cutstock.model import Counts

Lot = tuple[int, int, Counts]
"""Stock, times, pieces of each item."""
Room = tuple[int, Sequence[int]]
"""Length of a stock, and what each item takes of it: more than the whole where it may not be cut from it."""
_Taken = tuple[int, int, int, tuple[int, int], "_Taken | None"]
MOST_STEPS = 2_000
"""Steps of the search for two patterns that hold the pieces of three."""
MOST_LOTS = 24
"""Patterns that are looked at three by three; the ones used least."""


def fewer(lots: Sequence[Lot], rooms: Sequence[Room]) -> Iterator[tuple[tuple[Lot, ...], tuple[Lot, ...]]]:
    """Yield exchanges: two lots for one, or three for two, of the same sticks and the same pieces.

    Args: rooms, one of each stock.
    """
    rare = sorted(lots, key=lambda lot: (lot[1], lot))[:MOST_LOTS]
    for pair in combinations(rare, 2):
        one = _one_for(pair, rooms)
        if one is not None:
            yield pair, (one,)
    for three in combinations(rare, 3):
        two = _two_for(three, rooms)
        if two is not None:
            yield three, two


def _totals(lots: Sequence[Lot]) -> list[int]:
    return [sum(column) for column in zip(*([n * c for c in counts] for _, n, counts in lots), strict=True)]


def _one_for(lots: Sequence[Lot], rooms: Sequence[Room]) -> Lot | None:
    """Return one lot with the sticks and pieces of two, where they can all be cut alike."""
    (stock, m, _), (other, n, _) = lots
    totals = _totals(lots)
    if stock != other or any(t % (m + n) for t in totals):
        return None
    counts = tuple(t // (m + n) for t in totals)
    room, lengths = rooms[stock]
    is_fit = sum(c * length for c, length in zip(counts, lengths, strict=True)) <= room
    return (stock, m + n, counts) if is_fit else None


def _two_for(lots: Sequence[Lot], rooms: Sequence[Room]) -> tuple[Lot, ...] | None:
    """Return two lots with the sticks and pieces of three."""
    totals = _totals(lots)
    by_stock: dict[int, int] = {}
    for stock, n, _ in lots:
        by_stock[stock] = by_stock.get(stock, 0) + n
    if len(by_stock) == 1:
        ((stock, n),) = by_stock.items()
        shares = [((stock, k), (stock, n - k)) for k in range(1, n // 2 + 1)]
    elif len(by_stock) == 2:
        one, other = by_stock.items()
        shares = [(one, other)]
    else:
        return None
    for (first, u), (second, v) in shares:
        pair = _split(totals, (u, rooms[first]), (v, rooms[second]))
        if pair is not None:
            return (first, u, pair[0]), (second, v, pair[1])
    return None


def _split(totals: Sequence[int], one: tuple[int, Room], other: tuple[int, Room]) -> tuple[Counts, Counts] | None:
    """Return patterns a and b with ``u * a + v * b = totals``, each fitting its room; None when none is found."""
    (u, (room, lengths)), (v, (space, others)) = one, other
    ways: list[list[tuple[int, int]]] = []
    for t in totals:
        shares = [(a, (t - u * a) // v) for a in range(t // u + 1) if (t - u * a) % v == 0]
        if not shares:
            return None
        ways.append(shares)
    # What is taken so far: items shared out, load of a and of b, the last item's share, and what was before it.
    stack: list[_Taken] = [(0, 0, 0, (0, 0), None)]
    for _ in range(MOST_STEPS):
        if not stack:
            return None
        taken = stack.pop()
        item, load, burden, _share, _before = taken
        if load > room or burden > space:
            continue
        if item == len(totals):
            return _patterns(taken)
        long, wide = lengths[item], others[item]
        stack += [(item + 1, load + x * long, burden + y * wide, (x, y), taken) for x, y in ways[item]]
    return None


def _patterns(taken: _Taken) -> tuple[Counts, Counts]:
    """Return the two patterns that the last share closes."""
    a: list[int] = []
    b: list[int] = []
    last: _Taken | None = taken
    while last is not None and last[0]:
        a.append(last[3][0])
        b.append(last[3][1])
        last = last[4]
    return tuple(reversed(a)), tuple(reversed(b))
