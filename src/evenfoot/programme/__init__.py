"""The steps of the work in order, with drying between them, and the upkeep after it."""

from evenfoot.programme.model import Programme, Upkeep, WorkStep
from evenfoot.programme.order import order_work

__all__ = ["Programme", "Upkeep", "WorkStep", "order_work"]
