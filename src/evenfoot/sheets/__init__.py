"""What a carpenter holds: every sheet of the set as marks on paper, and every list as a table."""

from evenfoot.sheets.bundle import drawings, tables

__all__ = ["drawings", "tables"]
