"""The shapes of what goes in and out of the API."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import Path
from pydantic import BaseModel, ConfigDict, Field

from evenfoot.errors import Fault
from evenfoot.office import desk, record_of
from evenfoot.web.faults import fault_record
from evenfoot.words import Speaker

JobNumber = Annotated[int, Path(ge=1, le=2**31 - 1, description="number of the job")]
"""A job in an address."""


class Shape(BaseModel):
    """What every shape keeps to: no key that is not in it."""

    model_config = ConfigDict(extra="forbid", frozen=True)


Typed = Annotated[str, Field(max_length=10_000)]
"""What was typed into one field."""


class FaultOut(Shape):
    """One thing that is wrong, and what would be right."""

    where: str
    code: str
    found: str
    allowed: str
    nearest: str
    text: str


class FaultList(Shape):
    """Everything that is wrong."""

    faults: list[FaultOut]


class ErrorOut(Shape):
    """The one shape of every error."""

    error: FaultList


_ERROR = {"$ref": "#/components/schemas/ErrorOut"}
"""Said by hand, since an answer that is no JSON itself has faults that are."""

FAULTS: dict[int | str, dict[str, Any]] = {
    code: {"model": ErrorOut, "description": words, "content": {"application/json": {"schema": _ERROR}}}
    for code, words in {
        400: "the request cannot be read",
        401: "sign in or pair first",
        403: "this may not be done from here, or by you",
        404: "there is no such thing",
        409: "somebody changed it meanwhile",
        413: "it brings too much",
        421: "it calls this computer by a name that is not its own",
        422: "something in it is wrong",
        429: "too many tries",
        503: "the store cannot be reached",
    }.items()
}
"""The errors that any route may answer with."""


class CardOut(Shape):
    """One job in the list."""

    number: int
    name: str
    stage: str
    is_archived: bool
    changed_at: str


class StateOut(Shape):
    """One state of a job, its texts as they are in the files."""

    job: CardOut
    number: int
    digest: str
    can_undo: bool
    can_redo: bool
    job_text: str
    shop_text: str


class BriefState(Shape):
    """One state of a job without its texts."""

    job: int
    number: int
    digest: str
    can_undo: bool
    can_redo: bool


class ClashOut(Shape):
    """A field that two people changed: what stood before, what stands now, what was typed here."""

    where: str
    before: str
    theirs: str
    mine: str


class ChangedOut(Shape):
    """What became of a change."""

    state: BriefState
    clashes: list[ClashOut]


class NewJob(Shape):
    """A job to begin: a blank, a copy of a shipped example, or the text of a job file."""

    name: str = Field("", max_length=80)
    standard: str = Field("japan", max_length=20)
    example: str = Field("", max_length=80)
    job_text: str = Field("", max_length=1_000_000)


class Changes(Shape):
    """Fields as typed, by their place in the file; a row of a list is a list of texts, null takes a row out.

    ``over`` is the digest of the state that was on the screen; ``seen`` may tell what stood in some of the fields when
    they were typed into, where that is not what ``over`` held.
    """

    over: str = Field(max_length=64)
    changes: dict[str, Typed | list[Typed] | None] = Field(max_length=2000)
    seen: dict[str, Typed] = Field(default_factory=dict, max_length=2000)


class Drag(Shape):
    """An edge of the floor, dragged on a plan to a place along its axis [mm]."""

    over: str = Field(max_length=64)
    kind: str = Field(max_length=20)
    id: str = Field(max_length=40)
    to_mm: float = Field(ge=-2_000_000, le=2_000_000)


class WholeTexts(Shape):
    """The whole texts of a job over the state that was read; a shop text left out stays as it is."""

    over: str = Field(max_length=64)
    job_text: str = Field(max_length=1_000_000)
    shop_text: str | None = Field(None, max_length=1_000_000)


class Lines(Shape):
    """Lines of a site log, one JSON object each."""

    lines: list[Annotated[str, Field(max_length=4000)]] = Field(max_length=5000)


class AskedOnSite(Shape):
    """A question on site: ``square``, ``level``, ``posts`` or ``boards``, with readings by name, mark and typed text.

    Names: sides 1-4 and diagonals 1-2; rods by mark; gaps, cuts, hangs, stands and jacks by post; edges, widths and
    moistures by row. ``is_sure`` takes readings that look like a slip.
    """

    what: str = Field(max_length=20)
    typed: dict[str, dict[str, Annotated[str, Field(max_length=40)]]] = Field({}, max_length=20)
    is_sure: bool = False


class SiteAnswerOut(Shape):
    """The answer: at most three lines, the detail, whether nothing is left to do, how many log lines were new."""

    what: str
    lines: list[str]
    detail: list[str]
    is_fine: bool
    added: int


class Variants(Shape):
    """Fields as typed for each variant."""

    variants: list[Annotated[dict[str, Annotated[str, Field(max_length=200)]], Field(max_length=40)]] = Field(
        max_length=desk.MOST_VARIANTS
    )


class FigureRow(Shape):
    """One figure: of the job as it is first, then of each variant in ``columns``; ``best`` are places in ``said``."""

    code: str
    name: str
    said: list[str]
    values: list[float | None]
    best: list[int]


class VariantsOut(Shape):
    """The figures side by side, and what kept a variant from being planned."""

    rows: list[FigureRow]
    columns: list[int]
    faults: list[list[FaultOut]]


class TriedOut(Shape):
    """One change that was tried; its price besides where it passes; the fields that make it so, as typed."""

    code: str
    text: str
    passes: bool
    is_first: bool
    is_cheapest: bool
    extra_low: str | None
    extra_high: str | None
    currency: str
    changes: dict[str, str]


class RemedyOut(Shape):
    """What was tried for one part of the floor, in order."""

    part: str
    findings: int
    worst: str
    text: str
    tried: list[TriedOut]


class RemediesOut(Shape):
    """What would make a job pass, tried on the state with this digest."""

    digest: str
    remedies: list[RemedyOut]


class Added(Shape):
    """How many lines were new, and which readings differ from what the log held; both stay, the later one counts."""

    added: int
    differing: list[str]


class Moment(Shape):
    """One state in the past of a job."""

    number: int
    parent: int | None
    digest: str
    who: str
    saved_at: str


class CardChange(Shape):
    """What is to change on a job's card."""

    stage: str | None = Field(None, max_length=20)
    is_archived: bool | None = None


