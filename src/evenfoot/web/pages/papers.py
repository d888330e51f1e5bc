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
from evenfoot.web.pack import header_policy
from evenfoot.web.pages.faulty import faults_shown
from evenfoot.web.pages.shown import picture_part, show
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()


@router.get("/jobs/{job}/pack")
async def site_pack(request: Request, job: JobNumber) -> Response:
    """Give the phone its site pack, which brings readings back to this job."""
    state = await run_in_threadpool(shelf_of(request).state, job)
    log_url = f"/api/jobs/{job}/log"
    found = await hands_of(request).ask_in_peace(work.pack, job, state.texts, language_of(request), log_url)
    held = {"Content-Security-Policy": header_policy(log_url), "Cache-Control": "no-cache"}
    return Response(found, media_type="text/html; charset=utf-8", headers=held)


@router.get("/jobs/{job}/pack.html")
async def pack_to_carry(request: Request, job: JobNumber) -> Response:
    """Give out the site pack as a file that is carried to the phone by hand."""
    state = await run_in_threadpool(shelf_of(request).state, job)
    found = await hands_of(request).ask_in_peace(work.pack, job, state.texts, language_of(request), "")
    held = {"Content-Disposition": f'attachment; filename="evenfoot-{job}.html"'}
    return Response(found, media_type="text/html; charset=utf-8", headers=held)


@router.get("/jobs/{job}/papers")
async def papers(request: Request, job: JobNumber, drawing: Annotated[str, Query(max_length=20)] = "") -> Response:
    """Show one drawing and the way to all files."""
    state = await run_in_threadpool(shelf_of(request).state, job)
    names, faults = desk.drawing_names(), []
    wanted = drawing or names[0]
    try:
        picture = await hands_of(request).ask(job, work.draw, job, state.texts, wanted, language_of(request))
        shown = picture_part(picture, speaker_of(request))
    except EvenfootError as error:
        if wanted not in names:
            raise
        shown, faults = "", faults_shown(job, error.faults, speaker_of(request))
    return show(
        request,
        "desk/papers.html",
        state=state,
        names=names,
        drawing=wanted,
        parts=desk.PARTS,
        picture=shown,
        faults=faults,
    )
