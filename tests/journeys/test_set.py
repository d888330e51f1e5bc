"""What to do next on site, as a carpenter types it."""

from __future__ import annotations

import io
import json
import sys

import pytest

from evenfoot.cli.main import BAD_INPUT, FINE, SHORTFALLS, run

SQUARE = ["set", "square", "--sides", "3600", "2700", "3600", "2700", "--diagonals"]


@pytest.fixture
def job(tmp_path, capsys):
    place = tmp_path / "job.toml"
    assert run(["new", str(place)]) == FINE
    capsys.readouterr()
    return place


@pytest.mark.parametrize("language", ["en", "ja"])
def test_square_answers_from_typed_numbers_alone(language, capsys):
    assert run([*SQUARE, "4506", "4494", "--lang", language]) == SHORTFALLS
    lines = capsys.readouterr().out.splitlines()
    assert all(lines[:3])
    assert lines[3] == ""
    assert "7.5 mm" in lines[1]
    assert "4500 mm" in lines[1]
    assert "±" in lines[2]
    assert run([*SQUARE, "4500", "4500.5", "--lang", language]) == FINE
    assert "{" not in capsys.readouterr().out


def test_a_dash_stands_for_no_job(capsys):
    assert run(["set", "-", *SQUARE[1:], "4500", "4500"]) == FINE
    said = capsys.readouterr().out
    assert run([*SQUARE, "4500", "4500"]) == FINE
    assert capsys.readouterr().out == said


SQUARE_KEYS = {
    "what", "is_fine", "lines", "detail", "shape", "is_proved", "within_mm", "lean_mm", "lean_sure_mm", "spare_readings",
    "missing", "sides", "diagonals", "corners", "pushes", "suspects",
}  # fmt: skip


def test_the_json_of_square_has_the_documented_shape(capsys):
    assert run([*SQUARE, "4506", "4494", "--json"]) == SHORTFALLS
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) == SQUARE_KEYS
    assert answer["shape"] == "leaning"
    assert len(answer["lines"]) == 3
    assert answer["lean_mm"] == pytest.approx(7.5, abs=0.01)
    assert [p["corner"] for p in answer["pushes"]] == [3, 4]
    assert set(answer["sides"][0]) == {"between", "length_mm", "target_mm", "excess_mm", "sure_mm"}
    assert set(answer["diagonals"][0]) == {"between", "length_mm", "target_mm", "sure_mm"}
    assert set(answer["corners"][0]) == {"corner", "x_mm", "y_mm", "angle_error_deg", "angle_sure_deg"}


@pytest.mark.parametrize(
    ("unit", "typed", "target"),
    [
        ("ft", ["12'", "9'", "12'", "9'", "15'", "15'"], "15'"),
        ("m", ["3.6", "2.7", "3.6", "2.7", "4.5", "4.5"], "4.500 m"),
        ("shaku", ["12", "9", "12尺", "9", "15", "1丈5尺".replace("1丈5尺", "15尺")], "15尺"),
        ("in", ["144", "108", "144", "108", "180", "180"], "15'"),
    ],
)
def test_every_unit_is_read_and_answered_in(unit, typed, target, capsys):
    assert run(["set", "square", "--unit", unit, "--sides", *typed[:4], "--diagonals", *typed[4:]]) == FINE
    assert target in capsys.readouterr().out.splitlines()[1]


def test_a_slip_is_challenged_and_not_written_down(job, capsys):
    typed = ["set", str(job), "square", "--sides", "3540", "1835", "3540", "1835", "--diagonals", "3987", "39870"]
    assert run([*typed, "--json"]) == BAD_INPUT
    (fault,) = json.loads(capsys.readouterr().out)["error"]["faults"]
    assert (fault["where"], fault["code"], fault["found"], fault["nearest"]) == (
        "2-4", "reading-doubtful", "39870 mm", "3987 mm",
    )  # fmt: skip
    assert not (job.parent / "log.jsonl").exists()


