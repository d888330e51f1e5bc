"""The first sheet: the job, how the plan stands, its key numbers, a key plan, the sheets, and what is still open."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from evenfoot.checks import Verdict
from evenfoot.frame import Role
from evenfoot.ink import Anchor, Pen, Text, text_width
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.paper import FIGURE, WORD, Area
from evenfoot.sheets.drafting.plans import Bands, Subject, house, windows
from evenfoot.sheets.drafting.scale import Scale, scales
from evenfoot.sheets.drafting.sketch import Shape, Sketch, paper_box
from evenfoot.sheets.lists.flow import SAMPLE, Flow, Style
from evenfoot.sheets.lists.listing import SHAPES
from evenfoot.sheets.parts.findings import Group, groups
from evenfoot.sheets.parts.framing import outline_of

BIG = 6.0
"""Size of the key numbers [mm]."""
GUTTER = 12.0
LEAST_PLAN = 40.0
"""Height that the key plan takes at least [mm]."""
INDEX_HEAD, INDEX_ROW = 16.0, 5.6
"""Height of the heading and of one line of the list of sheets [mm]."""
INDEX_LONGEST = 14
"""More lines than this stand in two columns."""


def cover_sheet(bench: Bench, others: Sequence[Draft]) -> Draft:
    """Return the first sheet; the others follow it in their order, numbered from 2."""
    area = bench.area
    middle = (area.left + area.right) / 2
    left = Area(left=area.left, top=area.top, right=middle - GUTTER / 2, bottom=area.bottom)
    right = Area(left=middle + GUTTER / 2, top=area.top, right=area.right, bottom=area.bottom)
    count = len(list(groupby(others, key=lambda draft: draft.group)))
    rows = -(-count // _index_columns(count))
    split = max(area.top + LEAST_PLAN, right.bottom - INDEX_HEAD - rows * INDEX_ROW)
    scale, plan = _key_plan(bench, Area(left=right.left, top=right.top, right=right.right, bottom=split))
    index = _index(bench, Area(left=right.left, top=split + 4.0, right=right.right, bottom=right.bottom), others)
    return Draft(
        code="cover",
        group=bench.say("sheet-title.cover"),
        title=bench.say("sheet-title.cover"),
        shapes=(*_summary(bench, left), *plan, *index),
        scale=scale,
        house="below",
    )


def _summary(bench: Bench, area: Area) -> tuple[Shape, ...]:
    """Return job, verdict, key numbers and open findings down the left half."""
    flow = Flow(area, bench.figures)
    plan = bench.plan
    flow.paragraph(plan.job.name, Style(size=7.0, is_bold=True, after=1.0))
    flow.paragraph(bench.figures.day(plan.job.date), Style(size=FIGURE, after=3.0))
    is_ok = plan.verdict is Verdict.OK
    verdict = f"{SHAPES[plan.verdict]} {bench.say(f'sheet-verdict.{plan.verdict.value}')}"
    flow.paragraph(verdict, Style(size=5.0, is_bold=True, pen=Pen.FINE if is_ok else Pen.ALARM, after=3.0))
    for label, value in _numbers(bench):
        _number(flow, label, value)
    if plan.shop.is_sample:
        flow.gap(1.0)
        flow.paragraph(bench.say("notice.sample-prices"), SAMPLE)
    flow.gap(3.0)
    _open_findings(bench, flow)
    flow.paragraph(bench.say("notice.second-opinion"), Style(is_bold=True, after=0.0))
    return tuple(flow.pages[0])


def _numbers(bench: Bench) -> tuple[tuple[str, str], ...]:
    plan, figures = bench.plan, bench.figures
    estimate, length = plan.estimate, bench.figures.speaker.length
    (x0, x1), (y0, y1) = bench.outline_x, bench.outline_y
    cuts = [c.length for c in plan.posts.cuts if c.is_cut]
    roles = [m.role for m in plan.frame.members]
    hours = figures.range(sum(w.low for w in estimate.work), sum(w.high for w in estimate.work), 0)
    days = bench.say("sheet-key.days", days=plan.programme.days)
    posts = f"{len(cuts)}   {figures.cut(min(cuts))} – {figures.cut(max(cuts))}" if cuts else "0"
    return (
        (bench.say("sheet-key.floor"), f"{length(x1 - x0)} × {length(y1 - y0)}"),
        (bench.say("sheet-key.boards"), f"{len(plan.layout.rows)} / {len(plan.layout.pieces)}"),
        (bench.say("sheet-key.gap"), length(plan.layout.gap)),
        (bench.say("sheet-key.timbers"), f"{roles.count(Role.BEAM)} / {roles.count(Role.JOIST)}"),
        (bench.say("sheet-key.posts"), posts),
        (bench.say("sheet-key.mass"), f"{figures.number(plan.timber.total_mass, 0)} kg"),
        (
            bench.say("sheet-key.work"),
            f"{hours} h · {days}",
        ),
        (bench.say("sheet-key.price"), figures.money(estimate.total.low, estimate.total.high, estimate.currency)),
    )


def _number(flow: Flow, label: str, value: str) -> None:
    """Write one key number, large, with its small label at the left, or above it where both are long."""
    if text_width(label, WORD) + text_width(value, BIG, is_bold=True) + 4.0 > flow.width:
        flow.paragraph(label, Style(pen=Pen.PENCIL, after=-1.5))
        label = ""
    base = flow.y + BIG
    flow.put(
        Text(at=(flow.left, base), text=label, size=WORD, pen=Pen.PENCIL, layer="key"),
        Text(at=(flow.left + flow.width, base), text=value, size=BIG, anchor=Anchor.END, is_bold=True, layer="key"),
    )
    flow.y += BIG * 1.5


def _open_findings(bench: Bench, flow: Flow) -> None:
    """Write what is not ok, gravest first, as far as there is room; the rest is pointed to."""
    found = [g for g in groups(bench.plan.checks) if g.worst.verdict is not Verdict.OK]
    if not found:
        return
    count = sum(c.verdict is not Verdict.OK for c in bench.plan.checks)
    flow.heading(bench.say("sheet.open-findings", count=count, kinds=len(found)), keep=8.0)
    opinion = 16.0
    for index, group in enumerate(found):
        text = f"{SHAPES[group.worst.verdict]} {_told(bench, group)}"
        style = Style(after=0.8, indent=2.0, pen=Pen.ALARM if group.worst.verdict is Verdict.FAILS else Pen.FINE)
        height = _height(flow, text)
        if flow.rest < height + opinion + 8.0:
            flow.paragraph(bench.say("sheet.more-findings", count=len(found) - index), Style(is_bold=True, after=2.0))
            return
        flow.paragraph(text, style)
    flow.gap(2.0)


def _told(bench: Bench, group: Group) -> str:
    """Return a finding with everything else that it holds for."""
    said = bench.figures.speaker.check(group.worst)
    if not group.others:
        return said
    subjects = tuple(bench.figures.subject(s) for s in group.others)
    return bench.say("sheet.and-others", said=said, marks=bench.figures.some(subjects))


def _height(flow: Flow, text: str) -> float:
    trial = Flow(Area(left=0.0, top=0.0, right=flow.width, bottom=10_000.0), flow.figures)
    trial.paragraph(text, Style(after=0.8, indent=2.0))
    return trial.y


def _key_plan(bench: Bench, area: Area) -> tuple[Scale, tuple[Shape, ...]]:
    """Return the whole floor with frame and posts at one small scale, nothing measured."""
    low, high = bench.outline_y
    subject = Subject(code="key", u=bench.outline_x, v=(min(0.0, low), high))
    bands = Bands(left=4.0, right=4.0, top=2.0, bottom=12.0)
    choices = scales(bench.figures)
    (window,) = windows(subject, bands, area, choices, coarsest=float("inf"))[:1]
    sketch = Sketch(window.view, area)
    sketch.area_of(bench.plan.layout.outline, paper_box(layer="floor"))
    for member in bench.plan.frame.members:
        low_corner, high_corner = outline_of(member)
        corners = (low_corner, (high_corner[0], low_corner[1]), high_corner, (low_corner[0], high_corner[1]))
        sketch.area_of(corners, paper_box(pen=Pen.FINE, layer=member.role.value, member=member.mark))
    sketch.add(*house(window.view, bench.figures, stands=bench.has_house, lines=bench.post_lines))
    return window.scale, sketch.finish()


def _index(bench: Bench, area: Area, others: Sequence[Draft]) -> tuple[Shape, ...]:
    """Return the list of sheets, in two columns where one would be too long; parts of one drawing share a line."""
    flow = Flow(area, bench.figures)
    flow.heading(bench.say("sheet.index"), keep=0.0)
    lines: list[tuple[str, str]] = []
    number = 2
    for title, parts in groupby(others, key=lambda draft: draft.group):
        count = len(list(parts))
        lines.append((str(number) if count == 1 else f"{number} – {number + count - 1}", title))
        number += count
    columns = _index_columns(len(lines))
    size, gap = (FIGURE, 3.0) if columns == 1 else (WORD, 1.6)
    stub, rows = size * (4.5 if columns == 1 else 3.8), -(-len(lines) // columns)
    widest = max(text_width(title, size) for _, title in lines[:rows])
    for k, (numbers, title) in enumerate(lines):
        left = flow.left + (k // rows) * (stub + gap + widest + 4.0)
        base = flow.y + size + (k % rows) * INDEX_ROW
        at = (left + stub, base)
        flow.put(
            Text(at=at, text=numbers, size=size, anchor=Anchor.END, is_bold=True, layer="index"),
            Text(at=(at[0] + gap, base), text=title, size=size, layer="index"),
        )
    return tuple(flow.pages[0])


def _index_columns(count: int) -> int:
    return 1 if count <= INDEX_LONGEST else 2
