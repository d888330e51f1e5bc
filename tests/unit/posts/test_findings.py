"""What is said about the posts: where they do not fit, what is not sure enough, what contradicts."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from post_factory import cut, frame_on, gap_line, make_job, make_site, replace

from evenfoot.checks import Verdict
from evenfoot.job import Log
from evenfoot.posts import cut_posts
from evenfoot.site import read_ground
from evenfoot.words import Language, Speaker


def found(posts, rule):
    return [c for c in posts.checks if c.rule == rule]


def only(posts, rule):
    (check,) = found(posts, rule)
    return check


@pytest.mark.parametrize(("at", "fits"), [(-275.0, True), (-274.9, False)])
def test_a_post_may_be_as_short_as_the_table_says_and_no_shorter(at, fits):
    posts = cut(make_job(make_site(at=at)))
    assert [bool(found(posts, r)) for r in ("posts-fit", "stack-height")] == [fits, not fits]


def test_posts_that_fit_are_told_with_shortest_and_longest():
    check = only(cut(make_job(make_site((0.01, 0.0)))), "posts-fit")
    assert (check.verdict, check.subject) == (Verdict.OK, "B1")
    assert (check.fact("shortest_mm"), check.fact("longest_mm")) == (pytest.approx(261), pytest.approx(279))


def test_every_post_that_does_not_fit_is_named_with_its_own_shortfall():
    posts = cut(make_job(make_site((0.01, 0.0), at=-250.0), drop=5.0))
    first, second = found(posts, "stack-height")
    # needed: 30 board + 105 beam + 60 post + 60 footing; there: 250 - 0.01 x - 5
    assert (first.subject, second.subject) == ("A1", "B1")
    assert first.demand == pytest.approx(255)
    assert first.capacity == pytest.approx(239)
    assert first.fact("shortfall_mm") == pytest.approx(16)
    assert second.fact("shortfall_mm") == pytest.approx(34)
    assert [c.fact("worst_mm") for c in (first, second)] == pytest.approx([34, 34])
    assert first.verdict is second.verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("wishes", "site", "remedy"),
    [
        ({"drop": 60.0}, {"at": -270.0}, "raise-floor"),
        ({"style": "stacked", "drop": 5.0}, {"at": -300.0}, "flush-frame"),
        ({"drop": 5.0}, {"at": -240.0}, "no-post"),
        ({"drop": 5.0}, {"at": -180.0, "ground": "soil"}, "dig-under-footing"),
        ({"drop": 5.0}, {"at": -180.0}, "thinner-stack"),
    ],
)
def test_the_remedy_is_one_that_is_enough(wishes, site, remedy):
    checks = found(cut(make_job(make_site(**site), **wishes)), "stack-height")
    assert {c.remedy for c in checks} == {remedy}


def test_doing_the_remedy_cures():
    bad = make_job(make_site((0.01, 0.0), at=-270.0), drop=60.0)
    worst = found(cut(bad), "stack-height")[0].fact("worst_mm")
    assert found(cut(make_job(make_site((0.01, 0.0), at=-270.0), drop=60.0 - worst)), "stack-height") == []
    stacked = make_job(make_site(at=-300.0), style="stacked", drop=5.0)
    assert found(cut(stacked), "stack-height")
    assert not found(cut(make_job(make_site(at=-300.0), drop=5.0)), "stack-height")


def test_ground_above_the_floor_has_no_ratio_but_a_shortfall():
    check = found(cut(make_job(make_site(at=10.0))), "stack-height")[0]
    assert check.ratio is None
    assert check.fact("shortfall_mm") == pytest.approx(30 + 105 + 60 + 60 + 30)


def test_the_least_air_under_timber_is_found_between_the_posts_too():
    """A hump of 250 mm in the middle of the beam, away from both posts."""
    places = [(x, y) for x in (0.0, 1200.0, 1500.0, 1800.0, 3000.0) for y in (1000.0, 2000.0)]
    site = make_site(places=places, surface="triangles")
    levels = tuple(
        r.__class__(name=r.name, x=r.x, y=r.y, z=-500 + (250 if r.x == 1500 else 0), where=r.where) for r in site.levels
    )
    site = site.__class__(**{f: getattr(site, f) for f in site.__slots__} | {"levels": levels})
    check = only(cut(make_job(site)), "air-under-timber")
    assert check.subject == "1A-B"
    assert check.capacity == pytest.approx(-155 + 250, abs=1)
    assert check.verdict is Verdict.OK
    low = cut(make_job(site, footing=("stone", 96.0, 200.0, True)))
    assert only(low, "air-under-timber").verdict is Verdict.FAILS


@pytest.mark.parametrize(("allowance", "verdict"), [(30.0, Verdict.OK), (4.0, Verdict.FAILS), (0.0, Verdict.FAILS)])
def test_the_rough_allowance_must_cover_what_is_not_known(allowance, verdict):
    posts = cut(make_job(allowance=allowance))
    check = only(posts, "rough-allowance")
    assert check.verdict is verdict
    assert check.demand == pytest.approx(1.96 * max(p.sigma for p in posts.cuts))
    if verdict is Verdict.FAILS:
        assert check.fact("count") == 2
        assert check.fact("wanted_mm") >= check.demand


def test_measured_posts_need_no_allowance():
    posts = cut(make_job(allowance=0.0), gap_line("A1", 285.0), gap_line("B1", 286.0))
    assert found(posts, "rough-allowance") == []


def test_posts_beyond_the_readings_are_told_once_with_the_furthest():
    posts = cut(make_job(), posts=((600.0, 1500.0), (3200.0, 1500.0), (3400.0, 1500.0)))
    check = only(posts, "beyond-readings")
    assert (check.verdict, check.subject, check.fact("count")) == (Verdict.NOT_CHECKED, "C1", 2)
    assert check.demand == pytest.approx(400)
    inside = cut(make_job())
    assert found(inside, "beyond-readings") == []


def test_a_gap_that_contradicts_the_ground_is_told_and_used():
    posts = cut(make_job(), gap_line("A1", 315.0, accuracy=1.0))
    check = only(posts, "gap-against-ground")
    assert (check.verdict, check.demand) == (Verdict.FAILS, pytest.approx(30))
    assert posts.cuts[0].length == 315
    near = cut(make_job(), gap_line("A1", 287.0, accuracy=1.0))
    assert only(near, "gap-against-ground").verdict is Verdict.OK


def test_a_gap_of_no_post_is_said_and_changes_nothing():
    posts = cut(make_job(), gap_line("Z9", 315.0, where="log:8"))
    check = only(posts, "gap-of-no-post")
    assert (check.subject, check.place, check.verdict) == ("Z9", "log:8", Verdict.NOT_CHECKED)
    assert posts.cuts == cut(make_job()).cuts


def test_the_most_tilted_foot_is_told_with_its_edge():
    posts = cut(make_job(make_site((0.0, -0.02)), footing=("pad", 10.0, 120.0, False)))
    check = only(posts, "foot-on-edge")
    assert check.demand == pytest.approx(2.1)
    said = Speaker(Language.ENGLISH).check(check)
    assert "toward the house" in said
    assert found(cut(make_job(make_site((0.0, -0.02)))), "foot-on-edge") == []


@pytest.mark.parametrize(("size", "verdict"), [(105.0, Verdict.OK), (104.0, Verdict.FAILS)])
def test_a_post_may_not_hang_over_its_footing(size, verdict):
    assert only(cut(make_job(footing=("pad", 10.0, size, True))), "footing-size").verdict is verdict


@pytest.mark.parametrize(
    ("drop", "rule", "verdict"),
    [
        (38.1, "door-drop", Verdict.OK),
        (38.2, "door-drop-open", Verdict.NOT_CHECKED),
        (196.85, "door-drop-open", Verdict.NOT_CHECKED),
        (196.9, "door-drop", Verdict.FAILS),
        (-1.0, "door-drop", Verdict.OUTSIDE_RULE),
    ],
)
def test_the_step_at_the_door_is_settled_as_far_as_the_job_tells(drop, rule, verdict):
    posts = cut(make_job(make_site(at=-900.0), standard="north-america", drop=drop))
    assert only(posts, rule).verdict is verdict


def test_no_door_rule_is_borrowed_from_another_country():
    assert not [c for c in cut(make_job(drop=300.0, site=make_site(at=-900.0))).checks if "door" in c.rule]


def test_a_frame_without_posts_has_nothing_to_say():
    job = make_job()
    frame = replace(frame_on(job), posts=())
    posts = cut_posts(job, read_ground(job.site, Log(lines=())), frame, Log(lines=()))
    assert (posts.cuts, posts.checks) == ((), ())


SAID = [
    cut(make_job()),
    cut(make_job(make_site((0.01, 0.0), at=-250.0), drop=5.0), gap_line("Z9", 1.0), gap_line("A1", 99.0)),
    cut(
        make_job(
            make_site((0.0, -0.02), at=-900.0), standard="north-america", drop=300.0, footing=("pad", 9.0, 90.0, False)
        )
    ),
    cut(
        make_job(make_site(at=-900.0), standard="north-america", drop=100.0), posts=((600.0, 1500.0), (3900.0, 1500.0))
    ),
]


@pytest.mark.parametrize("language", list(Language))
def test_every_finding_can_be_said(language):
    speaker = Speaker(language)
    for posts in SAID:
        for check in posts.checks:
            assert speaker.check(check).strip()
