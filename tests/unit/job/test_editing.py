"""A job file is changed where it was asked to be, and nowhere else."""

from __future__ import annotations

import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError, OutOfRangeError
from evenfoot.job import files, parse_job

EXAMPLE = (Path(__file__).parents[3] / "examples" / "library-terrace" / "job.toml").read_text(encoding="utf-8")
SMALL = """# a remark
unit = "mm"   # of every bare number

[floor]
width = 3600 # as agreed
depth =  2700


[site]
levels = [
  [0, 100, -450],  # by the door
  [3600, 120, -462],
]
"""


def lines_changed(before, after):
    old, new = before.split("\n"), after.split("\n")
    return [line for line in new if line not in old], [line for line in old if line not in new]


@pytest.mark.parametrize("text", [EXAMPLE, SMALL, "", "# only\n", SMALL.replace("\n", "\r\n"), "a = 1"])
def test_without_changes_the_text_comes_back_as_it_went_in(text):
    assert files.edit_job(text, {}) == text


@pytest.mark.parametrize(
    "text",
    [
        'note = """\n[floor]\nwidth = 1\n[x]\n"""\nfloor.width = 2\n',
        'note = """\n[floor]\nwidth = 1\n"""\n[floor]\nwidth = 2\n',
        '[floor]\nnote = """\n[floor]\nwidth = 1\n"""\nwidth = 2\n',
        "rows = [\n[1, 2],\n]\n[floor]\nwidth = 2 # m\nrows = [\n[1],\n]\n",
        "[floor]\nwidth = 2\n\n[floor.board]\ngap = 3\n",
        "[floor] # as agreed\nwidth = 2\n[[floor.step]]\nwidth = 1\n",
        "floor = { width = 2 }\n",
        "[ floor ]\nwidth = 2\n",
        "[floor]\nwidth = 2",
    ],
)
def test_what_looks_like_the_heading_of_a_table_is_not_taken_for_it(text):
    edited, tree = files.edit_job(text, {"floor.width": 3650}), tomllib.loads(text)
    assert tomllib.loads(edited) == tree | {"floor": tree["floor"] | {"width": 3650}}
    assert edited.replace("3650", "2", 1) == text


def test_one_value_changes_one_line_and_its_remark_stays():
    added, gone = lines_changed(SMALL, files.edit_job(SMALL, {"floor.width": 3650}))
    assert (added, gone) == (["width = 3650 # as agreed"], ["width = 3600 # as agreed"])


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("12尺", '"12尺"'),
        ("6' 2\"", '"6\' 2\\""'),
        (3650.5, "3650.5"),
        (Decimal("0.10"), "0.10"),
        (Decimal(7), "7.0"),
        (True, "true"),
        (date(2026, 11, 25), "2026-11-25"),
        ([1, Decimal("2.5"), "3 m"], '[1, 2.5, "3 m"]'),
        ({"x": 1, "y": [2]}, "{x = 1, y = [2]}"),
    ],
)
def test_values_of_every_kind_are_written(value, written):
    edited = files.edit_job(SMALL, {"floor.width": value})
    assert f"width = {written} # as agreed" in edited
    assert tomllib.loads(edited, parse_float=Decimal)["floor"]["width"] == (
        Decimal(str(value)) if isinstance(value, float) else value
    )


def test_a_key_inside_a_row_is_changed_by_its_name_as_faults_name_it():
    edited = files.edit_job(SMALL, {"site.levels[1].z": -470, "site.levels[0].x": 5})
    assert "  [3600, 120, -470],\n" in edited
    assert "  [5, 100, -450],  # by the door\n" in edited
    named = files.edit_job(EXAMPLE, {"site.station[0].readings[3].rod": 1650})
    assert '  ["A4", 2720, 55, 1650],\n' in named


def test_a_row_is_added_at_the_end_and_taken_out():
    added = files.edit_job(SMALL, {"site.levels[2]": ["c", 5, 2600, -481]})
    assert '  [3600, 120, -462],\n  ["c", 5, 2600, -481],\n]' in added
    assert "3600, 120" not in files.edit_job(SMALL, {"site.levels[1]": None})


def test_a_new_table_stands_apart_from_its_neighbours():
    edited = files.edit_job(SMALL, {"floor.board.gap": 5, "crew.people": 2})
    assert "\n\n[floor.board]\ngap = 5\n" in edited
    assert edited.rstrip().endswith("\n\n[crew]\npeople = 2")
    assert SMALL.splitlines()[-4:] == [line for line in edited.splitlines() if line in SMALL.splitlines()[-4:]]


def test_entries_of_a_list_of_tables_are_added_changed_and_taken_out_to_the_last():
    one = files.edit_job(SMALL, {"stock[0]": {"species": "sugi", "lengths": [3000]}})
    two = files.edit_job(one, {"stock[1].species": "hinoki", "stock[0].species": "hiba"})
    assert [entry["species"] for entry in tomllib.loads(two)["stock"]] == ["hiba", "hinoki"]
    swapped = files.edit_job(two, {"stock[0]": {"species": "teak"}})
    assert tomllib.loads(swapped)["stock"][0] == {"species": "teak"}
    none = files.edit_job(one, {"stock[0]": None})
    assert "stock" not in tomllib.loads(none)
    assert none.rstrip() == SMALL.rstrip()


def test_taking_a_key_out_leaves_its_table():
    assert "[floor]\ndepth =  2700\n" in files.edit_job(SMALL, {"floor.width": None})


def test_windows_line_ends_stay():
    edited = files.edit_job(EXAMPLE.replace("\n", "\r\n"), {"floor.board.gap": 6, "finish.coats": 3})
    assert edited.count("\n") == edited.count("\r\n")
    assert parse_job(edited).floor.board.gap == 6


@pytest.mark.parametrize(
    "path",
    [
        "",
        "floor..width",
        "floor.width.x",
        "site.levels[7]",
        "site.levels[-1]",
        "site.levels[0].rod",
        "stock[2]",
        "[0]",
        "floor[0]",
        "a[x]",
        "floor.",
    ],
)
def test_a_path_that_leads_nowhere_is_refused(path):
    with pytest.raises(OutOfRangeError) as raised:
        files.edit_job(SMALL, {path: 1})
    assert (raised.value.fault.code, raised.value.fault.where, raised.value.fault.found) == ("path-unknown", path, path)


@pytest.mark.parametrize("path", ["floor.nothing", "site.levels[2]", "nothing[0]"])
def test_what_is_not_there_cannot_be_taken_out(path):
    with pytest.raises(OutOfRangeError) as raised:
        files.edit_job(SMALL, {path: None})
    assert (raised.value.fault.code, raised.value.fault.where, raised.value.fault.found) == ("path-unknown", path, path)


def test_a_text_that_is_no_toml_is_not_edited():
    with pytest.raises(JobFileError) as raised:
        files.edit_job("width = = 3", {"width": 4})
    fault = raised.value.fault
    assert (fault.code, fault.where, fault.found, fault.line) == ("toml-syntax", "job", "width = = 3", 1)
