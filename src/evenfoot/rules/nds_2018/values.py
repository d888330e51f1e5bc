"""What sawn timber may be stressed to by North American practice: reference values times their factors."""

from __future__ import annotations

from evenfoot.rules.ranges import above, within


def bending(  # noqa: PLR0913 - the equation has as many factors
    *, F_b: float, C_D: float, C_M: float, C_L: float, C_F: float, C_fu: float, C_i: float, C_r: float
) -> float:
    """Return F_b' = F_b C_D C_M C_L C_F C_fu C_i C_r [N/mm²].

    Source: NDS 2018, table 4.3.1.   Valid: F_b > 0; factors as in ``duration`` to ``repetitive``.
    Args: F_b, reference value [N/mm²]; C_D, duration; C_M, wet service; C_L, stability; C_F, size; C_fu, flat use; C_i,
    incising; C_r, repetition [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    value = above("F_b", F_b, unit="N/mm2") * _duration(C_D) * _share("C_M", C_M) * _share("C_L", C_L)
    value *= within("C_F", C_F, low=0.4, high=1.5) * within("C_fu", C_fu, low=1.0, high=1.2)
    return value * _share("C_i", C_i) * within("C_r", C_r, low=1.0, high=1.15)


def tension(*, F_t: float, C_D: float, C_M: float, C_F: float, C_i: float) -> float:
    """Return F_t' = F_t C_D C_M C_F C_i [N/mm²].

    Source: NDS 2018, table 4.3.1.   Valid: F_t > 0; factors as in ``bending``.
    Args: F_t, reference value [N/mm²]; C_D, C_M, C_F, C_i, factors [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    value = above("F_t", F_t, unit="N/mm2") * _duration(C_D) * _share("C_M", C_M)
    return value * within("C_F", C_F, low=0.4, high=1.5) * _share("C_i", C_i)


def shear(*, F_v: float, C_D: float, C_M: float, C_i: float) -> float:
    """Return F_v' = F_v C_D C_M C_i [N/mm²].

    Source: NDS 2018, table 4.3.1.   Valid: F_v > 0; factors as in ``bending``.
    Args: F_v, reference value [N/mm²]; C_D, C_M, C_i, factors [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("F_v", F_v, unit="N/mm2") * _duration(C_D) * _share("C_M", C_M) * _share("C_i", C_i)


def across(*, F_cp: float, C_M: float, C_i: float, C_b: float) -> float:
    """Return F_c⊥' = F_c⊥ C_M C_i C_b [N/mm²]; how long the load lasts does not count.

    Source: NDS 2018, table 4.3.1.   Valid: F_cp > 0; C_b >= 1; others as in ``bending``.
    Args: F_cp, reference value across the grain [N/mm²]; C_M, C_i, C_b, factors [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("F_cp", F_cp, unit="N/mm2") * _share("C_M", C_M) * _share("C_i", C_i) * within("C_b", C_b, low=1.0)


def along(*, F_c: float, C_D: float, C_M: float, C_F: float, C_i: float) -> float:
    """Return F_c* = F_c C_D C_M C_F C_i [N/mm²], before buckling.

    Source: NDS 2018, table 4.3.1 and 3.7.1.5.   Valid: F_c > 0; factors as in ``bending``.
    Args: F_c, reference value along the grain [N/mm²]; C_D, C_M, C_F, C_i, factors [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    value = above("F_c", F_c, unit="N/mm2") * _duration(C_D) * _share("C_M", C_M)
    return value * within("C_F", C_F, low=0.6, high=1.15) * _share("C_i", C_i)


def modulus(*, E: float, C_M: float, C_i: float) -> float:
    """Return E' = E C_M C_i [N/mm²]; E_min' likewise.

    Source: NDS 2018, table 4.3.1.   Valid: E > 0; factors as in ``bending``.
    Args: E, reference modulus [N/mm²]; C_M, C_i, factors [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return above("E", E, unit="N/mm2") * _share("C_M", C_M) * _share("C_i", C_i)


def least_modulus(*, E: float, cov: float) -> float:
    """Return E_min = 1.03 E (1 - 1.645 COV) / 1.66 [N/mm²], the modulus for buckling.

    Source: NDS 2018, appendix D.4; 1.03 takes the shear out of E.   Valid: E > 0; 0 <= cov <= 0.3.
    Args: E, reference modulus [N/mm²]; cov, its spread, 0.25 for sawn timber graded by eye [-].
    Raises: OutOfRangeError when an argument leaves the valid range.
    """
    return bent_modulus(E=E) * (1.0 - 1.645 * within("cov", cov, low=0.0, high=0.3)) / 1.66


def bent_modulus(*, E: float) -> float:
    """Return 1.03 E [N/mm²], the modulus of bending alone where shear is reckoned beside it.

    Source: NDS 2018, appendix D.4.   Valid: E > 0.
    Args: E, reference modulus, which holds the usual share of shear [N/mm²].
    Raises: OutOfRangeError when E leaves the valid range.
    """
    return 1.03 * above("E", E, unit="N/mm2")


def _duration(c_d: float) -> float:
    return within("C_D", c_d, low=0.9, high=2.0)


def _share(name: str, value: float) -> float:
    above(name, value)
    return within(name, value, high=1.0)
