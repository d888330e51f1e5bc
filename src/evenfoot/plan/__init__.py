"""The one entrance: from a job, a shop and a log to the whole plan."""

from evenfoot.plan.model import Plan

__all__ = ["Plan"]
