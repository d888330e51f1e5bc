"""How many fixings a ledger wants when they may stand no further apart than so much."""

from __future__ import annotations

import math
from fractions import Fraction

from evenfoot.rules.ranges import above, within


def fixings_in(*, length: float, end: float, apart: float) -> tuple[int, float]:
    """Return how many fixings go into one row, and their even spacing [mm]: the first and last ``end`` from the ends.

    Source: set-out, n = ceil((length - 2 end) / apart) + 1.   Valid: length >= 2 end; end >= 0; apart > 0.
    Args: length, of the ledger [mm]; end, from its ends [mm]; apart, the most between two [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("end", end, low=0.0, unit="mm")
    run = within("length", length, low=2.0 * end, unit="mm") - 2.0 * end
    above("apart", apart, unit="mm")
    # To a ten-thousandth of a millimetre, so that a run that is a whole number of spacings is not given one more.
    spaces = max(1, math.ceil(Fraction(round(run * 10_000)) / Fraction(round(apart * 10_000))))
    return spaces + 1, run / spaces
