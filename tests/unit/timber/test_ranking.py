"""Which details a floor has, how they rank, and what is said of them."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from timber_factory import FRAME_Y, make_frame, make_job, make_layout, with_board

from evenfoot.checks import Verdict, worst
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.job.model import RodReading, Station, WallOffset
from evenfoot.tables import species_ids, wood
from evenfoot.timber import know_timber
from evenfoot.words import Language, Speaker, catalogue

JAPAN = 78.0 / 40.0


def exposures(job, *, layout=None, frame=None):
    timber = know_timber(job, layout or make_layout(job), frame or make_frame(job))
    return {e.detail: e for e in timber.exposures}


def test_a_lapped_floor_has_the_details_of_a_lapped_floor():
    assert set(exposures(make_job())) == {
        "board-top",
        "board-end-sealed",
        "joist-top",
        "lap-open",
        "wall-open",
        "post-head",
        "post-foot",
    }


@pytest.mark.parametrize(
    ("kind", "detail"),
    [
        (JointKind.HANGER, "joist-end"),
        (JointKind.HOUSING, "joist-end"),
        (JointKind.BUTT, "joist-end"),
        (JointKind.BEARING, "joist-on-beam"),
        (JointKind.LAP_UNDER, "lap-open"),
    ],
)
def test_joints_bring_their_own_detail(kind, detail):
    job = make_job()
    found = exposures(job, frame=make_frame(job, kind=kind))
    assert detail in found
    assert not ({"joist-end", "joist-on-beam", "lap-open", "lap-covered"} - {detail}) & set(found)
    assert len(found[detail].marks) == 6


def test_a_lap_under_one_board_is_covered_and_one_under_a_gap_is_not():
    """Boards of 240 mm from y = 10 cover y 10..250: the laps on the beam at 95 lie under one, those at 1045 do not."""
    job = make_job(width=240.0)
    found = exposures(job, layout=make_layout(job, gap=6.0))
    assert set(found["lap-covered"].marks) == {"A1.lap-over", "B1.lap-over", "C1.lap-over"}
    assert set(found["lap-open"].marks) == {"A2.lap-over", "B2.lap-over", "C2.lap-over"}
    bare = replace(job, finish=replace(job.finish, hidden_first=False))
    assert "lap-covered" not in exposures(bare, layout=make_layout(bare, gap=6.0))


@pytest.mark.parametrize(("near", "detail"), [(42.5, "lap-covered"), (42.6, "lap-open")])
def test_a_gap_over_either_edge_of_a_lap_opens_it(near, detail):
    """The lap on the beam at 95 reaches from 42.5 to 147.5; one board covers it just or just not."""
    job = make_job(width=240.0)
    layout = make_layout(job)
    first = layout.pieces[0]
    moved = replace(first, outline=tuple((x, y - 10.0 + near) for x, y in first.outline))
    found = exposures(job, layout=replace(layout, pieces=(moved,)))
    assert "A1.lap-over" in found[detail].marks
    turned = replace(first, outline=tuple((x, y - 250.0 + 190.0 - near) for x, y in first.outline))
    assert "A1.lap-over" in exposures(job, layout=replace(layout, pieces=(turned,)))[detail].marks


@pytest.mark.parametrize(
    ("detail", "kind", "depth"),
    [
        ("lap-open", JointKind.LAP_OVER, 52.5),
        ("post-head", JointKind.LAP_OVER, 105.0),
        ("wall-open", JointKind.BUTT, 105.0),
    ],
)
def test_details_below_the_top_stand_lower(detail, kind, depth):
    """The frame's top at -50: ground that far under a detail as the band of 300 mm asks, and a hair nearer."""
    job = make_job()
    index = {}
    for above in (300.0, 299.9):
        level = replace(job.site.levels[0], z=-50.0 - depth - above)
        low = replace(job, site=replace(job.site, levels=(level,)))
        index[above] = exposures(low, frame=make_frame(low, kind=kind))[detail].index
    assert index[299.9] == pytest.approx(1.5 * index[300.0], rel=1e-12)


def test_covered_laps_are_found_whatever_way_the_boards_run():
    job = make_job(width=240.0)
    layout = make_layout(job, gap=6.0)
    turned = replace(
        layout,
        direction_deg=90.0,
        pieces=tuple(replace(p, outline=tuple((-y + 1120.0, x) for x, y in p.outline)) for p in layout.pieces),
    )
    frame = make_frame(job)
    turned_frame = replace(frame, joints=tuple(replace(j, x=-j.y + 1120.0, y=j.x) for j in frame.joints))
    as_laid = exposures(job, layout=layout, frame=frame)["lap-covered"].marks
    assert exposures(job, layout=turned, frame=turned_frame)["lap-covered"].marks == as_laid


