"""How far each timber sags between its bearings, and how far that is allowed."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.solvers import beam_element
from evenfoot.strength.findings import Asked, Batch, Places
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
    for timber, rests in zip(statics.skeleton.timbers, statics.skeleton.lies_on, strict=True):
        if not rests:
            continue
        stops = [0.0, *(r.at for r in rests), timber.member.length]
        last = len(stops) - 2
        for k, (a, b) in enumerate(itertools.pairwise(stops)):
            if b - a > least:
                out.append(Span(timber=timber.number, begin=a, end=b, is_overhang=k in {0, last}))
    return tuple(out)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Laid:
    """Where the spans of a frame lie in its grid, the same for every load case.

    ``elements`` lie within spans and ``of`` tells which one, rising; those of each span begin at ``first``. ``levels``
    are the freedoms at the two ends of each span, shape (n_spans, 2); ``datum`` is the end that an overhang hangs on.
    """

    spans: tuple[Span, ...]
    begin: FloatArray
    length: FloatArray
    is_overhang: npt.NDArray[np.bool_]
    elements: IntArray
    of: IntArray
    first: IntArray
    levels: IntArray
    datum: IntArray


def _lay(statics: Statics) -> _Laid:
    spans = find_spans(statics)
    of = np.full(len(statics.begin), -1)
    middle = statics.begin + statics.grid.length / 2.0
    for k, span in enumerate(spans):
        low, high = statics.first_element[span.timber : span.timber + 2]
        inside = slice(*(low + np.searchsorted(middle[low:high], (span.begin, span.end))))
        of[inside] = k
    elements = np.flatnonzero(of >= 0)
    held, first = np.unique(of[elements], return_index=True)
    assert len(held) == len(spans), "every span holds an element"
    ends = [[statics.level((s.timber, s.begin)), statics.level((s.timber, s.end))] for s in spans]
    return _Laid(
        spans=spans,
        begin=np.array([s.begin for s in spans]),
        length=np.array([s.length for s in spans]),
        is_overhang=np.array([s.is_overhang for s in spans], dtype=bool),
        elements=elements,
        of=of[elements],
        first=first,
        levels=np.array(ends, dtype=np.int64).reshape(-1, 2),
        datum=np.array([int(s.is_overhang and s.begin == 0.0) for s in spans], dtype=np.int64),
    )


class Sags:
    """Gathers, case by case, how far the spans of a frame sag."""

    def __init__(self, practice: Practice, statics: Statics) -> None:
        self._practice, self._statics = practice, statics
        self._places = Places(statics.skeleton)
        self._laid = _lay(statics)
        self._overhangs = {(s.timber, s.begin == 0.0): s for s in self._laid.spans if s.is_overhang}
        self.found: list[Asked] = []
        """The check of each span under each case, as it stands before it is worded."""
        self.deepest: list[Sag] = []
        """The sag of each timber's worst span under each case."""

    def take(self, batch: Batch) -> None:
        """Take in one load case.

        Under a load that is set on the ends of overhangs, only the overhang that it stands on is looked at.
        """
        if batch.spots:
            self._take_tips(batch)
            return
        worst: dict[int, tuple[float, Sag]] = {}
        for span, sag, at in find_sags(self._statics, self._laid, batch):
            timber = self._statics.skeleton.timbers[span.timber]
            rule = self._practice.sag(span=span.length, is_overhang=span.is_overhang, case=batch.case)
            if rule is None:
                continue
            self.found.append(_ask(timber, (span, rule), (sag, at, self._places.at(span.timber, at)), batch.case))
            share = sag / span.length
            if span.timber not in worst or share > worst[span.timber][0]:
                mark, case = timber.member.mark, batch.case.code
                worst[span.timber] = (share, Sag(mark=mark, case=case, sag=sag, span=span.length, at=at))
        self.deepest += [found for _, found in worst.values()]

    def _take_tips(self, batch: Batch) -> None:
        """Take in what each overhang does with the load on its own end, which is then the deepest of it."""
        moved, level = batch.response.moved, self._statics.level
        for column, (number, tip) in enumerate(batch.spots):
            span = self._overhangs[number, tip == 0.0]
            rule = self._practice.sag(span=span.length, is_overhang=True, case=batch.case)
            if rule is None:
                continue
            bearing = span.end if tip == 0.0 else span.begin
            sag = float(moved[level((number, tip)), column] - moved[level((number, bearing)), column])
            where = (sag, tip, self._places.at(number, tip))
            self.found.append(_ask(self._statics.skeleton.timbers[number], (span, rule), where, batch.case))


