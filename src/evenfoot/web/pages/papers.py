"""The papers of a job: every sheet to look at, every file to take along."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from evenfoot.errors import EvenfootError
from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import hands_of, shelf_of
from evenfoot.web.hands import work
from evenfoot.web.pages.shown import picture_part, show
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()


@router.get("/jobs/{job}/papers")
async def papers(request: Request, job: JobNumber, drawing: Annotated[str, Query(max_length=20)] = "") -> Response:
    """Show one drawing and the way to all files."""
    state = await run_in_threadpool(shelf_of(request).state, job)
    names = desk.drawing_names()
    wanted = drawing or names[0]
    try:
        picture = await hands_of(request).ask(job, work.draw, job, state.texts, wanted, language_of(request))
        shown = picture_part(picture, speaker_of(request))
    except EvenfootError:
        if wanted not in names:
            raise
        shown = ""
    return show(request, "desk/papers.html", state=state, names=names, drawing=wanted, parts=desk.PARTS, picture=shown)
