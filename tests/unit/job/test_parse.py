"""What a job file says, and what it leaves to its standard, arrives in the job in mm, N, degrees C and percent."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import kinds, parse_job, read_job

LEVELS = "levels = [[0, 4, -26.25], [144, 5, -27.125], [2, 110, -28]]"
SHORT = 'unit = "in"\nstandard = "{standard}"\n[site]\n' + LEVELS + '\n[floor]\nwidth = "12 ft"\ndepth = "10 ft"\n'
INCH = 25.4


def short(standard="japan", extra=""):
    return SHORT.format(standard=standard) + extra


def fault_in(text):
    with pytest.raises(JobFileError) as raised:
        parse_job(text)
    (fault,) = raised.value.faults
    return fault


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_eight_lines_make_a_whole_job(standard):
    job = parse_job(short(standard), name="porch")
    assert (job.name, job.standard, job.unit) == ("porch", standard, kinds.Unit.INCH)
    assert job.floor.outline == ((0, 10), (3657.6, 10), (3657.6, 3058), (0, 3058))
    assert job.site.levels[1].x == pytest.approx(144 * INCH, abs=1e-9)
    assert job.site.levels[1].z == pytest.approx(-27.125 * INCH, abs=1e-9)
    assert [level.name for level in job.site.levels] == ["p1", "p2", "p3"]
    assert job.site.levels[2].where == "site.levels[2]"


@pytest.mark.parametrize(
    ("standard", "style", "joist", "board", "species", "paper"),
    [
        ("japan", "flush", (105, 105, 455), (30, 105), "hinoki", "A3"),
        ("europe", "stacked", (45, 145, 500), (28, 145), "european_larch", "A3"),
        ("north-america", "hung", (38.1, 184.15, 406.4), (25.4, 139.7), "western_redcedar", "tabloid"),
    ],
)
def test_each_standard_brings_the_timber_of_its_trade(standard, style, joist, board, species, paper):
    job = parse_job(short(standard))
    frame = job.frame
    assert frame.style == style
    assert (frame.joist.width, frame.joist.depth, frame.joist.spacing_max) == pytest.approx(joist)
    assert (job.floor.board.thickness, job.floor.board.width) == pytest.approx(board)
    assert job.floor.board.species == species
    assert job.paper == paper


@pytest.mark.parametrize(
    ("style", "joint"),
    [("flush", "lap-over"), ("stacked", "bearing"), ("hung", "hanger")],
    ids=["flush", "stacked", "hung"],
)
@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_the_style_brings_its_joint(standard, style, joint):
    job = parse_job(short(standard, f'[frame]\nstyle = "{style}"\n'))
    assert job.frame.joints.joist == joint


def test_a_slab_brings_a_thin_pad_that_follows_it_and_soil_a_stone_set_level():
    slab = parse_job(short()).frame.footing
    soil = parse_job(short().replace("[site]", '[site]\nground = "soil"')).frame.footing
    assert (slab.kind, slab.height, slab.is_bedded_level) == ("pad", 10, False)
    assert (soil.kind, soil.height, soil.is_bedded_level) == ("stone", 100, True)


def test_what_is_typed_wins_over_every_default():
    job = parse_job(
        short(extra='[frame]\nstyle = "stacked"\n[frame.joist]\nwidth = 2\n[frame.joints]\nsplice = false\n')
    )
    assert job.frame.joist.width == pytest.approx(2 * INCH)
    assert job.frame.joist.depth == 105
    assert job.frame.joints.splice is False


def test_lengths_of_every_kind_stand_side_by_side_in_one_file():
    text = (
        short(extra="").replace('"12 ft"', '"3.6 m"').replace('"10 ft"', '"9尺"')
        + "drop = '1 1/2\"'\nfall = '1/8\" per ft'\n"
    )
    floor = parse_job(text).floor
    assert floor.outline[2] == (3600, pytest.approx(10 + 90_000 / 33))
    assert floor.drop == pytest.approx(38.1)
    assert floor.fall == pytest.approx(1 / 96)


def test_a_decimal_reaches_the_job_as_the_nearest_float_and_no_other():
    text = (
        short()
        .replace('unit = "in"', 'unit = "m"')
        .replace(LEVELS, "levels = [[0, 0.1, -0.3], [3.7, 0.2, -0.7], [0.7, 2.6, -0.6]]")
    )
    levels = parse_job(text).site.levels
    assert (levels[0].y, levels[0].z, levels[1].x) == (100.0, -300.0, 3700.0)


def test_a_clockwise_outline_is_kept_as_the_same_shape_counter_clockwise():
    corners = "[[0, 10], [0, 100], [60, 100], [60, 50], [140, 50], [140, 10]]"
    text = short().replace('width = "12 ft"\ndepth = "10 ft"', f"outline = {corners}")
    outline = parse_job(text).floor.outline
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, (*outline[1:], outline[0]), strict=True)) / 2
    assert area == pytest.approx((60 * 90 + 80 * 40) * INCH**2)
    assert set(outline) == {
        (x * INCH, y * INCH) for x, y in [(0, 10), (0, 100), (60, 100), (60, 50), (140, 50), (140, 10)]
    }


def test_the_gap_range_and_the_rip_follow_the_board_unless_typed():
    board = parse_job(short(extra="[floor.board]\ngap = '1/4\"'\nwidth = 5\n")).floor.board
    assert (board.gap_min, board.gap, board.gap_max) == pytest.approx((3.175, 6.35, 9.525))
    assert board.rip_min == pytest.approx(2.5 * INCH)
    typed = parse_job(
        short(extra="[floor.board]\ngap = '1/4\"'\ngap_min = 0\ngap_max = '3/8\"'\nrip_min = 1\n")
    ).floor.board
    assert (typed.gap_min, typed.gap_max, typed.rip_min) == pytest.approx((0, 9.525, 25.4))


def test_boards_laid_tight_stay_tight():
    board = parse_job(short(extra="[floor.board]\ngap = 0\n")).floor.board
    assert (board.gap_min, board.gap_max) == (0, 0)


def test_loads_and_temperatures_are_read_in_the_units_that_people_use():
    job = parse_job(short(extra='[loads]\nperson = "100 kg"\n[climate]\ntemperature = "50 F"\n'))
    assert job.loads.person == pytest.approx(980.665)
    assert job.climate.temperature == 10


def test_no_finish_means_no_coats_and_a_finish_two():
    assert parse_job(short(extra='[finish]\nkind = "none"\n')).finish.coats == 0
    assert parse_job(short()).finish.coats == 2


def test_readings_are_numbered_through_all_stations_and_may_be_named_rows_or_tables():
    text = short(
        extra="""
