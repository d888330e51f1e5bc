"""The jobs on the shelf as the page handles them: begun, changed field by field, undone, looked back at."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from evenfoot.errors import ConflictError, EvenfootError, Fault, OutOfRangeError
from evenfoot.job import files
from evenfoot.office.desk.beginning import blank_job, example_job
from evenfoot.office.desk.logs import by_clock
from evenfoot.office.desk.merging import Clash, merge
from evenfoot.office.desk.past import are_one_typing
from evenfoot.office.desk.reckoning import Texts
from evenfoot.office.desk.tree import typed_at
from evenfoot.office.desk.typing import Typed
from evenfoot.store import Head, JobCard, Revision, Stage, Standing, Store
from evenfoot.words import Language

_TRIES = 8
"""How often a change is laid over a state that somebody else just moved."""
_LONGEST_NAME = 80
"""Characters of a name that stand on a card."""


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """One state of a job: its card, its texts, and whether there is anything to undo or redo."""

    card: JobCard
    number: int
    digest: str
    texts: Texts
    can_undo: bool
    can_redo: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """What became of a change: the state that stands, and where somebody else had meant something different."""

    state: State
    clashes: tuple[Clash, ...]


class Shelf:
    """All jobs of a shop, as the page asks for them."""

    def __init__(self, store: Store) -> None:
        """Take the store that keeps them."""
        self._store = store

    @property
    def store(self) -> Store:
        """The store itself, for those who ask it who may come in."""
        return self._store

    def cards(self, *, search: str = "", has_archived: bool = False) -> tuple[JobCard, ...]:
        """Return the jobs, the last changed first."""
        return self._store.cards(search=search, has_archived=has_archived)

    def begin_blank(self, name: str, standard: str, language: Language, *, who: str = "") -> int:
        """Begin a job from a blank that plans; return its number. Raises OutOfRangeError ``text-unfit``."""
        wanted = _fit(name)
        return self._begin(blank_job(wanted, standard, language), wanted, who)

    def begin_example(self, example: str, *, who: str = "") -> int:
        """Begin a job as a copy of a shipped example; return its number."""
        texts = example_job(example)
        return self._begin(texts, name_in(texts.job) or example, who)

    def take_in(self, job_text: str, *, name: str = "", log: Sequence[str] = (), who: str = "") -> int:
        """Take a job file in as it stands, byte for byte, faults and all."""
        return self._begin(Texts(job=job_text, log=tuple(log)), name_in(job_text) or name or "job", who)

    def copy(self, job: int, name: str, *, who: str = "") -> int:
        """Put a copy of a job beside it; its log stays with the floor that was built.

        Raises: OutOfRangeError ``text-unfit`` for a name that cannot be read.
        """
        wanted, texts = _fit(name), self.state(job).texts
        return self._begin(Texts(job=_renamed(texts.job, wanted), shop=texts.shop), wanted, who)

    def state(self, job: int) -> State:
        """Return the job as it stands; raises StoreError ``job-unknown``."""
        return _state(self._store.standing(job))

    def heads(self, jobs: Collection[int]) -> Mapping[int, Head]:
        """Return how some jobs stand, in short."""
        return self._store.heads(jobs)

    def at(self, job: int, number: int) -> State:
        """Return an earlier state, with the log as it stands; raises StoreError ``revision-unknown``."""
        return _state(self._store.standing(job, number=number))

    def change(
        self,
        job: int,
        changes: Mapping[str, Typed],
        *,
        over: str,
        seen: Mapping[str, str] | None = None,
        who: str = "",
    ) -> Changed:
        """Set fields to what was typed while the state ``over`` was on the screen, each showing what was ``seen``.

        Fields that nobody else touched take the change; where somebody did, what stands is kept and the clash told.
        Raises: OutOfRangeError ``path-unknown``, StoreError, ConflictError when the job will not stand still.
        """
        for _ in range(_TRIES):
            standing = self._store.head(job)
            base = self._store.find(job, over) if over != standing.digest else standing
            merged = merge(changes, base=base.job_text if base else "", standing=standing.job_text, seen=seen)
            try:
                state = self.rewrite(job, over=standing.digest, job_text=merged.text, who=who)
            except ConflictError:
                continue
            return Changed(state=state, clashes=merged.clashes)
        raise ConflictError(Fault(where="job", code="job-changed", found=over[:12]))

    def rewrite(self, job: int, *, over: str, job_text: str, shop_text: str | None = None, who: str = "") -> State:
        """Save whole texts over the state that was read; raises ConflictError ``job-changed`` when it moved on."""
        return self._moved_to(self._store.save(job, job_text=job_text, shop_text=shop_text, over=over, who=who))

    def go_back_to(self, job: int, number: int, *, who: str = "") -> State:
        """Make an earlier state the one that stands, as a new state, so that nothing after it is lost."""
        old, standing = self._store.revision(job, number), self._store.head(job)
        return self.rewrite(job, over=standing.digest, job_text=old.job_text, shop_text=old.shop_text, who=who)

    def undo(self, job: int) -> State:
        """Go back to before what was changed or typed last; raises NoSolutionError ``nothing-to-undo``."""
        return self._moved_to(self._store.undo(job, are_one=are_one_typing))

    def redo(self, job: int) -> State:
        """Go forward again as far as one undo went back; raises NoSolutionError ``nothing-to-redo``."""
        return self._moved_to(self._store.redo(job, are_one=are_one_typing))

    def trail(self, job: int, *, most: int = 200) -> tuple[Revision, ...]:
        """Return the last states of a job, the newest first."""
        return self._store.trail(job, most=most)

    @staticmethod
    def stages() -> tuple[str, ...]:
        """Return where a job may stand, in order."""
        return tuple(stage.value for stage in Stage)

    def set_stage(self, job: int, stage: str) -> None:
        """Say where the job stands; raises OutOfRangeError ``not-a-choice``."""
        if stage not in set(Stage):
            allowed = ", ".join(Stage)
            raise OutOfRangeError(
                Fault(where="stage", code="not-a-choice", found=stage, allowed=allowed, nearest="visit")
            )
        self._store.change_card(job, stage=Stage(stage))

    def archive(self, job: int, *, is_archived: bool) -> None:
        """Put a job away, or take it out again."""
        self._store.change_card(job, is_archived=is_archived)

    def add_lines(self, job: int, lines: Sequence[str]) -> int:
        """Add lines to the log of a job as a union and return how many were new.

        Raises: JobFileError when a line is no fact that a log may hold; none is added then.
        """
        told = tuple(line.strip() for line in lines if line.strip())
        files.parse_log("".join(f"{line}\n" for line in told))
        return self._store.add_lines(job, told)

    def _begin(self, texts: Texts, name: str, who: str) -> int:
        number = self._store.create(name=name, job_text=texts.job, shop_text=texts.shop, who=who)
        if texts.log:
            self._store.add_lines(number, texts.log)
        return number

    def _moved_to(self, stands: Revision) -> State:
        """Return the state that stands now; the card follows the name in its text."""
        state, name = self.at(stands.job, stands.number), name_in(stands.job_text)
        if not name or name == state.card.name:
            return state
        self._store.change_card(stands.job, name=name)
        return replace(state, card=replace(state.card, name=name))


def _state(found: Standing) -> State:
    revision = found.revision
    return State(
        card=found.card,
        number=revision.number,
        digest=revision.digest,
        texts=Texts(job=revision.job_text, shop=revision.shop_text, log=by_clock(found.lines)),
        can_undo=revision.parent is not None,
        can_redo=found.can_redo,
    )


def open_shelf(url: str) -> Shelf:
    """Return the shelf at an address such as ``sqlite:////home/me/evenfoot.db``; raises StoreError."""
    return Shelf(Store(url))


def name_in(text: str) -> str:
    """Return the name that a job text gives itself; empty when it has none that can be read."""
    found = typed_at(text, "name")
    name = " ".join(found.split())[:_LONGEST_NAME] if isinstance(found, str) else ""
    return name if name.isprintable() else ""


def _fit(name: str) -> str:
    """Return a name typed for a job without what stands around it."""
    wanted = name.strip()
    if not wanted or not wanted.isprintable() or len(wanted) > _LONGEST_NAME:
        allowed = f"1 … {_LONGEST_NAME}"
        raise OutOfRangeError(Fault(where="name", code="text-unfit", found=name[:_LONGEST_NAME], allowed=allowed))
    return wanted


def _renamed(text: str, name: str) -> str:
    try:
        return files.edit_job(text, {"name": name})
    except EvenfootError:
        return text
