"""Engine time of whole plans, as ratios: against a cold interpreter with numpy, and against scaled floors.

Run: python benchmarks/engine.py
"""

from __future__ import annotations

import gc
import math
import os
import statistics
import subprocess
import sys
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import itertools

from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.office import sheet_files
from evenfoot.plan import Plan, make_plan
from evenfoot.words import Language

FLUSH = """
unit = "mm"
standard = "japan"
name = "bench"

[site]
levels = [[0, 0, -510], [{width}, 0, -520], [{width}, {depth}, -560], [0, {depth}, -545]]

[floor]
width = {width}
depth = {depth}

[frame]
style = "{style}"
"""


def text_of(width: int, depth: int, style: str) -> str:
    return FLUSH.format(width=width, depth=depth, style=style)


def plan_of(width: int, depth: int, style: str) -> Plan:
    job = parse_job(text_of(width, depth, style))
    return make_plan(job, read_shop(None, standard=job.standard), read_log(None))


def median_of(work, runs: int) -> float:
    times = []
    for _ in range(runs):
        gc.collect()
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def main() -> None:
    cold = median_of(lambda: subprocess.run([sys.executable, "-c", "import numpy"], check=True), 5)
    plan = plan_of(4000, 3000, "flush")
    engine = median_of(lambda: plan_of(4000, 3000, "flush"), 9)
    sheets = median_of(lambda: sheet_files(plan, Language.ENGLISH), 3)
    print(f"cold interpreter with numpy   {cold * 1e3:8.1f} ms   1.00")
    print(f"engine, 12 m2 flush           {engine * 1e3:8.1f} ms   {engine / cold:.2f} of it")
    print(f"sheets, 12 m2 flush           {sheets * 1e3:8.1f} ms   {sheets / cold:.2f} of it")
    points = []
    for width, depth, runs in ((4000, 2500, 5), (20000, 5000, 3), (50000, 20000, 1)):
        plan = plan_of(width, depth, "stacked")
        pieces = len(plan.layout.pieces) + len(plan.frame.members) + len(plan.posts.cuts)
        taken = median_of(lambda w=width, d=depth: plan_of(w, d, "stacked"), runs)
        points.append((pieces, taken))
        print(f"stacked, {width * depth / 1e6:6.0f} m2   {pieces:6d} pieces {taken * 1e3:10.1f} ms")
    for (n1, t1), (n2, t2) in itertools.pairwise(points):
        print(f"growth {n1} to {n2} pieces: time goes with their power {math.log(t2 / t1) / math.log(n2 / n1):.2f}")


if __name__ == "__main__":
    main()
