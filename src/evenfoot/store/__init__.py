"""Where the page keeps its jobs: the same texts as the files, every state of them, and the lines of their logs."""

from evenfoot.store.model import Head, JobCard, Person, Revision, Role, Session, Stage, Standing
from evenfoot.store.people import People, name_key
from evenfoot.store.sessions import Sessions
from evenfoot.store.shelf import Store

__all__ = [
    "Head",
    "JobCard",
    "People",
    "Person",
    "Revision",
    "Role",
    "Session",
    "Sessions",
    "Stage",
    "Standing",
    "Store",
    "name_key",
]
