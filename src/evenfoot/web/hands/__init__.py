"""The hands that reckon beside the page: quick looks in turn; long errands that tell their stage and can be stopped."""

from evenfoot.web.hands.errands import Errand, Errands, ErrandState
from evenfoot.web.hands.pool import Hands, SupersededError

__all__ = ["Errand", "ErrandState", "Errands", "Hands", "SupersededError"]
