"""How findings are gathered over all load cases, worded as checks, and the governing ones kept."""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from evenfoot.checks import Check, Fact, Verdict, compare
from evenfoot.frame import Joint
from evenfoot.solvers import grillage, nearby
from evenfoot.strength.standards import Bearer, Case, Figure, Piece, Practice, Stress
from evenfoot.strength.statics import FloatArray, IntArray, Skeleton, Spot, Timber

_MORE = 1.0 + 1e-9
"""What is greater by less than this is equal: of mirrored places the first is told."""
_KEPT = 3
"""Governing checks kept for each timber or post."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Batch:
    """One load case solved: one column, or one for each place of a walked load.

    ``even`` is the even load on elements [N/mm], one column or all. Of a walked load only what lies near is told: then
    rows are those ``elements`` and ``contacts``, and ``points`` are the loads that stand on them (row and column);
    ``response.moved`` holds the four freedoms of each element, beyond where they are without the load. Otherwise rows
    are all elements and contacts and ``response.moved`` all freedoms.
    """

    case: Case
    response: grillage.Response
    even: FloatArray
    spots: tuple[Spot, ...] = ()
    elements: IntArray | None = None
    contacts: IntArray | None = None
    points: nearby.Points | None = None


class Peak:
    """The highest ratio seen at each of many places, with what was asked there and by which case."""

    def __init__(self, count: int) -> None:
        self.ratio = np.zeros(count)
        self.asked = np.zeros(count)
        self.at = np.zeros(count)
        self.cases: list[Case] = []
        self._case = np.full(count, -1)

    def offer(
        self,
        case: Case,
        ratio: FloatArray,
        asked: FloatArray,
        places: IntArray,
        at: FloatArray | None = None,
    ) -> None:
        """Take what one case asks; shapes (n, n_columns), rows are ``places``, which may come several times.

        ``at`` is where along the place it is asked, shape (n, n_columns) or (n, 1).
        """
        if ratio.size == 0:
            return
        column = ratio.argmax(axis=1)
        best = ratio[np.arange(len(ratio)), column]
        better = np.flatnonzero(best > self.ratio[places] * _MORE)
        # Of several rows of one place the greatest comes last, and stays.
        better = better[np.argsort(best[better], kind="stable")]
        of, column = places[better], column[better]
        self.ratio[of] = best[better]
        self.asked[of] = asked[better, column]
        if at is not None:
            self.at[of] = at[better, column if at.shape[1] > 1 else 0]
        if not self.cases or self.cases[-1] is not case:
            self.cases.append(case)
        self._case[of] = len(self.cases) - 1

    def case(self, number: int) -> Case | None:
        """Return the case that governs place ``number``; None when nothing was asked there."""
        return self.cases[self._case[number]] if self._case[number] >= 0 else None


def first_of_greatest(places: Sequence[int], asked: FloatArray) -> int:
    """Return which of some places asks most; of equal ones the first."""
    worst = places[0]
    for place in places:
        if asked[place] > asked[worst] * _MORE:
            worst = place
    return worst


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One check about to be worded: what is asked of what, where, and by which load case."""

    rule: str
    subject: str
    demand: float
    capacity: Figure
    unit: str
    case: Case | None = None
    place: str = ""
    remedy: str = ""
    reason: str = ""
    facts: tuple[Fact, ...] = ()

    @property
    def ratio(self) -> float:
        """Demand over capacity [-]."""
        return self.demand / self.capacity.value

    @property
    def verdict(self) -> Verdict:
        """How the check will end."""
        return Verdict.OK if self.ratio <= 1.0 else Verdict.FAILS


Finding = Check | Asked
"""What was found: a check that stands as it is, or one that is worded if it turns out to govern."""


def word(practice: Practice, asked: Finding) -> Check:
    """Return the check; every unconfirmed figure behind it is named in its ``doubts`` fact."""
    if isinstance(asked, Check):
        return asked
    case = asked.case
    doubts = asked.capacity.doubts
    if case is not None:
        doubts = (*doubts, *case.doubts, *practice.unit_weight.doubts)
    facts: tuple[Fact, ...] = (
        *asked.facts,
        ("percent", round(100.0 * asked.demand / asked.capacity.value)),
        ("doubts", ", ".join(dict.fromkeys(doubts))),
    )
    if case is not None:
        facts = (*facts, ("case_code", f"case.{case.code}"))
    return compare(
        subject=asked.subject,
        rule=asked.rule,
        demand=asked.demand,
        capacity=asked.capacity.value,
        unit=asked.unit,
        source=practice.clauses[asked.rule],
        case=case.code if case is not None else "",
        place=asked.place,
        reason=asked.reason,
        remedy=asked.remedy,
        facts=facts,
        confirmed=not doubts,
    )


