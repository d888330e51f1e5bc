"""Outside truth for the ground and the height stack: certified fits, printed tables, builders' situations."""

from __future__ import annotations

import csv
import math
import tomllib
from decimal import Decimal
from pathlib import Path

import numpy as np
import pytest

from evenfoot.checks import Verdict
from evenfoot.job import Log, SiteSpec, kinds
from evenfoot.job.model import LevelReading
from evenfoot.posts import (
    Cure,
    Room,
    count_supports,
    cures,
    door_drop,
    height_stack,
    ledger_lines,
    slab_rows,
)
from evenfoot.site import error_from_tilt, read_ground, tilt_from_error
from evenfoot.solvers import chi_squared_limit, fit_linear, students_t_limit
from evenfoot.tables import levels

HERE = Path(__file__).parent
INCH = 25.4
CASES = tomllib.loads((HERE / "low_floors.toml").read_text(encoding="utf-8"), parse_float=Decimal)


def rows(name):
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def agrees(value, printed):
    """Half the last printed digit, either way."""
    printed = printed if isinstance(printed, Decimal) else Decimal(str(printed))
    half = 0.5 * 10.0 ** int(printed.as_tuple().exponent)
    return abs(value - float(printed)) <= half


def floats(values):
    return [float(v) for v in values]


def test_the_tolerance_can_fail():
    assert agrees(2.5135, Decimal("2.51"))
    assert not agrees(2.516, Decimal("2.51"))
    assert not agrees(2.504, Decimal("2.51"))


def test_least_squares_meets_certified_values_on_a_nearly_singular_problem():
    """Fifteen digits are certified; of those, double precision keeps nine on data as nearly dependent as these."""
    data = np.array([[float(v) for v in row.values()] for row in rows("longley.csv")])
    design = np.column_stack([np.ones(len(data)), data[:, 1:]])
    fit = fit_linear(design, data[:, 0], sigmas=np.ones(len(data)))
    spread = math.sqrt(fit.misfit_squares / fit.freedom)
    certified = {row["unknown"]: row for row in rows("longley_certified.csv")}
    names = ["constant", *list(rows("longley.csv")[0])[1:]]
    for name, found, variance in zip(names, fit.coefficients, np.diag(fit.covariance), strict=True):
        assert found == pytest.approx(float(certified[name]["estimate"]), rel=1e-9)
        assert spread * math.sqrt(variance) == pytest.approx(float(certified[name]["standard_deviation"]), rel=1e-9)
    assert spread == pytest.approx(float(certified["spread"]["estimate"]), rel=1e-9)


@pytest.mark.parametrize("row", rows("chance_limits.csv"), ids=lambda r: f"{r['kind']}-{r['share']}-{r['freedom']}")
def test_limits_of_chance_are_as_printed(row):
    limit = students_t_limit if row["kind"] == "t" else chi_squared_limit
    assert agrees(limit(share=float(row["share"]), freedom=int(row["freedom"])), Decimal(row["limit"]))


def test_a_tilted_level_is_out_by_far_more_than_was_guessed():
    case = CASES["tilted_level"]
    for degrees in (1, 3):
        error = error_from_tilt(distance=case["distance_in"] * INCH, tilt=math.radians(degrees))
        assert agrees(error / INCH, case[f"error_at_{degrees}deg_in"])
    tilt = tilt_from_error(error=float(case["error_in"]) * INCH, distance=case["distance_in"] * INCH)
    assert agrees(math.degrees(tilt), case["tilt_for_error_deg"])


def slope_of(case):
    """Ground under a floor at z = 0, read where it is highest and where it is lowest."""
    ends = [("low", 0.0, case["low_height_in"]), ("high", float(case["run_in"]), case["high_height_in"])]
    return SiteSpec(
        has_house=True,
        sill=0.0,
        ground=kinds.Ground.SOIL,
        surface=kinds.Surface.PLANE,
        accuracy=5.0,
        stations=(),
        levels=tuple(
            LevelReading(name=n, x=x * INCH, y=0.0, z=-float(h) * INCH, where=f"site.level[{k}]")
            for k, (n, x, h) in enumerate(ends)
        ),
        wall=(),
        obstacles=(),
        where="site",
    )