def test_readings_beside_a_job_are_written_down_and_later_ones_supersede(job, capsys):
    log = job.parent / "log.jsonl"
    first = ["set", str(job), "square", "--sides", "3540", "1835", "3540", "1835", "--diagonals", "3995", "3980"]
    assert run([*first, "--who", "Aki", "--instrument", "tape 5 m"]) == SHORTFALLS
    assert len(log.read_text(encoding="utf-8").splitlines()) == 6
    assert json.loads(log.read_text(encoding="utf-8").splitlines()[0])["who"] == "Aki"
    assert run(["set", str(job), "square", "--diagonals", "3987.5", "3987.5"]) == FINE
    capsys.readouterr()
    assert run(["set", str(job), "square", "--undo"]) == FINE
    assert "2-4" in capsys.readouterr().out
    assert run(["set", str(job), "square", "--json"]) == SHORTFALLS
    answer = json.loads(capsys.readouterr().out)
    assert answer["suspects"]  # 3987.5 and 3980 cannot both be
    assert len(log.read_text(encoding="utf-8").splitlines()) == 9


def test_an_undo_needs_a_job_and_a_reading(job, capsys):
    assert run(["set", "square", "--undo", "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "bad-command"
    assert run(["set", str(job), "square", "--undo", "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "log-nothing-to-undo"


@pytest.mark.parametrize("language", ["en", "ja"])
def test_each_reading_is_asked_for_in_turn(language, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.StringIO("3600\n2700\n\n=\n4500\n4500\n"))
    assert run(["set", "square", "--ask", "--lang", language]) == FINE
    told = capsys.readouterr()
    assert "1-2" in told.err
    assert "4500 mm" in told.out


@pytest.mark.parametrize(("answer", "code"), [("y", SHORTFALLS), ("n", BAD_INPUT)])
def test_a_slip_at_the_prompt_is_challenged_and_may_be_kept(answer, code, job, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"3540\n1835\n3540\n1835\n3987\n3500\n{answer}\n"))
    assert run(["set", str(job), "square", "--ask"]) == code
    told = capsys.readouterr()
    assert "3500 mm looks like a slip" in told.err
    assert (job.parent / "log.jsonl").exists() is (answer == "y")


def test_nothing_typed_and_nothing_asked_is_told(capsys):
    assert run(["set", "square", "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "square-nothing-read"


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (["--between", "1-x", "3600"], "corners-unread"),
        (["--between", "1-2", "36xx"], "length-unit-unknown"),
        (["--between", "1-2", "-5"], "too-small"),
        (["--between", "1-2", "3600"], "square-too-little"),
        (["--between", "1-9", "3600", "--size", "3600", "2700"], "distance-unfit"),
        ([*SQUARE[2:], "4500", "4500", "--tape", "0"], "too-large"),
        ([*SQUARE[2:], "4500", "4500", "--within", "2 m"], "too-large"),
        (["--lines"], "size-missing"),
        (["--lines", "--size", "0", "5"], "size-unfit"),
        (["--lines", "--size", "3600", "2700", "--wall", "0", "0", "--wall", "0", "2"], "wall-too-few"),
    ],
)
def test_what_cannot_be_is_told_with_its_code(typed, code, capsys):
    assert run(["set", "square", *typed, "--json"]) == BAD_INPUT
    fault = json.loads(capsys.readouterr().out)["error"]["faults"][0]
    assert fault["code"] == code
    assert fault["where"]
    assert "{" not in fault["text"]


@pytest.mark.parametrize("language", ["en", "ja"])
@pytest.mark.parametrize(("out", "code"), [(2.0, FINE), (30.0, SHORTFALLS)])
def test_a_wall_that_stands_before_the_frame_is_told(out, code, language, job, capsys):
    text = job.read_text(encoding="utf-8")
    rows = f"wall = [[0, {out}], [1800, {out + 1}], [3600, {out}]]"
    job.write_text(text.replace("[site]", f"[site]\n{rows}", 1), encoding="utf-8")
    assert run(["set", str(job), "square", "--lines", "--lang", language]) == code
    said = capsys.readouterr().out.splitlines()
    clash = "before the frame" if language == "en" else "前に出ています"
    assert (clash in said[2]) is (code == SHORTFALLS)


@pytest.mark.parametrize("language", ["en", "ja"])
def test_lines_are_set_out_from_the_house(language, job, capsys):
    typed = ["set", "square", "--lines", "--size", "3600", "2800", "--wall", "0", "0", "--wall", "1800", "5"]
    assert run([*typed, "--wall", "3600", "-1", "--lang", language]) == SHORTFALLS
    said = capsys.readouterr().out.splitlines()
    assert "4500 mm" in said[0]
    assert "5.5 mm" in said[2]
    assert run(["set", str(job), "square", "--lines", "--json", "--lang", language]) == FINE
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) == {"what", "is_fine", "lines", "detail", "triangle", "whole", "wall"}
    assert set(answer["triangle"]) == {"along_mm", "away_mm", "across_mm", "sure_mm"}


L_CORNERS = [
    w
    for x, y in ((0, 0), (3600, 0), (3600, 1800), (1800, 1800), (1800, 2700), (0, 2700))
    for w in ("--corner", str(x), str(y))
]
L_SIDES = [
    w
    for pair, d in (("1-2", 3600), ("2-3", 1800), ("3-4", 1800), ("4-5", 900), ("5-6", 1800), ("6-1", 2700))
    for w in ("--between", pair, str(d))
]
L_ACROSS = [
    w
    for pair, d in (("1-3", 4025), ("2-4", 2545.5), ("1-4", 2545.5), ("4-6", 2012.5))
    for w in ("--between", pair, str(d))
]


@pytest.mark.parametrize("language", ["en", "ja"])
@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (["--sides", "3600", "2700", "3600", "2700", "--diagonals", "4500", "4500", "--tape", "8"], FINE),
        (["--sides", "3600", "2700", "3655.5", "2700", "--diagonals", "4522.3", "4522.3"], SHORTFALLS),
        (["--sides", "3600", "2700", "3640", "?", "--diagonals", "4540", "4500"], SHORTFALLS),
        (["--sides", "3590", "2700", "3590", "2700", "--diagonals", "4492", "4492", "--size", "3600", "2700"], SHORTFALLS),
        (["--sides", "3600", "2700", "3600", "2700", "--diagonals", "4533.4", "4500"], SHORTFALLS),
        (["--sides", "3600", "2700", "3650", "2700", "--diagonals", "4500", "4500"], SHORTFALLS),
        (["--sides", "3600", "?", "3600", "?", "--diagonals", "4500", "4500"], SHORTFALLS),
        ([*L_CORNERS, *L_SIDES, *L_ACROSS], FINE),
        ([*L_CORNERS, *L_SIDES[:-3], "--between", "6-1", "2720", *L_ACROSS[:-3], "--between", "4-6", "2023"], SHORTFALLS),
        ([*L_CORNERS, *L_SIDES], SHORTFALLS),
    ],
)  # fmt: skip
def test_every_shape_is_told_in_three_lines(typed, code, language, capsys):
    assert run(["set", "square", *typed, "--lang", language]) == code
    lines = capsys.readouterr().out.splitlines()
    assert all(lines[:3])
    assert lines[3] == ""
    assert not any("{" in line for line in lines)


