"""The shelf of jobs: every text that a job ever had is kept, undo and redo move along them, log lines only grow."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from hashlib import sha256
from importlib.metadata import version
from typing import Any

import sqlalchemy as sa

from evenfoot.errors import ConflictError, Fault, NoSolutionError, StoreError
from evenfoot.store.model import Head, JobCard, Revision, Stage, Standing
from evenfoot.store.people import People
from evenfoot.store.place import Place, keepable
from evenfoot.store.schema import LARGEST, jobs, log_lines, revisions
from evenfoot.store.sessions import Sessions

ENGINE = version("evenfoot")


def _now() -> datetime:
    return datetime.now(UTC)


Together = Callable[[Revision, Revision, Revision], bool]
"""Tells of three states, each made from the one before it, whether the two changes between them are one."""


def _never(_before: Revision, _between: Revision, _after: Revision) -> bool:
    return False


def digest_of(job_text: str, shop_text: str) -> str:
    """Return what tells one state of a job from another."""
    return sha256(f"{len(job_text)}\n{job_text}{shop_text}".encode()).hexdigest()


class Store:
    """All jobs of one shop. Each method is one transaction: it happens whole or not at all."""

    def __init__(self, url: str, *, clock: Callable[[], datetime] = _now) -> None:
        """Open the store at an address such as ``sqlite:////home/me/evenfoot.db``; raises StoreError."""
        self._place = Place(url, clock)
        self.people = People(self._place)
        self.sessions = Sessions(self._place)

    def close(self) -> None:
        """Let go of every connection."""
        self._place.close()

    def create(self, *, name: str, job_text: str, shop_text: str = "", who: str = "") -> int:
        """Put a new job on the shelf and return its number."""
        texts = (keepable(job_text, "job"), keepable(shop_text, "shop"))
        with self._place.write() as link:
            card = {"name": keepable(name, "name"), "stage": Stage.VISIT.value, "is_archived": False, "head": 1}
            asked = sa.insert(jobs).values(**card, changed_at=self._place.time()).returning(jobs.c.id)
            number = int(link.execute(asked).scalar_one())
            self._add(link, number, (1, None), texts, keepable(who, "who"))
        return number

    def cards(self, *, search: str = "", has_archived: bool = False) -> tuple[JobCard, ...]:
        """Return the jobs, the last changed first; ``search`` is looked for in their names, in any case."""
        asked = sa.select(jobs).order_by(jobs.c.changed_at.desc(), jobs.c.id.desc())
        if not has_archived:
            asked = asked.where(jobs.c.is_archived.is_(False))
        with self._place.read() as link:
            found = [_card(row) for row in link.execute(asked).mappings()]
        wanted = search.casefold()
        return tuple(card for card in found if wanted in card.name.casefold())

    def head(self, job: int) -> Revision:
        """Return the job as it stands; raises StoreError ``job-unknown``."""
        with self._place.read() as link:
            return self._revision(link, job, self._row(link, job)["head"])

    def revision(self, job: int, number: int) -> Revision:
        """Return any earlier state; raises StoreError ``revision-unknown``."""
        with self._place.read() as link:
            return self._revision(link, job, number)

    def find(self, job: int, digest: str) -> Revision | None:
        """Return the last state whose digest is this one, None when there never was one."""
        asked = (
            sa.select(revisions)
            .where(revisions.c.job == job, revisions.c.digest == digest)
            .order_by(revisions.c.number.desc())
        )
        with self._place.read() as link:
            row = link.execute(asked).mappings().first()
        return None if row is None else Revision(**row)

    def trail(self, job: int, *, most: int) -> tuple[Revision, ...]:
        """Return the last ``most`` states of a job, the newest first."""
        asked = sa.select(revisions).where(revisions.c.job == job).order_by(revisions.c.number.desc()).limit(most)
        with self._place.read() as link:
            self._row(link, job)
            return tuple(Revision(**row) for row in link.execute(asked).mappings())

    def standing(self, job: int, *, number: int | None = None) -> Standing:
        """Return the job at this moment with the state that stands, or with an earlier one by its number.

        Raises: StoreError ``job-unknown``, ``revision-unknown``.
        """
        with self._place.read() as link:
            row = self._row(link, job)
            child = sa.select(revisions.c.number).where(revisions.c.job == job, revisions.c.parent == row["head"])
            return Standing(
                card=_card(row),
                revision=self._revision(link, job, row["head"] if number is None else number),
                lines=self._lines(link, job),
                can_redo=link.execute(child.limit(1)).first() is not None,
            )

    def heads(self, wanted: Collection[int]) -> Mapping[int, Head]:
        """Return how some jobs stand, in short; those that there are not are left out."""
        lines = sa.select(sa.func.count()).where(log_lines.c.job == jobs.c.id).scalar_subquery()
        is_head = sa.and_(revisions.c.job == jobs.c.id, revisions.c.number == jobs.c.head)
        asked = sa.select(jobs.c.id, revisions.c.digest, lines.label("lines")).join(revisions, is_head)
        with self._place.read() as link:
            rows = link.execute(asked.where(jobs.c.id.in_(sorted(wanted))))
            return {int(row.id): Head(digest=str(row.digest), lines=int(row.lines)) for row in rows}

    def history(self, job: int) -> tuple[Revision, ...]:
        """Return every state that the job ever had, the first first."""
        asked = sa.select(revisions).where(revisions.c.job == job).order_by(revisions.c.number)
        with self._place.read() as link:
            self._row(link, job)
            return tuple(Revision(**row) for row in link.execute(asked).mappings())

    def save(self, job: int, *, job_text: str, over: str, shop_text: str | None = None, who: str = "") -> Revision:
        """Save a changed text over the state whose digest is ``over`` and return the new state.

        Saving what already stands changes nothing.
        Raises: ConflictError ``job-changed`` when another state stands by now; nothing is lost, both texts are kept by
        whoever asked. StoreError ``job-unknown``, ``text-unkeepable``.
        """
        keepable(job_text, "job"), keepable(shop_text or "", "shop"), keepable(who, "who")
        with self._place.write() as link:
            standing = self._revision(link, job, self._locked(link, job)["head"])
            if standing.digest != over:
                found = Fault(where="job", code="job-changed", found=over[:12], allowed=standing.digest[:12])
                raise ConflictError(found)
            shop = standing.shop_text if shop_text is None else shop_text
            if (job_text, shop) == (standing.job_text, standing.shop_text):
                return standing
            number = self._last(link, job) + 1
            made = self._add(link, job, (number, standing.number), (job_text, shop), who)
            self._move(link, job, standing.number, number)
        return made

    def undo(self, job: int, *, are_one: Together = _never) -> Revision:
        """Go back to the state before this one, past all changes that ``are_one``.

        Raises: NoSolutionError ``nothing-to-undo``.
        """
        with self._place.write() as link:
            standing = after = self._revision(link, job, self._locked(link, job)["head"])
            target = self._parent(link, standing)
            if target is None:
                raise NoSolutionError(Fault(where="job", code="nothing-to-undo"))
            while (before := self._parent(link, target)) is not None and are_one(before, target, after):
                after, target = target, before
            self._move(link, job, standing.number, target.number)
        return target

    def redo(self, job: int, *, are_one: Together = _never) -> Revision:
        """Go forward to the last state made from this one, past all changes that ``are_one``.

        Raises: NoSolutionError ``nothing-to-redo``.
        """
        with self._place.write() as link:
            standing = before = self._revision(link, job, self._locked(link, job)["head"])
            target = self._child(link, standing)
            if target is None:
                raise NoSolutionError(Fault(where="job", code="nothing-to-redo"))
            while (after := self._child(link, target)) is not None and are_one(before, target, after):
                before, target = target, after
            self._move(link, job, standing.number, target.number)
        return target

    def copy(self, job: int, *, name: str, who: str = "") -> int:
        """Put a copy of the job as it stands on the shelf, without its log, and return its number."""
        found = self.head(job)
        return self.create(name=name, job_text=found.job_text, shop_text=found.shop_text, who=who)

    def change_card(
        self, job: int, *, name: str | None = None, stage: Stage | None = None, is_archived: bool | None = None
    ) -> None:
        """Change what stands on the card of a job: its name, its stage, whether it is put away."""
        asked = {
            "name": name and keepable(name, "name"),
            "stage": stage.value if stage else None,
            "is_archived": is_archived,
        }
        with self._place.write() as link:
            self._locked(link, job)
            changed = {key: value for key, value in asked.items() if value is not None}
            if changed:
                link.execute(sa.update(jobs).where(jobs.c.id == job).values(**changed))

    def add_lines(self, job: int, lines: Sequence[str]) -> int:
        """Add lines to the log of a job and return how many were new. The same line twice is one fact."""
        with self._place.write() as link:
            self._locked(link, job)
            known = {row.digest for row in link.execute(sa.select(log_lines.c.digest).where(log_lines.c.job == job))}
            place = len(known)
            fresh: list[dict[str, Any]] = []
            for line in lines:
                keepable(line, "log")
                mark = sha256(line.encode()).hexdigest()
                if mark not in known:
                    known.add(mark)
                    fresh.append({"job": job, "digest": mark, "place": place + len(fresh), "line": line})
            if fresh:
                link.execute(sa.insert(log_lines), fresh)
        return len(fresh)

    def lines(self, job: int) -> tuple[str, ...]:
        """Return the lines of the log of a job in the order in which they came."""
        with self._place.read() as link:
            self._row(link, job)
            return self._lines(link, job)

    def _lines(self, link: sa.Connection, job: int) -> tuple[str, ...]:
        asked = sa.select(log_lines.c.line).where(log_lines.c.job == job).order_by(log_lines.c.place)
        return tuple(link.execute(asked).scalars())

    def _row(self, link: sa.Connection, job: int, *, is_locked: bool = False) -> Any:  # noqa: ANN401 - the library's row
        asked = sa.select(jobs).where(jobs.c.id == job)
        if is_locked:
            asked = asked.with_for_update()
        row = link.execute(asked).mappings().first() if 0 < job <= LARGEST else None
        if row is None:
            raise StoreError(Fault(where="job", code="job-unknown", found=str(job)))
        return row

    def _locked(self, link: sa.Connection, job: int) -> Any:  # noqa: ANN401 - the library's row
        """Return the row of a job that is about to change; whoever else would change it waits."""
        return self._row(link, job, is_locked=True)

    def _revision(self, link: sa.Connection, job: int, number: int) -> Revision:
        asked = sa.select(revisions).where(revisions.c.job == job, revisions.c.number == number)
        row = link.execute(asked).mappings().first() if 0 < number <= LARGEST else None
        if row is None:
            raise StoreError(Fault(where="job", code="revision-unknown", found=str(number)))
        return Revision(**row)

    def _parent(self, link: sa.Connection, one: Revision) -> Revision | None:
        return None if one.parent is None else self._revision(link, one.job, one.parent)

    def _child(self, link: sa.Connection, one: Revision) -> Revision | None:
        """Return the last state that was made from one."""
        made = sa.select(revisions).where(revisions.c.job == one.job, revisions.c.parent == one.number)
        row = link.execute(made.order_by(revisions.c.number.desc()).limit(1)).mappings().first()
        return None if row is None else Revision(**row)

    def _last(self, link: sa.Connection, job: int) -> int:
        asked = sa.select(sa.func.max(revisions.c.number)).where(revisions.c.job == job)
        return int(link.execute(asked).scalar_one())

    def _add(
        self, link: sa.Connection, job: int, place: tuple[int, int | None], texts: tuple[str, str], who: str
    ) -> Revision:
        made = Revision(
            job=job,
            number=place[0],
            parent=place[1],
            job_text=texts[0],
            shop_text=texts[1],
            digest=digest_of(*texts),
            who=who,
            saved_at=self._place.time(),
            engine=ENGINE,
        )
        link.execute(sa.insert(revisions).values(asdict(made)))
        return made

    def _move(self, link: sa.Connection, job: int, standing: int, number: int) -> None:
        """Move the head, unless somebody moved it meanwhile (on a server where reading takes no lock)."""
        moved = link.execute(
            sa.update(jobs)
            .where(jobs.c.id == job, jobs.c.head == standing)
            .values(head=number, changed_at=self._place.time())
        )
        if moved.rowcount != 1:
            raise ConflictError(Fault(where="job", code="job-changed", found=str(standing)))


def _card(row: Any) -> JobCard:  # noqa: ANN401 - a row as the library gives it
    return JobCard(
        number=row["id"],
        name=row["name"],
        stage=Stage(row["stage"]),
        is_archived=row["is_archived"],
        changed_at=row["changed_at"],
    )
