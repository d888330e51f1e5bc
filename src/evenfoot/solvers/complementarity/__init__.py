"""Which of many one-sided contacts press and which stand clear, exactly and for many cases at once."""

from evenfoot.solvers.complementarity.model import Contacts, Settled
from evenfoot.solvers.complementarity.settle import Settler

__all__ = ["Contacts", "Settled", "Settler"]
