"""The three writers: what they hold, that nothing is lost between them, and that bytes repeat."""

from io import BytesIO
from xml.etree import ElementTree as ET

import openpyxl
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenfoot.ink import (
    Circle,
    Column,
    Dimension,
    Fill,
    Line,
    Page,
    Pen,
    Polygon,
    Table,
    Text,
    text_width,
)
from evenfoot.ink.look import COLOURS
from evenfoot.press import pdf_of, svg_of, workbook_of

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def page():
    return Page(
        code="frame",
        title="Frame plan <1>",
        width=420.0,
        height=297.0,
        scale=20.0,
        shapes=(
            Polygon(
                points=((50, 50), (100, 50), (100, 53.123), (50, 53.123)),
                pen=Pen.OBJECT,
                fill=Fill.PAPER,
                layer="joist",
                member="C1-3",
            ),
            Line(a=(50, 51.5), b=(100, 51.5), pen=Pen.PENCIL, dash=(2, 1), layer="joist", member="C1-3"),
            Circle(centre=(60, 60), r=2.0, layer="post", member="C2"),
            Dimension(a=(50, 50), b=(100, 50), offset=10, distance=1000, text="1000"),
            Text(at=(20, 20), text="は1-3 & <束>", size=4.0, is_bold=True, layer="mark", member="C1-3"),
            Text(at=(30, 90), text="412.5", size=4.0, angle_deg=90, layer="mark"),
        ),
    )


def _texts(page):
    return sorted(t.text for t in ET.fromstring(svg_of(page)).iter(f"{SVG}text"))


def test_svg_is_in_real_millimetres(page):
    root = ET.fromstring(svg_of(page))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")


def test_svg_groups_carry_layer_and_member_in_paint_order(page):
    groups = ET.fromstring(svg_of(page)).findall(f"{SVG}g")
    assert [(g.get("data-layer"), g.get("data-member")) for g in groups] == [
        ("joist", "C1-3"),
        ("post", "C2"),
        ("dimension", None),
        ("mark", "C1-3"),
        ("mark", None),
    ]


def test_svg_rounds_to_a_hundredth(page):
    polygon = ET.fromstring(svg_of(page)).find(f".//{SVG}polygon")
    assert polygon.get("points") == "50,50 100,50 100,53.12 50,53.12"


def test_svg_text_keeps_its_width_in_any_font(page):
    for text in ET.fromstring(svg_of(page)).iter(f"{SVG}text"):
        width = text_width(text.text, float(text.get("font-size")), is_bold=text.get("font-weight") == "700")
        assert float(text.get("textLength")) == pytest.approx(width, abs=0.006)


def test_svg_turns_text_counter_clockwise(page):
    turned = [t for t in ET.fromstring(svg_of(page)).iter(f"{SVG}text") if t.get("transform")]
    assert [t.get("transform") for t in turned if t.text == "412.5"] == ["rotate(-90 30 90)"]


def test_svg_uses_only_the_colours_of_the_look(page):
    strokes = {e.get("stroke") for e in ET.fromstring(svg_of(page)).iter() if e.get("stroke")}
    assert strokes <= {*COLOURS.values(), "none"}


@given(st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn"]), min_size=1), st.text("<>&\"'\t\nあ a", min_size=1))
def test_svg_keeps_every_character_of_a_text_and_of_a_name(said, name):
    shapes = (Text(at=(1, 2), text=said, member=name), Text(at=(1, 2), text="", layer=name))
    root = ET.fromstring(svg_of(Page(code=name, title=said, width=9, height=9, shapes=shapes)))
    assert root.get("data-code") == name
    assert root.find(f"{SVG}title").text == root.find(f".//{SVG}text").text == said
    groups = [(g.get("data-layer"), g.get("data-member")) for g in root.findall(f"{SVG}g")]
    assert groups == [("", name), (name, None)]


def test_svg_is_the_same_text_twice(page):
    assert svg_of(page) == svg_of(page)


def test_pdf_is_the_same_bytes_twice(page):
    assert pdf_of((page, page), title="t") == pdf_of((page, page), title="t")


def test_pdf_holds_the_same_texts_as_the_svg(page):
    document = pypdfium2.PdfDocument(pdf_of((page,), title="t"))
    said = document[0].get_textpage().get_text_bounded()
    for text in _texts(page):
        assert text in said


def test_pdf_pages_have_their_paper_and_a_bookmark_each(page):
    other = Page(code="steps", title="段取り", width=297, height=210)
    document = pypdfium2.PdfDocument(pdf_of((page, other), title="t"))
    sizes = [tuple(round(v * 25.4 / 72, 2) for v in sheet.get_size()) for sheet in document]
    assert sizes == [(420.0, 297.0), (297.0, 210.0)]
    assert [entry.get_title() for entry in document.get_toc()] == ["Frame plan <1>", "段取り"]


def test_pdf_embeds_its_fonts_and_uses_no_other(page):
    data = pdf_of((page,), title="t")
    assert data.count(b"/FontFile2") == 2
    assert b"Helvetica" not in data


def test_pdf_is_tinted_only_when_asked(page):
    def corner(data):
        return pypdfium2.PdfDocument(data)[0].render(scale=0.2).to_pil().getpixel((1, 1))

    assert corner(pdf_of((page,), title="t")) == (255, 255, 255)
    assert corner(pdf_of((page,), title="t", is_tinted=True)) == (0xF7, 0xF2, 0xE6)


TABLE = Table(
    code="posts",
    title="束/長さ: 一覧 posts that stand on stones",
    columns=(Column(title="番付"), Column(title="長さ mm", kind="length"), Column(title="円", kind="money")),
    rows=(("い1", 412.5, 1200.0), ("=1+1", None, 0.5)),
)


def test_workbook_reads_back_as_written():
    book = openpyxl.load_workbook(BytesIO(workbook_of((TABLE, TABLE), title="t")))
    first, second = book.worksheets
    assert first.title != second.title
    assert not set(first.title) & set("[]:*?/\\")
    assert [[c.value for c in row] for row in first.iter_rows()] == [
        ["番付", "長さ mm", "円"],
        ["い1", 412.5, 1200.0],
        ["=1+1", None, 0.5],
    ]
    assert first["A3"].data_type == "s"
    assert first.freeze_panes == "A2"


def test_workbook_is_the_same_bytes_twice():
    assert workbook_of((TABLE,), title="t") == workbook_of((TABLE,), title="t")


def test_importing_ink_does_not_import_the_heavy_libraries():
    import subprocess
    import sys

    code = "import sys, evenfoot.ink; print(sorted({'reportlab', 'xlsxwriter', 'numpy'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
