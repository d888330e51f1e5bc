"""Every broken job file gives the faults that its row in the table describes, each at its line, within a second."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import parse_job, read_job
from evenfoot.words import Language, Speaker

BROKEN = Path(__file__).parents[2] / "journeys" / "broken"
FILES = sorted(path.name for path in BROKEN.glob("*.toml"))
SOUND = """
unit = "mm"
standard = "japan"
[site]
levels = [[0, 100, -450], [3600, 120, -462], [20, 2600, -481]]
[floor]
width = 3600
depth = 2700
"""


def rows():
    table = defaultdict(list)
    with (BROKEN / "cases.csv").open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(handle):
            table[row["file"]].append((row["code"], row["where"], row["line"], row["found"]))
    return table


CASES = rows()


def faults_in(path):
    with pytest.raises(JobFileError) as raised:
        read_job(path)
    return raised.value.faults


def test_the_table_and_the_folder_hold_the_same_files():
    assert sorted(CASES) == FILES
    assert len(FILES) >= 40


@pytest.mark.parametrize("name", FILES)
def test_a_broken_file_gives_its_faults_and_no_others(name):
    faults = faults_in(BROKEN / name)
    found = sorted((f.code, f.where, str(f.line), f.found) for f in faults)
    assert found == sorted(CASES[name])


@pytest.mark.parametrize("name", FILES)
def test_every_fault_is_said_in_both_languages_with_its_line(name):
    for fault in faults_in(BROKEN / name):
        for language in Language:
            said = Speaker(language).fault(fault)
            assert fault.where in said
            assert str(fault.line) in said
            assert fault.found in said
            assert fault.nearest in said


@pytest.mark.parametrize("name", FILES)
def test_a_fault_points_at_the_line_that_holds_it(name):
    lines = (BROKEN / name).read_bytes().decode("utf-8", "replace").split("\n")
    for fault in faults_in(BROKEN / name):
        key = fault.where.split(".")[-1].split("[")[0]
        is_of_a_value = fault.code not in {"key-missing", "shape-missing", "readings-too-few", "readings-in-line"}
        is_of_the_file = fault.where == name or fault.code == "snow-depth-missing"
        if is_of_a_value and not is_of_the_file and "[" not in fault.where:
            assert key in lines[fault.line - 1]


def test_the_sound_file_that_the_broken_ones_are_made_from_is_read():
    assert parse_job(SOUND).floor.outline == ((0, 10), (3600, 10), (3600, 2710), (0, 2710))


def test_a_file_over_a_megabyte_is_refused_unread(tmp_path):
    path = tmp_path / "large.toml"
    path.write_text(SOUND + "# " + "x" * 1_000_000, encoding="utf-8")
    (fault,) = faults_in(path)
    assert (fault.code, fault.where, fault.found, fault.allowed) == ("file-too-large", "large.toml", "1.0 MB", "1.0 MB")


def test_a_file_of_just_a_megabyte_is_read(tmp_path):
    path = tmp_path / "just.toml"
    room = 1_000_000 - len(SOUND.encode())
    path.write_text(SOUND + "#" + "x" * (room - 1), encoding="utf-8")
    assert read_job(path).name == "just"


def test_a_text_over_a_megabyte_is_refused_unread():
    with pytest.raises(JobFileError) as raised:
        parse_job("# " + "濡" * 400_000)
    assert (raised.value.fault.code, raised.value.fault.found) == ("file-too-large", "1.2 MB")


def test_a_million_boards_are_refused_at_once():
    text = SOUND.replace("3600\ndepth = 2700", '"1000 m"\ndepth = "420 m"')
    with pytest.raises(JobFileError) as raised:
        parse_job(text)
    fault = next(f for f in raised.value.faults if f.code == "too-many-boards")
    assert int(fault.found) > 950_000
    assert (fault.where, fault.allowed) == ("floor.board.width", "20000")


def test_a_folder_and_a_missing_file_are_told_apart(tmp_path):
    with pytest.raises(JobFileError) as raised:
        read_job(tmp_path / "none.toml")
    assert (raised.value.fault.code, raised.value.fault.where) == ("file-missing", "none.toml")
    assert raised.value.fault.found.endswith("none.toml")
    with pytest.raises(JobFileError) as raised:
        read_job(tmp_path)
    assert (raised.value.fault.code, raised.value.fault.where) == ("file-unreadable", tmp_path.name)
    assert raised.value.fault.found in {"Is a directory", "Permission denied"}


@pytest.mark.parametrize(
    "rubbish",
    [
        "".join(f"k{i} = {i}\n" for i in range(60_000)),
        "[site]\nlevels = [" + "[1, 2, 'a'],\n" * 4900 + "]\n",
        "[site]\nlevels = [" + "[1, 2, 'a'],\n" * 60_000 + "]\n",
        "a" * 800_000 + " = 1\n",
        'colour = "' + "a" * 800_000 + '"\n',
        "a = " + "[" * 400_000 + "]" * 400_000,
        "a = " + "[" * 300 + "]" * 300,
        "a" + ".a" * 300 + " = 1",
    ],
    ids=["keys", "rows", "too-many-rows", "long-key", "long-text", "deep", "fairly-deep", "dotted"],
)
def test_a_megabyte_of_rubbish_is_refused_with_few_faults(rubbish):
    with pytest.raises(JobFileError) as raised:
        parse_job('unit = "mm"\nstandard = "japan"\n' + rubbish)
    assert len(raised.value.faults) <= 310
    assert all(len(f.found) <= 80 and len(f.where) <= 1300 for f in raised.value.faults)
