"""The SVG of one small page as it was: a change here must be looked at before it is taken."""

from pathlib import Path

from evenfoot.ink import Anchor, Circle, Dimension, Fill, Line, Page, Pen, Polygon, Text
from evenfoot.press import svg_of

GOLDEN = Path(__file__).parent / "ink_page.svg"


def sample():
    return Page(
        code="sample",
        title="Sample",
        width=120.0,
        height=80.0,
        scale=10.0,
        shapes=(
            Polygon(
                points=((20, 30), (90, 30), (90, 35.25), (20, 35.25)),
                pen=Pen.OBJECT,
                fill=Fill.PAPER,
                layer="beam",
                member="1A-C",
            ),
            Line(a=(24, 32.6), b=(60, 32.6), pen=Pen.PENCIL, layer="grain", member="1A-C"),
            Circle(centre=(55, 50), r=2.0, pen=Pen.WATER, layer="reading"),
            Polygon(
                points=((70, 50), (74, 50), (74, 54), (70, 54)), pen=None, fill=Fill.SHADE, layer="post", member="B1"
            ),
            Dimension(a=(20, 30), b=(90, 30), offset=8, distance=700, text="700"),
            Dimension(a=(20, 35.25), b=(20, 35.25), offset=-7, distance=0, text="0", running="across"),
            Dimension(a=(20, 35.25), b=(47.3, 35.25), offset=-7, distance=273, text="273", running="across", shift=1.5),
            Text(
                at=(60, 70),
                text='い1 束 3/8"',
                size=4.0,
                anchor=Anchor.MIDDLE,
                is_bold=True,
                pen=Pen.ALARM,
                layer="mark",
            ),
            Text(at=(110, 60), text="412.5", size=4.0, anchor=Anchor.END, angle_deg=90.0, layer="mark"),
        ),
    )


def test_the_sample_page_is_as_it_was():
    assert svg_of(sample()) == GOLDEN.read_text(encoding="utf-8")
