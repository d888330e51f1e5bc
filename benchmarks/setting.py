"""Contact solves against a general solver called per sample, and a simulated site: the whole procedure, 200 times.

Run: python benchmarks/setting.py [solves|site]
"""

from __future__ import annotations

import os
import sys
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import numpy as np

from evenfoot.errors import NoSolutionError
from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.plan import Plan, make_plan
from evenfoot.setting import posts

SOLVES, PEER_SOLVES = 10_000, 200
SITES = int(os.environ.get("SITES", "200"))
PERSON = 80.0 * posts.GRAVITY
LIMIT, LEVEL = 0.5, 2.0
SIGMA = 1.0 / 1.959964
TAPE, CUT, LINE, JACK, FEELER, HAND = (v * SIGMA for v in (1.0, 1.0, 1.5, 1.0, 0.2, 0.2))
"""Standard deviations from +- mm, 19 times in 20: tape, saw, a string or laser line, a jack levelled, feeler, plane."""

TWELVE = """
unit = "mm"
standard = "japan"
name = "bench"

[site]
levels = [[0, 0, -510], [3600, 0, -520], [3600, 2700, -560], [0, 2700, -545]]

[floor]
width = 3600
depth = 2700

[frame]
style = "flush"
setback = 0

[frame.beam]
spacing_max = 1350

[frame.post]
spacing_max = 1300
"""


def plan_of(text: str) -> Plan:
    job = parse_job(text)
    return make_plan(job, read_shop(None, standard=job.standard), read_log(None))


def floors(plan: Plan) -> tuple[posts.Footing, posts.Footing]:
    """The frame without and with its boards."""
    bare, whole = (posts.float_floor(plan.job, plan.frame, plan.posts, has_boards=b) for b in (False, True))
    return posts.Footing(bare), posts.Footing(whole)


def time_solves(plan: Plan) -> None:
    import clarabel
    from scipy import sparse

    _, whole = floors(plan)
    frame = whole.frame
    rng = np.random.default_rng(1)
    clearance = 0.5 * rng.normal(size=(SOLVES, frame.count))
    places = rng.integers(0, len(frame.walked_at), SOLVES)
    load = frame.own + PERSON * frame.walked_load[places]
    begun = time.perf_counter()
    rest = whole.stand(clearance, load)
    own = time.perf_counter() - begun

    give = frame.give + np.diag(frame.seat)
    scale, unit = float(load.sum(axis=1).max()), float(np.abs(give).max())
    options = clarabel.DefaultSettings()
    options.verbose = False
    options.tol_gap_abs = options.tol_gap_rel = options.tol_feas = 1e-12
    quadratic = sparse.csc_matrix(np.triu(give / unit))
    n, m = frame.shapes.shape
    rows = sparse.csc_matrix(np.vstack((frame.shapes.T, -np.eye(n))))
    cones = [clarabel.ZeroConeT(m), clarabel.NonnegativeConeT(n)]
    worst, begun = 0.0, time.perf_counter()
    for k in range(PEER_SOLVES):
        linear = (clearance[k] - load[k] @ frame.give) / (unit * scale)
        right = np.r_[load[k] @ frame.shapes / scale, np.zeros(n)]
        peer = clarabel.DefaultSolver(quadratic, linear, rows, right, cones, options).solve()
        if rest.is_held[k]:
            worst = max(worst, float(np.abs(np.array(peer.x) - rest.press[k] / scale).max()))
    per_sample = (time.perf_counter() - begun) / PEER_SOLVES
    print(f"{SOLVES} contact solves, {n} posts         {own:8.2f} s")
    print(
        f"a general solver, one call each      {per_sample * SOLVES:8.2f} s   "
        f"{per_sample * SOLVES / own:.0f} times that"
    )
    print(f"greatest difference of a force       {worst:8.1e}   of the whole load")


def draw_ground(rng: np.random.Generator, frame: posts.FloatingFrame) -> np.ndarray:
    """True level of each footing: a slab that falls, a hollow or a hump, and roughness."""
    x, y = frame.x / 1000.0, frame.y / 1000.0
    fall = rng.normal(scale=8.0, size=2)
    wave = (
        rng.normal(scale=4.0)
        * np.sin(x * rng.uniform(0.5, 1.5) + rng.uniform(0, 6))
        * np.cos(y * rng.uniform(0.5, 1.5))
    )
    return -500.0 + fall[0] * x + fall[1] * y + wave + rng.normal(scale=1.5, size=frame.count)


