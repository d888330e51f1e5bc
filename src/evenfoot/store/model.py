"""What the store hands out: jobs as cards, and their revisions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Stage(StrEnum):
    """Where a job stands, as the carpenter counts."""

    VISIT = "visit"
    AGREE = "agree"
    ORDER = "order"
    SHOP = "shop"
    SET = "set"
    BOARDS = "boards"
    HANDED_OVER = "handed-over"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCard:
    """One job in the list. ``changed_at`` is when it was last saved, in ISO 8601."""

    number: int
    name: str
    stage: Stage
    is_archived: bool
    changed_at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """One state of a job: its text and the shop's text, byte for byte as they were saved.

    ``digest`` tells it from every other text; a save names the digest of what it changes.
    """

    job: int
    number: int
    parent: int | None
    job_text: str
    shop_text: str
    digest: str
    who: str
    saved_at: str
    engine: str
