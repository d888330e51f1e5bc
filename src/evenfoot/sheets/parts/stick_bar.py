"""One stick on paper: a bar with its pieces, what is bad, what is sawn already, what is left, and where to saw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from evenfoot.cutting import PlacedCut, SectionPlan, Stick
from evenfoot.ink import Anchor, Fill, Line, Pen, Polygon, Text, text_width
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.chain import Course, Station, chain, merged, reach_of
from evenfoot.sheets.drafting.grain import long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import Shape

BAR = 7.0
"""Height of a bar on paper; its width is not to scale [mm]."""
OFFSET = 1.6
HATCH = 0.9
"""Paper between the strokes of a bad stretch [mm]."""
FLAW = 1.4
"""Paper that the strokes of a flaw reach in from the edge of a bar [mm]."""
WIDE_GAP = 20.5
"""Wider than any saw cut: what lies between is lost on purpose [mm, real]."""
Stretch = tuple[float, float]
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
        cuts = tuple((round(c.begin * 2), round(c.finish * 2), len(c.rips), c.is_done) for c in stick.cuts)
        groups.setdefault((stick.source, stick.name, stick.where, stick.length, cuts), []).append(stick)
    return tuple(Alike(sticks=tuple(group)) for group in groups.values())


class Bar:
    """One bar for all sticks that are sawn alike."""

    def __init__(self, bench: Bench, group: Alike, scale: Scale, *, width: float) -> None:
        self.bench = bench
        self.group = group
        self.scale = scale
        self.stick_width = width
        stick = group.first
        self.stations = merged(tuple(Station(distance=d) for d in (0.0, *_places(stick), stick.length)))
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
        pieces = [shape for cut in stick.cuts for shape in self._piece(cut, (x0, y0))]
        source = self.bench.say(f"sheet-source.{stick.source}")
        count = f"{len(self.group.sticks)} ×"
        labels = (
            Text(at=(left, y0 + FIGURE), text=count, size=5.0, is_bold=True, layer="stick"),
            Text(at=(left, y0 + FIGURE + 4.4), text=source, size=WORD, layer="stick"),
            *self._name(left, y0 + FIGURE + 8.0),
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
            *(shape for stretch in _wasted(stick) for shape in self._crossed(stretch, (x0, y0))),
            *(shape for stretch in stick.kept for shape in self._kept(stretch, (x0, y0))),
            *(shape for stretch in stick.bad for shape in self._spoilt(stretch, (x0, y0), is_bad=True)),
            *(shape for stretch in stick.flaws for shape in self._spoilt(stretch, (x0, y0), is_bad=False)),
            *labels,
            *chain(course, self.stations, self.bench.figures),
        )

    def _name(self, left: float, base: float) -> tuple[Text, ...]:
        """Return what is written on a stick that was measured."""
        name = self.bench.figures.mark(self.group.first.name)
        return (Text(at=(left, base), text=name, size=WORD, is_bold=True, layer="stick"),) if name else ()

    def _piece(self, cut: PlacedCut, corner: tuple[float, float]) -> Iterator[Shape]:
        """Yield a piece with its mark; one that is sawn already is shaded, one that is ripped has its parts."""
        x0, y0 = corner
        a, b = x0 + cut.begin / self.scale.ratio, x0 + cut.finish / self.scale.ratio
        fill = Fill.SHADE if cut.is_done else Fill.PAPER
        yield Polygon(points=_box(a, b, y0), pen=Pen.OBJECT, fill=fill, layer="piece", member=cut.mark)
        if cut.rips:
            y = y0 + BAR * max(0.2, min(0.8, cut.rips[0].width / self.stick_width))
            yield Line(a=(a, y), b=(b, y), pen=Pen.OBJECT, layer="piece")
        text = self._label(cut)
        if text is not None:
            yield replace(text, at=_shifted(text.at, (a + b) / 2, y0))

    @property
    def is_marked(self) -> bool:
        """Whether every piece has room for its mark; else the marks stand in order under the bar."""
        return all(self._label(cut) is not None and not cut.rips for cut in self.group.first.cuts)

    def _label(self, cut: PlacedCut) -> Text | None:
        """Return the mark of a piece about its middle at the top of the bar, with its length where that fits."""
        if cut.rips:
            return None  # widths and marks stand under the bar
        figures, wide = self.bench.figures, (cut.finish - cut.begin) / self.scale.ratio
        said = figures.mark(cut.mark)
        if cut.is_done:
            said = self.bench.say("cut.is-sawn", piece=said)
        upright = ((f"{said}  {figures.cut(cut.finish - cut.begin)}", FIGURE), (said, FIGURE), (said, WORD))
        look = Text(at=(0.0, 0.0), text=said, is_bold=True, layer="piece", member=cut.mark)
        for text, size in upright:
            if text_width(text, size, is_bold=True) + 1.0 <= wide:
                return replace(look, at=(0.0, BAR / 2 + 0.765 * size / 2), text=text, size=size, anchor=Anchor.MIDDLE)
        if wide >= WORD + 0.4 and text_width(said, WORD, is_bold=True) <= BAR - 0.8:
            return replace(look, at=(0.765 * WORD / 2, BAR - 0.4), size=WORD, angle_deg=90.0)
        return None

    def _crossed(self, stretch: Stretch, corner: tuple[float, float]) -> tuple[Shape, ...]:
        """Return a cross over what is wasted."""
        a, b, y0 = self._span(stretch, corner)
        if b - a < 1.0:
            return ()
        return (
            Line(a=(a, y0), b=(b, y0 + BAR), layer="stick"),
            Line(a=(a, y0 + BAR), b=(b, y0), layer="stick"),
        )

    def _kept(self, stretch: Stretch, corner: tuple[float, float]) -> tuple[Shape, ...]:
        """Return what is kept with its length, or its grain where there is no room for that."""
        a, b, y0 = self._span(stretch, corner)
        said = self.bench.say("sheet.kept", length=self.bench.figures.cut(stretch[1] - stretch[0]))
        if text_width(said, WORD) + 1.0 > b - a:
            return long_grain((a, y0), b - a, BAR, seed=f"{self.group.first.length}") if b - a >= 1.0 else ()
        at = ((a + b) / 2, y0 + BAR / 2 + 0.765 * WORD / 2)
        return (Text(at=at, text=said, size=WORD, anchor=Anchor.MIDDLE, layer="stick"),)

    def _spoilt(self, stretch: Stretch, corner: tuple[float, float], *, is_bad: bool) -> tuple[Shape, ...]:
        """Return a bad stretch, closely hatched; a flaw the same along one edge, since a piece may hold it."""
        a, b, y0 = self._span(stretch, corner)
        count = max(2, round((b - a) / HATCH))
        xs = [a + (b - a) * n / count for n in range(count + 1)]
        foot = y0 + (BAR if is_bad else FLAW)
        return tuple(Line(a=(x, y0), b=(x, foot), pen=Pen.ALARM, layer="bad") for x in xs)

    def _span(self, stretch: Stretch, corner: tuple[float, float]) -> tuple[float, float, float]:
        x0, y0 = corner
        return x0 + stretch[0] / self.scale.ratio, x0 + stretch[1] / self.scale.ratio, y0


def _places(stick: Stick) -> Iterator[float]:
    """Yield where the saw is set: both ends of each clear run, and the far end of every piece."""
    before = -1.0
    for cut in stick.cuts:
        if cut.begin - before > WIDE_GAP or before < 0:
            yield cut.begin
        yield cut.finish
        before = cut.finish


def _wasted(stick: Stick) -> Iterator[Stretch]:
    """Yield what is neither a piece, nor kept, nor bad, beyond a saw cut: the ends that go to the fire."""
    taken = sorted((*((c.begin, c.finish) for c in stick.cuts), *stick.kept, *stick.bad, (stick.length, stick.length)))
    at = 0.0
    for begin, finish in taken:
        if begin - at > WIDE_GAP:
            yield at, begin
        at = max(at, finish)


def _shifted(at: tuple[float, float], x: float, y: float) -> tuple[float, float]:
    return (at[0] + x, at[1] + y)


def _box(a: float, b: float, top: float) -> tuple[tuple[float, float], ...]:
    return ((a, top), (b, top), (b, top + BAR), (a, top + BAR))
