"""Cutting against published optima: share proved and equal to the best known, times, and longest-first beside it.

Run: python benchmarks/cutting.py [CLASS ...] [--file INSTANCES.jsonl] [--jobs N]
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

from evenfoot.solvers.cutstock import CutItem, CutStock, solve_cutting
from evenfoot.solvers.cutstock.greedy import Left, best_greedy
from evenfoot.solvers.cutstock.problem import prepare

SHIPPED = Path(__file__).parents[1] / "tests" / "reference" / "cutting" / "instances.jsonl"


def problem_of(instance: dict) -> tuple[list[CutItem], list[CutStock]]:
    kerf, trim = instance["kerf"], instance["trim"]
    items = [CutItem(size=length + kerf, demand=n, grade=g) for length, n, g in instance["items"]]
    stocks = [
        CutStock(size=max(0, length - 2 * trim + kerf), price=price, available=available, grade=grade)
        for length, price, available, grade in instance["stocks"]
    ]
    return items, stocks


def run(instance: dict) -> dict:
    """Solve one instance; the plan is priced again here, and longest-first runs beside it."""
    items, stocks = problem_of(instance)
    begun = time.perf_counter()
    result = solve_cutting(items, stocks)
    taken = time.perf_counter() - begun
    assert sum(stocks[u.stock].price * u.times for u in result.uses) == result.cost
    problem = prepare(items, stocks)
    begun = time.perf_counter()
    longest_first = problem.cost(best_greedy(problem, Left.of(problem))) * problem.price_unit
    upper, lower = instance["upper"], instance["lower"]
    return {
        "id": instance["id"],
        "class": instance["class"],
        "cost": result.cost,
        "bound": result.bound,
        "proved": result.is_proved,
        "false": (result.is_proved and upper is not None and result.cost > upper) or result.cost < lower,
        "best": result.cost <= upper,
        "seconds": taken,
        "longest_first": longest_first / result.cost,
        "longest_first_seconds": time.perf_counter() - begun,
    }


def line(name: str, rows: list[dict]) -> str:
    times = [r["seconds"] for r in rows]
    quick = [r["longest_first_seconds"] for r in rows]
    return (
        f"{name:14s} {len(rows):4d} {sum(r['proved'] for r in rows):7d} {sum(r['best'] for r in rows):6d} "
        f"{sum(r['false'] for r in rows):6d} {statistics.median(times):9.3f} {max(times):9.3f} "
        f"{statistics.mean(r['longest_first'] for r in rows):10.4f} {statistics.median(quick):9.4f}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("classes", nargs="*", help="classes to run; all without")
    parser.add_argument("--file", type=Path, default=SHIPPED)
    parser.add_argument("--jobs", type=int, default=1)
    given = parser.parse_args()
    instances = [json.loads(text) for text in given.file.read_text(encoding="utf-8").splitlines()]
    instances = [i for i in instances if not given.classes or i["class"] in given.classes]
    if given.jobs > 1:
        with ProcessPoolExecutor(given.jobs) as pool:
            rows = list(pool.map(run, instances))
    else:
        rows = [run(instance) for instance in instances]
    print("class             n  proved   best  false  median s    worst s  first/cost   first s")
    for name in dict.fromkeys(r["class"] for r in rows):
        print(line(name, [r for r in rows if r["class"] == name]))
    print(line("all", rows))
    for row in rows:
        if not row["proved"] or row["false"] or not row["best"]:
            print(f"  open: {row['id']} cost {row['cost']} bound {row['bound']} ({row['seconds']:.1f} s)")


if __name__ == "__main__":
    main()
