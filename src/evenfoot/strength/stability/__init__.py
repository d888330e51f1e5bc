"""Whether the floor stays where it is: swaying, sliding, the ground under its feet, snow from above (note 095)."""

from evenfoot.strength.stability.carried import Carried, carried_by
from evenfoot.strength.stability.ground import check_ground, give_of_ground
from evenfoot.strength.stability.heavy import check_heavy, on_levels, set_down
from evenfoot.strength.stability.held import ways
from evenfoot.strength.stability.sway import Floor, check_sway, check_unheld
from evenfoot.strength.stability.weather import check_roof_snow

__all__ = [
    "Carried",
    "Floor",
    "carried_by",
    "check_ground",
    "check_heavy",
    "check_roof_snow",
    "check_sway",
    "check_unheld",
    "give_of_ground",
    "on_levels",
    "set_down",
    "ways",
]
