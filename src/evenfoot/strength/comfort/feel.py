"""How far the floor sags under one person at its softest place, and how much of that the neighbouring joists feel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenfoot.checks import Check, Verdict
from evenfoot.solvers import beam_element, grillage
from evenfoot.strength.comfort.swing import lowest_frequency
from evenfoot.strength.elastic.spots import press, sink, sink_under
from evenfoot.strength.findings import Batch, Places
from evenfoot.strength.loads import Share, joist_lines
from evenfoot.strength.statics import FloatArray, Spot, Statics
from evenfoot.tables import safety

_PERSON = 1000.0
"""The load that comfort is told for [N]; the usual measure of the papers on floors."""
_BAND = (0.5, 4.0)
"""Ends of the range that the European figure gives for the sag under 1 kN [mm/kN]."""


class Lowest:
    """Keeps the place of a walked load at which the floor went down furthest."""

    def __init__(self, statics: Statics) -> None:
        self._statics = statics
        self._deepest = -np.inf
        self.spot: Spot | None = None

    def take(self, batch: Batch) -> None:
        """Take in one load case; only walked loads count."""
        if not batch.spots or batch.elements is None:
            return
        down = sink_under(self._statics, batch)
        k = int(down.argmax())
        if down[k] > self._deepest:
            self._deepest, self.spot = float(down[k]), batch.spots[k]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Felt:
    """What 1 kN at one place does: the sag there, and the most on a neighbouring joist [mm]."""

    own: float
    next_joist: float


def check_feel(statics: Statics, prepared: grillage.Prepared, share: Share, spot: Spot | None) -> tuple[Check, ...]:
    """Return how the floor feels, for information: frequency, sag under one person, and what neighbours feel of it."""
    frequency = lowest_frequency(prepared, share)
    limit = safety.figure("comfort.frequency")
    step = safety.figure("comfort.step")
    pace = "calm" if frequency >= limit.value else "lively" if frequency >= 2.0 * step.value else "swaying"
    out = [
        Check(
            subject="floor",
            rule="floor-swing",
            verdict=Verdict.OK,
            demand=frequency,
            unit="Hz",
            source=f"{limit.source} EN 1995-1-1, 7.3.3",
            facts=(("frequency", round(frequency, 1)), ("limit", limit.value), ("feel_code", f"feel.{pace}")),
        )
    ]
    if spot is not None:
        out.append(_person(statics, prepared, share, spot))
    return tuple(out)


def _person(statics: Statics, prepared: grillage.Prepared, share: Share, spot: Spot) -> Check:
    felt = _felt(statics, prepared, share, spot)
    usual = safety.figure("comfort.sag")
    firm = "firm" if felt.own <= usual.value else "usual" if felt.own <= _BAND[1] else "soft"
    percent = round(100.0 * max(felt.next_joist, 0.0) / felt.own) if felt.own > 0.0 else 0
    return Check(
        subject="floor",
        rule="person-sag",
        verdict=Verdict.OK,
        demand=felt.own,
        unit="mm",
        source=f"{usual.source} EN 1995-1-1, 7.3.3",
        place=Places(statics.skeleton).at(*spot),
        facts=(
            ("other", statics.skeleton.timbers[spot[0]].member.mark),
            ("person_n", _PERSON),
            ("sag_fine", round(felt.own, 2)),
            ("usual_fine", usual.value),
            ("neighbour", percent),
            ("feel_code", f"feel.{firm}"),
            ("apart_code", "feel.apart" if percent < 40 else "feel.together"),
        ),
        confirmed=usual.is_confirmed,
    )


def _felt(statics: Statics, prepared: grillage.Prepared, share: Share, spot: Spot) -> _Felt:
    line = share.own + share.line * share.dead
    forces = np.zeros((statics.grid.size, 2))
    forces[: statics.grid.n_levels] = (share.at_levels * share.dead)[:, None]
    forces[:, 1] += press(statics, (spot,), _PERSON)[:, 0]
    moved = grillage.move(prepared, forces, np.stack((line, line), axis=1))
    added: FloatArray = moved[:, 1] - moved[:, 0]
    own = float(sink(statics, (spot,), added[:, None], _PERSON)[0])
    beside = [_sag_at(statics, added, number, at) for number, at in _neighbours(statics, spot)]
    return _Felt(own=own, next_joist=max(beside, default=0.0))


def _neighbours(statics: Statics, spot: Spot) -> list[Spot]:
    """Return the places beside a place on the joists of the lines next to its own."""
    timbers = statics.skeleton.timbers
    lines = joist_lines(timbers)
    mine = next((k for k, (_, line) in enumerate(lines) if any(t.number == spot[0] for t in line)), None)
    if mine is None:
        return []
    axis = 1 if timbers[spot[0]].member.axis == "y" else 0
    here = timbers[spot[0]].member.start[axis] + spot[1] * timbers[spot[0]].level_share
    out: list[Spot] = []
    for k in (mine - 1, mine + 1):
        if not 0 <= k < len(lines):
            continue
        for timber in lines[k][1]:
            at = (here - timber.member.start[axis]) / timber.level_share
            if 0.0 <= at <= timber.member.length:
                out.append((timber.number, at))
    return out


def _sag_at(statics: Statics, moved: FloatArray, number: int, at: float) -> float:
    """Return how far a timber went down at a place [mm], no load lying on it."""
    element, x = statics.elements_at(np.array([number]), np.array([at]), is_before=at > 0.0)
    g = statics.grid
    sag = beam_element.sag(
        x=x[:, None, None],
        moved=moved[g.freedoms()[element]][:, :, None],
        q=np.zeros((1, 1)),
        length=g.length[element],
        ei=g.ei[element],
        ga=g.ga[element],
    )
    return float(sag[0, 0, 0])
