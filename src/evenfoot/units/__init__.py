"""Lengths as people write them, exactly: mm, m, inches and feet with fractions, shaku-sun-bu."""

from evenfoot.units.length import format_length, parse_length

__all__ = ["format_length", "parse_length"]
