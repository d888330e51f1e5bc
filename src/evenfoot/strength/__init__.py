"""Whether the frame is strong and stiff enough, by one standard, every check with its clause."""

from evenfoot.strength.model import PostLoad, Sag, Strength

__all__ = ["PostLoad", "Sag", "Strength"]
