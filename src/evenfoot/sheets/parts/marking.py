"""Marking out: every different timber with its four faces unrolled, cuts in running dimensions from the named end."""

from __future__ import annotations

from evenfoot.frame import Member
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.paper import FIGURE
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.lists.flow import Flow, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing
from evenfoot.sheets.parts.framing import is_along_x
from evenfoot.sheets.parts.post_side import post_flow
from evenfoot.sheets.parts.timber_net import (
    NARROWEST,
    ROOM_BEFORE,
    ROOM_PAST,
    Pattern,
    TimberNet,
    is_handed,
    places_of_cuts,
)


def patterns(bench: Bench) -> tuple[Pattern, ...]:
    """Return the timbers grouped by section, cuts and the side in sight, in the order of their marks' first appearance.

    Mirror images are different timbers and stay apart.
    """
    groups: dict[object, list[Member]] = {}
    for member in bench.plan.frame.members:
        groups.setdefault(_signature(bench, member), []).append(member)
    return tuple(
        Pattern(members=tuple(group), cuts=_worked(bench, group[0]), seen=seen_side(bench, group[0]))
        for group in groups.values()
    )


def seen_side(bench: Bench, member: Member) -> Face | None:
    """Return the side of a timber that stays in sight: the outer one of the frame's left, right and outer edges."""
    if not member.is_seen:
        return None
    across = 1 if is_along_x(member) else 0
    places = [m.start[across] for m in bench.plan.frame.members if m.role is member.role and m.axis is member.axis]
    if is_along_x(member):
        return Face.LEFT if member.start[1] >= max(places) - 1.0 else None
    if member.start[0] <= min(places) + 1.0:
        return Face.LEFT
    return Face.RIGHT if member.start[0] >= max(places) - 1.0 else None


def _worked(bench: Bench, member: Member) -> tuple[Cut, ...]:
    return tuple(c for c in bench.plan.joinery.cuts_on(member.mark) if c.kind is not CutKind.SQUARE_END)


def _signature(bench: Bench, member: Member) -> object:
    what = (
        member.role,
        is_along_x(member),
        member.species,
        member.look,
        member.width,
        member.depth,
        round(member.length * 2),
        seen_side(bench, member),
    )
    cuts = _worked(bench, member)
    where = places_of_cuts(Pattern(members=(member,), cuts=cuts))
    return what, where, tuple(line_of(c, member) for c in cuts)


def scale_for(bench: Bench, found: tuple[Pattern, ...]) -> Scale:
    """Return the one scale at which every timber fits across a sheet."""
    longest = max((p.first.length for p in found), default=1000.0)
    longest = max(longest, *(c.length for c in bench.plan.posts.cuts))
    widest = max((NARROWEST * p.first.width / min(p.first.width, p.first.depth) for p in found), default=NARROWEST)
    room = Room(width=bench.area.width - ROOM_BEFORE - ROOM_PAST - widest, height=bench.area.height)
    return fitting(scales(bench.figures), room, width=longest, height=0.0, coarsest=float("inf"))


def marking_flow(bench: Bench, flow: Flow, scale: Scale, found: tuple[Pattern, ...]) -> None:
    """Write every different timber: its marks, its faces, its cuts."""
    flow.paragraph(bench.say("sheet-note.marking"), Style(after=3.0))
    nets = [TimberNet(bench, pattern, scale) for pattern in found]
    widest = max((net.width for net in nets), default=0.0)
    for net in nets:
        _pattern(bench, flow, net, (widest, found))
    post_flow(bench, flow, scale)


def _pattern(bench: Bench, flow: Flow, net: TimberNet, among: tuple[float, tuple[Pattern, ...]]) -> None:
    pattern, figures = net.pattern, bench.figures
    widest, found = among
    flow.heading(
        bench.say("sheet.timbers-alike", marks=figures.marks(tuple(m.mark for m in pattern.members))),
        keep=net.height + 20.0,
    )
    flow.paragraph(_facts(bench, pattern), Style(size=FIGURE, after=0.8))
    twin = mirror_of(pattern, found)
    if twin is not None:
        said = bench.say("sheet.mirror-of", mark=figures.mark(twin.first.mark))
        flow.paragraph(said, Style(size=FIGURE, is_bold=True, after=0.8))
    flow.gap(1.0)
    if not pattern.cuts:
        flow.figure(net.height, net.draw)
    elif not flow.beside(cut_list(bench, pattern), net.height, net.draw, widest):
        flow.figure(net.height, net.draw)
        flow.listing(cut_list(bench, pattern), has_title=False)
    flow.gap(3.0)


def _facts(bench: Bench, pattern: Pattern) -> str:
    """Return how many, of which wood, from which rough section, how long."""
    member, figures = pattern.first, bench.figures
    rough = next(
        (
            figures.section(s.rough_width, s.rough_depth)
            for s in bench.plan.cutting.sections
            if any(c.mark == member.mark for stick in s.sticks for c in stick.cuts)
        ),
        "",
    )
    section = figures.section(member.width, member.depth)
    if rough and rough != section:
        section = bench.say("sheet.planed-from", rough=rough, section=section)
    return bench.say(
        "sheet.timber-facts",
        count=len(pattern.members),
        species=figures.said("species", member.species),
        look=figures.look(member.look),
        section=section,
        length=figures.cut(member.length),
    )


def mirror_of(pattern: Pattern, found: tuple[Pattern, ...]) -> Pattern | None:
    """Return another pattern that is this one seen in a mirror and not this one turned round, so easily mistaken."""
    if not is_handed(pattern):
        return None
    images = {places_of_cuts(pattern, is_swapped=True), places_of_cuts(pattern, is_turned=True)}
    for other in found:
        is_alike = other is not pattern and _size(other.first) == _size(pattern.first)
        if is_alike and places_of_cuts(other) in images:
            return other
    return None


def _size(member: Member) -> tuple[float, float, int]:
    return member.width, member.depth, round(member.length * 2)


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
