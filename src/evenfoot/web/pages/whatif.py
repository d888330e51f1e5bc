"""What if, and two states side by side."""

from __future__ import annotations

from functools import partial
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import hands_of, shelf_of
from evenfoot.web.hands import work
from evenfoot.web.pages.shown import show, usual_in
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()
StateQuery = Annotated[int, Query(ge=1, le=2**31 - 1)]


@router.get("/jobs/{job}/what-if")
def what_if(request: Request, job: JobNumber) -> Response:
    """Show fields for variants of a job."""
    state = shelf_of(request).state(job)
    speaker = speaker_of(request)
    fields = desk.fields_of(state.texts.job, desk.WHAT_IF_KEYS, speaker)
    return show(
        request,
        "desk/what_if.html",
        state=state,
        fields=[(desk.label_of(field.where, speaker), field) for field in fields],
        columns=range(1, desk.MOST_VARIANTS + 1),
        usual=lambda field: usual_in(field, speaker),
    )


@router.get("/jobs/{job}/past/compare", name="compare")
async def compare(request: Request, job: JobNumber, a: StateQuery, b: StateQuery) -> Response:
    """Show what differs between two states."""
    shelf = shelf_of(request)
    before = await run_in_threadpool(shelf.at, job, a)
    after = await run_in_threadpool(shelf.at, job, b)
    found = await hands_of(request).ask(job, work.compare, job, (before.texts, after.texts), language_of(request))
    return show(
        request,
        "desk/compare.html",
        state=after,
        before=before,
        found=found,
        label=partial(desk.label_of, speaker=speaker_of(request)),
    )
