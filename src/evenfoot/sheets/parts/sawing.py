"""The cutting plan: every stick as a bar, its pieces by mark, and where to saw in running dimensions."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evenfoot.cutting import SectionPlan, Stick
from evenfoot.ink import Anchor, Fill, Line, Pen, Polygon, Text, text_width
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.chain import Course, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.grain import long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.lists.flow import GUTTER, Flow, Shape, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing

BAR = 7.0
"""Height of a bar on paper; its width is not to scale [mm]."""
OFFSET = 1.6
READABLE = 25.0
"""Sticks are drawn two abreast where this scale lets them [-]."""
SIDE = 24.0
"""Paper at the left of a bar for how many there are [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Sticks that are sawn at the same places."""

    sticks: tuple[Stick, ...]

    @property
    def first(self) -> Stick:
        """The stick that is drawn."""
        return self.sticks[0]


def alike(section: SectionPlan) -> tuple[Alike, ...]:
    """Return the sticks of a section grouped by where they come from and where they are sawn."""
    groups: dict[object, list[Stick]] = {}
    for stick in section.sticks:
        cuts = tuple((round(c.begin * 2), round(c.finish * 2)) for c in stick.cuts)
        groups.setdefault((stick.source, stick.length, cuts), []).append(stick)
    return tuple(Alike(sticks=tuple(group)) for group in groups.values())


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
    for section in bench.plan.cutting.sections:
        _section(bench, flow, scale, section)


def _section(bench: Bench, flow: Flow, scale: Scale, section: SectionPlan) -> None:
    figures, currency = bench.figures, bench.plan.estimate.currency
    title = bench.say(
        "sheet.section-facts",
        species=figures.said("species", section.species),
        look=figures.look(section.look),
        section=figures.section(section.width, section.depth),
        rough=figures.section(section.rough_width, section.rough_depth),
    )
    bars = [(group, _Bar(bench, group, scale)) for group in alike(section)]
    flow.heading(title, keep=12.0 + max((bar.height for _, bar in bars[:1]), default=0.0))
    proof = "sheet.plan-proved" if section.is_proved else "sheet.plan-bounded"
    flow.paragraph(
        bench.say(
            proof,
            sticks=len(section.sticks),
            used=figures.percent(section.net_length / section.bought_length) if section.bought_length else "–",
            cost=figures.money(section.cost, section.cost, currency),
            bound=figures.money(section.bound, section.bound, currency),
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
    sets = [bench.figures.marks(tuple(c.mark for c in s.cuts)) for s in group.sticks]
    return bench.say("sheet.sticks-alike", marks=bench.say("sheet.semicolon").join(sets))


class _Bar:
    """One bar for all sticks that are sawn alike."""

    def __init__(self, bench: Bench, group: Alike, scale: Scale) -> None:
        self.bench = bench
        self.group = group
        self.scale = scale
        stick = group.first
        ends = [c.finish for c in stick.cuts]
        begins = [c.begin for c in stick.cuts[:1]]
        self.stations = merged(tuple(Station(distance=d) for d in (0.0, *begins, *ends, stick.length)))
        self.below = OFFSET + reach_of(self.stations, bench.figures)

    @property
    def height(self) -> float:
        """Height of the bar with its dimensions [mm]."""
        return BAR + self.below + 3.5

    def draw(self, left: float, top: float) -> tuple[Shape, ...]:
        """Return the drawing with its upper left corner at (left, top)."""
        stick, ratio = self.group.first, self.scale.ratio
        x0, y0 = left + SIDE, top + 1.0
        whole = Polygon(points=_box(x0, x0 + stick.length / ratio, y0), pen=Pen.OBJECT, fill=Fill.SHADE, layer="stick")
        pieces = [s for cut in stick.cuts for s in self._piece(cut.mark, cut.begin, cut.finish, (x0, y0))]
        source = self.bench.say(f"sheet-source.{stick.source}")
        count = f"{len(self.group.sticks)} ×"
        labels = (
            Text(at=(left, y0 + FIGURE), text=count, size=5.0, is_bold=True, layer="stick"),
            Text(at=(left, y0 + FIGURE + 4.4), text=source, size=WORD, layer="stick"),
        )
        course = Course(
            way="across",
            zero=x0,
            edge=y0 + BAR,
            offset=-OFFSET,
            ratio=ratio,
            sign=1.0,
            low=-1.0,
            high=stick.length + 1.0,
            room=(x0 - 6.0, x0 + stick.length / ratio + 6.0),
        )
        return (
            whole,
            *pieces,
            *self._rest(x0, y0),
            *labels,
            *chain(course, self.stations, self.bench.figures),
        )

    def _piece(self, mark: str, begin: float, finish: float, corner: tuple[float, float]) -> tuple[Shape, ...]:
        x0, y0 = corner
        a, b = x0 + begin / self.scale.ratio, x0 + finish / self.scale.ratio
        box = Polygon(points=_box(a, b, y0), pen=Pen.OBJECT, fill=Fill.PAPER, layer="piece", member=mark)
        text = self._label(mark, begin, finish)
        return (box,) if text is None else (box, replace(text, at=_shifted(text.at, (a + b) / 2, y0)))

    @property
    def is_marked(self) -> bool:
        """Whether every piece has room for its mark; else the marks stand in order under the bar."""
        return all(self._label(c.mark, c.begin, c.finish) is not None for c in self.group.first.cuts)

    def _label(self, mark: str, begin: float, finish: float) -> Text | None:
        """Return the mark of a piece about its middle at the top of the bar, with its length where that fits."""
        figures, wide = self.bench.figures, (finish - begin) / self.scale.ratio
        said = figures.mark(mark)
        upright = ((f"{said}  {figures.cut(finish - begin)}", FIGURE), (said, FIGURE), (said, WORD))
        look = Text(at=(0.0, 0.0), text=said, is_bold=True, layer="piece", member=mark)
        for text, size in upright:
            if text_width(text, size, is_bold=True) + 1.0 <= wide:
                return replace(look, at=(0.0, BAR / 2 + 0.765 * size / 2), text=text, size=size, anchor=Anchor.MIDDLE)
        if wide >= WORD + 0.4 and text_width(said, WORD, is_bold=True) <= BAR - 0.8:
            return replace(look, at=(0.765 * WORD / 2, BAR - 0.4), size=WORD, angle_deg=90.0)
        return None

    def _rest(self, x0: float, y0: float) -> tuple[Line | Text, ...]:
        """Return grain on what is kept, or a cross on what is not, with its length where there is room."""
        stick = self.group.first
        last = max((c.finish for c in stick.cuts), default=0.0)
        a, b = x0 + last / self.scale.ratio, x0 + stick.length / self.scale.ratio
        if b - a < 1.0:
            return ()
        if not stick.is_kept:
            return (
                Line(a=(a, y0), b=(b, y0 + BAR), layer="stick"),
                Line(a=(a, y0 + BAR), b=(b, y0), layer="stick"),
            )
        said = self.bench.say("sheet.kept", length=self.bench.figures.cut(stick.left_over))
        grain = long_grain((a, y0), b - a, BAR, seed=f"{stick.length}")
        if text_width(said, WORD) + 1.0 > b - a:
            return grain
        text = Text(
            at=((a + b) / 2, y0 + BAR / 2 + 0.765 * WORD / 2),
            text=said,
            size=WORD,
            anchor=Anchor.MIDDLE,
            layer="stick",
        )
        return (text,)


def _shifted(at: tuple[float, float], x: float, y: float) -> tuple[float, float]:
    return (at[0] + x, at[1] + y)


def _box(a: float, b: float, top: float) -> tuple[tuple[float, float], ...]:
    return ((a, top), (b, top), (b, top + BAR), (a, top + BAR))


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
            cut.mark,
            cut.begin,
            cut.finish,
            cut.finish - cut.begin,
        )
        for section in bench.plan.cutting.sections
        for number, stick in enumerate(section.sticks, start=1)
        for cut in stick.cuts
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
        ),
        rows=tuple(rows),
    )
