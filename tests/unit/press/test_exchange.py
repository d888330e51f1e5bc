"""DXF, plain text and calendar, read back by libraries that are not ours or by the standard's own rules."""

import csv
import math
import os
import subprocess
import sys
from dataclasses import replace
from io import StringIO

import pytest

from evenfoot.ink import Anchor, Circle, Column, Dimension, Fill, Line, Page, Pen, Polygon, Table, Text
from evenfoot.press import calendar_of, csv_of, dxf_of

DOT = Circle(centre=(60, 80), r=1.5, pen=None, fill=Fill.INK, layer="post", member="C2")


@pytest.fixture
def page():
    return Page(
        code="frame",
        title="Frame",
        width=420.0,
        height=297.0,
        scale=20.0,
        shapes=(
            Polygon(
                points=((50, 50), (100, 50), (100, 60)), pen=Pen.OBJECT, fill=Fill.SHADE, layer="joist", member="C1-3"
            ),
            Line(a=(50, 51.5), b=(100, 71.5), pen=Pen.PENCIL, dash=(2, 1), layer="grid"),
            Circle(centre=(60, 80), r=2.5, layer="post", member="C2"),
            DOT,
            Dimension(a=(50, 50), b=(110, 50), offset=10, distance=1200, text="1200"),
            Dimension(a=(50, 60), b=(50, 60), offset=12, distance=0, text="0", running="across"),
            Dimension(a=(50, 60), b=(72.5, 60), offset=12, distance=450, text="450", running="across", shift=1.5),
            Dimension(a=(50, 200), b=(50, 170.25), offset=-12, distance=595, text="595", running="up"),
            Text(at=(20, 20), text="は1-3", size=4.0, layer="mark", angle_deg=90.0, anchor=Anchor.MIDDLE),
        ),
    )


def opened(page):
    import ezdxf

    return ezdxf.read(StringIO(dxf_of(page).decode()))


def test_dxf_has_no_faults(page):
    audit = opened(page).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_dxf_is_release_2010_in_millimetres(page):
    document = opened(page)
    assert document.acad_release == "R2010"
    assert document.header["$INSUNITS"] == 4


def test_dxf_dimensions_measure_the_distance_that_they_tell(page):
    found = {}
    for entity in opened(page).modelspace().query("DIMENSION"):
        measured = entity.get_measurement()
        if not isinstance(measured, float):
            measured = max(abs(measured.x), abs(measured.y)) if entity.dimtype == 6 else measured
        found[entity.dxf.text] = measured
    assert set(found) == {"1200", "0", "450", "595"}
    assert found["1200"] == pytest.approx(1200.0, abs=1e-9)
    assert found["450"] == pytest.approx(450.0, abs=1e-9)
    assert found["595"] == pytest.approx(595.0, abs=1e-9)
    assert found["0"] == pytest.approx(0.0, abs=1e-9)


def test_dxf_is_drawn_at_the_size_of_the_real_thing_with_y_upwards(page):
    space = opened(page).modelspace()
    line = space.query("LINE")[0]
    assert line.dxf.start.distance(line.dxf.end) == pytest.approx(math.hypot(1000, 400))
    assert line.dxf.end.y < line.dxf.start.y
    (circle,) = space.query("CIRCLE")
    assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius) == pytest.approx((1200.0, 4340.0, 50.0))


def test_dxf_keeps_layers_marks_and_every_text(page):
    space = opened(page).modelspace()
    assert {e.dxf.layer for e in space} == {"JOIST", "GRID", "POST", "DIMENSION", "MARK"}
    (outline,) = space.query("LWPOLYLINE")
    assert outline.get_xdata("EVENFOOT") == [(1000, "C1-3")]
    assert outline.closed
    (text,) = space.query("TEXT")
    assert text.dxf.text == "は1-3"
    assert text.dxf.height == pytest.approx(4.0 * 0.765 * 20)
    assert text.dxf.rotation == 90.0


