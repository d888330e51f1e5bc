"""``evenfoot set posts`` as a carpenter asks it: typed numbers alone, and beside a job with its log."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError, OutOfRangeError
from evenfoot.office import setting
from evenfoot.words import Language

EXAMPLES = Path(__file__).parents[3] / "examples"
AT = (("A", "0", "0"), ("B", "3600", "0"), ("C", "3600", "2700"), ("D", "0", "2700"))


def ask(job=None, *, language=Language.ENGLISH, unit="", is_sure=False, **typed):
    typed = {"at": AT} | typed if job is None else typed
    return setting.ask_posts(
        setting.Asked(job=job, language=language, unit=unit, is_sure=is_sure), setting.PostsTyped(**typed)
    )


@pytest.fixture
def landing(tmp_path):
    folder = tmp_path / "landing"
    shutil.copytree(EXAMPLES / "side-door-landing", folder)
    return folder / "job.toml"


def test_one_foot_that_hangs_two_millimetres_rocks_the_table_by_two():
    answer = ask(hangs=(("C", "2"),), prefer="pack")
    assert answer.record["rock_mm"] == pytest.approx(2.0, abs=1e-5)
    assert answer.record["remedy"]["changes"] == [{"post": "C", "by_mm": 1.5}]
    assert answer.record["remedy"]["rock_after_mm"] <= 0.5 + 1e-4
    assert len(answer.lines) == 3
    assert "2.0 mm" in answer.lines[0]
    assert "C 1.5 mm" in answer.lines[1]
    assert "19 times in 20" in answer.lines[2]
    assert not answer.is_fine


def test_the_same_in_japanese_keeps_the_marks_that_were_typed():
    answer = ask(language=Language.JAPANESE, hangs=(("C", "2"),), prefer="pack")
    assert "飼い木：C 1.5 mm" in answer.lines[1]
    assert "20回中19回" in answer.lines[2]


def test_feet_that_all_stand_are_left_alone():
    answer = ask(stands=("A", "B", "C", "D"))
    assert answer.is_fine
    assert answer.record["rock_mm"] == pytest.approx(0.0, abs=1e-5)


def test_gaps_alone_give_the_lengths_to_cut():
    answer = ask(gaps=(("A", "301.5"), ("B", "310")))
    assert [(p["post"], p["length_mm"]) for p in answer.record["posts"] if p["is_measured"]] == [
        ("A", 301.5),
        ("B", 310.0),
    ]
    assert answer.record["stage"] == "cut"
    assert "C, D" in answer.lines[1]


def test_posts_cut_for_each_others_places_change_places():
    gaps = (("A", "300"), ("B", "310"), ("C", "322"), ("D", "305"))
    cuts = (("A", "300"), ("B", "322"), ("C", "310"), ("D", "305"))
    answer = ask(gaps=gaps, cuts=cuts)
    assert answer.record["remedy"]["swaps"] == [["B", "C"]]
    assert "B ↔ C" in answer.lines[1]


@pytest.mark.parametrize(
    ("typed", "nearest"),
    [("30", "300 mm"), ("3000", "300 mm"), ("-300", "300 mm"), ("11.8", "299.5 mm")],
)
def test_a_length_that_looks_like_a_slip_is_challenged_with_what_would_fit(typed, nearest):
    gaps = (("A", "300"), ("B", "310"), ("C", "322"), ("D", "305"))
    with pytest.raises(OutOfRangeError) as caught:
        ask(gaps=gaps, cuts=(("A", typed),))
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.nearest) == ("reading-doubtful", "--cut A", nearest)
    assert ask(gaps=gaps, cuts=(("A", "288"),)).record["stage"] == "cut"


def test_a_post_that_there_is_not_is_told_with_those_that_there_are():
    with pytest.raises(JobFileError) as caught:
        ask(hangs=(("Q", "2"),))
    assert (caught.value.fault.code, caught.value.fault.found, caught.value.fault.allowed) == (
        "post-unknown",
        "Q",
        "A, B, C, D",
    )


def test_lengths_without_their_gaps_are_not_enough():
    with pytest.raises(OutOfRangeError) as caught:
        ask(cuts=tuple((m, "300") for m in "ABCD"), gaps=(("A", "300"),))
    assert [f.code for f in caught.value.faults] == ["post-gap-missing"] * 3


def test_without_a_job_places_are_needed():
    with pytest.raises(OutOfRangeError) as caught:
        ask(at=(), hangs=(("C", "2"),))
    assert caught.value.fault.code == "posts-missing"


@pytest.mark.slow
def test_the_odds_are_told_beforehand_and_setting_three_posts_first_betters_them():
    answer = ask(asks_odds=True, samples=60, seed=3)
    again = ask(asks_odds=True, samples=60, seed=3)
    assert answer == again
    assert answer.record["chance_in_order"] < answer.record["chance"]
    assert len(answer.record["order"][0]) == 3


@pytest.mark.slow
def test_readings_beside_a_job_are_logged_and_bring_it_from_rough_list_to_rock(landing):
    rough = ask(landing)
    assert rough.record["stage"] == "cut"
    marks = [p["post"] for p in rough.record["posts"]]
    assert all(p["rough_mm"] > p["length_mm"] for p in rough.record["posts"])
    lengths = {p["post"]: p["length_mm"] for p in rough.record["posts"]}
    gaps = tuple((m, f"{lengths[m]:.1f} mm") for m in marks)
    cut = ask(landing, jacks=(marks[0], marks[2], marks[3], marks[5]), gaps=gaps)
    assert all(p["is_measured"] for p in cut.record["posts"])
    middle = cut.record["posts"][1]
    assert middle["taken_out_mm"] > 0.0
    assert middle["length_mm"] == pytest.approx(round(lengths[marks[1]], 1) + middle["taken_out_mm"], abs=0.01)
    walked = ask(landing, stands=(marks[0],), hangs=((marks[4], "3 mm"),))
    assert walked.record["stage"] == "stand"
    assert walked.record["rock_mm"] > 0.0
    kinds = [
        line.split('"what": "')[1].split('"')[0] for line in (landing.parent / "log.jsonl").read_text().splitlines()
    ]
    assert kinds == ["jack"] * 4 + ["post-gap"] * 6 + ["foot-gap"] * 2


@pytest.mark.slow
def test_feet_seen_before_a_post_was_cut_again_no_longer_count(landing):
    marks = [p["post"] for p in ask(landing).record["posts"]]
    assert ask(landing, hangs=((marks[4], "3 mm"),)).record["stage"] == "stand"
    length = ask(landing).record["posts"][4]["length_mm"]
    assert ask(landing, cuts=((marks[4], f"{length:.1f} mm"),)).record["stage"] == "cut"
