"""How long a coat dries before the next one, and when the air forbids coating."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within

COLDEST = 5.0
"""General lower limit for coating [degrees C]; Source: ids coat_conditions_2, stain_practice_jp."""
HOTTEST = 30.0
"""Upper limit for top coats [degrees C]; Source: id coat_conditions_2."""
DAMPEST = 85.0
"""Upper limit of relative humidity for coating [%]; Source: ids coat_conditions_2, dew_rule."""


def humidity_factor(humidity: float) -> float:
    """Return how much longer a coat dries in damp air [-]: 1 up to 65 %, rising in a straight line to 2 at 85 %.

    Source: our rule (id own), in line with trade advice (id stain_practice_jp).   Valid: 0 to 85 %.
    Args: humidity, relative [%].
    Raises: OutOfRangeError above 85 %, where nothing may be coated, and below 0.
    """
    within("humidity", humidity, low=0.0, high=DAMPEST, unit="%")
    return 1.0 + max(0.0, humidity - 65.0) / 20.0


def recoat_hours(*, hours_at_20: float, temperature: float, humidity: float) -> float:
    """Return how long a coat dries before the next one [h]: twice as long for every 10 K colder.

    t = t_20 2^((20 - T)/10) f_RH.
    Source: our rule (id own); at 10 degrees C a day becomes two, as trade advice for winter (id stain_practice_jp).
    Valid: 5 to 40 degrees C; 0 to 85 %.
    Args: hours_at_20, at 20 degrees C and 65 % [h]; temperature [degrees C]; humidity, relative [%].
    Raises: OutOfRangeError outside the valid range.
    """
    within("hours_at_20", hours_at_20, low=0.0, unit="h")
    within("temperature", temperature, low=COLDEST, high=40.0, unit="degrees C")
    return hours_at_20 * math.exp2((20.0 - temperature) / 10.0) * humidity_factor(humidity)


def dew_margin(*, surface: float, dew_point: float) -> float:
    """Return how far a surface is above the dew point [K]; coating asks for 3 K or more.

    Source: ISO 8502-4 practice, written for steel (id dew_rule).   Valid: any temperature.
    Args: surface [degrees C]; dew_point [degrees C].
    Raises: nothing.
    """
    return surface - dew_point
