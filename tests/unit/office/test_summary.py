"""The plan in a few numbers says what the sheets say."""

from __future__ import annotations

from dataclasses import replace

from evenfoot.job import job_template, parse_job, read_log, read_shop
from evenfoot.office import summarise
from evenfoot.plan import make_plan


def test_posts_that_do_not_fit_are_not_counted_nor_measured():
    plan = make_plan(parse_job(job_template("japan", "en")), read_shop(None), read_log(None))
    first, *others = plan.posts.cuts
    short = replace(plan, posts=replace(plan.posts, cuts=(replace(first, length=-40.0, rough_length=0.0), *others)))
    summary = summarise(short)
    assert summary.posts == len(others)
    assert summary.shortest_post == min(c.length for c in others)
