"""What readings on site come to: sag between jacks taken out, lengths against needs, feet as they were seen."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from frames import TABLE, two_span_beam

from evenfoot.errors import NoSolutionError
from evenfoot.setting import posts

SPAN, BENDING, WEIGHT = 1500.0, 4.2e10, 0.12
MARKS = ("P0", "P1", "P2")


def beam():
    return posts.Footing(two_span_beam(span=SPAN, bending=BENDING, weight=WEIGHT))


def bases(*lengths, measured=True):
    return [
        posts.Base(mark=m, length=length, sigma=0.7, sigma_gap=0.5, is_measured=measured)
        for m, length in zip(MARKS, lengths, strict=True)
    ]


def test_a_beam_jacked_at_its_ends_hangs_in_the_middle_by_the_beam_formula():
    """5 w (2 L)^4 / (384 E I), and the post there must be longer than its gap by as much."""
    sag = 5.0 * WEIGHT * (2.0 * SPAN) ** 4 / (384.0 * BENDING)
    heads = posts.heads_on_jacks(beam(), {"P0", "P2"})
    assert heads == pytest.approx([0.0, -sag, 0.0], rel=1e-6, abs=1e-5)
    wanted = posts.needs(
        beam(), bases(300.0, 310.0, 320.0), levels={}, jacks=dict.fromkeys(MARKS, frozenset({"P0", "P2"}))
    )
    assert [w.length for w in wanted] == pytest.approx([300.0, 310.0 + sag, 320.0], abs=1e-5)
    assert wanted[1].taken_out == pytest.approx(sag, rel=1e-5)


def test_a_level_read_at_the_head_wins_over_the_sag_reckoned():
    jacks = dict.fromkeys(MARKS, frozenset({"P0", "P2"}))
    wanted = posts.needs(beam(), bases(300.0, 310.0, 320.0), levels={"P1": 0.75}, jacks=jacks)
    assert wanted[1].length == pytest.approx(309.25)


def test_lengths_by_the_ground_alone_have_no_frame_to_take_out():
    jacks = dict.fromkeys(MARKS, frozenset({"P0", "P2"}))
    wanted = posts.needs(beam(), bases(300.0, 310.0, 320.0, measured=False), levels={"P1": 0.75}, jacks=jacks)
    assert [w.length for w in wanted] == [300.0, 310.0, 320.0]


def test_jacks_from_which_the_frame_would_fall_are_refused():
    with pytest.raises(NoSolutionError) as caught:
        posts.heads_on_jacks(beam(), {"P1"})
    assert (caught.value.fault.code, caught.value.fault.found) == ("jacks-do-not-hold", "P1")


def test_a_post_cut_short_is_clear_by_what_it_lacks():
    wanted = posts.needs(beam(), bases(300.0, 310.0, 320.0), levels={}, jacks={})
    known = posts.clear_of(beam(), wanted, lengths={"P0": 300.0, "P1": 308.5, "P2": 321.0}, seen={}, feeler=0.1)
    assert known.clearance == pytest.approx([0.0, 1.5, -1.0])
    assert known.is_enough
    assert known.swapped is not None
    assert known.swapped[1, 2] == pytest.approx(310.0 - 321.0)
    assert np.diag(known.swapped) == pytest.approx(known.clearance)


def test_a_post_whose_length_is_not_known_is_taken_as_asked_and_said_to_be():
    wanted = posts.needs(beam(), bases(300.0, 310.0, 320.0), levels={}, jacks={})
    known = posts.clear_of(beam(), wanted, lengths={"P1": 308.5}, seen={}, feeler=0.1)
    assert known.clearance == pytest.approx([0.0, 1.5, 0.0])
    assert not known.is_enough
    assert known.swapped is None
    assert [b.value for b in known.bases] == ["asked", "cut", "asked"]


def test_what_is_seen_under_the_feet_wins_and_the_sag_beside_is_taken_out():
    """The middle post hangs 3 mm under a beam that sags between its ends: unbent it would be clear by that more."""
    sag = 5.0 * WEIGHT * (2.0 * SPAN) ** 4 / (384.0 * BENDING)
    wanted = posts.needs(beam(), bases(300.0, 310.0, 320.0), levels={}, jacks={})
    known = posts.clear_of(beam(), wanted, lengths={"P1": 309.9}, seen={"P1": 3.0}, feeler=0.1)
    assert known.clearance == pytest.approx([0.0, 3.0 + sag, 0.0], abs=1e-5)
    assert [b.value for b in known.bases] == ["seen"] * 3
    again = beam().stand_once(known.clearance)
    assert again.gap[0, 1] == pytest.approx(3.0, abs=1e-5)


def test_feet_that_cannot_hold_the_floor_are_refused():
    footing = posts.Footing(posts.rigid_frame(TABLE, weight=2000.0))
    none = [posts.Base(mark=m, length=np.nan, sigma=1.0, sigma_gap=1.0, is_measured=False) for m in TABLE]
    wanted = posts.needs(footing, none, levels={}, jacks={})
    with pytest.raises(NoSolutionError) as caught:
        posts.clear_of(footing, wanted, lengths={}, seen={"C": 2.0, "D": 1.0}, feeler=0.1)
    assert (caught.value.fault.code, caught.value.fault.found) == ("feet-do-not-hold", "A, B")


def test_a_table_with_two_feet_under_its_weight_is_known_by_the_two_that_are_seen_to_stand_with_one_more():
    footing = posts.Footing(posts.rigid_frame(TABLE, weight=2000.0))
    none = [posts.Base(mark=m, length=np.nan, sigma=1.0, sigma_gap=1.0, is_measured=False) for m in TABLE]
    wanted = posts.needs(footing, none, levels={}, jacks={})
    known = posts.clear_of(footing, wanted, lengths={}, seen={"C": 2.0}, feeler=0.1)
    assert known.clearance == pytest.approx([0.0, 0.0, 2.0, 0.0])
