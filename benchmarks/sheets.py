"""Time of the sheets and files of a usual floor, in seconds of one processor and against reckoning its plan.

Every figure is the median of several runs in this process, each on a plan made anew (a plan keeps its solids). It is
the time of the processor, not of the clock; on a busy machine that too grows, and the ratios hold better.

Run: python benchmarks/sheets.py
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

from evenfoot.job import Job, read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.office import PARTS, sheet_files
from evenfoot.plan import Memory, Plan, make_plan
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
ON_SCREEN = ("boards", "frame", "ground", "sections", "posts")
"""What a page shows while the floor is changed."""
START = "import time, evenfoot.office; print(time.process_time())"


def main() -> None:
    job = parse_job(JOB)
    shop, log, memory = read_shop(None, standard=job.standard), read_log(None), Memory()

    def anew(_: int = 0) -> Plan:
        return make_plan(job, shop, log, memory=memory)

    first = median_of(anew, lambda plan: sheet_files(plan, Language.JAPANESE), 1)
    base = median_of(lambda k: k, lambda _: make_plan(job, shop, log))
    started = float(subprocess.run([sys.executable, "-c", START], capture_output=True, check=True, text=True).stdout)
    row("the program started", started, base)
    row("the plan itself (12 m2)", base, base)
    row("full set, every kind of file, first", first, base, "under 5 s, with the start")
    whole = median_of(anew, lambda plan: sheet_files(plan, Language.JAPANESE))
    row("full set, every kind of file, again", whole, base, "under 5 s")
    for part in PARTS:
        took = median_of(anew, lambda plan, part=part: sheet_files(plan, Language.JAPANESE, parts=(part,)), 3)
        size = sum(map(len, sheet_files(anew(), Language.JAPANESE, parts=(part,)).values())) / 1024
        row(f"  {part} alone", took, base, f"{size:5.0f} KiB" + (", under 1024" if part == "glb" else ""))
    speaker = Speaker(Language.JAPANESE, "mm")
    print("one changed sheet, drawn again as PDF and SVG (goal: under 300 ms each)")
    for name in NAMES:
        row(f"  {name}", median_of(anew, lambda plan, name=name: on_paper(plan, speaker, name), 3), base)
    after_an_edit(job, speaker, base)


def after_an_edit(job: Job, speaker: Speaker, base: float) -> None:
    """Print what an edit of the width takes, and each drawing of the floor after it."""
    shop, log, memory = read_shop(None, standard=job.standard), read_log(None), Memory()

    def edited(k: int) -> Job:
        (x0, y0), (x1, _), (_, y2), _ = job.floor.outline
        outline = ((x0, y0), (x1 - k, y0), (x1 - k, y2), (x0, y2))
        return replace(job, floor=replace(job.floor, outline=outline))

    plans: list[Plan] = []
    edit = median_of(edited, lambda one: plans.append(make_plan(one, shop, log, memory=memory)), 9)
    print("after the width was changed (goal: under 100 ms each)")
    row("  the plan", edit, base)
    for name in ON_SCREEN:
        row(
            f"  {name}, as SVG", median_of(plans.__getitem__, lambda plan, n=name: on_screen(plan, speaker, n), 9), base
        )


def on_paper(plan: Plan, speaker: Speaker, name: str) -> None:
    pages = drawing(plan, speaker, "A3", name)
    pdf_of(pages, title="bench")
    for page in pages:
        svg_of(page)


def on_screen(plan: Plan, speaker: Speaker, name: str) -> None:
    for page in drawing(plan, speaker, "A3", name):
        svg_of(page)


def median_of(given: Callable[[int], Any], work: Callable[[Any], object], runs: int = 5) -> float:
    """Return the median of the processor time [s] of ``work`` on what ``given`` makes for each run."""
    times = []
    for k in range(runs):
        one = given(k)
        begun = time.process_time()
        work(one)
        times.append(time.process_time() - begun)
    return statistics.median(times)


def row(what: str, took: float, base: float, goal: str = "") -> None:
    print(f"{what:38}{took * 1e3:7.0f} ms {took / base:7.2f}   {goal}".rstrip())


if __name__ == "__main__":
    main()
