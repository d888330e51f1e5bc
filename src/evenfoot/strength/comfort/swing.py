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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Weights:
    """Weight, or a load in step with it: on elements [N/mm], and on levels [N]."""

    line: FloatArray
    at_levels: FloatArray

    def loads(self, size: int) -> tuple[FloatArray, FloatArray]:
        """Return it as one case of forces on ``size`` freedoms and of even loads."""
        forces = np.zeros((size, 1))
        forces[: len(self.at_levels), 0] = self.at_levels
        return forces, self.line[:, None]


def lowest_frequency(prepared: grillage.Prepared, share: Share) -> float:
    """Return the lowest natural frequency of the frame with its own weight and that of the boards [Hz].

    The shape is found by going round: load the floor with its masses in step with the shape found last. Contacts stay
    as they are at rest under the own weight. The answer comes down on the true one from above.

    Source: Rayleigh's quotient with inverse iteration (Stodola).
    """
    weights = _Weights(line=share.own + share.line * share.dead, at_levels=share.at_levels * share.dead)
    masses = _Masses(prepared.grillage, weights)
    follow = grillage.as_at_rest(prepared, grillage.respond(prepared, *weights.loads(prepared.grillage.size)))
    swinging, found = weights, np.inf
    for _ in range(_ROUNDS):
        shape = follow(*swinging.loads(prepared.grillage.size))[:, 0]
        frequency, swinging = masses.quotient(shape, swinging)
        if abs(frequency - found) <= _SETTLED * frequency:
            return frequency
        found = frequency
    return found


@cache
def _gauss() -> tuple[FloatArray, FloatArray]:
    """Return places in [-1, 1] and shares of a Gauss sum over an element."""
    places, share = np.polynomial.legendre.leggauss(_GAUSS)
    for array in (places, share):
        array.setflags(write=False)
    return places, share


class _Masses:
    """The weights of a frame, ready to be swung in any shape."""

    def __init__(self, g: grillage.Grillage, weights: _Weights) -> None:
        places, share = _gauss()
        count = len(g.length)
        # How far each Gauss point goes down when one end freedom is moved by one, and last under 1 N/mm.
        self._felt = beam_element.sag(
            x=((places + 1.0) / 2.0 * g.length[:, None])[:, :, None],
            moved=np.broadcast_to(np.eye(4, 5), (count, 4, 5)),
            q=np.broadcast_to(np.eye(5)[4], (count, 5)),
            length=g.length,
            ei=g.ei,
            ga=g.ga,
        )
        self._weights, self._along = weights, share / 2.0 * g.length[:, None]
        self._length, self._freedoms, self._n_levels = g.length, g.freedoms(), g.n_levels

    def quotient(self, shape: FloatArray, load: _Weights) -> tuple[float, _Weights]:
        """Return the frequency of a shape under the load that made it [Hz], and the load in step with the shape."""
        own = np.concatenate((shape[self._freedoms], load.line[:, None]), axis=1)
        w = (self._felt @ own[:, :, None])[:, :, 0]
        mean = np.einsum("nk,nk->n", w, self._along) / self._length
        square = np.einsum("nk,nk,nk->n", w, w, self._along)
        at = shape[: self._n_levels]
        weights = self._weights
        work = float((load.line * mean * self._length).sum() + (load.at_levels * at).sum())
        motion = float((weights.line * square).sum() + (weights.at_levels * at**2).sum())
        frequency = shaking.rayleigh_frequency(work=work, motion=shaking.mass(weight=motion))
        return frequency, _Weights(line=weights.line * mean, at_levels=weights.at_levels * at)
