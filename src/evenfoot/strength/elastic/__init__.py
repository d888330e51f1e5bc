"""How the frame gives way, without any standard's limits."""

from evenfoot.strength.elastic.condense import CondensedFrame, condense_frame
from evenfoot.strength.elastic.woods import woods_of

__all__ = ["CondensedFrame", "condense_frame", "woods_of"]