def test_the_index_of_a_board_top_is_its_product_of_factors():
    """Hinoki boards 430 mm over the highest reading: k_s3 1.0, class 2 with a kept finish 0.9, boards 0.8, class B 5."""
    top = exposures(make_job())["board-top"]
    assert top.index == pytest.approx(JAPAN * 1.0 * 1.0 * 0.9 * 0.8, rel=1e-12)
    assert top.resistance == 5.0
    assert top.ratio == pytest.approx(top.index / 5.0, rel=1e-12)
    bare = replace(make_job(), finish=replace(make_job().finish, kind=kinds.Coating.NONE))
    assert exposures(bare)["board-top"].index == pytest.approx(top.index / 0.9, rel=1e-12)


@pytest.mark.parametrize(("height", "k_s3"), [(20.0, 2.0), (99.9, 2.0), (100.0, 1.5), (299.0, 1.5), (300.0, 1.0)])
def test_post_feet_rank_by_the_height_of_their_footing(height, k_s3):
    job = make_job()
    job = replace(job, frame=replace(job.frame, footing=replace(job.frame.footing, height=height)))
    foot = exposures(job)["post-foot"]
    assert foot.index == pytest.approx(JAPAN * k_s3 * 1.6 * 0.85 * 0.9, rel=1e-12)
    assert foot.remedy == "decay-shoe"
    assert foot.marks == ("A1", "A2", "C1", "C2")


@pytest.mark.parametrize(
    ("end_gap", "hidden_first", "detail"),
    [
        (0.0, True, "board-end-tight"),
        (2.9, True, "board-end-tight"),
        (3.0, True, "board-end-bare"),
        (4.9, True, "board-end-bare"),
        (5.0, True, "board-end-sealed"),
        (8.0, False, "board-end-bare"),
    ],
)
def test_board_ends_that_meet_rank_by_their_distance_and_seal(end_gap, hidden_first, detail):
    job = with_board(make_job(), end_gap=end_gap)
    job = replace(job, finish=replace(job.finish, hidden_first=hidden_first))
    layout = make_layout(job)
    meeting = replace(layout.pieces[1], start_on_joist=1, end_on_joist=2)
    layout = replace(layout, pieces=(layout.pieces[0], meeting))
    found = exposures(job, layout=layout)
    assert meeting.mark in found[detail].marks
    free = "board-end-sealed" if hidden_first else "board-end-bare"
    assert layout.pieces[0].mark in found[free].marks


@pytest.mark.parametrize(("gap", "detail"), [(5.0, "board-top"), (4.9, "board-top-tight")])
def test_boards_drain_from_five_millimetres(gap, detail):
    job = make_job()
    assert detail in exposures(job, layout=make_layout(job, gap=gap))


@pytest.mark.parametrize(
    ("out", "detail"),
    [
        (FRAME_Y[0] - 4.9, "wall-tight"),
        (FRAME_Y[0] - 5.0, "wall-near"),
        (FRAME_Y[0] - 9.9, "wall-near"),
        (FRAME_Y[0] - 10.0, "wall-open"),
    ],
)
def test_timber_at_the_wall_ranks_by_its_distance(out, detail):
    job = make_job()
    wall = (WallOffset(x=-500.0, out=60.0, where="site.wall[0]"), WallOffset(x=900.0, out=out, where="site.wall[1]"))
    found = exposures(replace(job, site=replace(job.site, wall=wall)))
    assert [d for d in found if d.startswith("wall-")] == [detail]
    assert set(found[detail].marks) == {"1A-C", "A1-2", "B1-2", "C1-2"}


def test_a_floor_far_from_the_wall_has_no_wall_detail():
    job = make_job()
    layout = replace(make_layout(job), frame_y=(100.0, 1155.0))
    assert not [d for d in exposures(job, layout=layout) if d.startswith("wall-")]


def test_heights_count_from_the_highest_reading_of_levels_and_rod():
    """A rod read 1150 from a line of sight 1300 over a point at -420 stands at -270: the tops are 220 mm over it."""
    job = make_job()
    station = Station(
        on=-420.0,
        backsight=1300.0,
        closing=None,
        readings=(RodReading(name="b", x=0.0, y=0.0, rod=1150.0, where="site.stations[0].readings[0]"),),
        where="site.stations[0]",
    )
    near_ground = replace(job, site=replace(job.site, stations=(station,)))
    assert exposures(job)["joist-top"].index == pytest.approx(JAPAN * 1.4 * 0.9, rel=1e-12)
    assert exposures(near_ground)["joist-top"].index == pytest.approx(JAPAN * 1.5 * 1.4 * 0.9, rel=1e-12)