def test_posts_on_a_slope_get_their_own_lengths_and_the_first_is_refused():
    case = CASES["posts_on_a_slope"]
    ground = read_ground(slope_of(case), Log(lines=()))
    assert agrees(100 * ground.fall.ratio, case["slope_percent"])
    lines = [k * case["post_spacing_in"] for k in range(len(case["heights_in"]))]
    assert lines[-1] == case["run_in"]
    heights = [-ground.level(x * INCH, 0.0).z / INCH for x in lines]
    fits = [height_stack(available=h, layers=floats(case["layers_in"])) for h in heights]
    for height, fit, printed, length in zip(heights, fits, case["heights_in"], case["post_lengths_in"], strict=True):
        assert agrees(height, printed)
        assert agrees(fit.stack, case["stack_in"])
        assert agrees(fit.spare, length)
    assert [f.is_fitting for f in fits] == [False] + [True] * 6
    room = Room(drop=0.0, saved_by_flush=9.25, least_post=0.0, can_dig=True)
    assert Cure.FLUSH_FRAME not in cures(fits[0].shortfall, room), "a flush frame alone is a quarter inch short"
    assert Cure.DIG in cures(fits[0].shortfall, room)


def test_a_low_floor_is_refused_by_how_much_and_fits_without_bearers():
    case = CASES["low_floor"]
    full = [case[k] for k in ("board_mm", "joist_mm", "bearer_mm")]
    for available, short, left in zip(
        case["available_mm"], case["shortfall_mm"], case["clearance_without_bearers_mm"], strict=True
    ):
        fit = height_stack(available=available, layers=full)
        assert (fit.stack, fit.shortfall, fit.is_fitting) == (case["stack_mm"], short, False)
        flush = height_stack(available=available, layers=full[:2])
        assert (flush.stack, flush.spare, flush.is_fitting) == (case["without_bearers_stack_mm"], left, True)
        room = Room(drop=0.0, saved_by_flush=case["bearer_mm"], least_post=0.0, can_dig=False)
        assert cures(fit.shortfall, room) == (Cure.FLUSH_FRAME, Cure.THINNER)


def test_a_low_floor_counts_bays_lines_and_supports_apart():
    case = CASES["low_floor_grid"]
    for available, left in zip(case["available_mm"], case["clearance_mm"], strict=True):
        assert height_stack(available=available, layers=case["layers_mm"]).spare == left
    bays, run, spacing = case["bearer_bays_mm"], case["length_mm"], case["support_spacing_mm"]
    every = count_supports(bays=bays, run=run, spacing_max=spacing)
    assert every.bays == len(bays)
    assert (every.lines, every.per_line, every.supports) == (
        case["bearer_lines"],
        case["supports_per_line"],
        case["supports"],
    )
    carried = count_supports(bays=bays, run=run, spacing_max=spacing, lines_carried=1)
    assert carried.supports == case["supports_if_wall_carries_one_edge"]


def test_a_slab_close_under_a_sill_trades_drop_against_space():
    case = CASES["slab_under_sill"]
    sill, layers = float(case["sill_in"]) * INCH, [float(v) * INCH for v in case["layers_in"]]
    wanted, deepest = float(case["wanted_drop_in"]) * INCH, float(case["deepest_drop_in"]) * INCH
    flush, bare, low = slab_rows(sill=sill, layers=layers, drops=(0.0, deepest, wanted), wanted=wanted)
    assert agrees(flush.space / INCH, case["space_flush_in"])
    assert agrees(flush.space, case["space_flush_mm"])
    assert (flush.is_buildable, flush.keeps_water_out) == (True, False)
    assert bare.space == pytest.approx(0, abs=1e-9)
    assert bare.is_buildable
    assert agrees(low.space / INCH, case["space_with_wanted_drop_in"])
    assert (low.is_buildable, low.keeps_water_out) == (False, True)


def test_a_step_at_a_door_is_allowed_by_how_the_door_opens():
    case = CASES["step_at_a_door"]
    drop = sum(float(case[k]) for k in ("clearance_in", "plate_in", "subfloor_in")) * INCH
    assert agrees(drop / INCH, case["drop_in"])
    slider = door_drop(drop=drop, door=levels.Door.CLEAR_OF_FLOOR)
    swinging = door_drop(drop=drop, door=levels.Door.SWINGS_OVER)
    assert (slider.verdict, swinging.verdict) == (Verdict.OK, Verdict.FAILS)
    assert agrees(slider.capacity / INCH, case["most_when_clear_of_floor_in"])
    assert agrees(swinging.capacity / INCH, case["most_when_door_swings_over_in"])
    lines = ledger_lines(drop=drop, board=float(case["board_in"]) * INCH, depth=float(case["ledger_depth_in"]) * INCH)
    assert agrees(lines.top / INCH, case["ledger_top_in"])
    assert agrees(lines.bottom / INCH, case["ledger_bottom_in"])
