"""What each role may do: one table."""

from __future__ import annotations

from enum import StrEnum

from evenfoot.errors import Fault, RefusedError
from evenfoot.store import Role


class Action(StrEnum):
    """What somebody may want to do."""

    READ = "read"
    """See jobs, sheets and logs, and take them away as files."""
    LOG = "log"
    """Add readings and other lines to the log of a job."""
    PAIR = "pair"
    """Pair a phone of one's own, and end what is one's own."""
    EDIT = "edit"
    """Make, change, copy and put away jobs."""
    PEOPLE = "people"
    """Enter and remove people, change their roles, and end anybody's sessions."""


RIGHTS: dict[Role, frozenset[Action]] = {
    Role.OWNER: frozenset(Action),
    Role.CREW: frozenset({Action.READ, Action.LOG, Action.PAIR}),
    Role.VIEWER: frozenset({Action.READ, Action.PAIR}),
}
"""What each role may do; whatever is not in its row it may not."""


def may(role: Role, action: Action) -> bool:
    """Return whether a role may do something."""
    return action in RIGHTS[role]


def check(role: Role, action: Action) -> None:
    """Do nothing when a role may do something; raises RefusedError ``not-allowed`` when it may not."""
    if not may(role, action):
        able = ", ".join(other.value for other in Role if may(other, action))
        raise RefusedError(Fault(where="", code="not-allowed", found=role.value, allowed=able))
