"""Where the page keeps its jobs: the same texts as the files, every state of them, and the lines of their logs."""

from evenfoot.store.model import JobCard, Revision, Stage
from evenfoot.store.shelf import Store

__all__ = ["JobCard", "Revision", "Stage", "Store"]
