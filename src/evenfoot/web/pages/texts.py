"""The texts of a job themselves, for whoever would rather write than fill in."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import shelf_of
from evenfoot.web.pages.shown import show
from evenfoot.web.paper import speaker_of

router = APIRouter()


@router.get("/jobs/{job}/texts")
def texts(request: Request, job: JobNumber) -> Response:
    """Show the job's and the shop's text, with what is wrong in them."""
    state = shelf_of(request).state(job)
    speaker = speaker_of(request)
    said = [speaker.fault(fault) for fault in desk.text_faults(state.texts)]
    return show(request, "desk/texts.html", state=state, faults=said)
