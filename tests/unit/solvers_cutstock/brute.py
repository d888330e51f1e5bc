"""The cheapest plan by trying everything, and a check of plans; shares no code with the solver."""

from __future__ import annotations

from functools import cache
from itertools import product
from operator import sub


def ways_to_cut(items, stocks):
    """Return every filling by the first item in it: its counts, and price and stock of each stick that can give it.

    Of the sticks of endless supply only the cheapest stays; its stock is None.
    """
    sizes = tuple(i.size for i in items)

    @cache
    def fits(cut, rooms):
        """Whether pieces can be dealt to the clear runs of a stick: every piece is tried in every run."""
        k = next((k for k, c in enumerate(cut) if c), None)
        if k is None:
            return True
        rest = (*cut[:k], cut[k] - 1, *cut[k + 1 :])
        return any(
            room >= sizes[k] and fits(rest, (*rooms[:r], room - sizes[k], *rooms[r + 1 :]))
            for r, room in enumerate(rooms)
        )

    by_first = [[] for _ in items]
    for cut in product(*(range(i.demand + 1) for i in items)):
        if not any(cut):
            continue
        load = sum(c * s for c, s in zip(cut, sizes, strict=True))
        grade = max(i.grade for c, i in zip(cut, items, strict=True) if c)
        sticks, endless = [], None
        for j, stock in enumerate(stocks):
            if load > stock.size or grade > stock.grade or (stock.runs and not fits(cut, stock.runs)):
                continue
            left, end = stock.size - load, stock.offcut
            price = stock.price - (end.value * (left - end.kerf) if end is not None and left >= end.keep else 0)
            if stock.available is not None:
                sticks.append((price, j))
            elif endless is None or price < endless:
                endless = price
        if endless is not None:
            sticks.append((endless, None))
        if sticks:
            by_first[next(k for k, c in enumerate(cut) if c)].append((cut, sticks))
    return by_first


def cheapest(items, stocks):
    """Return the least price that cuts everything (small problems only): every filling of every stick is tried."""
    by_first = ways_to_cut(items, stocks)

    @cache
    def best(need, had):
        first = next((i for i, n in enumerate(need) if n), None)
        if first is None:
            return 0
        least = None
        for cut, sticks in by_first[first]:
            left = tuple(map(sub, need, cut))
            if min(left) < 0:
                continue
            for price, j in sticks:
                if j is not None and not had[j]:
                    continue
                rest = best(left, had if j is None else (*had[:j], had[j] - 1, *had[j + 1 :]))
                if rest is not None and (least is None or price + rest < least):
                    least = price + rest
        return least

    return best(tuple(i.demand for i in items), tuple(s.available for s in stocks))


def faults_of(items, stocks, result):
    """Return what is wrong with a plan: pieces missing or too many, sticks overfull, wrong grade, supply, price."""
    faults = []
    cut = [0] * len(items)
    used = [0] * len(stocks)
    for use in result.uses:
        stock = stocks[use.stock]
        used[use.stock] += use.times
        if use.times < 1:
            faults.append("a pattern used no times")
        if sum(c * i.size for c, i in zip(use.counts, items, strict=True)) > stock.size:
            faults.append(f"stick of stock {use.stock} is overfull")
        if len(use.runs) != len(stock.runs):
            faults.append("a stick in runs is told run by run, another is not")
        for run, room in zip(use.runs, stock.runs, strict=False):
            if sum(c * i.size for c, i in zip(run, items, strict=True)) > room:
                faults.append("a run is overfull")
        if use.runs and tuple(map(sum, zip(*use.runs, strict=True))) != use.counts:
            faults.append("the runs do not add up to the stick")
        for k, (count, item) in enumerate(zip(use.counts, items, strict=True)):
            cut[k] += count * use.times
            if count and item.grade > stock.grade:
                faults.append(f"item {k} cut from a lesser grade")
    faults += [f"item {k}: {n} cut" for k, n in enumerate(cut) if n != items[k].demand]
    faults += [
        f"stock {j}: {n} used"
        for j, n in enumerate(used)
        if stocks[j].available is not None and n > stocks[j].available
    ]
    if price_of(items, stocks, result.uses) != result.cost:
        faults.append("cost is not the price of the sticks")
    if result.bound > result.cost:
        faults.append("bound above the cost")
    if result.is_proved != (result.bound == result.cost):
        faults.append("proved, but the bound does not meet the cost, or the other way round")
    return faults


def price_of(items, stocks, uses):
    """Return the price of the sticks less what their ends are worth."""
    total = 0
    for use in uses:
        stock = stocks[use.stock]
        left = stock.size - sum(c * i.size for c, i in zip(use.counts, items, strict=True))
        end = stock.offcut
        worth = end.value * (left - end.kerf) if end is not None and left >= end.keep else 0
        total += use.times * (stock.price - worth)
    return total


def fillings(items, stock, k=0, room=None):
    """Return every filling of one stick, the empty one included."""
    room = stock.size if room is None else room
    if k == len(items):
        return [()]
    item = items[k]
    most = min(item.demand, room // item.size) if item.grade <= stock.grade else 0
    return [(n, *rest) for n in range(most + 1) for rest in fillings(items, stock, k + 1, room - n * item.size)]


def full_fillings(items, stock):
    """Return the fillings into which no further wanted piece fits."""
    found = []
    for counts in fillings(items, stock):
        room = stock.size - sum(c * i.size for c, i in zip(counts, items, strict=True))
        if not any(
            c < i.demand and i.grade <= stock.grade and i.size <= room for c, i in zip(counts, items, strict=True)
        ):
            found.append(counts)
    return found


def longest_first(items, size):
    """Return how many sticks it takes when each piece, longest first, goes on the first stick that has room."""
    rooms = []
    for item in sorted(items, key=lambda i: -i.size):
        for _ in range(item.demand):
            for k, room in enumerate(rooms):
                if room >= item.size:
                    rooms[k] -= item.size
                    break
            else:
                rooms.append(size - item.size)
    return len(rooms)
