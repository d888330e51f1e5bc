"""The cheapest plan by trying everything, and a check of plans; shares no code with the solver."""

from __future__ import annotations

from functools import cache
from itertools import product


def cheapest(items, stocks):
    """Return the least price that cuts everything (small problems only): every filling of every stick is tried."""
    sizes = tuple(i.size for i in items)
    grades = tuple(i.grade for i in items)

    @cache
    def best(need, had):
        if not any(need):
            return 0
        first = next(i for i, n in enumerate(need) if n)
        least = None
        for j, stock in enumerate(stocks):
            if had[j] == 0:
                continue
            ranges = [range(n + 1) for n in need]
            ranges[first] = range(1, need[first] + 1)
            for cut in product(*ranges):
                if sum(c * s for c, s in zip(cut, sizes, strict=True)) > stock.size:
                    continue
                if any(c and g > stock.grade for c, g in zip(cut, grades, strict=True)):
                    continue
                left = tuple(n - c for n, c in zip(need, cut, strict=True))
                now = had if had[j] is None else (*had[:j], had[j] - 1, *had[j + 1 :])
                rest = best(left, now)
                if rest is not None and (least is None or stock.price + rest < least):
                    least = stock.price + rest
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
    if sum(stocks[u.stock].price * u.times for u in result.uses) != result.cost:
        faults.append("cost is not the price of the sticks")
    if result.bound > result.cost:
        faults.append("bound above the cost")
    if result.is_proved != (result.bound == result.cost):
        faults.append("proved, but the bound does not meet the cost, or the other way round")
    return faults


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
