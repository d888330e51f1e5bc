"""The remedy is the smallest there is, does what it says, and respects hand, step and load share."""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from frames import PERSON, TABLE, random_grid

from evenfoot.setting import posts


def trial_on(frame, *, most, share=None, prefer=posts.Hand.SHAVE, rock=0.5):
    goal = posts.Goal(rock=rock, step=0.5, most=most, share=share, prefer=prefer)
    trial = posts.make_trial(posts.Footing(frame), goal, person=PERSON)
    assert trial is not None
    return trial


def fewest_by_trying_everything(trial, clearance):
    """The smallest number of changed posts of any mix of steps that makes the floor steady; None if none does."""
    n, most = len(clearance), trial.goal.most_steps
    every = np.array(list(itertools.product(range(-most, most + 1), repeat=n)))
    kept = every
    for position in range(len(trial.loads)):
        kept = kept[trial.passes(clearance - trial.goal.step * kept, position)]
    return int(np.count_nonzero(kept, axis=1).min()) if len(kept) else None


def after(clearance, remedy, marks):
    by = {c.mark: c.by for c in remedy.changes}
    return clearance - np.array([by.get(m, 0.0) for m in marks])


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("share", [None, 1.6])
def test_no_smaller_set_of_posts_does_it(seed, share):
    rng = np.random.default_rng(seed)
    frame = posts.float_frame(random_grid(rng, n=5, stiffness=900.0), has_boards=True)
    trial, clearance = trial_on(frame, most=1.0, share=share), 0.7 * rng.normal(size=5)
    remedy = posts.find_remedy(trial, clearance)
    fewest = fewest_by_trying_everything(trial, clearance)
    assert remedy.is_proved
    assert remedy.is_found == (fewest is not None)
    if fewest is not None:
        assert len(remedy.changes) == fewest
        assert trial.judge(after(clearance, remedy, frame.marks)).is_steady
        assert remedy.after.is_steady


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
def test_a_table_is_steadied_by_one_post_and_the_proof_is_the_walk_itself(seed):
    frame = posts.rigid_frame(TABLE, weight=2000.0)
    clearance = 1.2 * np.random.default_rng(seed).normal(size=4)
    trial = trial_on(frame, most=8.0)
    remedy = posts.find_remedy(trial, clearance)
    before = posts.walk(trial.footing, clearance, person=PERSON)
    assert remedy.before.rock == pytest.approx(before.rock, abs=1e-9)
    assert len(remedy.changes) == (0 if before.rock <= 0.5 else 1)
    walked = posts.walk(trial.footing, after(clearance, remedy, frame.marks), person=PERSON)
    assert walked.rock == pytest.approx(remedy.after.rock, abs=1e-9)
    assert walked.rock <= 0.5 + 1e-4
    assert all(c.by % 0.5 == 0.0 for c in remedy.changes)


@pytest.mark.parametrize(("prefer", "sign"), [(posts.Hand.SHAVE, -1.0), (posts.Hand.PACK, 1.0)])
def test_the_hand_preferred_is_taken_where_as_few_posts_do(prefer, sign):
    trial = trial_on(posts.rigid_frame(TABLE, weight=2000.0), most=6.0, prefer=prefer)
    remedy = posts.find_remedy(trial, np.array([0.0, 0.0, 2.0, 0.0]))
    (change,) = remedy.changes
    assert np.sign(change.by) == sign
    assert change.hand is prefer


def test_a_steady_floor_is_left_alone():
    trial = trial_on(posts.rigid_frame(TABLE, weight=2000.0), most=6.0)
    remedy = posts.find_remedy(trial, np.array([0.0, 0.0, 0.49, 0.0]))
    assert (remedy.changes, remedy.swaps, remedy.is_found, remedy.is_proved) == ((), (), True, True)
    assert remedy.before == remedy.after


def test_two_posts_that_stand_in_each_others_places_are_swapped_and_nothing_is_cut():
    trial = trial_on(posts.rigid_frame(TABLE, weight=2000.0), most=6.0)
    needs = np.array([300.0, 310.0, 322.0, 308.0])
    cut = needs[[0, 2, 1, 3]]
    may_swap = needs[:, None] - cut[None, :]
    remedy = posts.find_remedy(trial, needs - cut, may_swap=may_swap)
    assert remedy.swaps == (("B", "C"),)
    assert remedy.changes == ()
    assert remedy.after.rock <= 1e-4


