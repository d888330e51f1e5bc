"""``evenfoot pack`` and ``evenfoot bring`` as a carpenter types them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from evenfoot.cli.main import BAD_INPUT, FINE, run

EXAMPLES = Path(__file__).parents[2] / "examples"
GAP = '{"time": "2026-11-18T10:02", "what": "post-gap", "mark": "B1", "value_mm": 188.5, "who": "Aki"}\n'
LATER = '{"time": "2026-11-18T11:02", "what": "post-gap", "mark": "B1", "value_mm": 190, "who": "Ben"}\n'


@pytest.fixture
def job(tmp_path):
    shutil.copytree(EXAMPLES / "side-door-landing", tmp_path / "landing")
    return tmp_path / "landing" / "job.toml"


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", "ja"])
def test_pack_writes_one_file_in_the_language_asked_for(job, language, capsys):
    assert run(["pack", str(job), "--lang", language]) == FINE
    said = capsys.readouterr().out
    assert "site-pack.html" in said
    assert "MB" in said
    text = (job.parent / "out" / "site-pack.html").read_text(encoding="utf-8")
    assert text.startswith(f'<!doctype html>\n<html lang="{language}">')
    assert [p.name for p in (job.parent / "out").iterdir()] == ["site-pack.html"]


@pytest.mark.slow
def test_pack_tells_its_size_as_data_and_where_to_send(job, tmp_path, capsys):
    place = tmp_path / "elsewhere" / "p.html"
    assert run(["pack", str(job), "--out", str(place), "--send-to", "/log", "--json"]) == FINE
    told = json.loads(capsys.readouterr().out)
    assert told == {"file": str(place), "size_bytes": place.stat().st_size}
    assert "connect-src 'self'" in place.read_text(encoding="utf-8")


def test_bring_tells_what_is_new_and_what_differs(job, tmp_path, capsys):
    first, second = tmp_path / "aki.jsonl", tmp_path / "ben.jsonl"
    first.write_text(GAP)
    second.write_text(LATER)
    assert run(["bring", str(job), str(first), str(second)]) == FINE
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "New lines in the log: 1; there already: 0."
    assert lines[2].startswith("Read twice, clear gap for a post B1: ")
    assert '7 1/2" (2026-11-18 11:02, Ben) counts' in lines[2]
    assert (job.parent / "log.jsonl").read_text() == GAP + LATER
    assert run(["bring", str(job), str(first), "--lang", "ja"]) == FINE
    assert capsys.readouterr().out.startswith("新しい行はありません")


def test_bring_refuses_a_file_with_faults_and_writes_nothing(job, tmp_path, capsys):
    bad = tmp_path / "bad.jsonl"
    bad.write_text(GAP + '{"time": "2026-11-18T10:02", "what": "post-gap", "mark": "B1", "value_mm": -3}\n')
    assert run(["bring", str(job), str(bad)]) == BAD_INPUT
    assert "value_mm" in capsys.readouterr().err
    assert not (job.parent / "log.jsonl").exists()
    assert run(["bring", str(job), str(tmp_path / "none.jsonl")]) == BAD_INPUT