RUN = ["set", "boards", "--run", "2700", "--width", "105", "--gap", "5"]


@pytest.mark.parametrize("language", ["en", "ja"])
@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ([*RUN], FINE),
        ([*RUN, "--edge", "7", "760"], FINE),
        ([*RUN, "--edge", "7", "790"], SHORTFALLS),
        ([*RUN, "--edge", "7", "660", "--sure"], SHORTFALLS),
        ([*RUN, "--edge", "24", "2530", "--sure"], SHORTFALLS),
        ([*RUN, "--edge", "20l", "2153", "--edge", "20R", "2149", "--every", "2"], FINE),
        (
            [*RUN, "--edge", "20", "2152", "--board", "21", "104", "--board", "22", "104.5", "--board", "19", "105"],
            FINE,
        ),
        (["set", "boards", "--run", "9'", "--width", '5 1/2"', "--gap", '3/16"', "--unit", "ft"], FINE),
        ([*RUN, "--bow", "a", "9", "--length", "3600", "--thickness", "30", "--spacing", "455"], FINE),
        ([*RUN, "--bow", "a", "-30", "--length", "3600", "--thickness", "30", "--spacing", "455"], SHORTFALLS),
        ([*RUN, "--bow", "a", "0.2", "--length", "3600", "--thickness", "30", "--spacing", "455"], FINE),
    ],
)
def test_boards_answer_from_typed_numbers_alone_in_three_lines(typed, code, language, capsys):
    assert run([*typed, "--lang", language]) == code
    lines = capsys.readouterr().out.splitlines()
    assert all(lines[:3])
    assert lines[3] == ""
    assert not any("{" in line for line in lines)


