"""Whether what fastens the timbers bears: hangers, splices, heads and feet of posts, ledgers, guards (note 097)."""

from evenfoot.strength.joins.guards import check_guard
from evenfoot.strength.joins.ledgers import check_ledger
from evenfoot.strength.joins.lifting import check_fixed_posts
from evenfoot.strength.joins.metal import enter_makers
from evenfoot.strength.joins.splices import Ties

__all__ = ["Ties", "check_fixed_posts", "check_guard", "check_ledger", "enter_makers"]
