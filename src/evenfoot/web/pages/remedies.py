"""What would cure it: changes tried one at a time on the whole job, priced, and taken over at a touch."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.responses import HTMLResponse, Response

from evenfoot.office import desk
from evenfoot.web.api.errands import result_of
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import errands_of, shelf_of
from evenfoot.web.hands import ErrandState, work
from evenfoot.web.pages.faulty import faults_shown
from evenfoot.web.pages.shown import show
from evenfoot.web.paper import speaker_of, templates

router = APIRouter()


@router.get("/jobs/{job}/remedies")
def remedies(request: Request, job: JobNumber) -> Response:
    """Show where remedies are sought."""
    return show(request, "desk/remedies.html", state=shelf_of(request).state(job))


@router.get("/jobs/{job}/remedies/{token}")
def found(request: Request, job: JobNumber, token: Annotated[str, Path(max_length=64)]) -> Response:
    """Return what was tried as a part of that page; where the job does not plan, what is wrong with it."""
    speaker, errand = speaker_of(request), errands_of(request).find(token)
    template = templates().get_template("parts/remedies.html")
    facts: dict[str, object] = {"say": speaker.say, "cures": None, "faults": [], "job": job}
    if errand.state is ErrandState.WRONG:
        facts["faults"] = faults_shown(job, errand.faults, speaker)
    else:
        facts |= {"cures": result_of(errand, work.Cures), "extra": _extra, "station": _station}
        facts["labels"] = lambda changes: {where: desk.label_of(where, speaker) for where in changes}
    return HTMLResponse(template.render(**facts), headers={"Cache-Control": "no-store"})


def _station(changes: Mapping[str, str]) -> str:
    """Return the station at which what a remedy changes is typed."""
    return desk.home_of(next(iter(changes)))[0]


def _extra(amount: Decimal, currency: str) -> str:
    """Return what something costs besides, with its sign."""
    return f"{'+' if amount >= 0 else '−'}{currency} {abs(amount):,}"