BOARD_KEYS = {"rows", "line_mm", "planned_gap_mm", "within_mm", "step_mm", "measured_widths", "moisture", "ends"}
END_KEYS = {
    "side", "laid_rows", "laid_to_mm", "even_gap_mm", "spacers", "misses_mm", "sure_mm", "is_reachable", "rip", "marks",
}  # fmt: skip


def test_the_json_of_boards_has_the_documented_shape_and_the_marks_close(job, capsys):
    assert run(["set", str(job), "boards", "--edge", "6", "657", "--board", "7", "105.5", "--json"]) == FINE
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) == {"what", "is_fine", "lines", "detail"} | BOARD_KEYS
    (end,) = answer["ends"]
    assert set(end) == END_KEYS
    assert end["marks"][0]["row"] == 7
    assert end["marks"][0]["far_mm"] - end["marks"][0]["near_mm"] == pytest.approx(105.5)
    assert abs(end["marks"][-1]["far_mm"] - answer["line_mm"]) <= answer["within_mm"]
    assert sum(s["boards"] for s in end["spacers"]) == answer["rows"] - 6
    assert len((job.parent / "log.jsonl").read_text(encoding="utf-8").splitlines()) == 2
    assert run(["set", str(job), "boards", "--json"]) == FINE
    assert json.loads(capsys.readouterr().out)["ends"] == answer["ends"]


@pytest.mark.parametrize("language", ["en", "ja"])
def test_moist_boards_are_laid_closer(job, language, capsys):
    readings = ["--moisture", "8", "20", "--moisture", "9", "21 %"]
    assert run(["set", str(job), "boards", *readings, "--json", "--lang", language]) == FINE
    moisture = json.loads(capsys.readouterr().out)["moisture"]
    assert moisture["read_pct"] == 20.5
    assert moisture["advised_mm"] < moisture["laid_mm"] < moisture["dry_mm"]
    assert run(["set", str(job), "boards", "--moisture", "8", "200", "--json"]) == BAD_INPUT


def test_the_json_of_bows_has_the_documented_shape(job, capsys):
    assert run(["set", str(job), "boards", "--bow", "b7.1", "9", "--json"]) == FINE
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) == {"what", "is_fine", "lines", "detail", "boards"}
    (board,) = answer["boards"]
    assert set(board) == {"board", "bow_mm", "push_n", "held_n", "left_mm", "straight_length_mm", "advice"}
    assert run(["set", str(job), "boards", "--bows", "--json"]) == FINE
    assert json.loads(capsys.readouterr().out) == answer


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (["set", "boards"], "run-missing"),
        (["set", "boards", "--run", "100", "--width", "105", "--gap", "5"], "run-unfit"),
        ([*RUN, "--edge", "x", "760"], "row-unread"),
        ([*RUN, "--edge", "70", "760"], "row-unknown"),
        ([*RUN, "--edge", "25", "2700"], "run-done"),
        ([*RUN, "--edge", "7", "7600"], "reading-doubtful"),
        ([*RUN, "--board", "7", "150"], "reading-doubtful"),
        ([*RUN, "--step", "20"], "spacing-unfit"),
        ([*RUN, "--bow", "a", "5"], "bow-missing"),
        ([*RUN, "--bow", "a", "90", "--length", "3600", "--thickness", "30", "--spacing", "455"], "reading-doubtful"),
        (["set", "boards", "--bows"], "bow-nothing-read"),
    ],
)
def test_what_cannot_be_of_boards_is_told_with_its_code(typed, code, capsys):
    assert run([*typed, "--json"]) == BAD_INPUT
    fault = json.loads(capsys.readouterr().out)["error"]["faults"][0]
    assert fault["code"] == code
    assert fault["where"]
    assert "{" not in fault["text"]


