"""The gap over the year, the gap to set, and green boards."""

from __future__ import annotations

import csv
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from timber_factory import make_frame, make_job, make_layout, with_board, with_climate

from evenfoot.checks import Verdict
from evenfoot.timber import know_timber
from evenfoot.words import Language, Speaker

INCH = 25.4


def know(job, gap=6.0):
    return know_timber(job, make_layout(job, gap=gap), make_frame(job))


def find(timber, rule):
    (check,) = [c for c in timber.checks if c.rule == rule]
    return check


def test_hinoki_fixed_air_dry_follows_the_worked_example():
    """120 mm hinoki fixed at 15 %, wet 25 %: at least 5.76 mm on the day, then 6.59 mm at 12 %, flat-sawn."""
    timber = know(make_job(), gap=5.76)
    assert timber.gap.wet_low == pytest.approx(3.0, abs=1e-9)
    assert timber.gap.dry_high == pytest.approx(6.59, abs=0.005)
    assert timber.gap.advised == 6.0
    assert timber.gap.on_the_day == 5.76
    assert find(timber, "gap-wet").demand == pytest.approx(5.76, abs=1e-9)
    assert find(timber, "gap-wet").verdict is Verdict.OK
    assert find(know(make_job(), gap=5.75), "gap-wet").verdict is Verdict.FAILS


def test_grain_that_is_not_known_bounds_the_gap_by_flat_and_quarter():
    gap = know(make_job(), gap=6.0).gap
    assert gap.wet_low == pytest.approx(6.0 - 120 * 0.0023 * 10, abs=1e-9)
    assert gap.wet_high == pytest.approx(6.0 - 120 * 0.0012 * 10, abs=1e-9)
    assert gap.dry_low == pytest.approx(6.0 + 120 * 0.0012 * 3, abs=1e-9)
    assert gap.dry_high == pytest.approx(6.0 + 120 * 0.0023 * 3, abs=1e-9)


def test_too_tight_a_gap_names_the_gap_to_set():
    check = find(know(make_job(), gap=4.0), "gap-wet")
    assert check.verdict is Verdict.FAILS
    assert (check.remedy, check.fact("set_mm")) == ("gap-set", 6.0)
    assert check.fact("wet_low_mm") == pytest.approx(1.24, abs=1e-9)


def test_the_gap_that_is_named_passes_both_checks():
    for job, day in ((make_job(), 3.5), (with_climate(make_job(), fixing=24.0), 9.5)):
        tight = know(job, gap=day)
        wrong = next(c for c in tight.checks if c.rule.startswith("gap-") and c.verdict is Verdict.FAILS)
        right = know(job, gap=wrong.fact("set_mm"))
        assert {c.verdict for c in right.checks if c.rule.startswith("gap-")} == {Verdict.OK}


def test_a_gap_that_opens_too_far_names_a_smaller_one():
    """At 24 % flat-sawn boards still lose 12 x 0.276 mm; 10 mm less that is 6.688, so 6.5."""
    check = find(know(with_climate(make_job(), fixing=24.0), gap=9.5), "gap-dry")
    assert check.verdict is Verdict.FAILS
    assert check.fact("set_mm") == 6.5


def test_a_dry_gap_just_at_its_limit_passes():
    job = with_board(make_job(), gap_max=6.0 + 120 * 0.0023 * 3)
    assert find(know(job, gap=6.0), "gap-dry").verdict is Verdict.OK
    assert find(know(job, gap=6.01), "gap-dry").verdict is Verdict.FAILS


def test_boards_too_wide_for_both_limits_name_the_widest_that_is_not():
    """Limits 3 to 6 mm leave 3 mm; hinoki swings 13 x 0.0023 of its width: 100.3 mm at most."""
    job = with_board(make_job(), gap_max=6.0)
    check = find(know(job, gap=5.0), "gap-wet")
    assert (check.remedy, check.fact("widest_mm")) == ("gap-narrower-board", 100.0)
    narrow = with_board(make_job(width=100.0), gap_max=6.0)
    assert find(know(narrow, gap=5.0), "gap-wet").remedy in ("", "gap-set")


def test_a_window_narrower_than_the_spacer_step_names_its_lower_end():
    job = with_board(make_job(), gap_max=3.0 + 120 * 0.0023 * 13 + 0.1)
    check = find(know(job, gap=5.0), "gap-wet")
    assert check.remedy == "gap-set"
    assert check.fact("set_mm") == pytest.approx(5.76, abs=1e-9)


