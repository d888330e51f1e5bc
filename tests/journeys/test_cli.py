"""The command line, as a carpenter types it."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from evenfoot.cli.main import BAD_INPUT, FINE, OUR_FAULT, SHORTFALLS, language_of, run
from evenfoot.words import Language, Speaker

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*/job.toml"))


def test_there_are_three_examples():
    assert len(EXAMPLES) >= 3


@pytest.mark.parametrize("standard", ["japan", "europe", "north-america"])
def test_a_new_job_plans_at_once(tmp_path, capsys, standard):
    job = tmp_path / "new" / "job.toml"
    assert run(["new", str(job), "--standard", standard]) == FINE
    capsys.readouterr()
    assert run(["plan", str(job), "--only", "json", "--json"]) in {FINE, SHORTFALLS}
    answer = json.loads(capsys.readouterr().out)
    assert answer["posts"] > 0
    record = json.loads((tmp_path / "new" / "out" / "plan.json").read_text(encoding="utf-8"))
    assert sum(cut["rough_length_mm"] > 0 for cut in record["posts"]["cuts"]) == answer["posts"]


def test_a_new_job_overwrites_nothing(tmp_path, capsys):
    job = tmp_path / "job.toml"
    job.write_text("mine", encoding="utf-8")
    assert run(["new", str(job), "--json"]) == BAD_INPUT
    assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == "file-exists"
    assert job.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda p: p.parent.name)
@pytest.mark.parametrize("language", ["en", "ja"])
def test_check_lists_every_finding_in_both_languages(job, language, capsys):
    code = run(["check", str(job), "--lang", language, "--json"])
    answer = json.loads(capsys.readouterr().out)
    verdicts = {f["verdict"] for f in answer["findings"]}
    assert code == (SHORTFALLS if verdicts & {"fails", "outside_rule"} else FINE)
    assert all(f["text"] and "{" not in f["text"] for f in answer["findings"])


def test_exit_code_is_fine_only_when_nothing_falls_short(tmp_path, capsys):
    good = (ROOT / "examples" / "library-terrace" / "job.toml").read_text(encoding="utf-8")
    assert tomllib.loads(good)
    bad = tmp_path / "job.toml"
    run(["new", str(bad)])
    text = bad.read_text(encoding="utf-8")
    bad.write_text(f"nonsense = 1\n{text}", encoding="utf-8")
    capsys.readouterr()
    assert run(["plan", str(bad), "--json"]) == BAD_INPUT
    faults = json.loads(capsys.readouterr().out)["error"]["faults"]
    assert [(f["where"], f["line"]) for f in faults] == [("nonsense", 1)]
    assert not (tmp_path / "out").exists()


def test_a_missing_file_is_a_fault_with_its_name(tmp_path, capsys):
    assert run(["check", str(tmp_path / "none.toml")]) == BAD_INPUT
    assert "none.toml" in capsys.readouterr().err


def test_a_wrong_option_is_bad_input(capsys):
    assert run(["plan", "--nonsense"]) == BAD_INPUT
    assert "--nonsense" in capsys.readouterr().err


def test_our_own_fault_has_its_own_code_and_no_traceback(tmp_path, capsys, monkeypatch):
    import evenfoot.office

    def broken(*_args, **_kw):
        raise AssertionError("broken invariant")

    monkeypatch.setattr(evenfoot.office, "reckon", broken)
    assert run(["check", str(EXAMPLES[0])]) == OUR_FAULT
    err = capsys.readouterr().err
    assert "broken invariant" in err
    assert "Traceback" not in err


@pytest.mark.parametrize("words", [["--help"], ["plan", "--help"], ["--lang", "ja", "check", "--help"]])
def test_help_needs_no_heavy_library(words):
    code = (
        "import sys; from evenfoot.cli.main import run; run(sys.argv[1:]);"
        "heavy = {'numpy', 'scipy', 'shapely', 'pydantic', 'reportlab', 'tomlkit'} & set(sys.modules);"
        "sys.exit(1 if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, check=False)
    assert done.returncode == 0
    assert done.stdout


def test_every_option_and_exit_code_is_documented(capsys):
    told = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    for command in ("new", "plan", "check", "serve", "people"):
        run([command, "--help"])
        for word in capsys.readouterr().out.split():
            if word.startswith("--"):
                assert word.rstrip(",.") in told, f"{command} {word}"
        assert f"evenfoot {command}" in told


def test_the_language_is_the_option_then_the_locale(monkeypatch):
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    assert language_of([]) is Language.ENGLISH
    monkeypatch.setenv("LANG", "ja_JP.UTF-8")
    assert language_of([]) is Language.JAPANESE
    assert language_of(["--lang", "en"]) is Language.ENGLISH
    assert language_of(["plan", "--lang=ja"]) is Language.JAPANESE


def test_the_choices_on_the_command_line_are_those_of_the_rooms_behind_it():
    """The command line keeps its own copies so that help stays light; they must not drift."""
    from evenfoot.cli import commands
    from evenfoot.job import kinds
    from evenfoot.office import PARTS

    assert commands.PARTS == PARTS
    assert tuple(s.value for s in kinds.Standard) == commands.STANDARDS


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", "ja"])
def test_check_tries_remedies_and_tells_what_each_costs(language, capsys):
    job = ROOT / "examples" / "library-terrace" / "job.toml"
    assert run(["check", str(job), "--remedies", "--lang", language]) == SHORTFALLS
    text = capsys.readouterr().out
    speaker = Speaker(Language(language))
    for code in ("cli.heading-remedies", "cli.heading-timbers", "cli.heading-rest"):
        assert speaker.say(code) in text
    assert "JPY" in text
    assert "{" not in text


def test_check_names_no_more_than_three_governing_checks_of_a_timber(capsys):
    job = ROOT / "examples" / "library-terrace" / "job.toml"
    run(["check", str(job), "--lang", "en"])
    lines = capsys.readouterr().out.splitlines()
    begin = lines.index(Speaker(Language.ENGLISH).say("cli.heading-timbers")) + 1
    end = lines.index("", begin)
    timbers = [line for line in lines[begin:end] if line.startswith("○")]
    assert len(timbers) >= 9 + 4
    assert all(1 <= line.count("%") <= 3 for line in timbers)
