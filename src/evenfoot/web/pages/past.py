"""The past of a job: every state it was ever in, two of them side by side, and the way back to one."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import RedirectResponse, Response

from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import hands_of, news_of, shelf_of, who_of
from evenfoot.web.hands import work
from evenfoot.web.pages.shown import facts_part, picture_part, show
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()
_SHOWN = 6
"""Changes of one state that are told; the rest are counted."""

StateNumber = Annotated[int, Path(ge=1, le=2**31 - 1)]


@router.get("/jobs/{job}/past")
def past(request: Request, job: JobNumber) -> Response:
    """Show the states of a job, the newest first."""
    shelf, speaker = shelf_of(request), speaker_of(request)
    trail = [
        {
            "number": step.number,
            "who": step.who,
            "saved_at": step.saved_at,
            "changes": [(desk.label_of(c.where, speaker), c.before, c.after) for c in step.changes[:_SHOWN]],
            "more": max(0, len(step.changes) - _SHOWN),
        }
        for step in desk.steps_of(shelf.trail(job))
    ]
    return show(request, "desk/past.html", state=shelf.state(job), trail=trail)


@router.get("/jobs/{job}/past/{number}")
async def earlier(request: Request, job: JobNumber, number: StateNumber) -> Response:
    """Show one earlier state as it was."""
    state = await run_in_threadpool(shelf_of(request).at, job, number)
    asked = desk.Look(station=desk.station_named("floor"), drawing="frame", language=language_of(request))
    view = await hands_of(request).ask(job, work.look, job, state.texts, asked)
    speaker = speaker_of(request)
    return show(
        request,
        "desk/earlier.html",
        state=state,
        facts=facts_part(view, speaker),
        picture=picture_part(view.picture, speaker),
    )


@router.post("/jobs/{job}/past/{number}/back")
def go_back(request: Request, job: JobNumber, number: StateNumber) -> Response:
    """Make an earlier state the one that stands."""
    shelf_of(request).go_back_to(job, number, who=who_of(request))
    news_of(request).look_again()
    return RedirectResponse(f"/jobs/{job}/at/floor", status_code=303)