def strengths(practice: Practice, timbers: Sequence[Timber], stress: Stress, case: Case) -> FloatArray:
    """Return the strength of each timber in a case [N/mm2]."""
    known: dict[Piece, float] = {}
    for t in timbers:
        if t.wood.piece not in known:
            known[t.wood.piece] = practice.strength(stress, t.wood, case).value
    return np.array([known[t.wood.piece] for t in timbers])


def unheld_edges(skeleton: Skeleton) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return for each timber the longest stretch of its top, then of its underside, that nothing holds sideways [mm].

    Boards hold the top of a joist all along; joists hold the top of a beam where they lie on it; both edges are held
    where the timber lies on a bearing of its own.
    """
    own = [[r.at for r in rests] for rests in skeleton.lies_on]
    on_top: list[list[float]] = [[] for _ in skeleton.timbers]
    for rest in skeleton.rests:
        if rest.lower is not None:
            on_top[rest.lower].append(rest.joint.at_lower)
    top = (0.0 if t.is_joist else _longest(t, own[t.number] + on_top[t.number]) for t in skeleton.timbers)
    return tuple(top), tuple(_longest(t, own[t.number]) for t in skeleton.timbers)


def _longest(timber: Timber, held: Sequence[float]) -> float:
    return max(b - a for a, b in itertools.pairwise(sorted((0.0, *held, timber.member.length))))


def held_sideways(practice: Practice, timbers: Sequence[Timber], unheld: Sequence[float], case: Case) -> FloatArray:
    """Return the factor on the bending strength of each timber [-]."""
    known: dict[tuple[Piece, float], float] = {}
    for t, length in zip(timbers, unheld, strict=True):
        if (t.wood.piece, length) not in known:
            known[t.wood.piece, length] = practice.sideways(wood=t.wood, unheld=length, case=case).value
    return np.array([known[t.wood.piece, length] for t, length in zip(timbers, unheld, strict=True)])


def decided(timbers: Sequence[Timber], case: Case) -> FloatArray:
    """Return 1 for each timber that the case decides, else 0."""
    return np.array([float((Bearer.FLOOR if t.is_joist else Bearer.FRAME) in case.decides) for t in timbers])


def crossing(joint: Joint) -> str:
    """Return the grid mark of the place where a joint is, as ``C2``."""
    return joint.mark.split(".")[0].rstrip("+-")


class Places:
    """Names places along timbers by the bearings beside them."""

    def __init__(self, skeleton: Skeleton) -> None:
        self._at = [[r.at for r in rests] for rests in skeleton.lies_on]
        self._names = [[crossing(r.joint) for r in rests] for rests in skeleton.lies_on]
        self._reach = [[r.joint.seat / 2.0 + 1.0 for r in rests] for rests in skeleton.lies_on]

    def at(self, timber: int, at: float) -> str:
        """Return the bearing at ``at`` mm from a timber's start as ``C2``, or the two beside it as ``C1-C2``."""
        places, names, reach = self._at[timber], self._names[timber], self._reach[timber]
        after = bisect.bisect_left(places, at)
        beside = [k for k in (after - 1, after) if 0 <= k < len(places)]
        over = [names[k] for k in beside if abs(places[k] - at) <= reach[k]]
        return over[0] if over else "-".join(names[k] for k in beside)


def keep_governing(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return for each subject the worst check of its three gravest rules, and all that are not ok; order is kept."""
    seen = [(one, one.verdict, one.ratio) for one in found]
    worst: dict[tuple[str, str], tuple[float, int]] = {}
    for k, (one, verdict, ratio) in enumerate(seen):
        if verdict is Verdict.OK and ratio is not None:
            key = (one.subject, one.rule)
            worst[key] = max(worst.get(key, (-1.0, 0)), (ratio, -k))
    by_subject: dict[str, list[tuple[float, int]]] = {}
    for (subject, _), gravest in worst.items():
        by_subject.setdefault(subject, []).append(gravest)
    kept = {-k for gravest in by_subject.values() for _, k in sorted(gravest, reverse=True)[:_KEPT]}
    return tuple(one for k, (one, verdict, _) in enumerate(seen) if verdict is not Verdict.OK or k in kept)