[[site.station]]
on = 0
backsight = 40
readings = [[1, 2, 60], ["peg", 5, 6, 61]]
[[site.station]]
on = "-5 mm"
backsight = 39
closing = '39 1/16"'
readings = [{ name = "kerb", x = 7, y = 8, rod = 62 }, { x = 9, y = 9, rod = "1550 mm" }]
"""
    )
    first, second = parse_job(text).site.stations
    assert [r.name for r in (*first.readings, *second.readings)] == ["r1", "peg", "kerb", "r4"]
    assert second.readings[1].rod == 1550
    assert second.readings[1].where == "site.station[1].readings[1]"
    assert (first.closing, second.closing) == (None, pytest.approx(39.0625 * INCH))
    assert second.on == -5


def test_stock_of_the_job_is_as_bought_unless_a_rough_size_is_typed():
    text = short(
        extra="""
[[stock]]
species = "sugi"
look = "common"
width = "105 mm"
depth = "30 mm"
rough_depth = "35 mm"
lengths = ["4 m", "3 m"]
price = [1200.50, 1400]
price_by = "piece"
asked_on = 2026-10-01
"""
    )
    (item,) = parse_job(text).stock
    assert (item.rough_width, item.rough_depth, item.lengths) == (105, 35, (3000, 4000))
    assert (str(item.price.low), str(item.price.high), item.price.asked_on) == ("1200.50", "1400", date(2026, 10, 1))
    assert (item.strength_grade, item.available, item.where) == ("ungraded", None, "stock[0]")


def test_a_job_is_named_by_itself_its_file_or_its_folder(tmp_path):
    (tmp_path / "back porch").mkdir()
    for path, name in ((tmp_path / "steps.toml", "steps"), (tmp_path / "back porch" / "job.toml", "back porch")):
        path.write_text(short(), encoding="utf-8")
        assert read_job(path).name == name
    assert parse_job('name = "own"\n' + short(), name="other").name == "own"


def test_a_file_with_a_byte_order_mark_or_windows_line_ends_is_read(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + short().replace("\n", "\r\n").encode())
    assert read_job(path).floor.drop == 20


def test_faults_keep_their_line_under_windows_line_ends():
    fault = fault_in(short(extra="[crew]\npeople = 0\n").replace("\n", "\r\n"))
    assert (fault.code, fault.where, fault.found, fault.line, fault.column) == ("too-small", "crew.people", "0", 9, 10)


@pytest.mark.parametrize(
    ("extra", "where", "found", "allowed", "nearest"),
    [
        ("[floor.board]\nthickness = 0\n", "floor.board.thickness", "0 in", '1/4" … 39 5/16"', '1/4"'),
        ("[floor.board]\nthickness = 99\n", "floor.board.thickness", "99 in", '1/4" … 39 5/16"', '39 5/16"'),
        ('[frame.post]\nspacing_max = "3 mm"\n', "frame.post.spacing_max", "3 mm", '3 15/16" … 787 3/8"', '3 15/16"'),
        ("[climate]\ndry = 1\n", "climate.dry", "1 %", "2 % … 150 %", "2 %"),
        ("[crew]\nhours_a_day = 0\n", "crew.hours_a_day", "0 h", "> 0 h … 24 h", "1 h"),
        ("[floor.board]\ngap = -0.1\n", "floor.board.gap", "-0.1 in", '0" … 1 15/16"', '0"'),
    ],
)
def test_the_nearest_value_that_works_is_in_the_file_s_unit_and_lies_inside(extra, where, found, allowed, nearest):
    fault = fault_in(short(extra=extra))
    assert (fault.where, fault.found, fault.allowed, fault.nearest) == (where, found, allowed, nearest)
    key = where.rsplit(".", 1)[-1]
    table, _ = extra.split("\n", 1)
    typed = nearest if nearest.endswith('"') else nearest.split()[0]
    value = f"'{typed}'" if typed.endswith('"') else typed
    parse_job(short(extra=f"{table}\n{key} = {value}\n"))


@pytest.mark.parametrize(
    ("value", "is_allowed"),
    [("0", True), ('"-0.5 mm"', False), ('"50 mm"', True), ('"50.5 mm"', False)],
)
def test_both_ends_of_a_range_are_inside_it(value, is_allowed):
    text = short(extra=f"[floor.board]\nend_gap = {value}\n")
    if is_allowed:
        parse_job(text)
    else:
        assert fault_in(text).where == "floor.board.end_gap"


def test_direction_may_be_ninety_but_not_minus_ninety():
    assert parse_job(short(extra="[floor.board]\ndirection_deg = 90\n")).floor.board.direction_deg == 90
    fault = fault_in(short(extra="[floor.board]\ndirection_deg = -90\n"))
    assert (fault.code, fault.where, fault.found) == ("too-small", "floor.board.direction_deg", "-90 °")


def test_an_overhang_as_wide_as_the_floor_is_refused_and_a_hair_less_is_not():
    rest = '[floor.overhang]\nright = "657.6 mm"\nleft = "{} mm"\n'
    text = short().replace('"12 ft"', '"1357.6 mm"')
    assert parse_job(text + rest.format("699.99")).floor.overhang.left == 699.99
    fault = fault_in(text + rest.format("700"))
    assert (fault.code, fault.where, fault.found) == ("overhang-over-floor", "floor.overhang.left", '27 71/127"')


def test_a_wrong_style_does_not_make_the_joints_wrong_too():
    fault = fault_in(short(extra='[frame]\nstyle = "hangs"\n[frame.joints]\njoist = "hanger"\n'))
    assert (fault.code, fault.where, fault.found, fault.nearest) == ("not-a-choice", "frame.style", "hangs", "hung")


def test_a_wrong_standard_does_not_make_its_defaults_wrong_too():
    fault = fault_in(short("nippon", '[frame.joints]\njoist = "hanger"\n'))
    assert (fault.code, fault.where, fault.found) == ("not-a-choice", "standard", "nippon")


def test_disagreements_are_found_beside_a_wrong_value_in_the_same_table():
    with pytest.raises(JobFileError) as raised:
        parse_job(short(extra='[frame]\nstyle = "hung"\n[frame.joist]\nseen = 1\n[frame.joints]\njoist = "butt"\n'))
    assert [(f.code, f.where, f.found) for f in raised.value.faults] == [
        ("not-yes-no", "frame.joist.seen", "1"),
        ("joint-not-for-style", "frame.joints.joist", "butt"),
    ]


def test_with_a_wrong_unit_the_faults_that_hold_in_any_unit_are_told_as_well():
    text = short().replace('unit = "in"', 'unit = "furlong"').replace('"12 ft"', '"twelve"')
    with pytest.raises(JobFileError) as raised:
        parse_job(text)
    assert [(f.code, f.where, f.found) for f in raised.value.faults] == [
        ("not-a-choice", "unit", "furlong"),
        ("length-unread", "floor.width", "twelve"),
    ]


def test_a_long_boardwalk_is_not_too_many_boards():
    text = (
        short("europe", "[floor.board]\ndirection_deg = 90\n")
        .replace('"12 ft"', '"555 m"')
        .replace('"10 ft"', '"1.8 m"')
    )
    assert parse_job(text).floor.outline[1] == (555_000, 10)


def test_the_same_text_gives_the_same_job():
    text = (Path(__file__).parents[3] / "examples" / "library-terrace" / "job.toml").read_text(encoding="utf-8")
    assert parse_job(text) == parse_job(text)
