"""What the timber weighs, how it moves over the year, and which detail rots first."""

from evenfoot.timber.know import know_timber
from evenfoot.timber.model import Exposure, Movement, SeasonGap, Timber, TimberMass

__all__ = ["Exposure", "Movement", "SeasonGap", "Timber", "TimberMass", "know_timber"]
