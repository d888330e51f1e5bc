"""Every code that can reach a person is said in both languages, with the same placeholders."""

from __future__ import annotations

import ast
import string
from pathlib import Path

import pytest

from evenfoot.checks import Check, Verdict
from evenfoot.words import Language, Speaker, catalogue

SOURCE = Path(__file__).parents[2] / "src" / "evenfoot"


def placeholders(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("code", sorted(catalogue()))
def test_both_languages_stand_side_by_side(code):
    entry = catalogue()[code]
    assert set(entry) == {"en", "ja"}, code
    assert entry["en"].strip()
    assert entry["ja"].strip()
    assert placeholders(entry["en"]) == placeholders(entry["ja"]), code


def constants(call: ast.Call, name: str) -> list[str]:
    """String constants given to keyword ``name``, also through a conditional expression."""
    out: list[str] = []
    for keyword in call.keywords:
        if keyword.arg == name:
            values = [keyword.value]
            while values:
                value = values.pop()
                if isinstance(value, ast.Constant) and isinstance(value.value, str) and value.value:
                    out.append(value.value)
                elif isinstance(value, ast.IfExp):
                    values += [value.body, value.orelse]
    return out


def codes_in(path: Path) -> list[tuple[str, int]]:
    out: list[tuple[str, int]] = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name | ast.Attribute):
            continue
        name = node.func.id if isinstance(node.func, ast.Name) else node.func.attr
        groups: dict[str, str] = {}
        if name == "Fault":
            groups = {"code": "fault"}
        elif name in {"Check", "compare"}:
            groups = {"rule": "check", "reason": "reason", "remedy": "remedy"}
        for keyword, group in groups.items():
            out += [(f"{group}.{value}", node.lineno) for value in constants(node, keyword)]
        if name == "say" and node.args and isinstance(node.args[0], ast.Constant):
            out.append((str(node.args[0].value), node.lineno))
    return out


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: str(p.relative_to(SOURCE)))
def test_every_code_written_in_the_source_is_in_the_catalogue(path):
    missing = [(code, line) for code, line in codes_in(path) if code not in catalogue()]
    assert not missing


def test_a_missing_code_would_be_found(tmp_path):
    """The test above can fail: it reads codes out of source text."""
    file = tmp_path / "x.py"
    file.write_text('Check(rule="no-such", remedy="" if ok else "neither")\nFault(code="none")\nspeaker.say("a.b")\n')
    assert {c for c, _ in codes_in(file)} == {"check.no-such", "remedy.neither", "fault.none", "a.b"}


def test_marks_become_iroha_in_japanese():
    speaker = Speaker(Language.JAPANESE)
    assert speaker.mark("A1-3") == "い1-3"
    assert speaker.mark("2A-G") == "2い-と"
    assert speaker.mark("Z1") == "の1"
    assert speaker.mark("AV1") == "い21"
    assert speaker.mark("b7.2") == "b7.2"
    assert Speaker(Language.ENGLISH).mark("A1-3") == "A1-3"


def test_lengths_in_a_sentence_are_in_the_unit_of_the_job():
    check = Check(
        subject="joints",
        rule="lap-leaves-wood",
        verdict=Verdict.FAILS,
        demand=127.0,
        capacity=101.6,
        unit="mm",
        remedy="seat-half",
        facts=(("half_mm", 50.8),),
    )
    assert '5"' in Speaker(Language.ENGLISH, "in").check(check)
    assert '4"' in Speaker(Language.ENGLISH, "in").check(check)
