"""The plan in a few numbers says what the sheets say."""

from __future__ import annotations

from dataclasses import replace

from evenfoot.job import job_template, parse_job, read_log, read_shop
from evenfoot.office.summary import summarise
from evenfoot.plan import make_plan


def test_posts_that_do_not_fit_are_not_counted_nor_measured():
    plan = make_plan(parse_job(job_template("japan", "en")), read_shop(None), read_log(None))
    first, *others = plan.posts.cuts
    short = replace(plan, posts=replace(plan.posts, cuts=(replace(first, length=-40.0, rough_length=0.0), *others)))
    summary = summarise(short)
    assert summary.posts == len(others)
    assert summary.shortest_post == min(c.length for c in others)


def test_only_sticks_to_buy_are_counted_to_buy():
    plan = make_plan(parse_job(job_template("japan", "en")), read_shop(None), read_log(None))
    section, *others = plan.cutting.sections
    first, *rest = section.sticks
    in_hand = replace(section, sticks=(replace(first, source="hand"), *rest))
    with_hand = replace(plan, cutting=replace(plan.cutting, sections=(in_hand, *others)))
    assert summarise(with_hand).sticks == summarise(plan).sticks - 1