def test_boards_laid_tight_have_no_ratio_but_a_verdict():
    job = with_board(make_job(), gap_min=0.0)
    check = find(know(job, gap=0.0), "gap-wet")
    assert check.verdict is Verdict.FAILS
    assert check.ratio is None
    assert know(job, gap=0.0).gap.wet_low < 0


def test_green_boards_only_shrink_and_are_said_to_be_green():
    """120 mm sugi fixed green, laid at 3 mm: 7.80 mm at 12 %; saturation at 28 %, whatever wetter they were."""
    for fixing in (28.0, 30.0, 60.0):
        timber = know(with_climate(make_job(board="sugi"), fixing=fixing), gap=3.0)
        assert timber.gap.dry_high == pytest.approx(3.0 + 120 * 0.0025 * 16, abs=1e-9)
        check = find(timber, "gap-dry-green")
        assert check.verdict is Verdict.OK
        assert check.fact("fsp") == 28.0
        assert timber.gap.advised == 3.0
    below = know(with_climate(make_job(board="sugi"), fixing=27.9), gap=3.0)
    assert not [c for c in below.checks if c.rule == "gap-dry-green"]


def gp01() -> dict[str, float]:
    path = Path(__file__).parents[2] / "reference" / "wood" / "gap_cases.csv"
    with path.open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    return {k: float(v) for k, v in row.items() if k not in ("id", "basis", "source")}


def test_case_gp01_treated_boards_laid_wet_end_with_half_an_inch():
    """5 1/2 in boards of southern pine laid at or above saturation with 1/4 in, dried to 12 %."""
    case = gp01()
    job = with_climate(
        with_board(
            make_job(board="treated_pine", width=case["board_in"] * INCH),
            gap_max=10.0,
        ),
        fixing=case["fibre_saturation_percent"],
        dry=case["final_mc_percent"],
    )
    timber = know(job, gap=case["initial_gap_in"] * INCH)
    shrink = timber.gap.dry_high - timber.gap.on_the_day
    assert shrink == pytest.approx(case["shrink_mm"], rel=case["tolerance"])
    assert timber.gap.dry_high == pytest.approx(case["final_gap_in"] * INCH, rel=case["tolerance"])
    check = find(timber, "gap-dry-green")
    assert check.verdict is Verdict.FAILS
    assert check.remedy == "gap-set"
    assert check.fact("set_mm") < case["initial_gap_in"] * INCH
    tight = know(with_board(job, gap_min=0.0), gap=0.0)
    assert tight.gap.dry_high == pytest.approx(case["final_gap_if_laid_tight_in"] * INCH, rel=case["tolerance"])


def test_unconfirmed_movement_is_marked():
    assert find(know(make_job(board="hinoki")), "gap-wet").confirmed
    assert not find(know(make_job(board="norway_spruce")), "gap-wet").confirmed


def test_sections_move_once_each_at_the_tangential_rate():
    job = make_job(species="sugi")
    moved = {(m.species, m.width, m.depth): m for m in know(job).movements}
    assert list(moved) == [("hinoki", 120.0, 30.0), ("sugi", 105.0, 105.0), ("sugi", 90.0, 90.0)]
    assert moved["hinoki", 120.0, 30.0].across_width == pytest.approx(120 * 0.0023 * 13, rel=1e-12)
    assert moved["hinoki", 120.0, 30.0].across_depth == pytest.approx(30 * 0.0023 * 13, rel=1e-12)
    assert moved["sugi", 90.0, 90.0].across_depth == pytest.approx(90 * 0.0025 * 13, rel=1e-12)


@pytest.mark.parametrize("language", Language)
@pytest.mark.parametrize(("fixing", "gap", "gap_max"), [(15.0, 4.0, 10.0), (30.0, 9.0, 10.0), (15.0, 4.0, 5.0)])
def test_findings_about_gaps_can_be_said(language, fixing, gap, gap_max):
    job = with_board(with_climate(make_job(), fixing=fixing), gap_max=gap_max)
    for check in know(job, gap=gap).checks:
        if check.rule.startswith("gap-"):
            assert "{" not in Speaker(language).check(check)


def test_knowing_the_timber_twice_gives_the_same():
    job = replace(make_job(), name="again")
    assert know(job) == know(job)