def test_a_board_that_is_not_in_the_plan_is_told(job, capsys):
    assert run(["set", str(job), "boards", "--bow", "b99.1", "5", "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "board-unknown"


@pytest.mark.parametrize("language", ["en", "ja"])
def test_boards_ask_for_each_reading_in_turn(language, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.StringIO("2700\n105\n5\n7\n757\n\n"))
    assert run(["set", "boards", "--ask", "--lang", language]) == FINE
    assert "862" in capsys.readouterr().out


def rods(**values):
    return [word for mark, value in values.items() for word in ("--rod", mark, str(value))]


LEVEL = ["set", "level", *rods(a=1000, b=1004, c=1003, d=998)]
AT = ["--at", "a", "0", "0", "--at", "b", "3600", "0", "--at", "c", "3600", "2700", "--at", "d", "0", "2700"]


@pytest.mark.parametrize("language", ["en", "ja"])
@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ([*LEVEL, "--rod", "a", "1000.5", *AT, "--from", "-2000", "1350"], SHORTFALLS),
        (LEVEL, SHORTFALLS),
        ([*LEVEL, "--within", "6 mm"], FINE),
        ([*LEVEL, "--rod", "a", "1004"], SHORTFALLS),
        ([*LEVEL, "--pitch", "9", "--per-turn", "1", "--within", "1"], SHORTFALLS),
        ([*LEVEL, "--reading", "5"], SHORTFALLS),
        ([*LEVEL, "--fixed", "d"], SHORTFALLS),
        (["set", "level", "--level", "a", "0", "--level", "b", "3", "--level", "c", "-1"], FINE),
        ([*LEVEL, *AT, "--rod", "m", "1009", "--at", "m", "1800", "1350", "--free", "m"], SHORTFALLS),
        ([*LEVEL, *rods(**{"a@2": 1200, "b@2": 1208, "c@2": 1207, "d@2": 1198}), "--away", "b@2", "9000"], SHORTFALLS),
        (["set", "level", "--unit", "in", *rods(a=40, b="40 1/16", c="40 1/16")], FINE),
    ],
)
def test_level_answers_from_typed_numbers_alone_in_three_lines(typed, code, language, capsys):
    assert run([*typed, "--lang", language]) == code
    lines = capsys.readouterr().out.splitlines()
    assert all(lines[:3])
    assert lines[3] == ""
    assert not any("{" in line for line in lines)


LEVEL_KEYS = {
    "within_mm", "spread_mm", "sure_mm", "twist_mm", "is_too_rough", "tilt", "instrument_tilt_mm_per_m", "closures",
    "marks", "turns", "is_within_after", "steps_per_turn", "pitch_mm", "visits", "unread",
}  # fmt: skip


