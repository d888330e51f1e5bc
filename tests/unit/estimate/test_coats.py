"""What is coated before it is hidden, what after, and with how much."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import make_job

from evenfoot.estimate.coats import coat_lines, plan_coats
from evenfoot.estimate.faces import Faces

FACES = Faces(hidden=13.7e6, joint=0.9e6, seen=7.3e6, end=0.41e6)


def lines(**wishes):
    return coat_lines(make_job(**wishes), FACES)


def area(coats, face: str, when: str) -> list[float]:
    return [c.area for c in coats if c.face == face and c.when == when]


def test_what_will_be_hidden_is_coated_first():
    coats = lines(coats=3)
    assert area(coats, "hidden", "before-assembly") == pytest.approx([14.6, 14.6])
    assert area(coats, "seen", "before-assembly") == pytest.approx([7.3, 7.3])
    assert area(coats, "seen", "after-laying") == pytest.approx([7.3])
    assert area(coats, "hidden", "after-laying") == []


def test_the_seen_faces_get_every_coat_asked_for():
    for count in (1, 2, 3, 4):
        seen = [c.coat for c in lines(coats=count) if c.face == "seen"]
        assert seen == list(range(1, count + 1))


def test_end_grain_gets_one_coat_more():
    assert [c.coat for c in lines(coats=2) if c.face == "end-grain"] == [1, 2]
    assert [c.coat for c in lines(coats=3) if c.face == "end-grain"] == [1, 2, 3]


def test_a_single_coat_comes_before_assembly():
    assert {c.when for c in lines(coats=1)} == {"before-assembly"}


def test_without_hidden_first_only_ends_are_coated_before():
    coats = lines(coats=2, hidden_first=False)
    assert {c.face for c in coats if c.when == "before-assembly"} == {"end-grain"}
    assert [c.coat for c in coats if c.when == "after-laying"] == [1, 2]


@pytest.mark.parametrize("wish", [{"finish": "none"}, {"coats": 0}])
def test_no_finish_is_no_coat(wish):
    assert lines(**wish) == ()
    assert plan_coats(make_job(**wish)).end_grain == 0


def test_litres_are_area_over_coverage():
    """4.9 to 9.8 m2 a litre on planed, 2.4 to 4.9 on sawn wood (handbook)."""
    hidden, seen, *_ = lines(coats=2)
    assert hidden.litres_low == pytest.approx(13.7 / 9.8 + 0.9 / 4.9)
    assert hidden.litres_high == pytest.approx(13.7 / 4.9 + 0.9 / 2.4)
    assert (seen.litres_low, seen.litres_high) == pytest.approx((7.3 / 9.8, 7.3 / 4.9))


def test_water_repellent_goes_by_the_kilogram():
    seen = [c for c in lines(coats=3, finish="water-repellent") if c.face == "seen"]
    assert [c.litres_low for c in seen] == pytest.approx([7.3 * kg / 0.9 for kg in (0.06, 0.06, 0.04)])
