"""Cutting against published optima and on seeded timber jobs: share proved, share equal to the best, times, peers.

Run: python benchmarks/cutting.py [CLASS ...] [--jobs N] [--out RESULTS.jsonl] [--file INSTANCES.jsonl] [--no-peers]

Classes are those of the file, and ``jobs`` (a thousand seeded timber jobs; ``--count`` for fewer). With ``--out`` each
result is written as it comes, and a second run goes on where the first stopped. Times are of the processor, not of the
wall, so that a busy machine does not count. Peers in the same run: longest first on the cheapest stick per length,
and, where the ``bench`` extra is installed, a plain assignment model in CP-SAT (one worker, ten seconds or
``--peer-seconds``), with how often each cost no more than our plan.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import statistics
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

from evenfoot.solvers.cutstock import CutItem, CutStock, solve_cutting

SHIPPED = Path(__file__).parents[1] / "tests" / "reference" / "cutting" / "instances.jsonl"
CP_SAT_PIECES = 250
Problem = tuple[list[CutItem], list[CutStock]]


def problem_of(instance: dict) -> Problem:
    kerf, trim = instance["kerf"], instance["trim"]
    items = [CutItem(size=length + kerf, demand=n, grade=g) for length, n, g in instance["items"]]
    stocks = [
        CutStock(size=max(0, length - 2 * trim + kerf), price=price, available=available, grade=grade)
        for length, price, available, grade in instance["stocks"]
    ]
    return items, stocks


def timber_job(seed: int) -> Problem:
    """Return a job as it comes: 10 to 200 pieces of 5 to 30 lengths, 1 to 6 stock lengths, two grades, a rack.

    Sizes are half millimetres with a saw cut in; prices go by length with a few percent up or down.
    """
    r = random.Random(f"timber job {seed}")
    kerf, trim = r.choice([6, 8]), r.choice([0, 20, 30, 40])

    def usable(length: int, ends: int) -> int:
        return max(0, 2 * length - ends * trim + kerf)

    sold = [1800, 2400, 3000, 3600, 3650, 4000, 4200, 4800, 5000, 5100, 5400, 6000]
    lengths = sorted(r.sample(sold, r.randint(1, 6)))
    rate, has_grades = r.uniform(2, 9), r.random() < 0.5
    stocks = []
    for length in lengths:
        price = round(length * rate * r.uniform(0.94, 1.08), r.choice([0, -1]))
        stocks.append(CutStock(size=usable(length, 2), price=int(price)))
        if has_grades:
            stocks.append(CutStock(size=usable(length, 2), price=round(price * r.uniform(1.25, 1.5)), grade=1))
    for _ in range(r.choice([0, 0, 2, 4, 8])):
        length = r.randrange(600, lengths[-1], 10)
        price = r.choice([0, 0, round(length * rate * 0.4)])
        size, count = usable(length, r.choice([0, 1, 2])), r.choice([1, 1, 2])
        stocks.append(CutStock(size=size, price=price, available=count, grade=r.choice([0, 1]) if has_grades else 0))
    top, step, pieces = lengths[-1] - trim, r.choice([1, 1, 5, 10]), r.randint(10, 200)
    wanted = sorted(
        {
            r.randrange(int(top * 0.08), int(top * r.choice([0.4, 0.7, 1])), step)
            for _ in range(min(pieces, r.randint(5, 30)))
        }
    )
    counts = [1] * len(wanted)
    for _ in range(pieces - len(wanted)):
        counts[r.randrange(len(wanted))] += 1
    grades = [r.choice([0, 0, 0, 1]) if has_grades else 0 for _ in wanted]
    items = [
        CutItem(size=2 * length + kerf, demand=n, grade=g) for length, n, g in zip(wanted, counts, grades, strict=True)
    ]
    return items, stocks


def faults_of(problem: Problem, uses: list) -> list[str]:
    """Return what is wrong with a plan; shares nothing with the solver."""
    items, stocks = problem
    faults = []
    for k, item in enumerate(items):
        if sum(u.counts[k] * u.times for u in uses) != item.demand:
            faults.append(f"item {k} is not cut as often as wanted")
    for j, stock in enumerate(stocks):
        own = [u for u in uses if u.stock == j]
        if stock.available is not None and sum(u.times for u in own) > stock.available:
            faults.append(f"more of stock {j} than there is")
        for u in own:
            held = [(item, c) for item, c in zip(items, u.counts, strict=True) if c]
            if sum(item.size * c for item, c in held) > stock.size or any(i.grade > stock.grade for i, _ in held):
                faults.append(f"a stick of stock {j} cannot be cut like that")
    return faults


def longest_first(problem: Problem) -> int:
    """Return the cost of the plainest way: longest piece first, into the first open stick with room.

    A new stick is the one of endless supply with the lowest price per length that holds the piece.
    """
    items, stocks = problem
    cost, open_sticks = 0, []
    for item in sorted(items, key=lambda i: -i.size):
        for _ in range(item.demand):
            for stick in open_sticks:
                if stick[0] >= item.size and stick[1] >= item.grade:
                    stick[0] -= item.size
                    break
            else:
                able = [s for s in stocks if s.available is None and s.size >= item.size and s.grade >= item.grade]
                best = min(able, key=lambda s: s.price / s.size)
                open_sticks.append([best.size - item.size, best.grade])
                cost += best.price
    return cost


def by_cp_sat(problem: Problem, most_sticks: int, seconds: float) -> tuple[int | None, bool, float] | None:
    """Return cost, whether proved, and seconds of a plain assignment model; None where it is not installed."""
    try:
        from ortools.sat.python import cp_model
    except ImportError:
        return None
    items, stocks = problem
    model, terms = cp_model.CpModel(), []
    cells: list[list] = [[] for _ in items]
    for stock in stocks:
        number = most_sticks if stock.available is None else min(most_sticks, stock.available)
        before = None
        for _ in range(number):
            used = model.new_bool_var("")
            row = []
            for k, item in enumerate(items):
                if item.grade <= stock.grade and item.size <= stock.size:
                    count = model.new_int_var(0, min(item.demand, stock.size // item.size), "")
                    cells[k].append(count)
                    row.append(count * item.size)
            model.add(sum(row) <= stock.size * used)
            if before is not None:
                model.add_implication(used, before)
            before = used
            terms.append(used * stock.price)
    for k, item in enumerate(items):
        model.add(sum(cells[k]) == item.demand)
    model.minimize(sum(terms))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    begun = time.process_time()
    status = solver.solve(model)
    found = status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
    cost = round(solver.objective_value) if found else None
    return cost, status == cp_model.OPTIMAL, time.process_time() - begun


def run(task: dict) -> dict:
    """Solve one instance; the plan is checked and priced again here, and the peers run beside it."""
    problem = timber_job(task["seed"]) if "seed" in task else problem_of(task)
    items, stocks = problem
    begun = time.process_time()
    result = solve_cutting(items, stocks)
    taken = time.process_time() - begun
    assert faults_of(problem, result.uses) == []
    assert sum(stocks[u.stock].price * u.times for u in result.uses) == result.cost
    upper, lower = task.get("upper"), task.get("lower")
    row = {
        "id": task["id"],
        "class": task["class"],
        "cost": result.cost,
        "bound": result.bound,
        "proved": result.is_proved,
        "false": upper is not None
        and lower is not None
        and ((result.is_proved and result.cost > upper) or result.cost < lower or result.bound > upper),
        "best": None if upper is None else result.cost <= upper,
        "seconds": taken,
        "longest_first": longest_first(problem) / max(1, result.cost),
    }
    sticks = sum(u.times for u in result.uses)
    if task["peers"] and sum(i.demand for i in items) <= CP_SAT_PIECES:
        peer = by_cp_sat(problem, sticks + 2, task["peers"])
        if peer is not None:
            row["cp_sat"] = {"cost": peer[0], "proved": peer[1], "seconds": peer[2], "equal": peer[0] == result.cost}
            is_cheaper = peer[0] is not None and peer[0] < result.cost
            row["false"] = row["false"] or (is_cheaper and result.is_proved)
    return row


def line(name: str, rows: list[dict]) -> str:
    times = sorted(r["seconds"] for r in rows)
    known = [r["best"] for r in rows if r["best"] is not None]
    peers = [r["cp_sat"] for r in rows if "cp_sat" in r]
    share = f"{sum(known)}/{len(known)}" if known else "-"
    return (
        f"{name:14s} {len(rows):5d} {sum(r['proved'] for r in rows):7d} {share:>8s} {sum(r['false'] for r in rows):6d} "
        f"{statistics.median(times):9.3f} {times[int(0.99 * (len(times) - 1))]:8.3f} {times[-1]:8.3f} "
        f"{statistics.median(r['longest_first'] for r in rows):11.4f} "
        f"{sum(r['longest_first'] <= 1 for r in rows):6d} "
        f"{sum(p['proved'] for p in peers):7d}/{len(peers):<5d} {sum(p['equal'] for p in peers):6d} "
        + (f"{statistics.median(p['seconds'] for p in peers):7.2f}" if peers else "      -")
    )


def results(tasks: list[dict], jobs: int) -> Iterator[dict]:
    if jobs == 1:
        yield from map(run, tasks)
        return
    with ProcessPoolExecutor(jobs) as pool:
        for done in as_completed([pool.submit(run, task) for task in tasks]):
            yield done.result()


def report(rows: list[dict]) -> None:
    print(
        "class              n  proved     best  false  median s    p99 s  worst s  first/cost  equal  "
        "CP-SAT proved  equal median s"
    )
    for name in dict.fromkeys(r["class"] for r in rows):
        print(line(name, [r for r in rows if r["class"] == name]))
    print(line("all", rows))
    for row in rows:
        if not row["proved"] or row["false"] or row["best"] is False:
            print(f"  open: {row['id']} cost {row['cost']} bound {row['bound']} ({row['seconds']:.1f} s)")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("classes", nargs="*", help="classes to run; all of the file without")
    parser.add_argument("--file", type=Path, default=SHIPPED)
    parser.add_argument("--jobs", type=int, default=1, help="how many run at a time")
    parser.add_argument("--count", type=int, default=1000, help="how many timber jobs")
    parser.add_argument("--out", type=Path, help="where results are kept; what is there is not run again")
    parser.add_argument("--peer-seconds", type=float, default=10.0, help="limit of the assignment model")
    parser.add_argument("--no-peers", action="store_true", help="without the assignment model")
    given = parser.parse_args()
    tasks = [json.loads(text) for text in given.file.read_text(encoding="utf-8").splitlines()]
    tasks = [t for t in tasks if not given.classes or t["class"] in given.classes]
    if "jobs" in given.classes:
        tasks += [{"id": f"job {seed}", "class": "jobs", "seed": seed} for seed in range(given.count)]
    done: dict[str, dict] = {}
    if given.out and given.out.exists():
        kept = [json.loads(text) for text in given.out.read_text(encoding="utf-8").splitlines()]
        done = {row["id"]: row for row in kept}
    waiting = [t | {"peers": 0 if given.no_peers else given.peer_seconds} for t in tasks if t["id"] not in done]
    for row in results(waiting, given.jobs):
        done[row["id"]] = row
        if given.out:
            with given.out.open("a", encoding="utf-8") as file:
                file.write(json.dumps(row) + "\n")
    report([done[t["id"]] for t in tasks])


if __name__ == "__main__":
    main()
