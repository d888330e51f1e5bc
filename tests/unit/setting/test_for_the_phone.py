"""What the phone is given of the engine's own: neighbours, movement of wood, and half steps told alike everywhere."""

from __future__ import annotations

import numpy as np
import pytest

from evenfoot.job import files
from evenfoot.setting import boards, level, posts
from evenfoot.tables import species


def test_neighbouring_places_are_pairs_in_order_and_each_once():
    floor = posts.rigid_frame({"A": (0, 0), "B": (3600, 0), "C": (3600, 2700), "D": (0, 2700)}, weight=1000.0)
    pairs = posts.neighbours(floor)
    assert list(pairs) == sorted(set(pairs))
    assert all(a < b for a, b in pairs)
    assert {k for pair in pairs for k in pair} == set(range(len(floor.walked_at)))


def test_wood_moves_as_its_row_in_the_table_says():
    wood = species("hinoki")
    assert boards.movement_of("hinoki") == (wood.c_tangential, wood.fsp)


@pytest.mark.parametrize("noise", [0.0, 1e-12, -1e-12])
def test_half_a_step_is_told_alike_whatever_the_last_figure_of_a_sum(noise):
    thread = level.Thread(pitch=2.0, per_turn=4)
    turns = level.best_turns({"A": 0.0, "B": 4.25 + noise, "C": 0.0, "D": -0.25}, thread, within=0.25)
    assert turns.steps == {"A": 0, "B": -8, "C": 0, "D": 0}


def test_rough_lengths_go_up_in_the_step_on_record():
    assert posts.rough_step() == 5.0


def test_a_line_is_written_with_only_what_it_says():
    text = '{"time": "2026-11-18T10:02", "what": "post-gap", "mark": "C2", "value_mm": 281.25, "who": "Aki"}\n'
    (line,) = files.parse_log(text).lines
    assert files.line_row(line) == {
        "time": "2026-11-18T10:02", "what": "post-gap", "mark": "C2", "value_mm": 281.25, "who": "Aki",
    }  # fmt: skip
    assert np.isfinite(line.value)