def fault_out(fault: Fault, speaker: Speaker) -> FaultOut:
    """Return a fault in its shape, said in words."""
    return FaultOut(**fault_record(fault, speaker))


def card_out(card: Any) -> CardOut:  # noqa: ANN401 - a card of the shelf
    """Return a card in its shape."""
    return CardOut(
        number=card.number,
        name=card.name,
        stage=card.stage.value,
        is_archived=card.is_archived,
        changed_at=card.changed_at,
    )


def state_out(state: desk.State) -> StateOut:
    """Return a state with its texts."""
    return StateOut(
        job=card_out(state.card),
        number=state.number,
        digest=state.digest,
        can_undo=state.can_undo,
        can_redo=state.can_redo,
        job_text=state.texts.job,
        shop_text=state.texts.shop,
    )


def remedies_out(found: Any) -> RemediesOut:  # noqa: ANN401 - what an errand brought
    """Return what was tried in its shape."""
    return RemediesOut.model_validate({"digest": found.digest, "remedies": [record_of(r) for r in found.remedies]})


def brief(state: desk.State) -> BriefState:
    """Return a state without its texts."""
    return BriefState(
        job=state.card.number,
        number=state.number,
        digest=state.digest,
        can_undo=state.can_undo,
        can_redo=state.can_redo,
    )
