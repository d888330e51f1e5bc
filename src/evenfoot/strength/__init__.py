"""Whether the frame is strong and stiff enough, by one standard, every check with its clause."""

from evenfoot.strength.elastic import CondensedFrame, condense_frame
from evenfoot.strength.model import PostLoad, Sag, Strength
from evenfoot.strength.whole import check_strength

__all__ = ["CondensedFrame", "PostLoad", "Sag", "Strength", "check_strength", "condense_frame"]
