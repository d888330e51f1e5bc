"""What the European practice asks of a floor: its combinations, strengths, notches, contacts, posts and sags."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.checks import Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.strength import check_strength
from evenfoot.strength.standards import Aim, Contact, Europe, Notch, Part, Piece, Stress

LARCH = ("european_larch", "c24")
"""C24: f_m 24, f_v 4, f_c,0 21, f_c,90 2.5, E_0.05 7400, rho_mean 420 (EN 338:2016)."""


def europe(**changed):
    asked = {
        "use": kinds.Use.BALCONY,
        "snow_depth": 0.0,
        "is_heavy_snow_area": False,
        "person": 1000.0,
        "woods": (LARCH,),
    }
    return Europe(**(asked | changed))


def piece(width=47.0, depth=147.0, part=Part.JOIST, wood=LARCH, **more):
    return Piece(part=part, species=wood[0], grade=wood[1], width=width, depth=depth, **more)


def case(practice, code):
    return next(c for c in practice.cases() if c.code == code)


def test_loads_are_those_of_the_use_with_their_factors():
    """EN 1991-1-1, table 6.2: 2.0, 4.0 and 5.0 kN/m2; EN 1990: 1.35 and 1.5."""
    for use, area, point in (("dwelling", 2.0, 2000.0), ("balcony", 4.0, 2000.0), ("public", 5.0, 4500.0)):
        practice = europe(use=kinds.Use(use))
        imposed = case(practice, "imposed")
        assert imposed.area == pytest.approx(1.5 * area * 1e-3, rel=1e-12)
        assert (imposed.dead, imposed.lasts) == (1.35, "medium")
        at_worst = case(practice, "point")
        assert (at_worst.point, at_worst.area, at_worst.lasts) == (1.5 * point, 0.0, "short")
        assert case(practice, "point-light").dead == 0.9
    assert case(europe(), "permanent").lasts == "permanent"
    assert case(europe(), "permanent").area == 0.0


def test_a_heavier_person_counts_in_place_of_the_point_load():
    assert case(europe(person=2600.0), "point").point == pytest.approx(1.5 * 2600.0)
    assert case(europe(person=1400.0), "point").point == pytest.approx(1.5 * 2000.0)


def test_snow_leads_or_comes_along_and_lasts_by_the_place():
    """0.64 m of old snow at 3.5 kN/m3 is 2.24 kN/m2; psi_0 0.5 for snow up to 1000 m, 0.7 above and for people."""
    practice = europe(snow_depth=640.0)
    assert case(practice, "imposed-snow").area == pytest.approx(1.5 * (4.0 + 0.5 * 2.24) * 1e-3, rel=1e-12)
    assert case(practice, "snow-imposed").area == pytest.approx(1.5 * (2.24 + 0.7 * 4.0) * 1e-3, rel=1e-12)
    assert case(practice, "snow-imposed").lasts == "short"
    high = europe(snow_depth=640.0, is_heavy_snow_area=True)
    assert case(high, "imposed-snow").area == pytest.approx(1.5 * (4.0 + 0.7 * 2.24) * 1e-3, rel=1e-12)
    assert case(high, "imposed-snow").lasts == "medium"
    assert "imposed-snow" not in {c.code for c in europe().cases()}


def test_sag_is_asked_at_once_and_after_creep():
    """k_def 2.0 outdoors: own weight 3 times, people (psi_2 0.3) 1.6 times; snow alongside 0.5 and no creep."""
    assert case(europe(), "sag").area == pytest.approx(4.0e-3, rel=1e-12)
    final = case(europe(), "sag-final")
    assert (final.dead, final.aim) == (3.0, Aim.SAG)
    assert final.area == pytest.approx(1.6 * 4.0e-3, rel=1e-12)
    crowd = case(europe(use=kinds.Use.PUBLIC), "sag-final")
    assert crowd.area == pytest.approx(2.2 * 5.0e-3, rel=1e-12)
    snowy = europe(snow_depth=640.0)
    assert case(snowy, "sag-final").area == pytest.approx((1.6 * 4.0 + 0.5 * 2.24) * 1e-3, rel=1e-12)
    assert case(snowy, "sag-snow-final").area == pytest.approx((2.24 + (0.7 + 0.6) * 4.0) * 1e-3, rel=1e-12)
    assert case(snowy, "sag-snow").area == pytest.approx((2.24 + 0.7 * 4.0) * 1e-3, rel=1e-12)


def test_limits_of_sag_are_doubled_for_overhangs():
    practice = europe()
    for code, span, over in (("sag", 10.0, 20.0), ("sag-final", 20.0, 40.0)):
        at = case(practice, code)
        assert practice.sag(span=3000.0, is_overhang=False, case=at).limit == pytest.approx(span)
        assert practice.sag(span=3000.0, is_overhang=True, case=at).limit == pytest.approx(over)


@pytest.mark.parametrize(
    ("stress", "lasts", "pitch", "expected"),
    [
        (Stress.BENDING, "permanent", float("inf"), 0.50 * 24 * (150 / 147) ** 0.2 / 1.3),
        (Stress.BENDING, "imposed", 450.0, 1.1 * 0.65 * 24 * (150 / 147) ** 0.2 / 1.3),
        (Stress.SHEAR, "imposed", float("inf"), 0.65 * 4.0 / 1.3),
        (Stress.SHEAR, "point", 450.0, 1.1 * 0.70 * 4.0 / 1.3),
        (Stress.ALONG, "imposed", 450.0, 0.65 * 21 / 1.3),
        (Stress.ACROSS, "imposed", 450.0, 0.65 * 2.5 / 1.3),
    ],
)
def test_strengths_by_duration_size_and_neighbours(stress, lasts, pitch, expected):
    practice = europe()
    wood = practice.wood(piece(pitch=pitch))
    assert practice.strength(stress, wood, case(practice, lasts)).value == pytest.approx(expected, rel=1e-12)


def test_a_slender_beam_that_nothing_holds_loses_strength():
    """C24, 44 x 295 over 4.1 m: sigma_crit 0.78 44² 7400 / (295 (0.9 4100 + 590)) = 8.85, lambda 1.65, 1 / lambda²."""
    practice = europe()
    wood = practice.wood(piece(44.0, 295.0, Part.BEAM))
    imposed = case(practice, "imposed")
    critical = 0.78 * 44.0**2 * 7400.0 / (295.0 * (0.9 * 4100.0 + 2 * 295.0))
    free = practice.sideways(wood=wood, unheld=4100.0, case=imposed).value
    assert free == pytest.approx(critical / 24.0, rel=1e-12)
    assert practice.sideways(wood=wood, unheld=0.0, case=imposed).value == 1.0
    stout = practice.wood(piece(95.0, 145.0, Part.BEAM))
    assert practice.sideways(wood=stout, unheld=1700.0, case=imposed).value == 1.0


def test_shear_counts_the_cracks():
    assert europe().shear_stress_factor() == pytest.approx(1.5 / 0.67, rel=1e-12)


def test_an_end_notch_bears_by_k_v_and_a_pulled_cut_elsewhere_has_no_rule():
    practice = europe()
    wood = practice.wood(piece())
    size = {"wood": wood, "width": 47.0, "depth": 245.0}
    end = practice.notched(**size, notch=Notch(depth=63.0, length=60.0, is_end=True, reach=24.0))
    assert end.pulled_area == pytest.approx(0.630 * 47.0 * 182.0, rel=1e-3)  # worked example F6 prints k_v 0.630
    assert end.pulled_modulus == pytest.approx(47.0 * 182.0**2 / 6, rel=1e-12)
    inner = practice.notched(**size, notch=Notch(depth=63.0, length=60.0, is_end=False))
    assert inner.pulled_area is None
    assert inner.limit == 0.0
    assert inner.area == pytest.approx(47.0 * 182.0)


def test_contacts_count_longer_and_softwood_bears_more_on_separate_supports():
    practice = europe()
    larch, oak = practice.wood(piece()), practice.wood(piece(wood=("european_oak", "d30")))
    contact = Contact(wood=larch, depth=145.0, length=45.0, beyond=500.0, clear=800.0)
    assert practice.end_bearing(contact).value == pytest.approx(1.5 * 105.0 / 45.0)
    near = Contact(wood=larch, depth=145.0, length=45.0, beyond=500.0, clear=280.0)
    assert practice.end_bearing(near).value == pytest.approx(105.0 / 45.0)
    hard = Contact(wood=oak, depth=145.0, length=45.0, beyond=0.0, clear=800.0)
    assert practice.end_bearing(hard).value == pytest.approx(75.0 / 45.0)


def test_a_post_buckles_over_twice_its_height():
    """C24 95 x 120, 0.9 m clear: lambda 1800 sqrt(12) / 95 = 65.6, lambda_rel 1.113, k 1.201, k_c 0.605."""
    practice = europe()
    wood = practice.wood(piece(95.0, 120.0, Part.POST))
    rule = practice.post(wood=wood, height=900.0)
    assert rule.slenderness == pytest.approx(65.636, abs=1e-3)
    assert (rule.length, rule.limit) == (1800.0, None)
    assert europe(holds_heads=True).post(wood=wood, height=900.0).length == 900.0
    assert practice.buckling(wood=wood, rule=rule, case=case(practice, "imposed")).value == pytest.approx(
        0.605, abs=1e-3
    )


def test_wet_timber_weighs_six_or_what_its_class_weighs_wet():
    assert europe().unit_weight.value == pytest.approx(6.0e-6)
    dense = europe(woods=(LARCH, ("ipe", "d70")))
    assert dense.unit_weight.value == pytest.approx(960.0 * 1.16 * 9.81e-9, rel=1e-12)
    assert europe(woods=(("european_larch", "ungraded"),)).unit_weight.value == pytest.approx(6.0e-6)


def test_a_grade_that_en_338_does_not_have_is_refused_with_the_nearest():
    with pytest.raises(OutOfRangeError) as caught:
        europe().wood(piece(wood=("european_larch", "c25")))
    assert caught.value.fault.nearest in {"c24", "c22", "c27", "c20"}
    assert caught.value.fault.code == "grade-not-in-standard"


def larch(width, depth):
    return timber(width, depth, species="european_larch", grade="c24")


LAPPED = Plan(beams=(52.5, 1157.5), run=(-52.5, 962.5), kind=JointKind.LAP_OVER, cut=(52.5, 52.5))
SQUARE = {"joist": larch(105.0, 105.0), "beam": larch(105.0, 105.0)}
SLIM = {"joist": larch(47.0, 97.0), "beam": larch(97.0, 122.0)}


def european(plan=None, sizes=None, **job):
    frame = make_frame(replace(plan or Plan(), post=larch(97.0, 97.0), **(sizes or SLIM)))
    asked = make_job(standard="europe", board_species="european_larch", **job)
    board = replace(asked.floor.board, strength_grade="c24")
    asked = replace(asked, floor=replace(asked.floor, board=board))
    return check_strength(asked, frame, heights(frame))


def test_a_european_job_is_checked_through_and_carries_what_lies_on_it():
    strength = european(use="balcony")
    rules = {c.rule for c in strength.checks}
    assert {"board-bending", "board-sag-at-once", "board-sag-final", "bending", "shear", "bearing", "buckling"} <= rules
    assert "slenderness" not in rules
    codes = {p.case for p in strength.post_loads}
    assert {"dead", "permanent", "imposed", "point", "point-light"} <= codes
    dead, permanent, imposed = (
        sum(p.force for p in strength.post_loads if p.case == c) for c in ("dead", "permanent", "imposed")
    )
    assert permanent == pytest.approx(1.35 * dead, rel=1e-9)
    one = european(use="dwelling")
    half = sum(p.force for p in one.post_loads if p.case == "imposed")
    assert imposed - permanent == pytest.approx(2.0 * (half - permanent), rel=1e-9)


def test_a_half_lap_at_an_end_is_reckoned_with_k_v_and_not_left_open():
    """k_v by hand: alpha 1/2, x half a beam's width: 5 / (sqrt(105) (0.5 + 0.8 x 0.5 x sqrt(1.75))) = 0.474."""
    strength = european(LAPPED, SQUARE, use="dwelling")
    found = [c for c in strength.checks if c.rule == "end-notch"]
    assert found
    assert not [c for c in strength.checks if c.rule == "end-notch-depth"]
    left = europe().notched(
        wood=europe().wood(piece()), width=105.0, depth=105.0,
        notch=Notch(depth=52.5, length=105.0, is_end=True, reach=52.5),
    )  # fmt: skip
    assert left.pulled_area == pytest.approx(0.474 * 105.0 * 52.5, rel=1e-3)


def test_a_cut_in_the_pulled_side_has_no_rule_and_says_what_cures_it():
    """Over an inner post the top of the beam, cut for the joist, is pulled."""
    joists = (0.0, 455.0, 910.0, 1365.0, 1820.0)
    plan = replace(LAPPED, joists=joists, posts=(0.0, 910.0, 1820.0), run=(-52.5, 1872.5))
    strength = european(plan, SQUARE, use="dwelling")
    found = [c for c in strength.checks if c.rule == "notch-no-rule"]
    assert found
    for check in found:
        assert check.verdict is Verdict.OUTSIDE_RULE
        assert check.ratio is None
        assert check.remedy == "no-pulled-notch"


def test_a_seat_in_a_beam_is_left_open():
    strength = european(replace(LAPPED, kind=JointKind.HOUSING, cut=(0.0, 20.0)), SQUARE)
    assert [(c.verdict, c.reason) for c in strength.checks if c.rule == "housed-seat"][:1] == [
        (Verdict.NOT_CHECKED, "no-rule-in-standard")
    ]
