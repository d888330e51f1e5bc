"""Every finding beside the frame can be said, in both languages, from its own facts."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, replace
from test_joins import GUARD, HUNG, ledgered
from test_stability import TUB, Holding, job_with

from evenfoot.job import kinds
from evenfoot.strength import check_strength
from evenfoot.strength.joins import check_ledger
from evenfoot.words import Language, Speaker, catalogue

BRACED = {"along": Holding.BRACES, "out": Holding.LOW_RAILS, "pieces_along": 2, "each": 50.0}
JOBS = [
    job_with(loads={"uplift": 0.003}),
    job_with(snow_depth=800.0),
    job_with(held={"along": Holding.NOTHING, "out": Holding.BUILDING}),
    job_with(held={"along": Holding.BUILDING, "out": Holding.BUILDING, "pieces_along": 1}),
    job_with(held=BRACED, loads={"wind": 0.001, "uplift": 0.003}, makers={"post_head": 1.0}),
    job_with(held=BRACED, makers={"post_foot": 900.0, "hanger": 10.0, "hold_down": 10.0}, site={"bearing": 0.01}),
    job_with(held={"along": Holding.POSTS_IN_CONCRETE, "out": Holding.BRACES}, site={"soil": kinds.Soil.SAND}),
    replace(job_with(loads={"heavy": (TUB,), "roof_snow": kinds.RoofSnow.SLIDES}), guard=GUARD),
    replace(job_with(makers={"guard_post": 1.0}), guard=replace(GUARD, species="ipe")),
    replace(job_with(makers={"guard_post": 1.0}), guard=GUARD),
]
PLANS = [
    (Plan(), 700.0),
    (HUNG, 90.0),
    (replace(Plan(), beams=(605.0,)), 400.0),
    (replace(Plan(), reach=(-900.0, 1210.0)), 400.0),
]


@pytest.mark.parametrize("language", list(Language))
def test_every_finding_beside_the_frame_is_said(language):
    speaker, rules = Speaker(language), set()
    for job in JOBS:
        for plan, height in PLANS:
            frame = make_frame(plan)
            for check in check_strength(job, frame, heights(frame, height)).checks:
                text = speaker.check(check)
                assert "{" not in text
                assert not re.search(r"\b(None|nan|inf)\b", text)
                rules.add(check.rule)
                assert not check.case or f"case.{check.case}" in catalogue()
    for fixing in kinds.LedgerFixing:
        for spans in ([3000.0], [9000.0]):
            (check,) = check_ledger(ledgered(fixing, 10.0), length=4000.0, joist_spans=spans)
            assert "{" not in speaker.check(check)
    assert {
        "sway",
        "sway-nothing",
        "sway-blocks",
        "sway-share",
        "sway-unknown",
        "one-tie",
        "sliding",
        "sliding-bolted",
        "footing-on-ground",
        "footing-pressure",
        "post-head-pulled",
        "post-head-pulled-bears",
        "post-foot-pulled",
        "posts-embedded",
        "upright-post",
        "feet-stand",
        "hangers-bear",
        "hold-down-bears",
        "guard-post",
        "guard-post-unknown",
        "guard-fixing",
        "guard-fixing-bears",
        "roof-snow",
        "heavy-thing",
        "floor-swing",
        "person-sag",
        "tall-posts",
        "tall-posts-held",
    } <= rules


def test_codes_put_together_from_parts_are_all_in_the_catalogue():
    wanted = [f"holding.{h}" for h in Holding] + ["holding.unsaid"]
    wanted += [f"ledger-fixing.{f}" for f in kinds.LedgerFixing]
    wanted += [f"direction.{d}" for d in ("along", "out")] + [f"push.{p}" for p in ("own", "earthquake", "wind")]
    wanted += [f"check.post-{p}-pulled{b}" for p in ("head", "foot") for b in ("", "-bears")]
    wanted += [f"reason.{r}" for r in ("slab-spreads", "ground-value-not-entered", "ground-not-in-standard")]
    assert [code for code in wanted if code not in catalogue()] == []
