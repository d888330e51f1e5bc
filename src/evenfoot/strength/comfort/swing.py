"""The lowest frequency at which the frame swings up and down by itself (note 098)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from evenfoot.rules import shaking
from evenfoot.solvers import beam_element, grillage
from evenfoot.strength.loads import Share
from evenfoot.strength.statics import FloatArray

_ROUNDS = 12
_SETTLED = 1e-6
_GAUSS = 5
"""Points along each element at which its sag is taken; exact for the square of a cubic, and near it for a quartic."""
_SMALL = 1e-3
"""Share of the own weight by which the floor is swung, so that what lies on what stays as it is at rest."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Weights:
    """Own weight: on elements [N/mm], and on levels [N]."""

    line: FloatArray
    at_levels: FloatArray

    def total(self, length: FloatArray) -> float:
        """Return all of it [N] on elements of these lengths [mm]."""
        return float((self.line * length).sum() + self.at_levels.sum())


def lowest_frequency(prepared: grillage.Prepared, share: Share) -> float:
    """Return the lowest natural frequency of the frame with its own weight and that of the boards [Hz].

    The shape is found by going round: load the floor with its masses in step with the shape found last. Contacts stay
    as they are at rest under the own weight. The answer comes down on the true one from above.

    Source: Rayleigh's quotient with inverse iteration (Stodola).
    """
    weights = _Weights(line=share.own + share.line * share.dead, at_levels=share.at_levels * share.dead)
    g, rest = prepared.grillage, _solve(prepared, weights.line, weights.at_levels)
    line, levels = weights.line, weights.at_levels
    found = np.inf
    for _ in range(_ROUNDS):
        scale = _SMALL * weights.total(g.length) / _Weights(line=np.abs(line), at_levels=np.abs(levels)).total(g.length)
        line, levels = line * scale, levels * scale
        swung = _solve(prepared, weights.line + line, weights.at_levels + levels)
        shape = swung - rest
        frequency, line, levels = _quotient(prepared, weights, shape, (line, levels))
        if abs(frequency - found) <= _SETTLED * frequency:
            return frequency
        found = frequency
    return found


def _solve(prepared: grillage.Prepared, line: FloatArray, at_levels: FloatArray) -> FloatArray:
    forces = np.zeros((prepared.grillage.size, 1))
    forces[: prepared.grillage.n_levels, 0] = at_levels
    moved: FloatArray = grillage.respond(prepared, forces, line[:, None]).moved[:, 0]
    return moved


@cache
def _gauss() -> tuple[FloatArray, FloatArray]:
    """Return places in [-1, 1] and shares of a Gauss sum over an element."""
    places, share = np.polynomial.legendre.leggauss(_GAUSS)
    for array in (places, share):
        array.setflags(write=False)
    return places, share


def _quotient(
    prepared: grillage.Prepared, weights: _Weights, shape: FloatArray, load: tuple[FloatArray, FloatArray]
) -> tuple[float, FloatArray, FloatArray]:
    """Return the frequency of a shape under the load that made it [Hz], and the load in step with the shape."""
    g = prepared.grillage
    places, share = _gauss()
    x = (places + 1.0) / 2.0 * g.length[:, None]
    moved, q = shape[g.freedoms()][:, :, None], load[0][:, None]
    w = beam_element.sag(x=x[:, :, None], moved=moved, q=q, length=g.length, ei=g.ei, ga=g.ga)[:, :, 0]
    along = share / 2.0 * g.length[:, None]
    mean = (w * along).sum(axis=1) / g.length
    square = (w**2 * along).sum(axis=1)
    at = shape[: g.n_levels]
    work = float((load[0] * mean * g.length).sum() + (load[1] * at).sum())
    motion = float((weights.line * square).sum() + (weights.at_levels * at**2).sum())
    frequency = shaking.rayleigh_frequency(work=work, motion=shaking.mass(weight=motion))
    return frequency, weights.line * mean, weights.at_levels * at
