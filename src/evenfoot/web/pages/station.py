"""One station of a job: its fields, the drawing beside them, what the plan answers."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from pydantic import BaseModel, Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber, brief
from evenfoot.web.asked import hands_of, shelf_of
from evenfoot.web.hands import SupersededError, work
from evenfoot.web.pages.shown import card_part, hold_of, parts_of, show
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()
IN_SPACE = "space"
"""The picture that is turned about by hand; its model is fetched by the browser."""


class Glance(BaseModel):
    """What an open page wants to see: a drawing, from which seat it asks, and whether what passes is opened."""

    drawing: str = Field(default="", max_length=20)
    seat: str = Field(default="", max_length=40)
    fine: bool = False


@router.get("/jobs/{job}")
def job(job: JobNumber) -> Response:
    """Go to the first station."""
    return RedirectResponse(f"/jobs/{job}/at/{desk.stations()[0].code}", status_code=303)


@router.get("/jobs/{job}/at/{code}")
async def station(
    request: Request, job: JobNumber, code: str, drawing: Annotated[str, Query(max_length=20)] = ""
) -> Response:
    """Show a station."""
    here = desk.station_named(code)
    state = await run_in_threadpool(shelf_of(request).state, job)
    glance = Glance(drawing=drawing or here.drawings[0], fine=True)
    view = await _look(request, state, here, glance)
    return show(
        request,
        "desk/station.html",
        state=state,
        station=here,
        stations=desk.stations(),
        stages=shelf_of(request).stages(),
        drawing=glance.drawing,
        hold=hold_of(view),
        drawing_words=desk.drawing_words(speaker_of(request)),
        space_words=desk.space_words(speaker_of(request), state.texts.job),
        parts=await run_in_threadpool(parts_of, view, speaker_of(request)),
    )


@router.get("/jobs/{job}/at/{code}/parts")
async def parts(request: Request, job: JobNumber, code: str, glance: Annotated[Glance, Query()]) -> Response:
    """Return what changed on a station's page since something was typed; nothing (204) when it was overtaken."""
    here = desk.station_named(code)
    state = await run_in_threadpool(shelf_of(request).state, job)
    try:
        view = await _look(request, state, here, glance)
    except SupersededError:
        return Response(status_code=204)
    found = await run_in_threadpool(parts_of, view, speaker_of(request))
    told = {
        **brief(state).model_dump(),
        "name": state.card.name,
        "plans": view.summary is not None,
        "hold": hold_of(view),
    }
    told["parts"] = found
    return JSONResponse(told, headers={"Cache-Control": "no-store"})


@router.get("/jobs/{job}/card")
async def card(request: Request, job: JobNumber, mark: Annotated[str, Query(min_length=1, max_length=80)]) -> Response:
    """Return the card of one thing as a part of a page."""
    state = await run_in_threadpool(shelf_of(request).state, job)
    found = await hands_of(request).ask(job, work.card, job, state.texts, mark, language_of(request))
    return HTMLResponse(card_part(found, speaker_of(request)))


async def _look(request: Request, state: desk.State, here: desk.Station, glance: Glance) -> desk.View:
    flat = here.drawings[0] if glance.drawing in {"", IN_SPACE} else glance.drawing
    asked = desk.Look(station=here, drawing=flat, language=language_of(request), has_fine=glance.fine)
    number = state.card.number
    return await hands_of(request).ask(number, work.look, number, state.texts, asked, seat=glance.seat)
