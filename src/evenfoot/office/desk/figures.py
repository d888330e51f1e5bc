"""The figures by which plans are told apart: size, counts, posts, price, hours, bounce, waste and what falls short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.checks import Verdict
from evenfoot.cutting import told
from evenfoot.office.summary import Summary, summarise
from evenfoot.plan import Plan
from evenfoot.sheets import Figures

_M2 = 1e6


class Better(StrEnum):
    """Which of two figures a carpenter would rather have; ``neither`` where that is a matter of the job."""

    LESS = "less"
    MORE = "more"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of a plan: a code, its name, how it reads, and the number that it is compared by.

    ``value`` is None where the plan does not know it; lengths are in mm, shares in percent. ``difference`` is how a
    difference reads: mm, money, or a plain number with so many ``places``.
    """

    code: str
    name: str
    said: str
    value: float | None
    better: Better = Better.NEITHER
    difference: str = "number"
    places: int = 0


def figures_of(plan: Plan, figures: Figures) -> tuple[Figure, ...]:
    """Return the figures of a plan in the order in which they are read."""
    summary = summarise(plan)
    make = _Maker(figures)
    return (
        *_size(plan, make),
        *_counts(plan, summary, make),
        *_money(plan, summary, make),
        *_bounce(plan, make),
        *_findings(plan, make),
    )


@dataclass(frozen=True, slots=True, kw_only=False)
class _Maker:
    figures: Figures

    def make(  # noqa: PLR0913 - a figure is its facts; all but the first are keyword-only
        self,
        code: str,
        *,
        value: float | None,
        said: str = "",
        better: Better = Better.NEITHER,
        difference: str = "number",
        places: int = 0,
    ) -> Figure:
        """Return one figure with its name, written as its kind asks unless ``said`` tells how."""
        speaker = self.figures.speaker
        text = said
        if value is None:
            text = speaker.say("desk-compare.unknown")
        elif not said:
            text = self.figures.length(value) if difference == "length" else self.figures.number(value, places)
        name = speaker.say(f"desk-figure.{code}")
        return Figure(code=code, name=name, said=text, value=value, better=better, difference=difference, places=places)


def _size(plan: Plan, make: _Maker) -> Iterator[Figure]:
    xs, ys = zip(*plan.layout.outline, strict=True)
    yield make.make("width", value=max(xs) - min(xs), difference="length")
    yield make.make("depth", value=max(ys) - min(ys), difference="length")
    yield make.make("area", value=_area(plan.layout.outline) / _M2, places=2)
    yield make.make("gap", value=plan.layout.gap, difference="length")


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    """Return the area of an outline [mm2] by the shoelace formula."""
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2.0


def _counts(plan: Plan, summary: Summary, make: _Maker) -> Iterator[Figure]:
    yield make.make("rows", value=summary.rows)
    yield make.make("boards", value=summary.boards)
    yield make.make("timbers", value=summary.timbers)
    yield make.make("posts", value=summary.posts, better=Better.LESS)
    if summary.posts:
        yield make.make("shortest-post", value=summary.shortest_post, difference="length")
        yield make.make("longest-post", value=summary.longest_post, difference="length")
    yield make.make("mass", value=plan.timber.total_mass, places=0)


def _money(plan: Plan, summary: Summary, make: _Maker) -> Iterator[Figure]:
    said = make.figures.money(summary.price_low, summary.price_high, summary.currency)
    if summary.is_sample_price:
        said = make.figures.speaker.say("desk-compare.sample", said=said)
    middle = float(summary.price_low + summary.price_high) / 2.0
    yield make.make("price", value=middle, said=said, better=Better.LESS, difference="money")
    yield make.make("hours", value=summary.hours, better=Better.LESS, places=1)
    yield make.make("days", value=summary.days, better=Better.LESS)
    tally = told.tally(plan.cutting.sections)
    yield make.make("sticks", value=summary.sticks)
    yield make.make("waste", value=100.0 * tally.waste_share, better=Better.LESS, places=1)


def _bounce(plan: Plan, make: _Maker) -> Iterator[Figure]:
    """Yield how the floor feels, as far as strength knows it: its swing [Hz] and how far one person lets it down."""
    found = {c.rule: c for c in plan.strength.checks if c.rule in ("floor-swing", "person-sag")}
    swing, sag = found.get("floor-swing"), found.get("person-sag")
    yield make.make("swing", value=swing.demand if swing else None, better=Better.MORE, places=1)
    yield make.make("person-sag", value=sag.demand if sag else None, better=Better.LESS, places=2)


def _findings(plan: Plan, make: _Maker) -> Iterator[Figure]:
    worst = max((c.ratio for c in plan.strength.checks if c.ratio is not None), default=None)
    used = None if worst is None else 100.0 * worst
    said = "" if worst is None else make.figures.percent(worst)
    yield make.make("most-used", value=used, said=said, better=Better.LESS)
    for verdict in (Verdict.FAILS, Verdict.OUTSIDE_RULE, Verdict.NOT_CHECKED):
        count = sum(c.verdict is verdict for c in plan.checks)
        yield make.make(f"found-{verdict.value}", value=count, better=Better.LESS)
