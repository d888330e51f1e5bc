"""Evenfoot carries an outdoor timber floor from the first level reading to the handover."""

__version__ = "0.1.0"