def cut_by_procedure(rng: np.random.Generator, bare: posts.Footing, ground: np.ndarray) -> np.ndarray:
    """Clearances after: level on jacks at the outermost posts, gap at each post, sag taken out, cut."""
    frame = bare.frame
    corners = sorted({int(np.argmin(sx * frame.x + sy * frame.y)) for sx in (-1, 1) for sy in (-1, 1)})
    jacks = {frame.marks[k] for k in corners}
    sag = posts.heads_on_jacks(bare, jacks)
    planes = np.column_stack((np.ones(frame.count), frame.x, frame.y, frame.x * frame.y))
    off = planes @ np.linalg.lstsq(planes[corners], JACK * rng.normal(size=len(corners)), rcond=None)[0]
    gaps = sag + off - ground + TAPE * rng.normal(size=frame.count)
    bases = [
        posts.Base(mark=m, length=float(g), sigma=TAPE, sigma_gap=TAPE, is_measured=True)
        for m, g in zip(frame.marks, gaps, strict=True)
    ]
    stood = dict.fromkeys(frame.marks, frozenset(jacks))
    wanted = np.array([w.length for w in posts.needs(bare, bases, levels={}, jacks=stood)])
    return -ground - (wanted + CUT * rng.normal(size=frame.count))


def put_right(
    rng: np.random.Generator, bare: posts.Footing, whole: posts.Footing, clearance: np.ndarray
) -> tuple[np.ndarray, int]:
    """Clearances after reading what hangs and shaving or packing what is named, twice at most; and posts touched."""
    touched = 0
    frame = bare.frame
    for _ in range(2):
        rest = bare.stand_once(clearance)
        read = np.round(np.maximum(rest.gap[0] + FEELER * rng.normal(size=frame.count), 0.0), 1)
        seen = {
            m: float(g) if hangs else 0.0 for m, g, hangs in zip(frame.marks, read, rest.gap[0] > 0.05, strict=True)
        }
        try:
            known = posts.clear_of(
                bare, posts.needs(bare, _unknown(frame), levels={}, jacks={}), lengths={}, seen=seen, feeler=FEELER
            )
        except NoSolutionError:
            break
        most = 0.5 * (np.ceil(np.ptp(known.clearance) / 0.5) + 1)
        heads = rest.head[0] + JACK * rng.normal(size=frame.count)
        lies = posts.lies_above(bare, known, dict(zip(frame.marks, heads.tolist(), strict=True)))
        remedy = None
        for level in (LEVEL - 0.5, None):
            goal = posts.Goal(rock=LIMIT - 0.1, step=0.5, most=float(most) + 2.0, share=2.0, level=level)
            trial = posts.make_trial(whole, goal, person=PERSON, lies=lies)
            remedy = posts.find_remedy(trial, known.clearance, proves=False)
            if remedy.is_found:
                break
        if not remedy.changes:
            break
        for change in remedy.changes:
            k = frame.marks.index(change.mark)
            clearance = clearance.copy()
            clearance[k] -= change.by + HAND * rng.normal()
        touched += len(remedy.changes)
    return clearance, touched


def _unknown(frame: posts.FloatingFrame) -> list[posts.Base]:
    return [posts.Base(mark=m, length=0.0, sigma=1.0, sigma_gap=1.0, is_measured=False) for m in frame.marks]


def judge(whole: posts.Footing, clearance: np.ndarray) -> tuple[float, float]:
    """Rock, and how far the head furthest from level lies off [mm]."""
    rock = posts.walk(whole, clearance, person=PERSON).rock
    heads = whole.stand_once(clearance).head[0]
    return rock, float(np.abs(heads - heads.mean()).max())


def simulate(plan: Plan) -> None:
    bare, whole = floors(plan)
    names = ("plain: all cut from a tape at once", "procedure, before shaving and packing", "procedure, whole")
    found: dict[str, list[tuple[float, float]]] = {name: [] for name in names}
    touched, begun = [], time.perf_counter()
    for seed in range(SITES):
        rng = np.random.default_rng([2026, seed])
        ground = draw_ground(rng, bare.frame)
        line = LINE * rng.normal(size=bare.frame.count)
        plain = line + TAPE * rng.normal(size=bare.frame.count) + CUT * rng.normal(size=bare.frame.count)
        found[names[0]].append(judge(whole, plain))
        cut = cut_by_procedure(rng, bare, ground)
        found[names[1]].append(judge(whole, cut))
        right, count = put_right(rng, bare, whole, cut)
        found[names[2]].append(judge(whole, right))
        touched.append(count)
    print(f"{SITES} sites, {bare.frame.count} posts, {time.perf_counter() - begun:.0f} s")
    for name in names:
        rock, off = np.array(found[name]).T
        both = np.mean((rock < LIMIT) & (off <= LEVEL))
        print(
            f"{name:40s} rock < {LIMIT} mm {np.mean(rock < LIMIT):4.0%}   "
            f"level within {LEVEL:g} mm {np.mean(off <= LEVEL):4.0%}   both {both:4.0%}   "
            f"rock: half under {np.median(rock):.2f}, 19 in 20 under {np.quantile(rock, 0.95):.2f} mm"
        )
    print(f"posts shaved or packed: {np.mean(touched):.1f} of {bare.frame.count} on average")


def main() -> None:
    wanted = sys.argv[1:] or ["solves", "site"]
    plan = plan_of(TWELVE)
    if "solves" in wanted:
        time_solves(plan)
    if "site" in wanted:
        simulate(plan)


if __name__ == "__main__":
    main()
