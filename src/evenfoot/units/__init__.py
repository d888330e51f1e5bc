"""Lengths, slopes, loads, pressures and temperatures as people write them, read and written exactly."""

from evenfoot.units.measures import measure
from evenfoot.units.ratio import format_ratio, parse_force, parse_pressure, parse_ratio, parse_temperature
from evenfoot.units.reading import parse_length
from evenfoot.units.scale import UNITS
from evenfoot.units.writing import format_exact, format_length, format_typed, round_to

__all__ = [
    "UNITS",
    "format_exact",
    "format_length",
    "format_ratio",
    "format_typed",
    "measure",
    "parse_force",
    "parse_length",
    "parse_pressure",
    "parse_ratio",
    "parse_temperature",
    "round_to",
]