def test_dxf_of_a_sheet_without_scale_keeps_paper_millimetres():
    sheet = Page(code="list", title="List", width=210, height=297, shapes=(Line(a=(0, 0), b=(30, 40)),))
    (line,) = opened(sheet).modelspace().query("LINE")
    assert line.dxf.start.distance(line.dxf.end) == pytest.approx(50.0)


def test_dxf_is_the_same_bytes_twice(page):
    assert dxf_of(page) == dxf_of(page)


def test_dxf_entities_stand_in_the_order_of_the_marks(page):
    found = [entity.dxftype() for entity in opened(page).modelspace()]
    assert found == ["HATCH", "LWPOLYLINE", "LINE", "CIRCLE", "HATCH", *["DIMENSION"] * 4, "TEXT"]


def test_dxf_entities_are_what_the_library_writes_when_it_has_read_them(page):
    plain = replace(page, shapes=tuple(s for s in page.shapes if s != DOT))
    again = StringIO()
    opened(plain).write(again)
    ours, theirs = (
        text.partition("  2\nENTITIES\n")[2].partition("  0\nENDSEC\n")[0]
        for text in (dxf_of(plain).decode(), again.getvalue())
    )
    assert ours == theirs
    assert ours.count("  0\n") == 9


@pytest.mark.slow
def test_dxf_is_the_same_bytes_in_every_run():
    work = (
        "import hashlib, sys; from evenfoot.ink import Line, Page; from evenfoot.press import dxf_of\n"
        "page = Page(code='a', title='A', width=9, height=9, shapes=(Line(a=(0, 0), b=(3, 4)),))\n"
        "print(hashlib.sha256(dxf_of(page)).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", work],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3", "4", "5")
    }
    assert len(runs) == 1


TABLE = Table(
    code="steps",
    title="Steps",
    columns=(
        Column(title="what"),
        Column(title="from", kind="date"),
        Column(title="to", kind="date"),
        Column(title="h", kind="number"),
    ),
    rows=(
        ('Set out, "square"; and\nlevel', "2026-12-01", "2026-12-02", 3.5),
        ("=1+1", None, None, 12.0),
        ("束を切る " * 20, "2026-12-31", "2026-12-31", None),
    ),
)


def test_plain_text_holds_every_cell_and_opens_as_utf8():
    data = csv_of(TABLE)
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(StringIO(data.decode("utf-8-sig"), newline="")))
    assert rows[0] == ["what", "from", "to", "h"]
    assert rows[1] == ['Set out, "square"; and\nlevel', "2026-12-01", "2026-12-02", "3.5"]
    assert rows[3][3] == ""


@pytest.mark.parametrize("risky", ["=1+1", "+1", "-cmd", "@x"])
def test_no_text_is_taken_for_a_formula(risky):
    table = Table(code="t", title="t", columns=(Column(title="a"),), rows=((risky,), (-2.25,)))
    rows = list(csv.reader(StringIO(csv_of(table).decode("utf-8-sig"), newline="")))
    assert rows[1:] == [[f"'{risky}"], ["-2.25"]]


def unfolded(data):
    return data.decode().replace("\r\n ", "").split("\r\n")


def test_calendar_days_end_on_the_morning_after():
    lines = unfolded(calendar_of(TABLE, title="Terrace"))
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VEVENT") == 2
    assert "DTSTART;VALUE=DATE:20261201" in lines
    assert "DTEND;VALUE=DATE:20261203" in lines
    assert "DTEND;VALUE=DATE:20270101" in lines
    assert 'SUMMARY:Set out\\, "square"\\; and\\nlevel' in lines


def test_calendar_lines_are_folded_at_75_octets_within_no_character():
    data = calendar_of(TABLE, title="図書館裏のテラス" * 12)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    for part in data.split(b"\r\n"):
        part.decode()  # a character cut in two would not decode
    uids = [line for line in unfolded(data) if line.startswith("UID:")]
    assert len(set(uids)) == 2
