"""What to order, how long it takes and what it costs."""

from evenfoot.estimate.model import Built, CoatLine, Estimate, Fixing, Money, OrderLine, Work

__all__ = ["Built", "CoatLine", "Estimate", "Fixing", "Money", "OrderLine", "Work"]
