"""Small seeded cutting problems with every feature: several stocks, limits, free offcuts, grades."""

from __future__ import annotations

import random
from dataclasses import replace

from evenfoot.solvers.cutstock import CutItem, CutOffcut, CutStock


def small(seed: int) -> tuple[list[CutItem], list[CutStock]]:
    """Return at most nine pieces."""
    r = random.Random(seed)
    top = r.choice([20, 50, 100, 400])
    kinds = r.randint(1, 5)
    demands = [1] * kinds
    for _ in range(r.randint(kinds, 9) - kinds):
        demands[r.randrange(kinds)] += 1
    grade = r.choice([0, 0, 1, 2])
    items = [CutItem(size=r.randint(max(1, top // 8), top), demand=d, grade=r.randint(0, grade)) for d in demands]
    stocks = [CutStock(size=top, price=r.randint(1, 30) * r.choice([1, 1, 7]), grade=grade, tie=r.randint(0, 5))]
    for _ in range(r.randint(0, 4)):
        limit = r.choice([None, None, 1, 2, 3, 0])
        stocks.append(
            CutStock(
                size=r.randint(top // 4, top + 20),
                price=r.randint(1, 40) if limit is None else r.choice([0, r.randint(0, 40)]),
                available=limit,
                grade=r.randint(0, grade),
                tie=r.randint(0, 5),
            )
        )
    r.shuffle(stocks)
    return items, stocks


def featured(seed: int) -> tuple[list[CutItem], list[CutStock]]:
    """Return at most nine pieces with every feature switched on: offcuts of value and sticks in clear runs besides."""
    r = random.Random(seed)
    items, stocks = small(seed)
    items = [CutItem(size=i.size, demand=i.demand, grade=i.grade, place=r.choice([None, 0, 1])) for i in items]
    out = []
    for stock in stocks:
        kind = r.choice(["plain", "worth", "runs"]) if stock.available is not None else r.choice(["plain", "worth"])
        runs, offcut = (), None
        if kind == "worth":
            price = stock.price * r.choice([1, 10, 100])
            keep = r.randint(0, stock.size)
            offcut = CutOffcut(
                keep=keep, value=r.randint(0, price // max(1, stock.size)), kerf=r.randint(0, min(3, keep))
            )
        elif kind == "runs":
            first = r.randint(0, stock.size)
            middle = r.randint(0, stock.size - first)
            runs = (first, middle, stock.size - first - middle)
        out.append(replace(stock, price=stock.price * r.choice([1, 10, 100]), offcut=None, runs=runs))
        if offcut is not None:
            out[-1] = replace(out[-1], price=price, offcut=offcut)
    return items, out


def middling(seed: int) -> tuple[list[CutItem], list[CutStock]]:
    """Return up to eight sizes, each wanted up to twelve times, with prices that make the choice of stock hard."""
    r = random.Random(seed)
    top = r.choice([100, 400, 1000])
    grade = r.choice([0, 0, 1, 2])
    items = [
        CutItem(size=r.randint(top // 6, top * 2 // 3), demand=r.randint(1, 12), grade=r.randint(0, grade))
        for _ in range(r.randint(3, 8))
    ]
    stocks = [CutStock(size=top, price=r.randint(80, 130), grade=grade, tie=r.randint(0, 5))]
    for _ in range(r.randint(0, 4)):
        limit = r.choice([None, None, 1, 2, 3, 6])
        size = r.randint(top // 3, top + 20)
        price = size * 110 // top + r.randint(-12, 12) if limit is None else r.choice([0, r.randint(0, 40)])
        stocks.append(CutStock(size=size, price=price, available=limit, grade=r.randint(0, grade), tie=r.randint(0, 5)))
    return items, stocks


def timber_job(seed: int) -> tuple[list[CutItem], list[CutStock]]:
    """Return a job as it comes: up to sixty pieces, stock by length, two grades, offcuts of the rack."""
    r = random.Random(seed)
    kerf, trim = r.choice([6, 8]), r.choice([0, 20, 30])
    lengths = sorted(r.sample([2400, 3000, 3650, 4000, 5000, 6000], r.randint(1, 4)))
    stocks = []
    for length in lengths:
        price = round(length * r.uniform(4.7, 5.4))
        stocks.append(CutStock(size=2 * length - 2 * trim + kerf, price=price))
        stocks.append(CutStock(size=2 * length - 2 * trim + kerf, price=round(price * 1.4), grade=1))
    for _ in range(r.randint(0, 4)):
        length, ends = r.randrange(600, lengths[-1], 10), r.choice([0, 1, 2])
        stocks.append(CutStock(size=2 * length - ends * trim + kerf, price=0, available=r.randint(1, 2)))
    items = [
        CutItem(
            size=2 * r.randrange(300, lengths[-1] - 60, 5) + kerf, demand=r.randint(1, 6), grade=r.choice([0, 0, 1])
        )
        for _ in range(r.randint(3, 10))
    ]
    return items, stocks
