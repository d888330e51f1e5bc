"""Odds of rocking: what four feet must show, what tightness means, and that the order of setting helps."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

sys.path.insert(0, str(Path(__file__).parent))
from frames import PERSON, TABLE

from evenfoot.setting import posts

LIMIT = 0.5


def sample(*, gap, cut, count, seed=1):
    return posts.Sample(
        footing=posts.Footing(posts.rigid_frame(TABLE, weight=2000.0)),
        errors=posts.Errors(gap=gap, cut=cut),
        limit=LIMIT,
        person=PERSON,
        normals=np.random.default_rng(seed).normal(size=(count, 4)),
    )


@pytest.mark.slow
def test_a_table_rocks_by_its_twist_so_the_odds_have_a_closed_form():
    """Four feet rock by |a - b + c - d|, normal with twice the error of one: P = 2 (1 - Phi(limit / 2 sigma))."""
    found = posts.odds_of_rocking(sample(gap=0.3, cut=0.4, count=3000))
    exact = 2.0 * (1.0 - norm.cdf(LIMIT / (2.0 * 0.5)))
    assert found.low <= exact <= found.high
    assert found.chance == pytest.approx(exact, abs=0.03)  # 3 standard deviations of 3000 samples
    assert found.rock_typical == pytest.approx(2.0 * 0.5 * norm.ppf(0.75), rel=0.06)  # same
    assert found.samples == 3000


@pytest.mark.slow
def test_how_tight_cutting_must_be_has_the_same_closed_form():
    """19 in 20 within the limit: 2 sigma = limit / 1.96."""
    found = posts.how_tight(sample(gap=0.05, cut=0.4, count=1000))
    sigma = LIMIT / 1.96 / 2.0
    assert found.cut == pytest.approx(1.96 * np.sqrt(sigma**2 - 0.05**2), rel=0.08)  # 1000 samples, 7 halvings
    assert found.both is None


@pytest.mark.slow
def test_gaps_read_too_coarsely_cannot_be_cut_away():
    found = posts.how_tight(sample(gap=0.5, cut=0.01, count=300))
    assert found.cut is None
    assert found.both == pytest.approx(1.96 * LIMIT / 1.96 / 2.0 / np.sqrt(2.0), rel=0.15)  # 300 samples


def test_the_same_numbers_give_the_same_odds():
    one, two = (posts.odds_of_rocking(sample(gap=0.3, cut=0.3, count=100, seed=7)) for _ in range(2))
    assert one == two


@pytest.mark.slow
def test_three_posts_first_and_the_fourth_measured_on_them_rocks_half_as_far():
    """All at once the rock is |a - b + c - d| = 2 sigma; measured on the three, only the last error is left."""
    found = posts.best_order(sample(gap=0.3, cut=0.4, count=1000))
    assert len(found.best.stages[0]) == 3
    assert found.at_once.odds.rock_typical == pytest.approx(1.0 * norm.ppf(0.75), rel=0.1)  # 1000 samples
    assert found.best.odds.rock_typical == pytest.approx(0.5 * norm.ppf(0.75), rel=0.1)  # same
    assert found.best.odds.chance < found.at_once.odds.chance


def test_posts_that_stand_already_come_first():
    found = posts.best_order(sample(gap=0.3, cut=0.4, count=50), done=("A", "B", "D"))
    assert found.best.stages == (("A", "B", "D"), ("C",))
    assert found.at_once.stages == (("A", "B", "D"), ("C",))
