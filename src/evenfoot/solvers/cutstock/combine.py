"""Sticks that are cut alike: two patterns become one, three become two, with the same sticks and pieces.

The exchanges are those of H. Foerster and G. Waescher, "Pattern reduction in one-dimensional cutting stock problems",
International Journal of Production Research 38 (2000), 2 to 1 and 3 to 2.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from evenfoot.solvers.cutstock.model import Counts

Lot = tuple[int, int, Counts]
"""Stock, times, pieces of each item."""
MOST_STEPS = 2_000
"""Steps of the search for two patterns that hold the pieces of three."""
MOST_LOTS = 24
"""Patterns that are looked at three by three; the ones used least."""


def fewer(
    lots: Sequence[Lot], fits: Callable[[int, Counts], bool]
) -> Iterator[tuple[tuple[Lot, ...], tuple[Lot, ...]]]:
    """Yield exchanges: two lots for one, or three for two, of the same sticks and the same pieces."""
    rare = sorted(lots, key=lambda lot: (lot[1], lot))[:MOST_LOTS]
    for pair in combinations(rare, 2):
        one = _one_for(pair, fits)
        if one is not None:
            yield pair, (one,)
    for three in combinations(rare, 3):
        two = _two_for(three, fits)
        if two is not None:
            yield three, two


def _totals(lots: Sequence[Lot]) -> list[int]:
    return [sum(n * counts[i] for _, n, counts in lots) for i in range(len(lots[0][2]))]


def _one_for(lots: Sequence[Lot], fits: Callable[[int, Counts], bool]) -> Lot | None:
    """Return one lot with the sticks and pieces of two, where they can all be cut alike."""
    (stock, m, _), (other, n, _) = lots
    totals = _totals(lots)
    if stock != other or any(t % (m + n) for t in totals):
        return None
    counts = tuple(t // (m + n) for t in totals)
    return (stock, m + n, counts) if fits(stock, counts) else None


def _two_for(lots: Sequence[Lot], fits: Callable[[int, Counts], bool]) -> tuple[Lot, ...] | None:
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
        pair = _split(totals, (first, u), (second, v), fits)
        if pair is not None:
            return (first, u, pair[0]), (second, v, pair[1])
    return None


def _split(
    totals: Sequence[int], one: tuple[int, int], other: tuple[int, int], fits: Callable[[int, Counts], bool]
) -> tuple[Counts, Counts] | None:
    """Return patterns a and b with ``u * a + v * b = totals``, each fitting its stock; None when none is found."""
    (first, u), (second, v) = one, other
    ways = [[(a, (t - u * a) // v) for a in range(t // u, -1, -1) if (t - u * a) % v == 0] for t in totals]
    zero = (0,) * len(totals)
    stack: list[tuple[int, Counts, Counts]] = [(0, zero, zero)]
    for _ in range(MOST_STEPS):
        if not stack:
            return None
        item, a, b = stack.pop()
        if not fits(first, a) or not fits(second, b):
            continue
        if item == len(totals):
            return a, b
        for x, y in reversed(ways[item]):
            stack.append((item + 1, _put(a, item, x), _put(b, item, y)))
    return None


def _put(counts: Counts, item: int, count: int) -> Counts:
    return (*counts[:item], count, *counts[item + 1 :])
