"""What pushes a floor sideways, and how those that hold it share the push; statics that belongs to no standard."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import above, within


def push(*, share: float, N: float) -> float:
    """Return H = share N [N], a push that goes with the weight.

    Source: statics.   Valid: 0 <= share <= 2; N >= 0.
    Args: share, of the vertical load [-]; N, vertical load [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return within("share", share, low=0.0, high=2.0) * within("N", N, low=0.0, unit="N")


def friction(*, mu: float, N: float) -> float:
    """Return mu N [N], the push at which feet that only stand begin to slide.

    Source: dry friction (Coulomb).   Valid: 0 <= mu <= 1; N >= 0.
    Args: mu, friction under the feet [-]; N, vertical load on them [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return within("mu", mu, low=0.0, high=1.0) * within("N", N, low=0.0, unit="N")


def leaning_ties(*, H: float, arm: float, length: float, n: int) -> tuple[float, float]:
    """Return (along, pull) [N]: what the end one of n even ties on one edge takes of a push along that edge.

    ``along`` is its even share H / n. The push acts ``arm`` away from the ties and turns the floor about their middle;
    ties at x resist by pulling, each in step with x: pull = H arm x_n / sum x². With one tie nothing resists the turn.

    Source: statics of a stiff plate on springs.   Valid: H >= 0; arm >= 0; length > 0; n >= 2.
    Args: H, push [N]; arm, from the row of ties to the middle of the weight [mm]; length, of the row [mm]; n, ties.
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("H", H, low=0.0, unit="N")
    within("arm", arm, low=0.0, unit="mm")
    within("length", length, low=1.0, unit="mm")
    within("n", float(n), low=2.0)
    places = [length * (k / (n - 1) - 0.5) for k in range(n)]
    return H / n, H * arm * places[-1] / sum(x * x for x in places)


def both(*, along: float, pull: float) -> float:
    """Return the size of two forces at right angles [N].

    Source: statics.   Valid: all.
    Args: along, pull [N].
    """
    return math.hypot(along, pull)


def upright_share(*, b: float, h: float) -> float:
    """Return b / h [-]: the push, as a share of its load, that a post on flat ends rights itself against.

    It holds for a stiff post with square ends on hard seats, at the very start of a sway; it falls off as the post
    leans. For information only.

    Source: statics of a block between two plates.   Valid: b > 0; h > 0.
    Args: b, width of the post in the way of the push [mm]; h, its height [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("b", b, unit="mm") / above("h", h, unit="mm")
