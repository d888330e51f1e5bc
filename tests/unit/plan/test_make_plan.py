"""The one entrance: what it remembers, and that a plan is whole."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenfoot.errors import EvenfootError
from evenfoot.frame import Role
from evenfoot.job import read_job, read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.office import plan_json
from evenfoot.plan import STAGES, Memory, make_plan

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))


def whole(path: Path, **kw):
    job = read_job(path)
    log = path.parent / "log.jsonl"
    return make_plan(job, read_shop(None, standard=job.standard), read_log(log if log.exists() else None), **kw)


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda p: p.parent.name)
def plan(request):
    return whole(request.param)


def test_the_same_job_gives_the_same_bytes(plan, request):
    path = next(p for p in EXAMPLES if read_job(p).name == plan.job.name)
    assert plan_json(whole(path)) == plan_json(plan)


def test_each_timber_is_cut_once(plan):
    cut = Counter(c.mark for s in plan.cutting.sections for stick in s.sticks for c in stick.cuts)
    left_out = {c.subject for c in plan.cutting.checks if c.verdict.value == "fails"}
    wanted = (
        {m.mark for m in plan.frame.members} | {p.mark for p in plan.layout.pieces} | {p.mark for p in plan.posts.cuts}
    )
    assert set(cut) == wanted - left_out
    assert set(cut.values()) == {1}


def test_sticks_hold_what_is_cut_from_them(plan):
    sizes = {p.mark: p for p in plan.cutting.pieces}
    for section in plan.cutting.sections:
        for stick in section.sticks:
            end = 0.0
            for cut in stick.cuts:
                assert cut.begin >= end - 1e-6
                assert cut.finish - cut.begin == pytest.approx(sizes[cut.mark].length, abs=0.5)
                end = cut.finish + plan.yard.kerf
            assert stick.cuts[-1].finish <= stick.length + 1e-6
            assert section.species == sizes[stick.cuts[0].mark].species


def test_quantities_equal_what_is_drawn(plan):
    works = {w.task: w.quantity for w in plan.estimate.work}
    screws = next(f for f in plan.estimate.fixings if f.use == "board-joist")
    assert screws.crossings <= plan.layout.screws
    posts_wanted = sum(o.quantity for o in plan.estimate.order if o.kind == "footing")
    assert posts_wanted == len(plan.frame.posts)
    assert works
    bought = sum(o.quantity for o in plan.estimate.order if o.kind == "timber")
    assert bought == sum(1 for s in plan.cutting.sections for k in s.sticks if k.source == "yard")


def test_money_adds_up(plan):
    e = plan.estimate
    for side in ("low", "high"):
        lines = sum((getattr(o.price, side) for o in e.order), Decimal(0))
        assert getattr(e.material, side) == lines
        parts = e.material, e.labour, e.overhead, e.tax
        assert getattr(e.total, side) == sum((getattr(p, side) for p in parts), Decimal(0))


def test_post_lengths_and_layers_fill_the_height(plan):
    for cut in plan.posts.cuts:
        assert cut.length == pytest.approx(cut.underside - cut.footing_top, abs=1e-6)
        assert cut.rough_length >= cut.length


def test_every_timber_has_a_mass_and_every_post_a_place(plan):
    assert {m.mark for m in plan.timber.masses} >= {m.mark for m in plan.frame.members if m.role is not Role.POST}
    assert {p.mark for p in plan.frame.posts} == {c.mark for c in plan.posts.cuts}


def test_stages_are_told_in_order():
    told: list[str] = []
    whole(EXAMPLES[0], on_stage=told.append)
    assert tuple(told) == STAGES


def test_a_price_does_not_solve_the_frame_again():
    memory, job = Memory(), read_job(EXAMPLES[0])
    shop = read_shop(None, standard=job.standard)
    first = make_plan(job, shop, read_log(None), memory=memory)
    dearer = tuple(replace(s, price=replace(s.price, low=s.price.low * 2, high=s.price.high * 2)) for s in shop.stock)
    second = make_plan(replace(job, name="other"), replace(shop, stock=dearer), read_log(None), memory=memory)
    for room in ("ground", "layout", "frame", "strength", "joinery", "posts", "timber"):
        assert getattr(first, room) is getattr(second, room), room
    assert second.estimate.material.low > first.estimate.material.low


def test_a_wider_spacing_builds_another_frame():
    memory, job = Memory(), read_job(EXAMPLES[0])
    shop = read_shop(None, standard=job.standard)
    first = make_plan(job, shop, read_log(None), memory=memory)
    joist = replace(job.frame.joist, spacing_max=job.frame.joist.spacing_max * 0.6)
    changed = replace(job, frame=replace(job.frame, joist=joist))
    second = make_plan(changed, shop, read_log(None), memory=memory)
    assert second.ground is first.ground
    assert second.frame is not first.frame
    assert second == make_plan(changed, shop, read_log(None))


def test_a_change_that_comes_to_the_same_timbers_does_not_cut_them_anew():
    memory, job = Memory(), read_job(EXAMPLES[0])
    shop = read_shop(None, standard=job.standard)
    first = make_plan(job, shop, read_log(None), memory=memory)
    roomy = replace(job, loads=replace(job.loads, snow_depth=job.loads.snow_depth + 170.0))
    second = make_plan(roomy, shop, read_log(None), memory=memory)
    for room in ("ground", "layout", "frame", "joinery", "posts", "timber", "cutting"):
        assert getattr(first, room) is getattr(second, room), room
    assert second.strength != first.strength
    assert second == make_plan(roomy, shop, read_log(None))


_EDITS = {
    "width": lambda job, by: replace(
        job, floor=replace(job.floor, outline=tuple((x + by if x > 0.0 else x, y) for x, y in job.floor.outline))
    ),
    "drop": lambda job, by: replace(job, floor=replace(job.floor, drop=job.floor.drop + by)),
    "gap": lambda job, by: replace(
        job, floor=replace(job.floor, board=replace(job.floor.board, gap=job.floor.board.gap + by / 100.0))
    ),
    "joists": lambda job, by: replace(
        job,
        frame=replace(job.frame, joist=replace(job.frame.joist, spacing_max=job.frame.joist.spacing_max + 10.0 * by)),
    ),
    "snow": lambda job, by: replace(job, loads=replace(job.loads, snow_depth=job.loads.snow_depth + 10.0 * abs(by))),
    "people": lambda job, by: replace(job, crew=replace(job.crew, people=2 + int(abs(by)))),
}


@pytest.mark.slow
@settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    edits=st.lists(st.tuples(st.sampled_from(sorted(_EDITS)), st.integers(-3, 3)), min_size=2, max_size=5),
    path=st.sampled_from([p for p in EXAMPLES if "marsh" not in p.parent.name]),
)
def test_a_plan_from_a_warm_memory_is_the_plan_from_a_cold_one(edits, path):
    """Along any chain of edits; the bytes of the whole plan are compared, so that 0.0 and -0.0 differ too."""
    memory, job = Memory(), read_job(path)
    shop = read_shop(None, standard=job.standard)
    for name, by in edits:
        job = _EDITS[name](job, float(by))
        warm, cold = (_plan_or_fault(job, shop, kept) for kept in (memory, Memory()))
        assert warm == cold


def _plan_or_fault(job, shop, memory):
    try:
        return plan_json(make_plan(job, shop, read_log(None), memory=memory))
    except EvenfootError as error:
        return error.faults


def test_memory_is_bounded():
    memory = Memory()
    for n in range(50):
        assert memory.recall("double", lambda v: v * 2, values=(n,)) == 2 * n
    assert sum(len(s) for s in memory._stages.values()) <= 8


def test_a_later_measure_wins_over_the_surface(tmp_path):
    job = read_job(EXAMPLES[0])
    shop = read_shop(None, standard=job.standard)
    before = make_plan(job, shop, read_log(None))
    mark = before.posts.cuts[0].mark
    log = tmp_path / "log.jsonl"
    log.write_text(
        f'{{"time": "2026-05-01T10:00", "what": "post-gap", "mark": "{mark}", "value_mm": 301.5}}\n', encoding="utf-8"
    )
    after = make_plan(job, shop, read_log(log))
    assert next(c for c in after.posts.cuts if c.mark == mark).length == pytest.approx(301.5)
    assert [c.length for c in after.posts.cuts][1:] == [c.length for c in before.posts.cuts][1:]


def test_an_l_shaped_floor_is_a_fault_with_its_place():
    from evenfoot.errors import NoSolutionError

    text = (
        'unit = "mm"\nstandard = "japan"\n[site]\nlevels = [[0,0,-500],[3000,0,-505],[0,2000,-510]]\n'
        "[floor]\noutline = [[0,10],[3000,10],[3000,1000],[1500,1000],[1500,2000],[0,2000]]\n"
    )
    job = parse_job(text)
    with pytest.raises(NoSolutionError) as error:
        make_plan(job, read_shop(None, standard=job.standard), read_log(None))
    assert (error.value.fault.where, error.value.fault.code) == ("floor.outline", "frame-needs-rectangle")


@pytest.mark.parametrize("style", ["flush", "stacked", "hung"])
@pytest.mark.parametrize("standard", ["japan", "europe", "north-america"])
def test_every_style_is_reckoned_by_every_standard(standard, style):
    job = parse_job(
        f"""
unit = "mm"
standard = "{standard}"
[site]
levels = [[0, 0, -510], [3170, 0, -520], [3170, 2230, -560], [0, 2230, -545]]
[floor]
width = 3170
depth = 2230
[frame]
style = "{style}"
"""
    )
    plan = make_plan(job, read_shop(None, standard=job.standard), read_log(None))
    assert plan.strength.post_loads
    assert len(plan.posts.cuts) == len(plan.frame.posts)
