"""Jobs by the API: the list, one job's texts, changes of fields, undo and redo, the past."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from starlette.concurrency import run_in_threadpool

from evenfoot.office import desk
from evenfoot.web.api import shapes
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import hands_of, news_of, shelf_of, who_of
from evenfoot.web.hands import work
from evenfoot.web.paper import language_of

router = APIRouter(tags=["jobs"])


@router.get("/jobs")
def jobs(
    request: Request, search: Annotated[str, Query(max_length=80)] = "", *, archived: bool = False
) -> list[shapes.CardOut]:
    """Return the jobs, the last changed first."""
    return [shapes.card_out(card) for card in shelf_of(request).cards(search=search, has_archived=archived)]


@router.post("/jobs", status_code=201)
def begin(request: Request, wanted: shapes.NewJob) -> shapes.StateOut:
    """Begin a job."""
    shelf, who = shelf_of(request), who_of(request)
    if wanted.job_text:
        number = shelf.take_in(wanted.job_text, name=wanted.name, who=who)
    elif wanted.example:
        number = shelf.begin_example(wanted.example, who=who)
    else:
        number = shelf.begin_blank(wanted.name, wanted.standard, language_of(request), who=who)
    return shapes.state_out(shelf.state(number))


@router.get("/jobs/{job}")
def read(request: Request, job: JobNumber) -> shapes.StateOut:
    """Return a job as it stands."""
    return shapes.state_out(shelf_of(request).state(job))


@router.patch("/jobs/{job}")
def change_card(request: Request, job: JobNumber, wanted: shapes.CardChange) -> shapes.CardOut:
    """Change where a job stands, or put it away."""
    shelf = shelf_of(request)
    if wanted.stage is not None:
        shelf.set_stage(job, wanted.stage)
    if wanted.is_archived is not None:
        shelf.archive(job, is_archived=wanted.is_archived)
    return shapes.card_out(shelf.state(job).card)


@router.post("/jobs/{job}/changes")
def change(request: Request, job: JobNumber, wanted: shapes.Changes) -> shapes.ChangedOut:
    """Set fields to what was typed."""
    made = shelf_of(request).change(job, wanted.changes, over=wanted.over, seen=wanted.seen, who=who_of(request))
    news_of(request).look_again()
    clashes = [shapes.ClashOut(where=c.where, before=c.before, theirs=c.theirs, mine=c.mine) for c in made.clashes]
    return shapes.ChangedOut(state=shapes.brief(made.state), clashes=clashes)


@router.post("/jobs/{job}/drags")
async def drag(request: Request, job: JobNumber, wanted: shapes.Drag) -> shapes.ChangedOut:
    """Move an edge of the floor to where it was dragged."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    typed = await hands_of(request).ask(job, work.drag, job, texts, (wanted.kind, wanted.id), wanted.to_mm)
    return await run_in_threadpool(change, request, job, shapes.Changes(over=wanted.over, changes=_plain(typed)))


@router.put("/jobs/{job}/texts")
def rewrite(request: Request, job: JobNumber, wanted: shapes.WholeTexts) -> shapes.BriefState:
    """Save whole texts over the state that was read."""
    made = shelf_of(request).rewrite(
        job, over=wanted.over, job_text=wanted.job_text, shop_text=wanted.shop_text, who=who_of(request)
    )
    return _told(request, made)


@router.post("/jobs/{job}/undo")
def undo(request: Request, job: JobNumber) -> shapes.BriefState:
    """Go one state back."""
    return _told(request, shelf_of(request).undo(job))


@router.post("/jobs/{job}/redo")
def redo(request: Request, job: JobNumber) -> shapes.BriefState:
    """Go one state forward."""
    return _told(request, shelf_of(request).redo(job))


@router.post("/jobs/{job}/copy", status_code=201)
def copy(request: Request, job: JobNumber, name: Annotated[str, Query(min_length=1, max_length=80)]) -> shapes.StateOut:
    """Put a copy of a job beside it."""
    shelf = shelf_of(request)
    return shapes.state_out(shelf.state(shelf.copy(job, name, who=who_of(request))))


@router.get("/jobs/{job}/states")
def states(request: Request, job: JobNumber) -> list[shapes.Moment]:
    """Return the last states of a job, the newest first."""
    return [
        shapes.Moment(number=r.number, parent=r.parent, digest=r.digest, who=r.who, saved_at=r.saved_at)
        for r in shelf_of(request).trail(job)
    ]


@router.get("/jobs/{job}/states/{number}")
def state(request: Request, job: JobNumber, number: Annotated[int, Path(ge=1, le=2**31 - 1)]) -> shapes.StateOut:
    """Return an earlier state."""
    return shapes.state_out(shelf_of(request).at(job, number))


@router.post("/jobs/{job}/states/{number}/back")
def go_back(request: Request, job: JobNumber, number: Annotated[int, Path(ge=1, le=2**31 - 1)]) -> shapes.BriefState:
    """Make an earlier state the one that stands, as a new state."""
    return _told(request, shelf_of(request).go_back_to(job, number, who=who_of(request)))


def _plain(typed: dict[str, desk.Typed]) -> dict[str, str | list[str] | None]:
    return {where: one if one is None or isinstance(one, str) else list(one) for where, one in typed.items()}


def _told(request: Request, state: desk.State) -> shapes.BriefState:
    news_of(request).look_again()
    return shapes.brief(state)
