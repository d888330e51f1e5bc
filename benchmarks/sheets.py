"""Time of the sheets and files of a usual floor, as ratios to reckoning its plan in the same run.

Run: python benchmarks/sheets.py
"""

from __future__ import annotations

import os
import statistics
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.office import PARTS, sheet_files
from evenfoot.plan import make_plan
from evenfoot.press import pdf_of, svg_of
from evenfoot.sheets import NAMES, drawing
from evenfoot.words import Language, Speaker

JOB = """
name = "bench"
unit = "mm"
standard = "japan"
[site]
levels = [[0, 0, -510], [4000, 0, -520], [4000, 3000, -560], [0, 3000, -545]]
[floor]
width = 4000
depth = 3000
[frame]
style = "flush"
[crew]
start = 2026-05-11
"""


def median_of(work, runs: int = 5) -> float:
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def main() -> None:
    job = parse_job(JOB)
    shop, log = read_shop(None, standard=job.standard), read_log(None)
    plan = make_plan(job, shop, log)
    speaker = Speaker(Language.JAPANESE, "mm")
    sheet_files(plan, Language.JAPANESE)
    base = median_of(lambda: make_plan(job, shop, log))
    print(f"the plan itself (12 m2)            {base * 1e3:8.0f} ms      1.0")
    whole = median_of(lambda: sheet_files(plan, Language.JAPANESE))
    print(f"full set, every kind of file       {whole * 1e3:8.0f} ms {whole / base:8.1f}   (aim: under 5 s)")
    for part in PARTS:
        took = median_of(lambda part=part: sheet_files(plan, Language.JAPANESE, parts=(part,)), 3)
        size = sum(map(len, sheet_files(plan, Language.JAPANESE, parts=(part,)).values()))
        print(f"  {part:10} alone                 {took * 1e3:8.0f} ms {took / base:8.1f}   {size / 1024:8.0f} KiB")
    print("one changed sheet, drawn again as PDF and SVG (aim: under 300 ms)")
    for name in NAMES:

        def write(name: str = name) -> None:
            pages = drawing(plan, speaker, "A3", name)
            pdf_of(pages, title="bench")
            for page in pages:
                svg_of(page)

        took = median_of(write, 3)
        print(f"  {name:10}                       {took * 1e3:8.0f} ms {took / base:8.1f}")


if __name__ == "__main__":
    main()
