"""What to order, how long it takes and what it costs."""

from evenfoot.estimate.model import Built, CoatLine, Estimate, Fixing, Money, OrderLine, Work
from evenfoot.estimate.price import price_job

__all__ = ["Built", "CoatLine", "Estimate", "Fixing", "Money", "OrderLine", "Work", "price_job"]
