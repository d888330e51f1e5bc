"""What goes into the site pack, and what a phone brings back."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError, StoreError
from evenfoot.job import files
from evenfoot.office import Request, pack, reckon, setting
from evenfoot.office.pack import whole
from evenfoot.sheets import revision_of
from evenfoot.words import Language, Speaker, catalogue

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture(scope="module")
def plan():
    return reckon(Request(job=EXAMPLES / "side-door-landing" / "job.toml"))


@pytest.fixture(scope="module")
def record(plan):
    return pack.pack_record(plan)


def test_the_pack_is_plain_data_with_every_station(record):
    assert json.loads(json.dumps(record)) == record
    assert set(record) == {
        "format", "job", "log_url", "words", "drawings", "square", "level", "posts", "boards", "timbers", "steps", "log",
    }  # fmt: skip


def test_the_revision_is_the_one_on_the_sheets(plan, record):
    assert record["job"]["revision"] == revision_of(plan)
    assert any(record["job"]["revision"] in d["svg"]["en"] for d in record["drawings"])


def test_every_text_is_there_in_both_languages(record):
    for entry in (
        *record["words"].values(),
        *(s["text"] for s in record["steps"]),
        *(d["svg"] for d in record["drawings"]),
    ):
        assert set(entry) == {"en", "ja"}
        assert all(entry.values())


def test_no_sentence_of_the_phone_names_an_option_of_a_command(record):
    told = [text for entry in record["words"].values() for text in entry.values()]
    assert not [text for text in told if re.search(r"--\w", text)]


def test_what_is_said_instead_asks_for_no_other_facts():
    for code, entry in catalogue().items():
        if code.startswith("pack-instead."):
            own, other = entry["en"], catalogue()[code.removeprefix("pack-instead.")]["en"]
            assert set(placeholders(own)) <= set(placeholders(other)), code


def placeholders(text):
    return [part.split("}")[0] for part in text.split("{")[1:]]


def test_timbers_have_the_cuts_of_the_plan_in_running_dimensions(plan, record):
    for timber in record["timbers"]:
        cuts = [c for c in plan.joinery.cuts_on(timber["mark"]) if c.kind.value != "square-end"]
        assert [(c["begin_mm"], c["finish_mm"]) for c in timber["cuts"]] == [(c.begin, c.finish) for c in cuts]


def test_a_gap_in_the_log_does_not_hide_what_the_ground_says(plan, tmp_path, monkeypatch):
    monkeypatch.setattr(whole, "drawings_record", lambda plan, speakers: [])
    job = tmp_path / "job.toml"
    shutil.copy(EXAMPLES / "side-door-landing" / "job.toml", job)
    mark = plan.posts.cuts[2].mark
    setting.ask_posts(setting.Asked(job=job), setting.PostsTyped(gaps=[(mark, "190 mm")]))
    later = pack.pack_record(reckon(Request(job=job)))
    kept = next(cut for cut in later["posts"]["cuts"] if cut["mark"] == mark)
    assert kept["surface_length_mm"] == pytest.approx(plan.posts.cuts[2].length, abs=1e-9)
    assert [line["what"] for line in later["log"]] == ["post-gap"]


def test_a_longer_post_gives_and_weighs_more_in_a_straight_line(plan, record):
    frame, cut = record["posts"]["frame"], plan.posts.cuts[0]
    timber = cut.width * cut.depth
    assert all(0 < share < 1e-5 for share in frame["seat_per_mm"])
    # Wood of any species weighs 300 to 1200 kg/m3.
    assert 300e-9 * timber * 9.8 < frame["own_n_per_mm"][0] < 1200e-9 * timber * 9.81


# Bringing readings back


def line(time, what, mark, value, who=""):
    key = {"moisture": "value_pct"}.get(what, "value_mm")
    row = {"time": time, "what": what, "mark": mark, key: value, "who": who}
    return json.dumps({k: v for k, v in row.items() if v != ""}) + "\n"


def log(*lines):
    return files.parse_log("".join(lines))


MORNING = line("2026-11-18T09:00", "post-gap", "A1", 268.5, "Aki")
NOON = line("2026-11-18T12:00", "post-gap", "A1", 271, "Ben")
EDGE = line("2026-11-18T11:00", "board-edge", "b7", 812)


def test_only_what_is_new_is_added():
    joined = pack.join_logs(log(MORNING), log(MORNING, EDGE, EDGE))
    assert [new.what for new in joined.new] == ["board-edge"]
    assert joined.added == joined.new
    assert joined.known == 1
    assert joined.disagreements == ()


def test_two_readings_of_one_thing_that_differ_are_both_kept_and_told():
    joined = pack.join_logs(log(MORNING), log(NOON))
    (one,) = joined.disagreements
    assert (one.counts.value, one.other.value) == (271, 268.5)
    head, told = pack.joined_words(joined, Speaker(Language.ENGLISH, "mm"))
    assert head == "New lines in the log: 1; there already: 0."
    assert "271 mm (2026-11-18 12:00, Ben) counts" in told
    assert "268.5 mm (2026-11-18 09:00, Aki)" in told
    assert "A1" in told
    assert "い1" in pack.joined_words(joined, Speaker(Language.JAPANESE, "mm"))[1]


def test_a_reading_that_is_older_than_what_the_log_holds_does_not_win(tmp_path):
    place, brought = tmp_path / "log.jsonl", tmp_path / "phone.jsonl"
    place.write_text(NOON)
    brought.write_text(MORNING + EDGE)
    joined = pack.join_file(place, brought)
    (one,) = joined.disagreements
    assert (one.counts.value, one.other.value) == (271, 268.5)
    found = files.read_log(place)
    assert found.latest("post-gap")["A1", None, None, ""].value == 271
    assert place.read_text().startswith(NOON), "nothing that stood there is rewritten"
    assert pack.join_file(place, brought).new == (), "the same file once more adds nothing"


def test_readings_that_agree_or_were_taken_back_are_no_disagreement():
    same = line("2026-11-18T12:00", "post-gap", "A1", 268.5, "Ben")
    assert pack.join_logs(log(MORNING), log(same)).disagreements == ()
    undo = json.dumps({"time": "2026-11-18T12:01", "what": "undo", "of": log(NOON).lines[0].id}) + "\n"
    assert pack.join_logs(log(MORNING), log(NOON, undo)).disagreements == ()


def test_a_file_that_is_not_there_or_has_faults_changes_nothing(tmp_path):
    place, brought = tmp_path / "log.jsonl", tmp_path / "phone.jsonl"
    place.write_text(MORNING)
    with pytest.raises(StoreError) as missing:
        pack.join_file(place, brought)
    assert missing.value.fault.code == "file-missing"
    brought.write_text('{"time": "2026-11-18T09:00", "what": "post-gap", "mark": "A1"}\n')
    with pytest.raises(JobFileError) as bad:
        pack.join_file(place, brought)
    assert bad.value.faults[0].code == "key-missing"
    assert place.read_text() == MORNING


def test_the_record_of_joining_carries_units_and_ids():
    told = pack.joined_record(pack.join_logs(log(MORNING), log(NOON)), Speaker(Language.ENGLISH, "mm"))
    assert told["new"] == 1
    assert told["disagreements"][0]["counts"]["value_mm"] == 271
    assert len(told["disagreements"][0]["other"]["id"]) == 10
