"""Hours: each quantity is what is drawn, nothing is counted twice, the shop's own rates win."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import make_built, make_job, make_shop, replace, section, stick

from evenfoot.checks import Verdict
from evenfoot.estimate import price_job
from evenfoot.frame import JointKind
from evenfoot.job import kinds


def worked(job, *sections, **changes):
    built = make_built(job, *sections)
    return built, {w.task: w for w in price_job(job, make_shop(**changes), built).work}


def test_quantities_are_what_is_drawn():
    job = make_job()
    built, work = worked(job)
    laps = sum(j.kind in (JointKind.LAP_OVER, JointKind.LAP_UNDER) for j in built.frame.joints)
    ends = 2 * (len(built.layout.pieces) + len(built.frame.members) + len(built.posts.cuts))
    assert work["half-lap"].quantity == laps > 0
    assert work["trim-end"].quantity == 2 * len(built.layout.pieces)
    assert work["screw"].quantity == 2 * built.layout.screws
    assert work["footing"].quantity == work["post-seat"].quantity == len(built.frame.posts)
    assert work["seal-end"].quantity == 2 * ends
    assert work["lay-boards"].quantity == pytest.approx(3.640 * 2.710)
    assert work["frame-joist"].quantity == pytest.approx((3.640 - 0.060) * (2.710 - 0.030))
    assert work["rip-metre"].quantity == pytest.approx(sum(p.length for p in built.layout.pieces if p.is_ripped) / 1e3)
    assert work["set-out"].quantity == 1


def test_coated_areas_are_those_of_the_coats():
    job = make_job(coats=3)
    estimate = price_job(job, make_shop(), make_built(job))
    work = {w.task: w for w in estimate.work}
    before = sum(c.area for c in estimate.coats if c.when == "before-assembly" and c.face != "end-grain")
    assert work["coat-before"].quantity == pytest.approx(before)
    assert work["coat-laid"].quantity == pytest.approx(sum(c.area for c in estimate.coats if c.when == "after-laying"))


def test_hours_are_quantity_times_rate():
    _, work = worked(make_job())
    lap = work["half-lap"]
    assert (lap.low, lap.typical, lap.high) == pytest.approx(tuple(lap.quantity * r for r in (0.25, 0.4, 0.8)))
    assert lap.unit == "each"
    assert not lap.is_confirmed
    assert work["frame-joist"].is_confirmed


def test_work_that_the_job_has_none_of_is_left_out():
    _, work = worked(make_job(finish="none"))
    assert not {"plane", "hanger", "housing", "scribe-foot", "nail", "coat-before", "coat-laid", "seal-end"} & set(work)


def test_the_whole_of_laying_boards_is_never_counted_beside_its_parts():
    _, work = worked(make_job())
    assert "lay-boards" in work
    assert "lay-boards-whole" not in work


def test_hangers_and_housings_are_counted_where_they_are():
    job = make_job(style="hung", joint="hanger", joist=(45.0, 105.0))
    _, hung = worked(job)
    assert hung["hanger"].quantity == hung["frame-joist"].quantity
    built, housed = worked(make_job(joint="housing", post_joist="housing", joist=(45.0, 105.0)))
    assert housed["housing"].quantity == sum(j.kind is JointKind.HOUSING for j in built.frame.joints) > 0


def test_only_rough_timber_from_the_yard_is_planed():
    rough = section(
        stick(4000.0, "1", 1200.0, 2000.5),
        stick(2000.0, "1", 777.0, source="rack"),
        rough_width=95.0,
        rough_depth=110.0,
    )
    finished = section(stick(3000.0, "1", 2800.0))
    _, work = worked(make_job(), rough, finished)
    assert work["plane"].quantity == pytest.approx(3200.5 * 95 * 110 / 1e9)


@pytest.mark.parametrize(("rough_width", "rough_depth"), [(90.0, 110.0), (95.0, 105.0)])
def test_timber_that_is_rough_on_one_face_only_is_planed_too(rough_width, rough_depth):
    rough = section(stick(3000.0, "1", 1000.0), rough_width=rough_width, rough_depth=rough_depth)
    _, work = worked(make_job(), rough)
    assert work["plane"].quantity == pytest.approx(1000.0 * rough_width * rough_depth / 1e9)


def test_feet_are_scribed_only_to_stones_that_are_not_bedded_level():
    job = make_job()
    rough = replace(job.frame.footing, is_bedded_level=False)
    built, work = worked(replace(job, frame=replace(job.frame, footing=rough)))
    assert work["scribe-foot"].quantity == len(built.frame.posts)
    pads = replace(rough, kind=kinds.Footing.PAD)
    assert "scribe-foot" not in worked(replace(job, frame=replace(job.frame, footing=pads)))[1]


def test_hardwood_boards_take_twice_as_long_to_screw_and_no_longer_to_trim():
    _, soft = worked(make_job(board_species="hinoki"))
    _, hard = worked(make_job(board_species="ipe"))
    assert hard["screw"].typical == pytest.approx(2 * soft["screw"].typical)
    assert hard["trim-end"].typical == pytest.approx(soft["trim-end"].typical)


def test_a_learned_rate_replaces_the_typical_one_and_moves_the_range():
    _, work = worked(make_job(), rates=(("half-lap", 0.3),))
    lap = work["half-lap"]
    assert lap.typical == pytest.approx(0.3 * lap.quantity)
    assert (lap.low / lap.typical, lap.high / lap.typical) == pytest.approx((0.25 / 0.4, 0.8 / 0.4))
    assert (lap.source, lap.is_confirmed) == ("shop", True)


def test_a_learned_rate_of_no_task_is_said():
    job = make_job()
    estimate = price_job(job, make_shop(rates=(("whistle", 1.0),)), make_built(job))
    (check,) = [c for c in estimate.checks if c.rule == "rate-of-no-task"]
    assert (check.subject, check.verdict) == ("whistle", Verdict.NOT_CHECKED)


def test_a_deck_like_the_one_measured_takes_about_as_long():
    """Boards of a 20 by 10 ft deck were laid in 0.70 h/m2, its joists set in 0.62 h/m2, hangers 0.04 h/m2."""
    job = make_job(
        standard="north-america",
        style="hung",
        joint="hanger",
        size=(6096.0, 3048.0),
        board=(25.0, 140.0),
        joist=(38.0, 184.0),
        beam=(76.0, 184.0),
        species="douglas_fir",
        overhang=0.0,
    )
    job = replace(job, frame=replace(job.frame, joist=replace(job.frame.joist, spacing_max=406.4)))
    _, work = worked(job)
    area = 6.096 * 3.048
    laid = sum(work[task].typical for task in ("lay-boards", "screw", "trim-end"))
    assert laid / area == pytest.approx(0.70, rel=0.15)
    assert work["frame-joist"].typical / area == pytest.approx(0.62, rel=0.01)
