"""Marks in sentences: joints by place and kind, grid letters as i-ro-ha in Japanese, everything else untouched."""

import re

import pytest

from evenfoot.checks import Check, Verdict
from evenfoot.frame import JointKind
from evenfoot.words import Language, Speaker, catalogue

EN, JA = Speaker(Language.ENGLISH), Speaker(Language.JAPANESE)


@pytest.mark.parametrize(
    ("mark", "english", "japanese"),
    [
        ("A1.lap-over", "A1 (lap from above)", "い1（相欠き・上から）"),
        ("AV12.lap-under", "AV12 (lap from below)", "い212（相欠き・下から）"),
        ("B2+.hanger", "B2 (hanger, far side)", "ろ2（受け金物・向こう側）"),
        ("B2-.post-head", "B2 (post head, near side)", "ろ2（束の頭・手前側）"),
        ("A1.lap-over, A1-4, b7.2", "A1 (lap from above), A1-4, b7.2", "い1（相欠き・上から）, い1-4, b7.2"),
    ],
)
def test_a_joint_is_said_by_place_kind_and_side(mark, english, japanese):
    assert EN.mark(mark) == english
    assert JA.mark(mark) == japanese


@pytest.mark.parametrize("mark", ["b7.2", "b12.10", "k3", "site.station[0]", "floor.board", "frame.footing.size"])
def test_boards_and_places_in_the_job_stay_as_they_are(mark):
    assert EN.mark(mark) == mark
    assert JA.mark(mark) == mark


def test_a_kind_that_is_not_known_stays_as_it_is():
    assert EN.mark("A1.dovetail") == "A1.dovetail"


def test_every_kind_of_joint_has_a_word_without_capitals():
    for kind in JointKind:
        word = catalogue()[f"joint-kind.{kind.value}"]["ja"]
        assert not re.search("[A-Z]", word)
        assert kind.value not in JA.mark(f"A1.{kind.value}")


def _said(speaker, **facts):
    return speaker.check(
        Check(
            subject="1A-I",
            rule=facts.pop("rule"),
            verdict=Verdict.FAILS,
            demand=3.0,
            unit="mm",
            place=facts.pop("place", ""),
            facts=tuple(facts.items()),
        )
    )


def test_marks_among_the_facts_of_a_finding_are_said_too():
    said = _said(JA, rule="cuts-clear-of-each-other", place="B1.lap-over", other="C1.housing")
    assert "1い-り：ろ1（相欠き・上から）・は1（大入れ）" in said
    assert "い1-4, ろ1-4" in _said(JA, rule="assembly-order", marks="A1-4, B1-4")


def test_names_of_nails_are_no_marks():
    assert "N50" in _said(JA, rule="fixing-metal", mark="N50", use_code="fixing.board-joist")


@pytest.mark.parametrize("index", range(47))
def test_a_typed_iroha_letter_is_the_letter_it_stands_for(index):
    letters = chr(ord("A") + index) if index < 26 else f"A{chr(ord('A') + index - 26)}"
    speaker = Speaker(Language.JAPANESE)
    assert speaker.typed_mark(speaker.mark(f"{letters}3")) == f"{letters}3"


def test_marks_typed_in_full_width_are_read():
    assert Speaker(Language.ENGLISH).typed_mark(" Ｂ１２ ") == "B12"
    assert Speaker(Language.JAPANESE).typed_mark("は２") == "C2"
    assert Speaker(Language.ENGLISH).typed_mark("b7.2") == "b7.2"
