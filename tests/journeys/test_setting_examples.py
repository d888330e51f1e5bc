"""The worked examples of docs/setting.md, each run as it is written there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from evenfoot.cli.main import run

TEXT = (Path(__file__).parents[2] / "docs" / "setting.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```console\n\$ evenfoot ([^\n]*)\n(.*?)\n```", TEXT, re.DOTALL)


def test_there_are_examples_of_every_question():
    asked = {command.split()[1] for command, _ in EXAMPLES}
    assert {"square", "level", "boards"} <= asked
    assert any("--lang ja" in command for command, _ in EXAMPLES)


@pytest.mark.parametrize(("command", "answer"), EXAMPLES, ids=[command[:60] for command, _ in EXAMPLES])
def test_an_example_of_the_manual_gives_the_answer_printed_there(command, answer, monkeypatch, capsys):
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    run(shlex.split(command))
    told = capsys.readouterr()
    assert (told.out + told.err).rstrip("\n") == answer
