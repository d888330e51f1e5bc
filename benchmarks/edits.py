"""What one edit of an example costs: the plan of a memory that knows the job before it, stage by stage.

Run: python benchmarks/edits.py

Processor time of the quickest of many edits, told beside a whole plan of the same job with nothing remembered, and
beside a peer of the same run: one dense solution of 600 equations, which no change of ours makes quicker.
"""

from __future__ import annotations

import gc
import os
import time
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import numpy as np

from evenfoot.job import Job, read_job, read_log, read_shop
from evenfoot.plan import STAGES, Memory, make_plan

EXAMPLES = Path(__file__).parents[1] / "examples"
EDITS = 24


def wider(job: Job, by: float) -> Job:
    """Every timber moves: a key typed into the width."""
    outline = tuple((x + by if x > 0.0 else x, y) for x, y in job.floor.outline)
    return replace(job, floor=replace(job.floor, outline=outline))


def snowier(job: Job, by: float) -> Job:
    """No timber moves: a key typed into the depth of snow."""
    return replace(job, loads=replace(job.loads, snow_depth=100.0 + by))


def spent(work) -> float:
    begun = time.process_time()
    work()
    return time.process_time() - begun


def peer() -> float:
    rng = np.random.default_rng(3)
    matrix, right = rng.normal(size=(600, 600)), rng.normal(size=600)
    return min(spent(lambda: np.linalg.solve(matrix, right)) for _ in range(15))


def edits(job: Job, edit) -> tuple[float, dict[str, float]]:
    """Return the least time of one edit [s], and the least time of each of its stages."""
    shop, log, memory = read_shop(None, standard=job.standard), read_log(None), Memory()
    make_plan(edit(job, 0.0), shop, log, memory=memory)
    stages: dict[str, list[float]] = defaultdict(list)
    whole = []
    for k in range(1, EDITS + 1):
        told: list[tuple[str, float]] = []
        gc.collect()
        begun = time.process_time()
        make_plan(
            edit(job, float(k)),
            shop,
            log,
            memory=memory,
            on_stage=lambda stage, told=told: told.append((stage, time.process_time())),
        )
        ended = time.process_time()
        whole.append(ended - begun)
        for (stage, at), (_, after) in zip(told, [*told[1:], ("", ended)], strict=True):
            stages[stage].append(after - at)
    return min(whole), {stage: min(stages[stage]) for stage in STAGES}


def main() -> None:
    unit = peer()
    print(f"peer {unit * 1e3:.1f} ms")
    for path in sorted(EXAMPLES.glob("*/job.toml")):
        job = read_job(path)
        shop = read_shop(None, standard=job.standard)
        cold = min(spent(lambda j=job, s=shop: make_plan(j, s, read_log(None))) for _ in range(6))
        print(f"{path.parent.name}: nothing remembered {cold * 1e3:.0f} ms, {cold / unit:.1f} peers")
        for name, edit in (("width", wider), ("snow", snowier)):
            taken, stages = edits(job, edit)
            dear = ", ".join(f"{s} {t * 1e3:.1f}" for s, t in stages.items() if t > 0.04 * taken)
            print(f"  {name:6s}{taken * 1e3:7.1f} ms {taken / unit:6.1f} peers {taken / cold:5.2f} of it ({dear})")


if __name__ == "__main__":
    main()
