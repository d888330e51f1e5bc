"""The hands that reckon beside the page: quick looks in turn, long errands that tell how far they are and can be stopped."""

from evenfoot.web.hands.errands import Errand, ErrandState, Errands
from evenfoot.web.hands.pool import Hands, SupersededError

__all__ = ["Errand", "ErrandState", "Errands", "Hands", "SupersededError"]
