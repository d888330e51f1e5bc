"""Marking out: every different timber from the side, its cuts in running dimensions from the named end."""

from __future__ import annotations

from evenfoot.frame import Member
from evenfoot.joints import Cut, CutKind
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.paper import FIGURE
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.lists.flow import Flow, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing
from evenfoot.sheets.parts.framing import is_along_x
from evenfoot.sheets.parts.timber_side import DEEPEST, ROOM_AT_ENDS, Pattern, TimberSide


def patterns(bench: Bench) -> tuple[Pattern, ...]:
    """Return the timbers grouped by section and cuts, in the order of their marks' first appearance."""
    groups: dict[object, list[Member]] = {}
    for member in bench.plan.frame.members:
        groups.setdefault(_signature(member, _worked(bench, member)), []).append(member)
    return tuple(Pattern(members=tuple(group), cuts=_worked(bench, group[0])) for group in groups.values())


def _worked(bench: Bench, member: Member) -> tuple[Cut, ...]:
    return tuple(c for c in bench.plan.joinery.cuts_on(member.mark) if c.kind is not CutKind.SQUARE_END)


def _signature(member: Member, cuts: tuple[Cut, ...]) -> object:
    what = (
        member.role,
        is_along_x(member),
        member.species,
        member.look,
        member.width,
        member.depth,
        round(member.length * 2),
    )
    where = tuple(
        (
            c.kind,
            c.face,
            round(c.begin * 2),
            round(c.finish * 2),
            round(c.depth * 2),
            round(c.height * 2),
            c.angle_deg,
            line_of(c, member),
        )
        for c in cuts
    )
    return what, where


def scale_for(bench: Bench, found: tuple[Pattern, ...]) -> Scale:
    """Return the one scale at which every timber fits across a sheet."""
    longest = max((p.first.length for p in found), default=1000.0)
    deepest = max((p.first.depth for p in found), default=100.0)
    room = Room(width=bench.area.width - 2 * ROOM_AT_ENDS, height=DEEPEST)
    return fitting(scales(bench.figures), room, width=longest, height=deepest, coarsest=float("inf"))


def marking_flow(bench: Bench, flow: Flow, scale: Scale, found: tuple[Pattern, ...]) -> None:
    """Write every different timber: its marks, its side, its cuts."""
    flow.paragraph(bench.say("sheet-note.marking"), Style(after=3.0))
    sides = [TimberSide(bench, pattern, scale) for pattern in found]
    widest = max((side.width for side in sides), default=0.0)
    for side in sides:
        _pattern(bench, flow, side, widest)


def _pattern(bench: Bench, flow: Flow, side: TimberSide, widest: float) -> None:
    pattern, figures = side.pattern, bench.figures
    member = pattern.first
    flow.heading(
        bench.say("sheet.timbers-alike", marks=figures.marks(tuple(m.mark for m in pattern.members))),
        keep=side.height + 20.0,
    )
    flow.paragraph(
        bench.say(
            "sheet.timber-facts",
            count=len(pattern.members),
            species=figures.said("species", member.species),
            look=figures.look(member.look),
            section=figures.section(member.width, member.depth),
            length=figures.cut(member.length),
        ),
        Style(size=FIGURE, after=2.0),
    )
    if not pattern.cuts:
        flow.figure(side.height, side.draw)
    elif not flow.beside(cut_list(bench, pattern), side.height, side.draw, widest):
        flow.figure(side.height, side.draw)
        flow.listing(cut_list(bench, pattern), has_title=False)
    flow.gap(3.0)


CUT_FIELDS = (
    Field(code="cut"),
    Field(code="face"),
    Field(code="from", kind=Kind.CUT),
    Field(code="to", kind=Kind.CUT),
    Field(code="depth", kind=Kind.CUT),
    Field(code="down", kind=Kind.CUT),
    Field(code="lean", kind=Kind.NUMBER),
)
"""What is told of one cut, on the sheet and in the workbook."""


def cut_list(bench: Bench, pattern: Pattern) -> Listing:
    """Return the cuts of one pattern, numbered as on its drawing."""
    return Listing(
        code="cuts",
        fields=(
            Field(code="number", kind=Kind.COUNT),
            *CUT_FIELDS,
            Field(code="with", kind=Kind.MARK),
        ),
        rows=tuple(
            (
                number,
                bench.say(f"sheet-cut.{cut.kind.value}"),
                bench.say(f"sheet-face.{cut.face.value}"),
                cut.begin,
                cut.finish,
                cut.depth or None,
                cut.height or None,
                cut.angle_deg or None,
                line_of(cut, pattern.first),
            )
            for number, cut in enumerate(pattern.cuts, start=1)
        ),
    )


def all_cuts(bench: Bench) -> Listing:
    """Return every cut on every timber, for the workbook."""
    return Listing(
        code="cuts",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            *CUT_FIELDS,
        ),
        rows=tuple(
            (
                cut.member,
                bench.say(f"sheet-cut.{cut.kind.value}"),
                bench.say(f"sheet-face.{cut.face.value}"),
                cut.begin,
                cut.finish,
                cut.depth,
                cut.height,
                cut.angle_deg,
            )
            for cut in bench.plan.joinery.cuts
        ),
    )


def line_of(cut: Cut, member: Member) -> str:
    """Return the grid line of the other timber of a joint: a letter on timbers along the house, else a number."""
    place = cut.joint.split(".", 1)[0]
    wanted = str.isalpha if is_along_x(member) else str.isdigit
    return "".join(c for c in place if wanted(c)) or place