def find_sags(statics: Statics, laid: _Laid, batch: Batch) -> list[tuple[Span, float, float]]:
    """Return each span with its greatest sag below its bearings [mm] and where that is [mm from the start].

    The sag of an overhang is measured from the level of its bearing; of the columns of a batch the worst is told.
    """
    elements, of, each = laid.elements, laid.of, np.arange(len(laid.spans))
    levels = batch.response.moved[laid.levels]
    chord = levels[each, laid.datum]
    slope = np.where(laid.is_overhang[:, None], 0.0, (levels[:, 1] - levels[:, 0]) / laid.length[:, None])
    offset = (statics.begin[elements] - laid.begin[of])[:, None]
    x, depth = _deepest(statics, batch, elements, slope[of])
    below = depth - chord[of] - slope[of] * (offset + x)
    best = np.maximum(np.maximum.reduceat(below, laid.first, axis=0), 0.0)
    column = best.argmax(axis=1)
    deepest, governing = best[each, column], (np.arange(len(of)), column[of])
    is_best = (below[governing] > 0.0) & (below[governing] == deepest[of])
    where = laid.begin.copy()
    where[of[is_best]] = (statics.begin[elements] + x[governing])[is_best]
    return list(zip(laid.spans, deepest.tolist(), where.tolist(), strict=True))


def _deepest(statics: Statics, batch: Batch, elements: IntArray, tilt: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return where elements lie deepest below lines of given tilts [mm], and how far down they are there.

    The best of some samples is refined by Newton's steps on the slope. Tilts and answers: shape (n, n_columns).
    """
    grid = statics.grid
    own = {
        "moved": batch.response.moved[grid.freedoms()[elements]],
        "q": batch.even[elements],
        "length": grid.length[elements],
        "ei": grid.ei[elements],
        "ga": grid.ga[elements],
    }
    length = own["length"][:, None]
    samples = np.linspace(0.0, 1.0, _SAMPLES)[None, :] * length
    depth = beam_element.sag(x=samples[:, :, None], **own)
    best = (depth - tilt[:, None] * samples[:, :, None]).argmax(axis=1)
    sampled = x = np.take_along_axis(samples, best, axis=1)
    deepest = np.take_along_axis(depth, best[:, None], axis=1)[:, 0]
    for _ in range(_STEPS):
        first, second = (part[:, 0] for part in beam_element.tilt(x=x[:, None], **own))
        step = np.divide(first - tilt, second, out=np.zeros_like(x), where=second < 0.0)
        x = np.clip(x - step, 0.0, length)
    refined = beam_element.sag(x=x[:, None], **own)[:, 0]
    is_deeper = refined - tilt * x > deepest - tilt * sampled
    return np.where(is_deeper, x, sampled), np.where(is_deeper, refined, deepest)


def _ask(timber: Timber, asked_of: tuple[Span, SagRule], found: tuple[float, float, str], case: Case) -> Asked:
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
    return Asked(
        rule="depth-of-span" if is_deep else rule.code,
        subject=timber.member.mark,
        demand=rule.shallow if is_deep else sag,
        capacity=Figure(value=timber.member.depth if is_deep else rule.limit, doubts=doubts),
        unit="mm",
        case=case,
        place=place,
        remedy="stiffer-joist" if timber.is_joist else "stiffer-beam",
        reason="" if rule.usual is None or sag <= rule.usual else "sag-beyond-usual",
        facts=facts,
    )
