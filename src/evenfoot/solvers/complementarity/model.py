"""A set of one-sided contacts under a body that is partly stiff and partly free, and how it settles on them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Contacts:
    """A mixed linear complementarity problem without its right-hand side; n contacts, m free modes.

    Sought are forces p and mode sizes q with gap = offset + flexibility p + modes q, gap >= 0, p >= 0,
    gap * p = 0 at every one-way contact, gap = 0 at every two-way contact, and modes^T p = total.

    ``flexibility`` is symmetric positive definite, shape (n, n) [gap per force]; ``modes``, shape (n, m), has
    independent columns; ``is_two_way``, shape (n,), marks contacts that may pull.
    """

    flexibility: FloatArray
    modes: FloatArray
    is_two_way: BoolArray

    def __post_init__(self) -> None:
        """Refuse shapes that do not belong together."""
        n, m = self.modes.shape
        assert self.flexibility.shape == (n, n)
        assert self.is_two_way.shape == (n,)
        assert m <= n, "more free modes than contacts: nothing could hold the body"

    @property
    def count(self) -> int:
        """How many contacts there are."""
        return len(self.is_two_way)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Settled:
    """How the body rests in k cases.

    ``press`` and ``gap`` have shape (k, n), ``modes`` (k, m). ``is_touching``, shape (k, n), are the contacts that the
    answer was solved with. Where ``is_held``, shape (k,), is False no forces hold the body (it tips): the other
    arrays are nan there.
    """

    press: FloatArray
    gap: FloatArray
    modes: FloatArray
    is_touching: BoolArray
    is_held: BoolArray
