"""Every finding of strength can be said, in both languages, from its own facts."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.frame import JointKind
from evenfoot.strength import check_strength
from evenfoot.strength.cuts import Side
from evenfoot.strength.sections import CURES
from evenfoot.strength.standards import Europe, Japan
from evenfoot.words import Language, Speaker, catalogue

SQUARE = timber(105.0, 105.0)
LAPPED = Plan(
    beams=(52.5, 1157.5), run=(-52.5, 962.5), kind=JointKind.LAP_OVER, cut=(52.5, 52.5), joist=SQUARE, beam=SQUARE
)
LARCH = timber(105.0, 105.0, species="european_larch", grade="c24")
EUROPEAN = replace(LAPPED, joist=LARCH, beam=LARCH, post=LARCH)
FIVE = (0.0, 455.0, 910.0, 1365.0, 1820.0)
CASES = [
    (Plan(), 700.0, {"snow_depth": 1500.0, "is_heavy": True, "closing": "rip-last"}),
    (replace(Plan(), reach=(0.0, 1900.0)), 0.0, {}),
    (LAPPED, 400.0, {"use": "public"}),
    (replace(LAPPED, under=(0, 2), post_shift=200.0), 400.0, {}),
    (replace(LAPPED, cut=(30.0, 75.0)), 2400.0, {}),
    (replace(LAPPED, kind=JointKind.HOUSING, cut=(0.0, 20.0)), 400.0, {"board": (90.0, 15.0)}),
    (replace(Plan(), kind=JointKind.HANGER), 400.0, {"board_species": "ipe"}),
    (replace(Plan(), kind=JointKind.BUTT, joist=timber(45.0, 90.0, grade="ko-7")), 400.0, {}),
    (Plan(), 400.0, {"standard": "europe"}),
    (replace(EUROPEAN, under=(0, 2), post_shift=200.0), 400.0, {"standard": "europe", "snow_depth": 800.0}),
    (replace(EUROPEAN, joists=FIVE, posts=FIVE[::2], run=(-52.5, 1872.5)), 400.0, {"standard": "europe"}),
    (replace(EUROPEAN, kind=JointKind.HOUSING, cut=(0.0, 20.0)), 400.0, {"standard": "europe"}),
    (replace(Plan(), reach=(-900.0, 1210.0)), 400.0, {"overhang": (0.0, 0.0, 50.0, 50.0)}),
]


@pytest.mark.parametrize("language", list(Language))
@pytest.mark.parametrize("number", range(len(CASES)))
def test_all_findings_are_said_without_a_missing_fact(number, language):
    plan, height, wishes = CASES[number]
    frame = make_frame(plan)
    speaker = Speaker(language)
    strength = check_strength(make_job(**wishes), frame, heights(frame, height))
    for check in strength.checks:
        said = speaker.check(check)
        assert said
        assert "{" not in said


def test_every_rule_with_a_clause_is_in_the_catalogue():
    loads = {"use": "dwelling", "snow_depth": 0.0, "is_heavy_snow_area": False, "person": 1.0}
    for practice in (Japan(wetness="always", **loads), Europe(woods=(), **loads)):
        assert {f"check.{rule}" for rule in practice.clauses} <= set(catalogue())


def test_codes_made_from_names_are_in_the_catalogue():
    wanted = {f"case.{c}" for c in ("dead", "long", "sag", "person", "snow-short", "snow-long")}
    for is_heavy in (False, True):
        europe = Europe(use="public", snow_depth=500.0, is_heavy_snow_area=is_heavy, person=1.0, woods=())
        wanted |= {f"case.{c.code}" for c in europe.cases()}
    wanted |= {f"side.{s}" for s in Side}
    wanted |= {f"remedy.{c}" for c in CURES.split()}
    wanted |= {f"kind.{k}" for k in ("boards", "bending", "shear", "notches", "bearing", "posts", "sag")}
    wanted |= {"notice.sound-timber", "notice.second-opinion", "notice.unconfirmed"}
    assert wanted <= set(catalogue())


def test_a_finding_says_what_how_much_against_what_and_what_to_change():
    frame = make_frame(replace(LAPPED, cut=(52.5, 52.5)))
    strength = check_strength(make_job(), frame, heights(frame))
    found = next(c for c in strength.checks if c.rule == "end-notch-depth" and c.subject == "B1-2")
    said = Speaker(Language.ENGLISH).check(found)
    for part in ("B1-2", "B1, B2", "52.5 mm", "35 mm", "post under both", "screws across the grain", "157.5 mm"):
        assert part in said
