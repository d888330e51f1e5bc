"""What a push on a guard does to its post and to the fixings at its foot; statics that belongs to no standard."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within


def post_push(*, p: float, s: float, P: float) -> float:
    """Return max(p s, P) [N]: the line load of the rail between posts, or the single load, at the top of one post.

    Source: statics.   Valid: p >= 0; s >= 0; P >= 0.
    Args: p, line load on the rail [N/mm]; s, from post to post [mm]; P, single load [N].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("p", p, low=0.0, unit="N/mm")
    within("s", s, low=0.0, unit="mm")
    return max(p * s, within("P", P, low=0.0, unit="N"))


def foot_moment(*, H: float, h: float, t: float) -> float:
    """Return H (h + t) [N mm] at the upper fixing.

    Source: statics.   Valid: H >= 0; h >= 0; t >= 0.
    Args: H, push at the rail [N]; h, rail over the floor [mm]; t, from the floor down to the upper fixing [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("H", H, low=0.0, unit="N")
    within("h", h, low=0.0, unit="mm")
    return H * (h + within("t", t, low=0.0, unit="mm"))


def upper_pull(*, M: float, H: float, a: float) -> float:
    """Return M / a + H [N], the pull on the upper of two fixings: the couple and the push itself.

    Source: statics, moments about the lower fixing.   Valid: M >= 0; H >= 0; a > 0.
    Args: M, moment at the upper fixing [N mm]; H, push [N]; a, between the fixings [mm].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    within("M", M, low=0.0, unit="N mm")
    within("H", H, low=0.0, unit="N")
    return M / above("a", a, unit="mm") + H
