"""What every sheet carries around its drawing: title, warning, and the strip with job, scale, unit and house side."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from hashlib import sha256
from itertools import pairwise

from evenfoot.checks import Verdict
from evenfoot.ink import Anchor, Circle, Dimension, Fill, Line, Page, Pen, Polygon, Text, text_width
from evenfoot.plan import Plan
from evenfoot.sheets.drafting.grain import end_grain
from evenfoot.sheets.drafting.paper import FIGURE, FOOT, MARGIN, TITLE, WORD, Paper
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.drafting.view import Point
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.listing import SHAPES
from evenfoot.sheets.lists.wrap import wrap

EVEN_BARS = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
"""Lengths of scale bars in metres, or in units of ten shaku [-]."""
INCH_BARS = (1 / 12, 1 / 6, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0)
"""Lengths of scale bars in feet."""

Shape = Line | Polygon | Circle | Text | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One sheet before it is numbered. ``title`` is in words; ``match`` names what its neighbours need to know."""

    code: str
    group: str
    """Title that all parts of one drawing share."""
    title: str
    shapes: tuple[Shape, ...]
    scale: Scale | None = None
    house: str = "none"
    """Where the house is on the drawing: ``below``, ``left``, ``behind`` (seen from it) or ``none``."""
    matches: tuple[tuple[str, Text], ...] = field(default=())
    """Texts that wait for the number of another sheet: its code, and the text with ``{number}``."""
    homeless: tuple[str, ...] = ()
    origin: Point | None = None
    """Where x = y = 0 of the floor lies on the paper of a plan."""
    """Marks for which the drawing had no room; they are told beside the title."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What the strip at the foot says about the job."""

    job: str
    day: str
    revision: str
    unit: str
    verdict: Verdict
    count: int
    """Findings that are not ok."""


def cover_of(plan: Plan, figures: Figures) -> Cover:
    """Return what all sheets of a plan share."""
    return Cover(
        job=plan.job.name,
        day=figures.day(plan.job.date),
        revision=revision_of(plan),
        unit=figures.speaker.say(f"sheet-unit.{figures.speaker.unit}"),
        verdict=plan.verdict,
        count=sum(c.verdict is not Verdict.OK for c in plan.checks),
    )


def revision_of(plan: Plan) -> str:
    """Return the revision that stands on every sheet; it changes with any word of job, shop or log."""
    return sha256(repr((plan.job, plan.shop, plan.log)).encode()).hexdigest()[:6]


def bind(drafts: tuple[Draft, ...], cover: Cover, paper: Paper, figures: Figures) -> tuple[Page, ...]:
    """Return the numbered sheets."""
    numbers = {draft.code: number for number, draft in enumerate(drafts, start=1)}
    assert len(numbers) == len(drafts), "every sheet has its own code"
    return tuple(
        Page(
            code=draft.code,
            title=f"{numbers[draft.code]} {draft.title}",
            width=paper.width,
            height=paper.height,
            scale=draft.scale.ratio if draft.scale else 0.0,
            origin=draft.origin,
            shapes=(
                *_title(draft, numbers[draft.code], cover, paper, figures),
                *draft.shapes,
                *(_matched(text, numbers[code]) for code, text in draft.matches),
                *_foot(draft, (numbers[draft.code], len(drafts)), cover, paper, figures),
            ),
        )
        for draft in drafts
    )


def _matched(text: Text, number: int) -> Text:
    return replace(text, text=text.text.replace("{number}", str(number)))


def _title(draft: Draft, number: int, cover: Cover, paper: Paper, figures: Figures) -> tuple[Shape, ...]:
    """Return number and title at the head, and on the right what is still open in the plan."""
    base = MARGIN + 7.0
    wide = text_width(str(number), 9.0, is_bold=True)
    homeless = figures.speaker.say("sheet.homeless", marks=figures.speaker.say("sheet.comma").join(draft.homeless))
    out: list[Shape] = [
        Text(at=(MARGIN, base), text=str(number), size=9.0, is_bold=True, layer="title"),
        Text(at=(MARGIN + wide + 4.0, base), text=draft.title, size=TITLE, is_bold=True, layer="title"),
    ]
    if draft.homeless:
        if text_width(homeless, WORD) > paper.width * 0.4:
            homeless = figures.speaker.say("sheet.homeless-many", count=len(draft.homeless))
        out.append(Text(at=(MARGIN, base + 4.6), text=homeless, size=WORD, pen=Pen.ALARM, layer="title"))
    if cover.verdict is not Verdict.OK:
        said = figures.speaker.say(f"sheet-banner.{cover.verdict.value}", count=cover.count)
        text = f"{SHAPES[cover.verdict]} {said}"
        taken = 2 * MARGIN + wide + 10.0 + text_width(draft.title, TITLE, is_bold=True)
        is_beside = taken + text_width(text, FIGURE, is_bold=True) <= paper.width
        out.append(
            Text(
                at=(paper.width - MARGIN, base if is_beside else base + 5.2),
                text=text,
                size=FIGURE,
                anchor=Anchor.END,
                is_bold=True,
                pen=Pen.ALARM,
                layer="title",
            )
        )
    return tuple(out)


