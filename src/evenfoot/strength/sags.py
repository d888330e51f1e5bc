"""How far each timber sags between its bearings, and how far that is allowed."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

import numpy as np

from evenfoot.checks import Check
from evenfoot.solvers import beam_element
from evenfoot.strength.findings import Asked, Batch, Places, word
from evenfoot.strength.model import Sag
from evenfoot.strength.standards import Case, Figure, Practice, SagRule
from evenfoot.strength.statics import FloatArray, IntArray, Statics, Timber

_SAMPLES = 9
_STEPS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A stretch of one timber: between two bearings, or past the last one when ``is_overhang`` [mm]."""

    timber: int
    begin: float
    end: float
    is_overhang: bool

    @property
    def length(self) -> float:
        """How long it is [mm]."""
        return self.end - self.begin


def find_spans(statics: Statics, *, least: float = 2.0) -> tuple[Span, ...]:
    """Return the spans and overhangs of all timbers, along each from its start."""
    out: list[Span] = []
    for timber, rests in zip(statics.skeleton.timbers, statics.skeleton.rests_of(), strict=True):
        if not rests:
            continue
        stops = [0.0, *(r.at for r in rests), timber.member.length]
        last = len(stops) - 2
        for k, (a, b) in enumerate(itertools.pairwise(stops)):
            if b - a > least:
                out.append(Span(timber=timber.number, begin=a, end=b, is_overhang=k in {0, last}))
    return tuple(out)


def find_sags(statics: Statics, batch: Batch, column: int = 0) -> tuple[tuple[Span, float, float], ...]:
    """Return each span with its greatest sag below its bearings [mm] and where that is [mm from the start].

    The sag of an overhang is measured from the level of its bearing.
    """
    spans = find_spans(statics)
    of = _span_of_element(statics, spans)
    inside = np.flatnonzero(of >= 0)
    which = of[inside]
    chord, slope = _chords(statics, spans, batch.response.moved[:, column])
    begin = np.array([s.begin for s in spans])
    offset = statics.begin[inside] - begin[which]
    x, depth = _deepest(statics, batch, column, (inside, slope[which]))
    below = depth - chord[which] - slope[which] * (offset + x)
    best = np.zeros(len(spans))
    np.maximum.at(best, which, below)
    where = begin.copy()
    is_best = (below > 0.0) & (below == best[which])
    where[which[is_best]] = (statics.begin[inside] + x)[is_best]
    return tuple((span, float(best[k]), float(where[k])) for k, span in enumerate(spans))


def _span_of_element(statics: Statics, spans: tuple[Span, ...]) -> IntArray:
    of = np.full(len(statics.begin), -1)
    middle = statics.begin + statics.grid.length / 2.0
    for k, span in enumerate(spans):
        low, high = statics.first_element[span.timber], statics.first_element[span.timber + 1]
        at = middle[low:high]
        of[low:high][(at > span.begin) & (at < span.end)] = k
    return of


