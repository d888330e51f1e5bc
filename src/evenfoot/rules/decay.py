"""How exposed a detail is to decay, and how that compares with what its timber resists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.rules.ranges import within


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposureFactors:
    """The factors of one detail, all [-]: local exposure, shelter, height, trapped water, calibration."""

    k_s1: float
    k_s2: float
    k_s3: float
    k_s4: float
    c_a: float = 1.0

    def __post_init__(self) -> None:
        """Refuse factors that no detail has."""
        for name in ("k_s1", "k_s2", "k_s3", "k_s4", "c_a"):
            within(name, getattr(self, name), low=0.1, high=5.0)


def climate_index(*, temperatures: Sequence[float], rain_days: Sequence[float]) -> float:
    """Return the climate index of a place [-]: below 35 low, 35 to 65 moderate, above 65 high risk of decay.

    Sum over twelve months of max(0, T - 2) max(0, D - 3) / 16.7. It ranks climates, nothing more.
    Source: a climate index for decay above ground, Forest Products Journal 1971, formula recalled (id sci_original).
    Valid: twelve months each.
    Args: temperatures, monthly means [degrees C]; rain_days, days a month with 0.25 mm or more [-].
    Raises: OutOfRangeError when a month is missing or a day count is impossible.
    """
    within("temperatures", len(temperatures), low=12, high=12, unit="months")
    within("rain_days", len(rain_days), low=12, high=12, unit="months")
    for day_count in rain_days:
        within("rain_days", day_count, low=0.0, high=31.0)
    months = zip(temperatures, rain_days, strict=True)
    return sum(max(0.0, t - 2.0) * max(0.0, d - 3.0) for t, d in months) / 16.7


def site_exposure(index: float) -> float:
    """Return the site factor I_S0 [-] (Helsinki = 1) that stands for a climate index.

    I_S0 = index / 40.
    Source: our bridge between the two scales (id own); for ranking only.   Valid: 0 to 150.
    Args: index, climate index [-].
    Raises: OutOfRangeError outside the valid range.
    """
    return within("index", index, low=0.0, high=150.0) / 40.0


def exposure_index(*, site: float, factors: ExposureFactors) -> float:
    """Return the characteristic exposure index I_Sk [-] of a detail.

    I_Sk = k_s1 k_s2 k_s3 k_s4 I_S0 c_a.
    Source: durability design of exterior wood, exposure index (ids dur_expo, dur_example).   Valid: 0 < I_S0 <= 4.
    Args: site, I_S0 [-]; factors of the detail [-].
    Raises: OutOfRangeError outside the valid range.
    """
    within("site", site, low=0.0, high=4.0)
    f = factors
    return f.k_s1 * f.k_s2 * f.k_s3 * f.k_s4 * site * f.c_a


def design_index(*, index: float, gamma_d: float) -> float:
    """Return the design exposure index I_Sd [-], accepted while it is under the resistance I_Rd.

    I_Sd = gamma_d I_Sk.
    Source: durability design of exterior wood, consequence classes (ids dur_conseq, dur_steps).
    Valid: index >= 0; 0.8 <= gamma_d <= 1.
    Args: index, I_Sk [-]; gamma_d, consequence factor [-].
    Raises: OutOfRangeError outside the valid range.
    """
    within("index", index, low=0.0)
    within("gamma_d", gamma_d, low=0.8, high=1.0)
    return gamma_d * index
