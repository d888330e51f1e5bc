"""What is tried for a floor that falls short, which first passes, and what it costs."""

from __future__ import annotations

import pytest

from evenfoot.job import files, read_shop
from evenfoot.options import Part, find_remedies
from evenfoot.options.changes import changes_for
from evenfoot.options.parts import roles_of, shortfalls
from evenfoot.options.remedies import MOST_TRIALS
from evenfoot.plan import Memory, frame_only, make_plan
from evenfoot.words import Language, Speaker, catalogue

WEAK = """
name = "weak"
unit = "mm"
standard = "japan"
[site]
ground = "soil"
soil = "clay"
levels = [[0, 100, -600], [1900, 120, -612], [20, 1900, -630]]
[floor]
width = 1900
depth = 1900
[frame]
style = "stacked"
[frame.joist]
width = 45
depth = 60
spacing_max = 600
[frame.beam]
spacing_max = 900
[frame.footing]
size = 120
[loads]
use = "public"
[[stock]]
species = "sugi"
look = "square-edged"
width = 45
depth = 60
lengths = [3000]
price = 900
price_by = "piece"
[[stock]]
species = "sugi"
look = "square-edged"
width = 45
depth = 75
lengths = [3000]
price = 1100
price_by = "piece"
[[stock]]
species = "sugi"
look = "square-edged"
width = 45
depth = 120
lengths = [3000]
price = 1600
price_by = "piece"
[[stock]]
species = "sugi"
look = "square-edged"
width = 105
depth = 105
lengths = [3000, 4000]
price = 3000
price_by = "piece"
[[stock]]
species = "hinoki"
look = "square-edged"
width = 105
depth = 105
lengths = [3000]
price = 5000
price_by = "piece"
[[stock]]
species = "hinoki"
look = "small-knot"
width = 105
depth = 30
lengths = [2000, 3000]
price = 2000
price_by = "piece"
"""


@pytest.fixture(scope="module")
def plan():
    job = files.parse_job(WEAK)
    return make_plan(job, read_shop(None, job.standard), files.read_log(None))


@pytest.fixture(scope="module")
def found(plan):
    return {one.shortfall.part: one for one in find_remedies(plan)}


def test_each_part_that_falls_short_is_sought_for_and_no_other(plan, found):
    short = {s.part for s in shortfalls(plan.strength.checks, roles_of(plan))}
    assert set(found) == short
    assert Part.JOISTS in short
    assert Part.FOOTINGS in short


def test_the_first_that_passes_stands_in_the_order_tried_and_really_passes(plan, found):
    joists = found[Part.JOISTS]
    first = joists.first
    assert first is not None
    assert all(not t.passes for t in joists.trials[: joists.trials.index(first)])
    again = make_plan(first.change.job, plan.shop, plan.log)
    assert Part.JOISTS not in {s.part for s in shortfalls(again.strength.checks, roles_of(again))}


def test_the_price_is_the_difference_of_two_whole_plans(plan, found):
    for one in found.values():
        for trial in one.trials:
            if trial.passes:
                total = make_plan(trial.change.job, plan.shop, plan.log).estimate.total
                assert trial.extra_low == total.low - plan.estimate.total.low
                assert trial.extra_high == total.high - plan.estimate.total.high
            else:
                assert trial.extra_low is None


def test_the_cheapest_costs_no_more_than_any_that_passes(found):
    for one in found.values():
        passing = [t for t in one.trials if t.passes]
        if passing:
            assert one.cheapest.extra_high == min(t.extra_high for t in passing)


def test_a_way_is_followed_no_further_than_it_passes(found):
    for one in found.values():
        kinds = [t.change.kind for t in one.trials if t.passes]
        assert len(kinds) == len(set(kinds))
        for kind in kinds:
            steps = [t for t in one.trials if t.change.kind == kind]
            assert steps[-1].passes


def test_a_footing_of_the_size_named_passes(found):
    trial = found[Part.FOOTINGS].trials[0]
    assert trial.change.code == "larger-footing"
    assert trial.passes
    assert trial.change.job.frame.footing.size > 120.0


def test_the_same_plan_gives_the_same_answer_whatever_is_remembered(plan, found):
    memory = Memory()
    frame_only(plan.job, plan.shop, plan.log, memory=memory)
    again = {one.shortfall.part: one for one in find_remedies(plan, memory=memory)}
    assert again == found
    assert sum(len(one.trials) for one in found.values()) <= MOST_TRIALS


def test_changes_change_only_what_they_say(plan):
    for part in Part:
        for change in changes_for(part, plan.job, plan.yard, wanted_base=300.0):
            assert change.job != plan.job
            assert (change.job.site, change.job.loads, change.job.stock) == (
                plan.job.site,
                plan.job.loads,
                plan.job.stock,
            )
            assert f"option.{change.code}" in catalogue()


@pytest.mark.parametrize("language", list(Language))
def test_every_change_is_said(plan, language):
    speaker = Speaker(language)
    flush = files.parse_job(
        'unit = "mm"\nstandard = "japan"\n[site]\nlevels = [[0, 0, -500], [1, 9, -500], [9, 0, -500]]\n[floor]\nwidth = 1900\ndepth = 1900'
    )
    for job in (plan.job, flush):
        for part in Part:
            assert f"option-part.{part}" in catalogue()
            for change in changes_for(part, job, plan.yard, wanted_base=300.0):
                text = speaker.say(f"option.{change.code}", **dict(change.facts))
                assert "{" not in text


def test_a_floor_that_passes_has_nothing_to_try():
    job = files.parse_job(
        WEAK.replace("depth = 60\nspacing_max = 600", "depth = 120\nspacing_max = 300")
        .replace("size = 120", "size = 600")
        .replace('use = "public"', 'use = "dwelling"')
    )
    sound = make_plan(job, read_shop(None, job.standard), files.read_log(None))
    assert find_remedies(sound) == ()


def test_closer_posts_are_not_offered_where_their_lines_were_set(plan):
    from dataclasses import replace

    kinds = [c.code for c in changes_for(Part.BEAMS, plan.job, plan.yard)]
    assert "closer-posts" in kinds
    line = replace(plan.job, frame=replace(plan.job.frame, post_lines=(400.0, 1500.0)))
    assert "closer-posts" not in [c.code for c in changes_for(Part.BEAMS, line, plan.yard)]
