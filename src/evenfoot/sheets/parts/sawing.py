"""The cutting plan: every stick as a bar, its pieces by mark, and where to saw in running dimensions."""

from __future__ import annotations

from evenfoot.cutting import PlacedCut, SectionPlan, told
from evenfoot.ink import Pen
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.lists.flow import GUTTER, Flow, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing
from evenfoot.sheets.parts.stick_bar import SIDE, Alike, Bar, alike

READABLE = 25.0
"""Sticks are drawn two abreast where this scale lets them [-]."""


def columns_of(bench: Bench) -> int:
    """Return 2 where the longest stick stands well in half of a sheet, else 1."""
    half = (bench.area.width - GUTTER) / 2 - SIDE - 8.0
    return 2 if _longest(bench) / READABLE <= half else 1


def _longest(bench: Bench) -> float:
    return max((s.length for p in bench.plan.cutting.sections for s in p.sticks), default=1000.0)


def scale_for(bench: Bench) -> Scale:
    """Return the one scale at which the longest stick fits across a column."""
    count = columns_of(bench)
    width = (bench.area.width - GUTTER * (count - 1)) / count
    room = Room(width=width - SIDE - 8.0, height=1.0)
    return fitting(scales(bench.figures), room, width=_longest(bench), height=0.0, coarsest=float("inf"))


def sawing_flow(bench: Bench, flow: Flow, scale: Scale) -> None:
    """Write every section with its sticks."""
    yard = bench.plan.yard
    flow.paragraph(
        bench.say("sheet-note.sawing", kerf_mm=yard.kerf, trim_mm=yard.end_trim, keep_mm=yard.keep), Style(after=2.0)
    )
    cutting = bench.plan.cutting
    if any(stick.name or stick.bad or stick.flaws for section in cutting.sections for stick in section.sticks):
        flow.paragraph(bench.say("sheet-note.sawing-hand"), Style(after=2.0))
    for section in cutting.sections:
        _section(bench, flow, scale, section)
    _left_out(bench, flow)
    _idle(bench, flow, scale)


def _left_out(bench: Bench, flow: Flow) -> None:
    """Write which pieces stand on no stick: they are wanted all the same."""
    left_out = bench.plan.cutting.left_out
    if not left_out:
        return
    flow.heading(bench.say("sheet.left-out", count=len(left_out)), keep=10.0)
    told_lengths: dict[float, list[str]] = {}
    for piece in left_out:
        told_lengths.setdefault(piece.length, []).append(piece.mark)
    for length, marks in told_lengths.items():
        said = bench.say(
            "sheet.left-out-pieces", length=bench.figures.cut(length), marks=bench.figures.marks(tuple(marks))
        )
        flow.paragraph(said, Style(pen=Pen.ALARM, after=0.8))
    flow.gap(2.0)


def _idle(bench: Bench, flow: Flow, scale: Scale) -> None:
    """Draw the sticks in hand that nothing more is cut from, with what is left of them."""
    idle = bench.plan.cutting.idle
    if not idle:
        return
    bars = [Bar(bench, Alike(sticks=(stick,)), scale, width=1.0) for stick in idle]
    flow.heading(bench.say("cut.idle-heading"), keep=bars[0].height)
    for bar in bars:
        flow.figure(bar.height, bar.draw)


def _section(bench: Bench, flow: Flow, scale: Scale, section: SectionPlan) -> None:
    figures, currency = bench.figures, bench.plan.estimate.currency
    sawn = (section.rough_width, section.rough_depth)
    is_planed = sawn == (section.width, section.depth)
    title = bench.say(
        "sheet.section-planed" if is_planed else "sheet.section-facts",
        species=figures.said("species", section.species),
        look=figures.look(section.look),
        section=figures.section(section.width, section.depth),
        rough=figures.section(*sawn),
    )
    width = max(section.width, section.depth)
    bars = [(group, Bar(bench, group, scale, width=width)) for group in alike(section)]
    flow.heading(title, keep=12.0 + max((bar.height for _, bar in bars[:1]), default=0.0))
    tally = told.tally((section,))
    flow.paragraph(
        bench.say(
            "sheet.section-told",
            sticks=len(section.sticks),
            name=section.label or "–",
            cost=figures.money(section.cost, section.cost, currency),
            percent=f"{tally.waste_share * 100:.1f}",
            waste=figures.money(tally.waste_cost, tally.waste_cost, currency),
            proof=proof_words(bench, tally),
        ),
        Style(after=2.0),
    )
    for group, bar in bars:
        if bar.height > flow.rest:
            flow.turn()
            flow.heading(title, keep=bar.height)
        flow.figure(bar.height, bar.draw)
        if len(group.sticks) > 1 or not bar.is_marked:
            flow.paragraph(_marks_of(bench, group), Style(indent=SIDE, after=2.5))


def _marks_of(bench: Bench, group: Alike) -> str:
    """Return the marks on each of the sticks that share a bar."""
    sets = [bench.say("sheet.comma").join(_said(bench, cut) for cut in stick.cuts) for stick in group.sticks]
    return bench.say("sheet.sticks-alike", marks=bench.say("sheet.semicolon").join(sets))


def _said(bench: Bench, cut: PlacedCut) -> str:
    """Return the mark of a piece, and of those ripped from it with their finished widths."""
    figures = bench.figures
    if not cut.rips:
        return figures.mark(cut.mark)
    rips = (f"{figures.mark(r.mark)} {figures.cut(r.length)} × {figures.cut(r.width)}" for r in cut.rips)
    return bench.say("cut.ripped", rips=" | ".join(rips))


def proof_words(bench: Bench, tally: told.Tally) -> str:
    """Return whether a plan is the best there is, or what a better one could save at most."""
    proof = told.proof_of(tally)
    gap = bench.figures.money(proof.gap, proof.gap, bench.plan.estimate.currency)
    return bench.say(proof.code, gap=gap, percent=proof.percent, count=proof.sticks)


def stick_list(bench: Bench) -> Listing:
    """Return every piece on every stick with where it begins and ends."""
    figures = bench.figures
    rows = [
        (
            number,
            figures.said("species", section.species),
            figures.section(section.width, section.depth),
            bench.say(f"sheet-source.{stick.source}"),
            stick.length,
            mark,
            cut.begin,
            cut.finish,
            length,
            width,
            bench.say("sheet.is-sawn") if cut.is_done else "",
        )
        for section in bench.plan.cutting.sections
        for number, stick in enumerate(section.sticks, start=1)
        for cut in stick.cuts
        for mark, length, width in _parts_of(cut)
    ]
    return Listing(
        code="sawing",
        fields=(
            Field(code="stick", kind=Kind.COUNT),
            Field(code="species"),
            Field(code="section"),
            Field(code="source"),
            Field(code="stick-length", kind=Kind.LENGTH),
            Field(code="mark", kind=Kind.MARK),
            Field(code="from", kind=Kind.CUT),
            Field(code="to", kind=Kind.CUT),
            Field(code="length", kind=Kind.CUT),
            Field(code="rip-width", kind=Kind.CUT),
            Field(code="state"),
        ),
        rows=tuple(rows),
    )


def _parts_of(cut: PlacedCut) -> list[tuple[str, float, float | None]]:
    """Return mark, length and ripped width of everything that comes from one length [mm]."""
    if not cut.rips:
        return [(cut.mark, cut.finish - cut.begin, None)]
    return [(rip.mark, rip.length, rip.width) for rip in cut.rips]
