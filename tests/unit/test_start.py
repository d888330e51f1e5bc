"""The setting up: whoever runs the tests is told what is missing before they fail."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def start(monkeypatch):
    spec = importlib.util.spec_from_file_location("start", ROOT / "start.py")
    found = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(found)
    monkeypatch.setattr(found, "run", lambda *_command: 7)
    return found


def test_what_is_missing_is_told_before_the_tests_run(start, monkeypatch, capsys):
    monkeypatch.setattr(start.shutil, "which", lambda _name: None)
    monkeypatch.setattr(start.Path, "glob", lambda *_: iter(()))
    monkeypatch.setattr(start.Path, "exists", lambda _self: False)
    assert start.missing() == ["postgresql", "chromium"]
    assert start.test() == 7
    assert "apt-get install postgresql chromium" in capsys.readouterr().out


def test_nothing_is_told_when_all_is_there(start, monkeypatch, capsys):
    monkeypatch.setattr(start.shutil, "which", lambda name: f"/somewhere/{name}")
    monkeypatch.setattr(start.Path, "exists", lambda _self: True)
    assert start.missing() == []
    assert start.test() == 7
    assert capsys.readouterr().out == ""
