"""Which feet of the floor carry, how far it rocks under a walking person, what to shave or pack, and the odds."""

from evenfoot.setting.posts.floating import FloatingFrame, float_frame, rigid_frame
from evenfoot.setting.posts.floor import bases_of, cut_tolerance, float_floor, may_stand_in, rough_step
from evenfoot.setting.posts.goal import Goal, Hand, Steadiness, Trial, make_trial
from evenfoot.setting.posts.measure import Base, Basis, Known, Need, clear_of, heads_on_jacks, lies_above, needs
from evenfoot.setting.posts.odds import Errors, Odds, Sample, Tightness, how_tight, odds_of_rocking, rocks
from evenfoot.setting.posts.order import Order, Orders, best_order
from evenfoot.setting.posts.remedy import EXACT_UP_TO, Change, Remedy, find_remedy
from evenfoot.setting.posts.standing import Footing, Rest
from evenfoot.setting.posts.walk import GRAVITY, Jump, Walk, neighbours, walk

__all__ = [
    "EXACT_UP_TO",
    "GRAVITY",
    "Base",
    "Basis",
    "Change",
    "Errors",
    "FloatingFrame",
    "Footing",
    "Goal",
    "Hand",
    "Jump",
    "Known",
    "Need",
    "Odds",
    "Order",
    "Orders",
    "Remedy",
    "Rest",
    "Sample",
    "Steadiness",
    "Tightness",
    "Trial",
    "Walk",
    "bases_of",
    "best_order",
    "clear_of",
    "cut_tolerance",
    "find_remedy",
    "float_floor",
    "float_frame",
    "heads_on_jacks",
    "how_tight",
    "lies_above",
    "make_trial",
    "may_stand_in",
    "needs",
    "neighbours",
    "odds_of_rocking",
    "rigid_frame",
    "rocks",
    "rough_step",
    "walk",
]
