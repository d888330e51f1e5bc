"""How the frame really lies, and which foot to turn how often."""

from evenfoot.setting.level.lie import Lie, Spot, lie_of
from evenfoot.setting.level.press import press_of
from evenfoot.setting.level.survey import Closure, Instrument, Sight, Survey, survey
from evenfoot.setting.level.turns import Thread, Turns, Visit, best_turns, order_visits

__all__ = [
    "Closure",
    "Instrument",
    "Lie",
    "Sight",
    "Spot",
    "Survey",
    "Thread",
    "Turns",
    "Visit",
    "best_turns",
    "lie_of",
    "order_visits",
    "press_of",
    "survey",
]
