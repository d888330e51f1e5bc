"""What the store hands out: jobs as cards and their revisions; people and their sessions."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A job at one moment: its card, one of its states, what its log holds, and whether there is anything to redo."""

    card: JobCard
    revision: Revision
    lines: tuple[str, ...]
    can_redo: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """How a job stands, in short: the digest of its state and how many lines its log holds."""

    digest: str
    lines: int


class Role(StrEnum):
    """What somebody is in the firm, the most trusted first."""

    OWNER = "owner"
    CREW = "crew"
    VIEWER = "viewer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody who may sign in. What their passphrase is kept as never leaves the store with them."""

    number: int
    name: str
    role: Role
    made_at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A browser that is signed in, or a phone that is paired (``phone`` is then its name).

    ``role`` is what it may do: the lower of what its person may and what was granted when it began.
    """

    number: int
    person: Person | None
    phone: str | None
    role: Role
    made_at: str
    seen_at: str
