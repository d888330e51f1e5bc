"""Times of the strength engine: against a general finite element library, and as floors grow.

Run: python benchmarks/strength.py
"""

from __future__ import annotations

import gc
import itertools
import math
import os
import sys
import time
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import numpy as np

TESTS = Path(__file__).parents[1] / "tests"
sys.path[:0] = [str(TESTS / "reference" / "strength_engine"), str(TESTS / "unit" / "solvers_grillage")]

from dataclasses import replace  # noqa: E402 - after the threads are set and the tests are on the path

from peer import Peer  # noqa: E402 - after the threads are set and the tests are on the path
from random_frames import frame  # noqa: E402 - after the threads are set and the tests are on the path

import evenfoot.plan.make as foreman  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.job import read_log, read_shop  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.job.files import parse_job  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.plan import make_plan  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.solvers import grillage  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.strength import check_strength, loads  # noqa: E402
from evenfoot.strength.cuts import find_cuts  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.strength.elastic import woods_of  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.strength.elastic.cases import Loaded, walk  # noqa: E402
from evenfoot.strength.sections import Sections  # noqa: E402 - after the threads are set and the tests are on the path
from evenfoot.strength.standards import practice_for  # noqa: E402
from evenfoot.strength.statics import draw_skeleton, set_nodes  # noqa: E402
from evenfoot.strength.supports import Supports  # noqa: E402 - after the threads are set and the tests are on the path

JOB = """
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


def least(work, runs: int) -> float:
    """Processor time of the quickest run: what is least disturbed by other work on the machine."""
    times = []
    for _ in range(runs):
        gc.collect()
        begun = time.process_time()
        work()
        times.append(time.process_time() - begun)
    return min(times)


def against_the_peer() -> None:
    """Forty timbers, two cases, equal answers: 3 beams on springs that only push, 37 joists laid on by springs."""
    rng = np.random.default_rng(1)
    built = frame(rng, joists=37, beams=3, posts=7, over=0.6)
    built = replace(
        built,
        grid=replace(built.grid, ga=np.full(len(built.grid.ga), np.inf), is_tied=np.zeros(len(built.grid.upper), bool)),
    )
    laps = np.flatnonzero(built.grid.lower < len(built.grid.level))
    grid = built.grid
    seat = grid.n_levels + np.arange(len(laps))
    lower = grid.lower.copy()
    lower[laps] = seat
    links = grillage.Links(freedoms=np.stack((seat, grid.lower[laps]), axis=1), stiffness=np.full(len(laps), 2e4))
    tied = np.zeros(len(grid.upper), bool)
    tied[laps] = True
    here = replace(grid, n_levels=grid.n_levels + len(laps), lower=lower, links=links, is_tied=tied)
    even = np.stack((np.full(len(grid.ends), 0.8), np.where(built.x[grid.ends[:, 0]] < 2500.0, 1.5, 0.02)), axis=1)
    nodal = {int(grid.ends[0, 0]): 1000.0}

    def ours() -> grillage.Response:
        forces = np.zeros((here.size, 2))
        forces[here.level[next(iter(nodal))], 1] = 1000.0
        return grillage.respond(grillage.prepare(here), forces, even)

    response, peers = ours(), []
    for case in range(2):
        peer = Peer(built, is_one_sided=True)
        for lap in laps:
            peer.bear(grid.upper[lap], grid.lower[lap], 2e4)
        for head, k in zip(grid.upper[len(laps) :], grid.spring, strict=True):
            peer.stand(head, k)
        begun = time.process_time()
        peer.solve(nodal if case else {}, even[:, case], sparse=True)
        peers.append(time.process_time() - begun)
        apart = (
            np.abs(peer.down() - response.moved[: len(grid.level), case]).max() / np.abs(response.moved[:, case]).max()
        )
        assert apart < 1e-4, apart
    own = least(ours, 9)
    open_ = (response.lifts != 0.0).sum(axis=0)
    print(f"40 timbers, 2 cases ({open_[0]} and {open_[1]} posts lifted): ours {own * 1e3:.1f} ms, ", end="")
    print(f"peer {sum(peers) * 1e3:.0f} ms, ratio {sum(peers) / own:.0f}")


class Floor:
    """A floor as the foreman hands it to the strength room."""

    def __init__(self, width: int, depth: int, style: str) -> None:
        job = parse_job(JOB.format(width=width, depth=depth, style=style))
        kept = foreman.check_strength

        def keep(job, frame, post_heights):
            self.given = (job, frame, post_heights)
            raise KeyboardInterrupt

        foreman.check_strength = keep
        try:
            make_plan(job, read_shop(None, standard=job.standard), read_log(None))
        except KeyboardInterrupt:
            pass
        finally:
            foreman.check_strength = kept


def walk_twelve(style: str) -> None:
    """The envelope of one person at 500 places of a floor of 12 m2: every moment, shear, notch, bearing and post."""
    job, built, post_heights = Floor(4000, 3000, style).given
    practice = practice_for(job)
    skeleton = draw_skeleton(built, woods_of(practice, built), post_heights)
    joists = [t for t in skeleton.timbers if t.is_joist]
    spots = [
        (t.number, float(at)) for t in joists for at in np.linspace(0.0, t.member.length, math.ceil(500 / len(joists)))
    ]
    case = next(c for c in practice.cases() if c.point > 0.0)

    def envelope() -> None:
        statics = set_nodes(skeleton, ())
        share = loads.share_loads(built, job.floor, statics, practice.unit_weight.value)
        loaded = Loaded(
            prepared=grillage.prepare(statics.grid), statics=statics, share=share, heavy=np.zeros(statics.grid.size)
        )
        sections, supports = Sections(practice, statics, find_cuts(skeleton)), Supports(practice, skeleton)
        for batch in walk(loaded, [case], tuple(spots)):
            sections.take(batch)
            supports.take(batch)

    print(f"12 m2 {style}: one person on {len(spots)} places, envelopes of all: {least(envelope, 9) * 1e3:.1f} ms")


def growth(sizes, style: str) -> None:
    points = []
    for width, depth in sizes:
        job, built, post_heights = Floor(width, depth, style).given
        taken = least(lambda j=job, f=built, h=post_heights: check_strength(j, f, h), 2)
        walked = next(c for c in check_strength(job, built, post_heights).checks if c.rule == "person-walked")
        points.append((width * depth / 1e6, taken))
        print(f"{style} {width / 1000:.0f} x {depth / 1000:.1f} m: {len(built.members)} timbers, ", end="")
        print(f"{len(built.posts)} posts, {walked.fact('places')} places walked: {taken:.2f} s")
    for (a, t), (b, u) in itertools.pairwise(points):
        print(f"  from {a:.0f} to {b:.0f} m2 time goes with their power {math.log(u / t) / math.log(b / a):.2f}")


def main() -> None:
    against_the_peer()
    for style in ("flush", "stacked", "hung"):
        walk_twelve(style)
    growth(((50_000, 2_500), (200_000, 2_500), (400_000, 2_500)), "stacked")
    growth(((20_000, 5_000), (50_000, 20_000)), "stacked")


if __name__ == "__main__":
    main()
