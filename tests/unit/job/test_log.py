"""The log: what counts, what is taken back, and what a power cut can do."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.errors import JobFileError, StoreError
from evenfoot.job import Log, LogLine, files

PLAIN = LogLine(
    time="2026-11-18T10:20:00", what="distance", mark="1-3", x=None, y=None, value=4501.5, accuracy=None, where=""
)


def undo(line: LogLine, minute: int) -> LogLine:
    return replace(PLAIN, what="undo", mark="", value=0.0, of=line.id, time=f"2026-11-18T11:{minute:02}:00")


def test_what_is_added_reads_back(tmp_path):
    path = tmp_path / "site" / "log.jsonl"
    full = replace(
        PLAIN, mark="2-4", accuracy=1.5, stand="2", away=6400.0, instrument="tape 7.5 m", who="Aki", x=10.25, y=-3.0
    )
    moisture = replace(PLAIN, what="moisture", mark="b7.1", value=18.5)
    added = files.append_log(path, [PLAIN, full])
    assert [replace(line, where="", id="") for line in added] == [PLAIN, full]
    (last,) = files.append_log(path, [moisture])
    assert (last.value, last.where) == (18.5, "lines[3]")
    assert json.loads(path.read_text(encoding="utf-8").splitlines()[2])["value_pct"] == 18.5
    assert files.read_log(path).lines == (*added, last)


def test_nothing_is_rewritten(tmp_path):
    path = tmp_path / "log.jsonl"
    first = '{"what":   "distance", "time": "2026-11-18T10:20", "value_mm": 4501.50, "mark": "1-3"}'
    path.write_text(first, encoding="utf-8")
    files.append_log(path, [PLAIN])
    assert path.read_text(encoding="utf-8").split("\n")[0] == first
    assert len(files.read_log(path).lines) == 2


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("cut", [1, 20, 57, 58])
def test_a_torn_line_loses_at_most_itself(tmp_path, mark, cut):
    path = tmp_path / "log.jsonl"
    first = files.append_log(path, [replace(PLAIN, mark="1-2")])
    torn = '{"time": "2026-11-18T10:21", "what": "distance", "mark": "は-3"'.encode()[:cut]
    path.write_bytes(mark + path.read_bytes() + torn)
    added = files.append_log(path, [PLAIN])
    log = files.read_log(path)
    assert log.lines == (*first, *added)
    assert log.notes == ()
    assert torn not in path.read_bytes().split(b"\n")


def test_a_line_that_is_no_fact_is_refused_and_nothing_written(tmp_path):
    path = tmp_path / "log.jsonl"
    files.append_log(path, [PLAIN])
    before = path.read_bytes()
    with pytest.raises(JobFileError) as raised:
        files.append_log(path, [PLAIN, replace(PLAIN, value=-5.0)])
    assert (raised.value.fault.code, raised.value.fault.where, raised.value.fault.found) == (
        "too-small",
        "lines[2].value_mm",
        "-5 mm",
    )
    assert path.read_bytes() == before


def test_a_disk_that_refuses_is_told(tmp_path):
    (tmp_path / "site").write_text("a file, not a folder", encoding="utf-8")
    with pytest.raises(StoreError) as raised:
        files.append_log(tmp_path / "site" / "log.jsonl", [PLAIN])
    assert raised.value.fault.code == "cannot-write"


def test_a_later_line_on_the_same_thing_counts(tmp_path):
    path = tmp_path / "log.jsonl"
    other_stand = replace(PLAIN, stand="2", value=9.0)
    files.append_log(path, [PLAIN, replace(PLAIN, value=4500.0), replace(PLAIN, mark="2-4"), other_stand])
    log = files.read_log(path)
    assert [line.value for line in log.latest("distance").values()] == [4500.0, 4501.5, 9.0]
    assert len(log.lines) == 4


def test_an_undo_brings_the_earlier_reading_back_and_can_be_undone(tmp_path):
    path = tmp_path / "log.jsonl"
    _, slip = files.append_log(path, [PLAIN, replace(PLAIN, value=4051.5)])
    (taken,) = files.append_log(path, [undo(slip, 1)])
    assert [line.value for line in files.read_log(path).latest("distance").values()] == [4501.5]
    files.append_log(path, [undo(taken, 2)])
    assert [line.value for line in files.read_log(path).latest("distance").values()] == [4051.5]
    assert len(files.read_log(path).lines) == 4


def test_an_undo_of_nothing_is_noted(tmp_path):
    path = tmp_path / "log.jsonl"
    files.append_log(path, [replace(PLAIN, what="undo", mark="", value=0.0, of="0123456789")])
    (note,) = files.read_log(path).notes
    assert (note.code, note.where, note.found) == ("log-undo-unknown", "lines[1]", "0123456789")


def test_the_id_of_a_line_is_that_of_what_it_says():
    one = '{"time": "2026-11-18T10:20", "what": "distance", "mark": "1-3", "value_mm": 4501.5}'
    other = '{"value_mm":4501.5,"mark":"1-3","what":"distance","time":"2026-11-18T10:20"}'
    ids = {files.parse_log(text).lines[0].id for text in (one, other, f"\n{one}")}
    assert len(ids) == 1
    assert files.parse_log(one.replace("4501.5", "4501")).lines[0].id not in ids


@settings(deadline=None)
@given(st.lists(st.sampled_from(["read", "undo"]), max_size=12), st.randoms(use_true_random=False))
def test_what_stands_is_what_was_read_less_what_is_taken_back(acts, chance):
    lines: list[LogLine] = []
    alive: list[LogLine] = []
    for number, act in enumerate(acts):
        name = f"{number:010x}"
        if act == "read" or not alive:
            lines.append(replace(PLAIN, id=name, value=float(number + 1)))
            alive.append(lines[-1])
        else:
            gone = alive.pop(chance.randrange(len(alive)))
            lines.append(replace(PLAIN, what="undo", id=name, of=gone.id))
    assert Log(lines=tuple(lines)).standing == tuple(alive)


@pytest.mark.parametrize(
    ("change", "code", "where"),
    [
        ({"what": "moisture"}, "key-missing", "lines[1].value_pct"),
        ({"value_mm": None}, "key-missing", "lines[1].value_mm"),
        ({"mark": ""}, "key-missing", "lines[1].mark"),
        ({"what": "undo"}, "key-missing", "lines[1].of"),
        ({"value_mm": 0.5}, "too-small", "lines[1].value_mm"),
        ({"what": "moisture", "value_pct": 201}, "too-large", "lines[1].value_pct"),
    ],
)
def test_what_a_kind_lacks_is_told(change, code, where):
    row = {"time": "2026-11-18T10:20", "what": "distance", "mark": "1-3", "value_mm": 4501.5} | change
    with pytest.raises(JobFileError) as raised:
        files.parse_log(json.dumps({k: v for k, v in row.items() if v is not None}) + "\n")
    assert (raised.value.fault.code, raised.value.fault.where) == (code, where)