def test_a_survey_beside_a_job_is_written_down_and_the_next_one_replaces_it(job, capsys):
    readings = rods(A1=1000, E1=1002, I1=1001, A3=1021, E3=1026, I3=1022, B1=1005)
    assert run(["set", str(job), "level", *readings, "--from", "1800", "-900", "--json"]) == SHORTFALLS
    answer = json.loads(capsys.readouterr().out)
    assert set(answer) == {"what", "is_fine", "lines", "detail"} | LEVEL_KEYS
    assert set(answer["marks"][0]) == {"mark", "off_mm", "sure_mm", "is_foot", "sag_mm"}
    assert set(answer["turns"][0]) == {"mark", "steps", "lift_mm", "left_mm"}
    assert set(answer["visits"][0]) == {"mark", "steps", "lifts"}
    assert [m["is_foot"] for m in answer["marks"]] == [True] * 6 + [False]
    assert answer["marks"][6]["sag_mm"] == pytest.approx(4.5, abs=0.05)  # a quarter of the way from A1 to E1
    assert "C1" in answer["unread"]
    assert answer["is_within_after"]
    log = [json.loads(line) for line in (job.parent / "log.jsonl").read_text(encoding="utf-8").splitlines()]
    assert {line["stand"] for line in log} == {"1/1"}
    assert all(line["away_mm"] > 0 for line in log)
    again = rods(A1=900, E1=900, I1=900.5, A3=921, E3=921, I3=921)
    assert run(["set", str(job), "level", *again, "--json"]) == FINE
    assert len(json.loads(capsys.readouterr().out)["marks"]) == 6
    assert run(["set", str(job), "level", "--more", *rods(A1=800, I3=822), "--json"]) == FINE
    log = [json.loads(line) for line in (job.parent / "log.jsonl").read_text(encoding="utf-8").splitlines()]
    assert {line["stand"] for line in log} == {"1/1", "2/1", "2/2"}


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (["set", "level"], "level-nothing-read"),
        (["set", "level", "--rod", "a", "1000"], "sights-too-few"),
        (["set", "level", *rods(a=1000, b=1001, c=1010, d=100)], "reading-doubtful"),
        ([*LEVEL, "--free", "a", "--free", "b", "--free", "c", "--free", "d"], "level-no-foot"),
        ([*LEVEL, "--rod", "a@x", "5"], "stand-unread"),
        ([*LEVEL, "--pitch", "0"], "too-large"),
        ([*LEVEL, "--reading", "0"], "too-large"),
        ([*LEVEL, "--tilt", "abc"], "ratio-unread"),
    ],
)
def test_what_cannot_be_of_levels_is_told_with_its_code(typed, code, capsys):
    assert run([*typed, "--json"]) == BAD_INPUT
    fault = json.loads(capsys.readouterr().out)["error"]["faults"][0]
    assert fault["code"] == code
    assert fault["where"]
    assert "{" not in fault["text"]


@pytest.mark.parametrize(
    "typed",
    [
        ["square", "--between", "1-9", "3540"],
        ["level", *rods(A1=1000, Q9=1000)],
        ["boards", "--edge", "99", "657"],
        ["boards", "--bow", "b99.1", "5"],
    ],
)
def test_what_is_refused_never_gets_into_the_log(typed, job):
    assert run(["set", str(job), *typed]) == BAD_INPUT
    assert not (job.parent / "log.jsonl").exists()


def test_marks_may_be_typed_in_iroha_and_full_width(job, capsys):
    readings = ["--rod", "い1", "1000", "--rod", "ほ１", "1001", "--rod", "Ｉ1", "1000"]
    assert run(["set", str(job), "level", *readings, "--json", "--lang", "ja"]) == FINE
    assert [m["mark"] for m in json.loads(capsys.readouterr().out)["marks"]] == ["A1", "E1", "I1"]


@pytest.mark.parametrize(("language", "said"), [("en", "of another size"), ("ja", "大きさが違います")])
def test_a_square_frame_of_another_size_is_not_called_crooked(language, said, capsys):
    typed = ["--sides", "3612", "2700", "3612", "2700", "--diagonals", "4509.6", "4509.6", "--size", "3600", "2700"]
    assert run(["set", "square", *typed, "--lang", language]) == SHORTFALLS
    assert said in capsys.readouterr().out.splitlines()[0]


def test_a_mark_that_is_not_in_the_plan_is_told(job, capsys):
    assert run(["set", str(job), "level", *rods(A1=1000, Q9=1000), "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "level-mark-unknown"


@pytest.mark.parametrize("language", ["en", "ja"])
def test_level_asks_for_each_rod_and_the_first_again(language, monkeypatch, capsys):
    monkeypatch.setattr(sys, "stdin", io.StringIO("1000\n1001\n1000\n999\n1000.5\n"))
    assert run(["set", "level", "--ask", "--json", "--lang", language]) == FINE
    answer = json.loads(capsys.readouterr().out)
    assert [c["error_mm"] for c in answer["closures"]] == [0.5]
