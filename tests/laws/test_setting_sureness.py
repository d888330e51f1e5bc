"""What is said to be sure 19 times in 20 is so about 19 times in 20, on simulated readings."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest

from evenfoot.setting.boards import OpenRun, Spacing, running_gap
from evenfoot.setting.level import Instrument, Sight, survey
from evenfoot.setting.square import Distance, Tape, Wanted, square_up

TRIALS = 400
LOW, HIGH = 0.92, 0.975
"""Binomial: 400 trials of 0.95 lie within these bounds but once in 300."""
SURE = 1.959963984540054


@pytest.mark.slow
def test_the_lean_of_a_frame_is_as_sure_as_it_says():
    chance = np.random.default_rng(20261125)
    tape = Tape(reading=1.5, scale=0.0002)
    width, depth, lean = 3612.0, 2744.0, 9.0
    away = math.sqrt(depth**2 - lean**2)
    corners = ((0.0, 0.0), (width, 0.0), (width + lean, away), (lean, away))
    wanted = Wanted(corners=((0, 0), (3610, 0), (3610, 2740), (0, 2740)), is_size_known=False, within=3.0)
    hits = doubts = 0
    for _ in range(TRIALS):
        scale = 1 + chance.normal(0, tape.scale / SURE)
        readings = [
            Distance(
                pair=(a, b), value=scale * math.dist(corners[a], corners[b]) + chance.normal(0, tape.reading / SURE)
            )
            for a, b in combinations(range(4), 2)
        ]
        found = square_up(wanted, readings, tape)
        hits += abs(found.lean - lean) <= found.lean_sure
        doubts += bool(found.suspects)
    assert LOW <= hits / TRIALS <= HIGH
    assert doubts <= 4  # 1 in 1000 each


@pytest.mark.slow
def test_heights_read_with_a_tilted_instrument_are_as_sure_as_they_say():
    chance = np.random.default_rng(7)
    instrument = Instrument(reading=1.0, tilt=0.0003)
    true = {"A1": 0.0, "C1": 2.0, "C3": -3.0, "A3": 1.0}
    away = {"A1": 900.0, "C1": 4100.0, "C3": 5200.0, "A3": 3300.0}
    hits = 0
    for _ in range(TRIALS):
        tilt = chance.normal(0, instrument.tilt / SURE)
        sights = [
            Sight(
                stand="1",
                mark=m,
                value=1500.0 - z + tilt * away[m] + chance.normal(0, instrument.reading / SURE),
                is_down=True,
                away=away[m],
            )
            for m, z in true.items()
        ]
        found = survey(sights, instrument)
        hits += abs(found.heights[2] + 3.0) <= found.sure(2)  # the mean of the true heights is nothing
    assert LOW <= hits / TRIALS <= HIGH


@pytest.mark.slow
def test_the_last_edge_is_as_sure_as_it_says():
    chance = np.random.default_rng(11)
    spacing = Spacing(low=3.0, high=8.0, step=0.5, seen=1.0, within=2.0, rip_min=50.0)
    run = OpenRun(left=1100.0, widths=(105.0,) * 10, last_gap=5.0, left_sigma=0.7, width_sigma=0.25, common_sigma=0.15)
    found = running_gap(run, spacing)
    true_left = 1100.0 + chance.normal(0, 0.7, TRIALS)
    widths = 105.0 + chance.normal(0, 0.25, (TRIALS, 10)) + chance.normal(0, 0.15, (TRIALS, 1))
    misses = widths.sum(axis=1) + sum(found.gaps) - true_left
    assert LOW <= float(np.mean(np.abs(misses - found.misses) <= found.sure)) <= HIGH
