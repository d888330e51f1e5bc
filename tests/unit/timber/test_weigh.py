"""Masses on the day, who lifts them, and treated timber that comes fresh."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from timber_factory import make_frame, make_job, make_layout, timber_of, with_board, with_climate

from evenfoot.checks import Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.timber import know_timber
from evenfoot.timber.weigh import people_for
from evenfoot.words import Language, Speaker


def know(job, **layout):
    return know_timber(job, make_layout(job, **layout), make_frame(job))


def test_every_board_and_timber_is_weighed_once():
    job = make_job()
    layout, frame = make_layout(job), make_frame(job)
    timber = know_timber(job, layout, frame)
    marks = [m.mark for m in timber.masses]
    assert marks == [*(p.mark for p in layout.pieces), *(m.mark for m in frame.members)]
    assert timber.total_mass == pytest.approx(sum(m.mass for m in timber.masses), rel=1e-12)


def test_a_sugi_board_weighs_what_the_worked_example_says():
    """Own worked example: 30 x 120 x 4000 mm of sugi (380 kg/m3 at 12 %) at 15 % weighs 5.57 kg."""
    timber = know(make_job(board="sugi"), length=4000.0)
    assert timber.masses[0].mass == pytest.approx(5.57, abs=0.005)


def test_a_board_cut_aslant_weighs_its_own_area():
    job = make_job()
    layout = make_layout(job)
    whole = layout.pieces[0]
    halved = replace(whole, outline=(whole.outline[0], whole.outline[1], whole.outline[3]), is_shaped=True)
    layout = replace(layout, pieces=(halved, *layout.pieces[1:]))
    masses = know_timber(job, layout, make_frame(job)).masses
    assert masses[0].mass == pytest.approx(masses[1].mass / 2, rel=1e-12)


@pytest.mark.parametrize(
    ("mass", "length", "people"),
    [(24.0, 4000.0, 1), (24.1, 4000.0, 2), (10.0, 4000.1, 2), (48.0, 3000.0, 2), (48.1, 6000.0, 3), (0.3, 300.0, 1)],
)
def test_people_follow_mass_and_length(mass, length, people):
    """Limit 0.40 x 60 kg = 24 kg each; two for any piece over 4 m."""
    assert people_for(mass=mass, length=length) == people


def test_long_boards_and_timbers_take_two_people():
    job = make_job(board="sugi")
    layout, frame = make_layout(job, length=4001.0), make_frame(job)
    long = replace(frame, members=(replace(frame.members[0], length=4001.0), *frame.members[1:]))
    people = {m.mark: m.people for m in know_timber(job, layout, long).masses}
    assert (people["b1.1"], people["1A-C"], people["2A-C"]) == (2, 2, 1)


def find(timber, rule):
    return [c for c in timber.checks if c.rule == rule]


def test_the_heaviest_piece_is_compared_with_the_crew():
    job = make_job()
    job = replace(job, frame=replace(job.frame, beam=timber_of(300.0, 300.0, "ipe", "frame.beam")))
    (check,) = find(know(job), "lift")
    assert check.subject == "1A-C"
    assert check.verdict is Verdict.FAILS
    assert check.capacity == pytest.approx(2 * 24.0)
    assert check.demand > 150.0
    assert check.fact("people") == -(-check.demand // 24.0)
    assert not check.confirmed
    (light,) = find(know(make_job()), "lift")
    assert light.verdict is Verdict.OK
    assert light.remedy == ""


def test_treated_timber_that_is_dry_on_the_day_is_said_to_come_heavier():
    job = make_job(species="treated_pine", board="treated_pine")
    timber = know(job)
    (dry,), (fresh,) = find(timber, "lift"), find(timber, "lift-fresh-treated")
    assert fresh.subject == dry.subject
    assert fresh.demand > 1.7 * dry.demand


def test_treated_timber_at_saturation_is_weighed_fresh():
    job = with_climate(make_job(species="treated_pine", board="treated_pine"), fixing=30.0)
    wet, untreated = know(job), know(with_climate(make_job(species="loblolly_pine"), fixing=30.0))
    assert not find(wet, "lift-fresh-treated")
    beam = {m.mark: m.mass for m in wet.masses}["1A-C"]
    plain = {m.mark: m.mass for m in untreated.masses}["1A-C"]
    assert beam > 1.3 * plain


def test_untreated_timber_has_no_word_on_fresh_stock():
    assert not find(know(make_job()), "lift-fresh-treated")


def test_an_unknown_wood_is_found_at_its_place_in_the_job():
    with pytest.raises(OutOfRangeError) as caught:
        know(with_board(make_job(), species="hinoky"))
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == ("species-unknown", "floor.board.species", "hinoky")
    assert fault.nearest == "hinoki"
    job = make_job(species="sugee")
    with pytest.raises(OutOfRangeError) as caught:
        know(job)
    assert (caught.value.fault.where, caught.value.fault.found) == ("frame.beam.species", "sugee")


@pytest.mark.parametrize("language", Language)
def test_findings_about_lifting_can_be_said(language):
    job = replace(make_job(species="treated_pine"), crew=replace(make_job().crew, people=1))
    job = replace(job, frame=replace(job.frame, beam=timber_of(240.0, 240.0, "treated_pine", "frame.beam")))
    for check in know(job).checks:
        said = Speaker(language).check(check)
        assert "{" not in said
        assert said
