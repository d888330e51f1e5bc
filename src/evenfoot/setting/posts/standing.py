"""On which feet the floor stands, what each carries and how far each other one hangs: solved exactly."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from evenfoot.setting.posts.floating import FloatArray, FloatingFrame
from evenfoot.solvers import complementarity

BoolArray = npt.NDArray[np.bool_]
_LEAST = 1e-6
"""Share of a free motion that must be held for it to count as held [-]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rest:
    """How the floor stands in k cases; n posts.

    ``press`` is what each foot carries [N], ``gap`` the air under each [mm], ``head`` how high each head has come
    above where it lay with the frame level and unbent [mm], all of shape (k, n). ``is_held``, shape (k,), is False
    where the floor tips; the others are nan there.
    """

    press: FloatArray
    gap: FloatArray
    head: FloatArray
    is_touching: BoolArray
    is_held: BoolArray


class Footing:
    """One frame over its feet; knows nothing of how long the posts are until it is asked.

    Source: unilateral contact without friction as a linear complementarity problem: G. Duvaut and J. L. Lions,
    Inequalities in Mechanics and Physics (1976); see docs/contact.md for how it is set up here.
    """

    def __init__(self, frame: FloatingFrame, anchored: Collection[str] = ()) -> None:
        """Take a frame and the marks of feet that are anchored: they may pull and never rise."""
        self.frame = frame
        self.is_anchored = np.array([m in anchored for m in frame.marks], dtype=bool)
        self._settler = complementarity.Settler(
            complementarity.Contacts(
                flexibility=frame.give + np.diag(frame.seat), modes=frame.shapes, is_two_way=self.is_anchored
            )
        )

    def stand(self, clearance: FloatArray, load: FloatArray, guess: BoolArray | None = None) -> Rest:
        """Return how the floor stands on feet with these clearances under these head loads.

        Args: clearance, shape (k, n), air under each foot with the frame level, unbent and at its height [mm], less
        than nothing for a post that is too long; load, shape (k, n), head loads, own weight among them [N]; guess,
        shape (k, n), feet that probably touch.
        """
        frame = self.frame
        sag = load @ frame.give
        found = self._settler.settle(clearance - sag, load @ frame.shapes, guess)
        head = found.press @ frame.give - sag + found.modes @ frame.shapes.T
        return Rest(press=found.press, gap=found.gap, head=head, is_touching=found.is_touching, is_held=found.is_held)

    def stand_once(self, clearance: FloatArray) -> Rest:
        """Return how the floor stands by its own weight alone, for one set of clearances, shape (n,) [mm]."""
        return self.stand(clearance[None], self.frame.own[None])

    def heads_held_at(self, is_held: BoolArray) -> FloatArray | None:
        """Return how high every head lies, shape (n,) [mm], by own weight with some heads held at their places.

        None where the frame would fall from those.
        """
        frame = self.frame
        at = np.flatnonzero(is_held)
        shapes = frame.shapes[at]
        if len(at) < shapes.shape[1] or np.linalg.matrix_rank(shapes, tol=_LEAST) < shapes.shape[1]:
            return None
        n, m = shapes.shape
        matrix = np.zeros((n + m, n + m))
        matrix[:n, :n] = frame.give[np.ix_(at, at)] + np.diag(frame.seat[at])
        matrix[:n, n:], matrix[n:, :n] = shapes, shapes.T
        sag = frame.own @ frame.give
        found = np.linalg.solve(matrix, np.concatenate((sag[at], frame.own @ frame.shapes)))
        return np.asarray(found[:n] @ frame.give[at] - sag + frame.shapes @ found[n:])