def _foot(draft: Draft, place: tuple[int, int], cover: Cover, paper: Paper, figures: Figures) -> tuple[Shape, ...]:
    """Return the strip at the foot, drawn as a timber with its cut end at the right."""
    top, bottom = paper.height - MARGIN - FOOT, paper.height - MARGIN
    end = paper.width - MARGIN - FOOT
    say = figures.speaker.say
    box = Polygon(
        points=((MARGIN, top), (paper.width - MARGIN, top), (paper.width - MARGIN, bottom), (MARGIN, bottom)),
        pen=Pen.OBJECT,
        layer="foot",
    )
    rings = end_grain((end, top), FOOT, FOOT, seed=cover.job)
    number = Text(
        at=(end + FOOT / 2, bottom - FOOT / 2 + 1.6),
        text=f"{place[0]}/{place[1]}",
        size=5.0 if place[1] < 10 else 3.9,
        anchor=Anchor.MIDDLE,
        is_bold=True,
        layer="foot",
    )
    seat = Polygon(points=_padded(number, 1.0), pen=None, fill=Fill.PAPER, layer="foot")
    edge = Line(a=(end, top), b=(end, bottom), pen=Pen.OBJECT, layer="foot")
    facts = [
        (say("sheet.job"), cover.job),
        (say("sheet.date"), cover.day),
        (say("sheet.revision"), cover.revision),
        (say("sheet.unit"), cover.unit),
        (say("sheet.house"), say(f"sheet.house-{draft.house}")),
    ]
    right, scale = _scale_block(draft, end - 3.0, top, figures)
    fields = _fields(facts, MARGIN + 3.0, right - 4.0, top)
    opinion = Text(
        at=(MARGIN + 3.0, bottom - 2.2), text=say("sheet.opinion-short"), size=WORD, pen=Pen.PENCIL, layer="foot"
    )
    return (box, *rings, seat, number, edge, *fields, *scale, opinion)


def _padded(text: Text, pad: float) -> tuple[tuple[float, float], ...]:
    xs, ys = zip(*text.corners, strict=True)
    left, right, top, bottom = min(xs) - pad, max(xs) + pad, min(ys) - pad, max(ys) + pad
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _fields(facts: list[tuple[str, str]], left: float, right: float, top: float) -> list[Shape]:
    """Return label over value, side by side; a job name too long for its place is cut with an ellipsis."""
    widths = [max(text_width(a, WORD), text_width(b, FIGURE, is_bold=True)) for a, b in facts]
    spare = (right - left) - sum(widths[1:]) - 5.0 * (len(facts) - 1)
    widths[0] = min(widths[0], max(spare, 25.0))
    out: list[Shape] = []
    x = left
    for (label, value), width in zip(facts, widths, strict=True):
        said = value
        if text_width(value, FIGURE, is_bold=True) > width + 0.01:
            said = wrap(value, width - text_width("…", FIGURE, is_bold=True), FIGURE, is_bold=True)[0] + "…"
        out.append(Text(at=(x, top + 4.6), text=label, size=WORD, pen=Pen.PENCIL, layer="foot"))
        out.append(Text(at=(x, top + 9.8), text=said, size=FIGURE, is_bold=True, layer="foot"))
        x += width + 5.0
    return out


def _scale_block(draft: Draft, right: float, top: float, figures: Figures) -> tuple[float, tuple[Shape, ...]]:
    """Return the left edge and the marks of the scale with its bar; words where nothing is to scale."""
    if draft.scale is None:
        said = figures.speaker.say("sheet.no-scale")
        text = Text(at=(right, top + 9.8), text=said, size=WORD, anchor=Anchor.END, pen=Pen.PENCIL, layer="foot")
        return right - text_width(said, WORD), (text,)
    steps = _bar_steps(draft.scale, figures)
    said = figures.speaker.length(steps[-1])
    bar = steps[-1] / draft.scale.ratio
    name = Text(at=(0, 0), text=draft.scale.name, size=FIGURE, is_bold=True, layer="foot")
    wide = max(bar + 2.0 + text_width(said, WORD), text_width(name.text, FIGURE, is_bold=True))
    left = right - wide
    marks: list[Shape] = [replace(name, at=(left, top + 4.9))]
    for index, (a, b) in enumerate(pairwise(steps)):
        x0, x1 = left + a / draft.scale.ratio, left + b / draft.scale.ratio
        points = ((x0, top + 7.6), (x1, top + 7.6), (x1, top + 9.4), (x0, top + 9.4))
        fill = Fill.INK if index % 2 == 0 else Fill.PAPER
        marks.append(Polygon(points=points, pen=Pen.FINE, fill=fill, layer="foot"))
    marks.append(Text(at=(left + bar + 2.0, top + 9.6), text=said, size=WORD, layer="foot"))
    return left, tuple(marks)


def _bar_steps(scale: Scale, figures: Figures) -> tuple[float, ...]:
    """Return the ends of the parts of the scale bar [real mm]: round in the job's unit, about 40 mm on paper."""
    unit = 304.8 if figures.is_inch else 1000.0 if figures.is_metric else 10_000 / 33
    choices = [unit * k for k in (INCH_BARS if figures.is_inch else EVEN_BARS)]
    length = min(choices, key=lambda c: abs(c / scale.ratio - 40.0))
    return tuple(length * k / 4 for k in range(5))
