"""The one entrance: from a job, a shop and a log to the whole plan."""

from evenfoot.plan.make import STAGES, frame_only, make_plan
from evenfoot.plan.memory import Memory
from evenfoot.plan.model import Framed, Plan
from evenfoot.plan.solids import Standing, standing
from evenfoot.plan.sources import source_titles

__all__ = ["STAGES", "Framed", "Memory", "Plan", "Standing", "frame_only", "make_plan", "source_titles", "standing"]
