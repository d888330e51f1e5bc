"""Laws of the sheets: on any floor no text touches another, nothing leaves the page, nothing stops the drawing."""

from __future__ import annotations

import random

import pytest

from evenfoot.ink.boxes import overlaps, strays
from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.plan import make_plan
from evenfoot.sheets import drawings
from evenfoot.words import Language, Speaker

UNITS = ("mm", "in", "shaku", "ft")
JOINTS = ("lap-over", "lap-under", "housing", "butt")


def random_job(seed: int) -> str:
    pick = random.Random(seed)
    width, depth = pick.choice([900, 1800, 3640, 5000, 7300]), pick.choice([600, 900, 1820, 2700, 4000])
    style = pick.choice(["flush", "stacked", "hung"])
    levels = [
        [pick.randint(-100, width + 100), pick.randint(0, depth + 200), -pick.randint(150, 900)]
        for _ in range(pick.choice([4, 9, 14]))
    ]
    joints = f'[frame.joints]\njoist = "{pick.choice(JOINTS)}"\npost_joist = "lap-over"\n' if style == "flush" else ""
    return f"""
name = "floor {seed}"
unit = "mm"
standard = "{pick.choice(["japan", "europe", "north-america"])}"
paper = "{pick.choice(["A3", "A4", "letter", "tabloid"])}"
[site]
levels = {levels}
[[site.obstacle]]
name = "drain"
x = {pick.randint(0, width)}
y = {pick.randint(0, depth)}
width = 200
depth = 150
[floor]
width = {width}
depth = {depth}
wall_gap = {pick.choice([5, 20])}
drop = {pick.choice([0, 20, 150])}
fall = {pick.choice([0, 0.0125])}
[floor.board]
direction_deg = {pick.choice([0, 90, 45, -60])}
closing = "{pick.choice(["even-gap", "rip-last", "rip-both", "move-outline"])}"
[frame]
style = "{style}"
setback = {pick.choice([0, 90])}
{joints}
"""


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_any_floor_is_drawn_without_a_touching_text_or_a_stray_line(seed):
    job = parse_job(random_job(seed))
    plan = make_plan(job, read_shop(None, standard=job.standard), read_log(None))
    language = Language.JAPANESE if seed % 2 else Language.ENGLISH
    for page in drawings(plan, Speaker(language, UNITS[seed // 2 % len(UNITS)]), job.paper):
        assert [(a.text, b.text) for a, b in overlaps(page)] == [], page.code
        assert strays(page) == (), page.code


@pytest.mark.slow
def test_the_random_floors_hold_every_style_standard_and_paper():
    jobs = [parse_job(random_job(seed)) for seed in range(12)]
    assert len({j.frame.style for j in jobs}) == 3
    assert len({j.standard for j in jobs}) == 3
    assert len({j.paper for j in jobs}) == 4
