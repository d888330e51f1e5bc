"""Which distance was misread, when they cannot all be true."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import OutOfRangeError
from evenfoot.setting.slips import likely_slip
from evenfoot.setting.square.figures import reach
from evenfoot.setting.square.model import Suspect
from evenfoot.setting.sureness import NINETEEN_IN_TWENTY
from evenfoot.solvers import chi_squared_limit, network

_CHANCE = 0.001
"""How often good readings are doubted; Baarda's own choice."""
_CLEARLY = 8.0
"""How much better the best explanation must be than the next to stand alone: e^4 = 55 times as likely."""


def suspects_among(
    fitted: network.Network,
    spans: Sequence[network.Span],
    *,
    start: NDArray[np.float64],
    likely: Sequence[network.Tie],
    scale_sigma: float,
) -> tuple[Suspect, ...]:
    """Return the distance that was misread, or those of which one was; none while chance explains the misfit.

    Each in turn is left out and the rest fitted with what is likely of a frame (opposite sides were cut alike). The
    one without which all agree best is the misread; where others explain it as well they are named too, those first
    that a usual slip explains: a slip that fits by chance must not send anyone to the wrong corner.
    Source: W. Baarda, A testing procedure for use in geodetic networks, 1968, for the single misread; the likelihoods
    are compared by their misfit squares.
    Args: spans, all of them, as they went into ``fitted``; likely, what is known of a frame before it is measured.
    """
    free = fitted.fit.freedom
    if free < 1 or fitted.fit.misfit_squares <= chi_squared_limit(share=_CHANCE, freedom=free):
        return ()
    found = []
    for index, span in enumerate(spans):
        others = [*spans[:index], *spans[index + 1 :]]
        try:
            fit = network.fit_distances(start, others, ties=likely, scale_sigma=scale_sigma)
        except OutOfRangeError:
            continue
        found.append((fit.fit.misfit_squares, _suspect(span, fit)))
    found.sort(key=lambda one: one[0])
    best = [suspect for misfit, suspect in found if misfit <= found[0][0] + _CLEARLY]
    return tuple(sorted(best, key=lambda suspect: suspect.slip is None))


def _suspect(span: network.Span, fit: network.Network) -> Suspect:
    expected = (1 + fit.scale) * reach(span.pair)(fit.points)
    sigma = float(np.hypot(fit.sigma_of(reach(span.pair)), span.sigma))
    sure = NINETEEN_IN_TWENTY * sigma
    return Suspect(
        pair=span.pair,
        found=span.value,
        expected=expected,
        sure=sure,
        slip=likely_slip(span.value, expected=expected, within=1.5 * sure),
    )
