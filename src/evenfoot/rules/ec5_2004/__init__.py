"""Formulas of EN 1995-1-1:2004 (Eurocode 5) with amendments A1:2008 and A2:2014, and of EN 1990 and EN 1991 beside it.

Symbols are those of the standards; b is the width, h the depth of a rectangular section.
"""
