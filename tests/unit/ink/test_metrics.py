"""Text widths against the PDF library's own reading of the same fonts."""

from io import BytesIO

import pytest
from reportlab.pdfbase.ttfonts import TTFont

from evenfoot.ink import text_width
from evenfoot.ink.metrics import font_bytes, has_character
from evenfoot.words import catalogue
from evenfoot.words.speaker import IROHA

SAMPLES = ("1234567890", "6' 2 3/8\"", "束の切り寸法 412.5", "C1-3 lap-over", "±1.5 φ4.2 – ½", "い3.相欠き")


@pytest.mark.parametrize("is_bold", [False, True])
@pytest.mark.parametrize("text", SAMPLES)
def test_width_agrees_with_the_pdf_library(text, is_bold):
    peer = TTFont(f"Peer{is_bold}", BytesIO(font_bytes(is_bold=is_bold)))
    assert text_width(text, 3.7, is_bold=is_bold) == pytest.approx(peer.stringWidth(text, 3.7), rel=2e-3)


@pytest.mark.parametrize("is_bold", [False, True])
def test_all_figures_are_equally_wide(is_bold):
    assert len({text_width(figure, 10.0, is_bold=is_bold) for figure in "0123456789"}) == 1


def test_every_iroha_kana_can_be_written():
    assert [kana for kana in IROHA if not has_character(kana)] == []


def test_every_character_of_the_catalogue_can_be_written():
    spoken = {c for entry in catalogue().values() for text in entry.values() for c in text if c not in "\n{}"}
    assert sorted(c for c in spoken if not has_character(c)) == []


def test_a_character_outside_the_cut_is_noticed():
    assert not has_character("⅜")
