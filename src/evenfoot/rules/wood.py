"""What timber weighs at a given moisture, and how much of it one person may lift."""

from __future__ import annotations

from evenfoot.rules.ranges import within


def oven_dry_gravity(density_12: float) -> float:
    """Return the specific gravity G0 [-] of oven-dry wood (dry mass over dry volume) from its density at 12 %.

    Source: the density equation of ``density_at`` solved for G0 at M = 12 %.
    Valid: 100 to 1400 kg/m3.
    Args: density_12, density at 12 % moisture [kg/m3].
    Raises: OutOfRangeError outside the valid range.
    """
    r12 = within("density_12", density_12, low=100.0, high=1400.0, unit="kg/m3") / 1000.0
    return r12 / (1.12 - 0.108 * r12)


def density_at(*, gravity: float, moisture: float, fsp: float) -> float:
    """Return the density of wood [kg/m3] at a moisture: mass with its water over the volume at that moisture.

    rho = 1000 G0 / (1 + 0.009 G0 M) (1 + M/100). Above fibre saturation the volume stays that at saturation and
    only the water goes on weighing more.
    Source: density of wood against moisture content, handbook relation (id density_mc).
    Valid: 0.1 <= G0 <= 1.5; 0 <= M <= 250 %; 15 <= fsp <= 40 %.
    Args: gravity, G0 [-]; moisture, M of dry mass [%]; fsp, fibre saturation [%].
    Raises: OutOfRangeError outside the valid range.
    """
    within("gravity", gravity, low=0.1, high=1.5)
    within("moisture", moisture, low=0.0, high=250.0, unit="%")
    within("fsp", fsp, low=15.0, high=40.0, unit="%")
    return 1000.0 * gravity / (1.0 + 0.009 * gravity * min(moisture, fsp)) * (1.0 + moisture / 100.0)


def fresh_treated_density(*, gravity: float, moisture: float, fsp: float, water: float) -> float:
    """Return the density [kg/m3] of treated timber straight from the cylinder: dry wood at swollen volume plus water.

    Never less than ``density_at`` says for the moisture.
    Source: freshly treated timber may hold about 38 lb/ft3 of water (id treated_wet).
    Valid: as ``density_at``; 0 <= water <= 700 kg/m3.
    Args: gravity, G0 [-]; moisture, M [%]; fsp, fibre saturation [%]; water, held in a cubic metre [kg/m3].
    Raises: OutOfRangeError outside the valid range.
    """
    within("water", water, low=0.0, high=700.0, unit="kg/m3")
    dry = density_at(gravity=gravity, moisture=fsp, fsp=fsp) / (1.0 + fsp / 100.0)
    return max(dry + water, density_at(gravity=gravity, moisture=moisture, fsp=fsp))


def mass(*, volume: float, density: float) -> float:
    """Return the mass [kg] of a volume of timber.

    Source: definition of density.   Valid: volume >= 0; density > 0.
    Args: volume [mm3]; density [kg/m3].
    Raises: OutOfRangeError outside the valid range.
    """
    within("volume", volume, low=0.0, unit="mm3")
    within("density", density, low=1.0, high=2000.0, unit="kg/m3")
    return volume * 1e-9 * density


def lift_limit(*, share: float, body_mass: float) -> float:
    """Return the greatest mass [kg] that one person should lift alone.

    Source: Japanese guidance on lifting (id lift_jp): 40 % of body mass for men, 24 % for women.
    Valid: 0 < share <= 0.4; 30 to 150 kg.
    Args: share of body mass [-]; body_mass [kg].
    Raises: OutOfRangeError outside the valid range.
    """
    within("share", share, low=0.01, high=0.4)
    within("body_mass", body_mass, low=30.0, high=150.0, unit="kg")
    return share * body_mass
