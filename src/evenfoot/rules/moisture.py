"""What moisture timber comes to in still air, and when water will settle on it."""

from __future__ import annotations

import math

from evenfoot.rules.ranges import within


def equilibrium_moisture(*, temperature: float, humidity: float) -> float:
    """Return the moisture [%] that wood sheltered from rain comes to in steady air.

    Source: two-hydrate sorption fit in degrees C, FPL-RN-0268 (id fpl_rn268_code).
    Valid: -10 to 60 degrees C; 0 to 98 % relative humidity; no liquid water. Woods scatter by about 1 %.
    Args: temperature, T [degrees C]; humidity, relative [%].
    Raises: OutOfRangeError outside the valid range.
    """
    t = within("temperature", temperature, low=-10.0, high=60.0, unit="degrees C")
    h = within("humidity", humidity, low=0.0, high=98.0, unit="%") / 100.0
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    a = k * h
    held = k1 * a + 2.0 * k1 * k2 * a**2
    return 1800.0 / w * (a / (1.0 - a) + held / (1.0 + k1 * a + k1 * k2 * a**2))


def dew_point(*, temperature: float, humidity: float) -> float:
    """Return the temperature [degrees C] at which this air would leave dew.

    Source: Magnus form with the WMO coefficients 17.62 and 243.12 (id magnus_wmo).
    Valid: -45 to 60 degrees C; 1 to 100 % relative humidity.
    Args: temperature, T [degrees C]; humidity, relative [%].
    Raises: OutOfRangeError outside the valid range.
    """
    t = within("temperature", temperature, low=-45.0, high=60.0, unit="degrees C")
    rh = within("humidity", humidity, low=1.0, high=100.0, unit="%")
    y = math.log(rh / 100.0) + 17.62 * t / (243.12 + t)
    return 243.12 * y / (17.62 - y)