def test_without_a_reading_only_feet_are_ranked_and_that_is_said():
    job = make_job()
    job = replace(job, site=replace(job.site, levels=()))
    timber = know_timber(job, make_layout(job), make_frame(job))
    assert [e.detail for e in timber.exposures] == ["post-foot"]
    (said,) = [c for c in timber.checks if c.rule == "decay-heights"]
    assert (said.verdict, said.reason) == (Verdict.NOT_CHECKED, "no-ground-reading")


@pytest.mark.parametrize(("hidden_first", "remedy"), [(True, "decay-board-over-post"), (False, "decay-seal-ends")])
def test_nobody_is_told_to_seal_what_is_sealed_already(hidden_first, remedy):
    job = make_job()
    job = replace(job, finish=replace(job.finish, hidden_first=hidden_first))
    assert exposures(job)["post-head"].remedy == remedy


def test_the_three_worst_are_named_in_order_and_never_fail():
    job = make_job(species="norway_spruce")
    timber = know_timber(job, make_layout(job), make_frame(job))
    ratios = [e.ratio for e in timber.exposures]
    assert ratios == sorted(ratios, reverse=True)
    named = [c for c in timber.checks if c.rule == "decay-ranking"]
    assert [c.fact("rank") for c in named] == [1, 2, 3]
    assert [c.ratio for c in named] == ratios[:3]
    assert all(r > 1 for r in ratios[:3])
    assert {c.verdict for c in named} == {Verdict.NOT_CHECKED}
    assert {c.reason for c in named} == {"ranking-only"}
    assert not any(c.confirmed for c in named)
    assert worst(named) is not Verdict.FAILS


def test_a_detail_that_its_wood_resists_is_ok_but_unconfirmed():
    job = make_job(species="ipe", board="ipe")
    named = [c for c in know_timber(job, make_layout(job), make_frame(job)).checks if c.rule == "decay-ranking"]
    assert {c.verdict for c in named} == {Verdict.OK}
    assert not any(c.confirmed for c in named)
    assert {c.remedy for c in named} == {""}


def test_a_better_wood_ranks_better_everywhere():
    spruce, hinoki = exposures(make_job(species="norway_spruce")), exposures(make_job(species="hinoki"))
    for detail in ("lap-open", "post-foot", "joist-top"):
        assert hinoki[detail].ratio < spruce[detail].ratio
        assert hinoki[detail].index == spruce[detail].index


def test_a_wood_without_a_durability_class_is_ranked_as_spruce_and_said():
    job = make_job(species="loblolly_pine")
    timber = know_timber(job, make_layout(job), make_frame(job))
    assert {e.resistance for e in timber.exposures if e.species == "loblolly_pine"} == {1.0}
    (said,) = [c for c in timber.checks if c.rule == "decay-resistance"]
    assert (said.verdict, said.reason) == (Verdict.NOT_CHECKED, "no-resistance-class")
    assert said.fact("species_code") == "species.loblolly_pine"


def test_sites_of_the_three_standards_rank_as_their_climates_do():
    job = make_job()
    index = {s: exposures(replace(job, standard=s))["joist-top"].index / (1.4 * 0.9) for s in kinds.Standard}
    assert index[kinds.Standard.JAPAN] == pytest.approx(1.95, rel=1e-12)
    assert index[kinds.Standard.EUROPE] == pytest.approx(1.25, rel=1e-12)
    assert index[kinds.Standard.NORTH_AMERICA] == pytest.approx(1.25, rel=1e-12)


@pytest.mark.parametrize("detail", wood.decay_table().details, ids=lambda d: d.id)
def test_every_detail_and_its_remedy_can_be_said(detail):
    assert f"detail.{detail.id}" in catalogue()
    assert f"remedy.{detail.remedy}" in catalogue()
    assert f"remedy.{detail.remedy_sealed}" in catalogue()


@pytest.mark.parametrize("language", Language)
@pytest.mark.parametrize("name", [n for n in species_ids() if n in ("sugi", "white_fir", "american_chestnut")])
def test_the_ranking_can_be_said(language, name):
    job = make_job(species=name)
    said = [Speaker(language).check(c) for c in know_timber(job, make_layout(job), make_frame(job)).checks]
    assert all(said)
    assert not any("{" in s for s in said)
