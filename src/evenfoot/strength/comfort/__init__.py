"""How the floor feels: how far it sags under one person, what neighbours feel of it, how fast it swings (note 098)."""

from evenfoot.strength.comfort.feel import Lowest, check_feel
from evenfoot.strength.comfort.swing import lowest_frequency

__all__ = ["Lowest", "check_feel", "lowest_frequency"]