def _chords(statics: Statics, spans: tuple[Span, ...], moved: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return for each span its level at its beginning [mm] and the tilt of the line between its bearings [-]."""
    chord, slope = np.zeros(len(spans)), np.zeros(len(spans))
    for k, span in enumerate(spans):
        a = moved[statics.level((span.timber, span.begin))]
        b = moved[statics.level((span.timber, span.end))]
        if not span.is_overhang:
            chord[k], slope[k] = a, (b - a) / span.length
        else:
            chord[k] = b if span.begin == 0.0 else a
    return chord, slope


def _deepest(
    statics: Statics, batch: Batch, column: int, wanted: tuple[IntArray, FloatArray]
) -> tuple[FloatArray, FloatArray]:
    """Return where each wanted element lies deepest below a line of the given tilt [mm], and how far down it is there.

    The best of some samples is refined by Newton's steps on the slope.
    """
    elements, tilt = wanted
    grid = statics.grid
    length = grid.length[elements]
    own = {
        "moved": batch.response.moved[:, column][grid.freedoms()[elements]],
        "q": batch.even[elements, column],
        "length": length,
        "ei": grid.ei[elements],
        "ga": grid.ga[elements],
    }
    row = np.arange(len(elements))
    samples = np.linspace(0.0, 1.0, _SAMPLES)[None, :] * length[:, None]
    depth = beam_element.sag(x=samples, **own)[0]
    best = (depth - tilt[:, None] * samples).argmax(axis=1)
    x, deepest = samples[row, best], depth[row, best]
    for _ in range(_STEPS):
        _, first, second = (part[:, 0] for part in beam_element.sag(x=x[:, None], **own))
        step = np.divide(first - tilt, second, out=np.zeros_like(x), where=second < 0.0)
        x = np.clip(x - step, 0.0, length)
    refined = beam_element.sag(x=x[:, None], **own)[0][:, 0]
    is_deeper = refined - tilt * x > deepest - tilt * samples[row, best]
    return np.where(is_deeper, x, samples[row, best]), np.where(is_deeper, refined, deepest)


def check_sags(practice: Practice, statics: Statics, batch: Batch) -> tuple[list[Check], list[Sag]]:
    """Return the check of sag of each span of each timber, and the sag of each timber's worst span.

    Under a load that is set on the ends of overhangs, only the overhang that it stands on is looked at.
    """
    if batch.spots:
        return _check_tips(practice, statics, batch), []
    places = Places(statics.skeleton)
    checks: list[Check] = []
    worst: dict[int, tuple[float, Sag]] = {}
    columns = [find_sags(statics, batch, column) for column in range(batch.even.shape[1])]
    for span, sag, at in (max(found, key=lambda one: one[1]) for found in zip(*columns, strict=True)):
        timber = statics.skeleton.timbers[span.timber]
        rule = practice.sag(span=span.length, is_overhang=span.is_overhang, case=batch.case)
        if rule is None:
            continue
        where = (sag, at, places.at(span.timber, at))
        checks.append(_check(practice, timber, (span, rule), where, batch.case))
        found = Sag(mark=timber.member.mark, case=batch.case.code, sag=sag, span=span.length, at=at)
        share = sag / span.length
        if share > worst.get(span.timber, (-1.0, found))[0]:
            worst[span.timber] = (share, found)
    return checks, [found for _, found in worst.values()]


def _check_tips(practice: Practice, statics: Statics, batch: Batch) -> list[Check]:
    """Return the check of each overhang with the load on its own end, which is then the deepest of it."""
    places = Places(statics.skeleton)
    overhangs = {(s.timber, s.begin == 0.0): s for s in find_spans(statics) if s.is_overhang}
    moved = batch.response.moved
    checks = []
    for column, (number, tip) in enumerate(batch.spots):
        span = overhangs[number, tip == 0.0]
        rule = practice.sag(span=span.length, is_overhang=True, case=batch.case)
        if rule is None:
            continue
        bearing = span.end if tip == 0.0 else span.begin
        sag = float(moved[statics.level((number, tip)), column] - moved[statics.level((number, bearing)), column])
        where = (sag, tip, places.at(number, tip))
        checks.append(_check(practice, statics.skeleton.timbers[number], (span, rule), where, batch.case))
    return checks


def _check(
    practice: Practice, timber: Timber, asked_of: tuple[Span, SagRule], found: tuple[float, float, str], case: Case
) -> Check:
    (span, rule), (sag, at, place) = asked_of, found
    # A deep timber needs no check of sag; its number is shown as any other unless it would not pass.
    is_deep = sag > rule.limit and timber.member.depth > rule.shallow
    facts = (
        ("at_mm", at),
        ("span_mm", span.length),
        ("sag_fine", round(sag, 2)),
        ("limit_fine", round(rule.limit, 2)),
        ("usual_fine", round(rule.limit if rule.usual is None else rule.usual, 2)),
    )
    doubts = () if is_deep else rule.doubts + timber.wood.doubts
    asked = Asked(
        rule="depth-of-span" if is_deep else rule.code,
        subject=timber.member.mark,
        demand=rule.shallow if is_deep else sag,
        capacity=Figure(value=timber.member.depth if is_deep else rule.limit, doubts=doubts),
        unit="mm",
        case=case,
        place=place,
        remedy="stiffer-joist" if timber.is_joist else "stiffer-beam",
        facts=facts,
    )
    check = word(practice, asked)
    return check if rule.usual is None or sag <= rule.usual else replace(check, reason="sag-beyond-usual")
