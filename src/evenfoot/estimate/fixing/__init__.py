"""What nails and screws hold the floor together, and whether each has room."""

from evenfoot.estimate.fixing.choose import Fixings, choose_fixings

__all__ = ["Fixings", "choose_fixings"]