def test_posts_that_may_not_stand_there_are_not_swapped():
    trial = trial_on(posts.rigid_frame(TABLE, weight=2000.0), most=12.0)
    needs = np.array([300.0, 310.0, 312.0, 308.0])
    cut = needs[[0, 2, 1, 3]]
    may_swap = needs[:, None] - cut[None, :]
    may_swap[1, 2] = np.nan
    remedy = posts.find_remedy(trial, needs - cut, may_swap=may_swap)
    assert remedy.swaps == ()
    assert remedy.changes


def test_a_goal_out_of_reach_is_said_to_be_so():
    trial = trial_on(posts.rigid_frame(TABLE, weight=2000.0), most=0.5)
    remedy = posts.find_remedy(trial, np.array([0.0, 0.0, 9.0, 0.0]))
    assert not remedy.is_found
    assert remedy.is_proved
    assert remedy.changes == ()


@pytest.mark.slow
def test_more_posts_than_are_searched_to_the_end_still_get_a_bound_that_holds():
    rng = np.random.default_rng(3)
    places = {f"{'ABCDEFGHIJKLM'[k % 13]}{k // 13}": (900.0 * (k % 13), 900.0 * (k // 13)) for k in range(26)}
    frame = posts.rigid_frame(places, weight=9000.0)
    clearance = np.zeros(26)
    clearance[[4, 17]] = -1.5, 2.0
    clearance += 0.05 * rng.normal(size=26)
    remedy = posts.find_remedy(trial_on(frame, most=3.0), clearance)
    assert frame.count > posts.EXACT_UP_TO
    assert remedy.is_found
    assert 1 <= remedy.least <= len(remedy.changes)
    assert remedy.after.is_steady


def test_a_floor_that_tips_by_itself_has_no_trial():
    from dataclasses import replace

    frame = posts.rigid_frame(TABLE, weight=2000.0)
    goal = posts.Goal(rock=0.5, step=0.5, most=3.0)
    fallen = replace(frame, own=np.array([3000.0, 0.0, -1500.0, 0.0]))
    assert posts.make_trial(posts.Footing(fallen), goal, person=PERSON) is None


def test_a_remedy_asked_to_keep_level_does_so_and_may_need_more_posts():
    """Shaving the long post of a table levels it; shaving one beside the short foot would leave it tilted."""
    frame = posts.rigid_frame(TABLE, weight=2000.0)
    clearance = np.array([0.0, -4.0, 0.0, 0.0])
    goal = posts.Goal(rock=0.5, step=0.5, most=6.0, level=0.6, prefer=posts.Hand.PACK)
    free = posts.make_trial(
        posts.Footing(frame), posts.Goal(rock=0.5, step=0.5, most=6.0, prefer=posts.Hand.PACK), person=PERSON
    )
    level = posts.make_trial(posts.Footing(frame), goal, person=PERSON, lies=np.zeros(4))
    assert free is not None
    assert level is not None
    tilted, kept = posts.find_remedy(free, clearance), posts.find_remedy(level, clearance)
    assert tilted.changes[0].mark in {"A", "C", "D"}
    assert tilted.after.off > 0.6
    assert [(c.mark, c.by <= -3.5) for c in kept.changes] == [("B", True)]
    assert kept.after.off <= 0.6 + 1e-4
    assert kept.is_proved


def test_how_the_whole_floor_lies_is_fitted_from_levels_read_on_its_heads():
    footing = posts.Footing(posts.rigid_frame(TABLE, weight=2000.0))
    known = posts.Known(
        clearance=np.zeros(4), sigma=np.full(4, 0.1), bases=(posts.Basis.SEEN,) * 4, lengths=np.full(4, np.nan)
    )
    lies = posts.lies_above(footing, known, {"A": 1.0, "B": 2.0, "D": 4.0})
    assert lies == pytest.approx([1.0, 2.0, 5.0, 4.0], abs=1e-6)
    assert posts.lies_above(footing, known, {"A": 1.0, "B": 2.0}) is None
