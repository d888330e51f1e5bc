"""Long work by the API: begin it, ask how far it is, stop it, fetch what came of it."""

from __future__ import annotations

import io
import zipfile
from typing import Annotated, Literal, TypeVar

from fastapi import APIRouter, Request
from pydantic import Field
from starlette.responses import Response

from evenfoot.errors import Fault, StoreError
from evenfoot.office import desk
from evenfoot.web.api.shapes import FaultOut, JobNumber, RemediesOut, Shape, fault_out, remedies_out
from evenfoot.web.asked import errands_of, shelf_of
from evenfoot.web.hands import Errand, ErrandState, work
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter(tags=["errands"])
Result = TypeVar("Result")

Part = Literal["pdf", "svg", "dxf", "labels", "strips", "xlsx", "csv", "ics", "glb", "ifc", "json"]
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The day that every packed file carries, so that the same plan gives the same bytes."""


class ErrandWanted(Shape):
    """Which files are wanted; none named is all."""

    parts: list[Part] = Field([], max_length=len(desk.PARTS))


class ErrandOut(Shape):
    """How far an errand is; ``stage`` is said in words."""

    token: str
    job: int
    state: str
    stage: str
    faults: list[FaultOut]


@router.post("/jobs/{job}/errands", status_code=202)
def send(request: Request, job: JobNumber, wanted: ErrandWanted) -> ErrandOut:
    """Begin to write files of a job."""
    state = shelf_of(request).state(job)
    parts = tuple(wanted.parts) or desk.PARTS
    sent = errands_of(request).send(job, state.card.name, work.write_files, state.texts, language_of(request), parts)
    return _out(request, sent)


@router.post("/jobs/{job}/remedies", status_code=202)
def seek(request: Request, job: JobNumber) -> ErrandOut:
    """Begin to try what would make a job pass, one change at a time."""
    state = shelf_of(request).state(job)
    facts = (state.texts, state.digest, language_of(request))
    return _out(request, errands_of(request).send(job, state.card.name, work.seek_remedies, *facts))


@router.get("/errands/{token}")
def look(request: Request, token: Annotated[str, Field(max_length=64)]) -> ErrandOut:
    """Tell how far an errand is."""
    return _out(request, errands_of(request).find(token))


@router.delete("/errands/{token}")
def stop(request: Request, token: Annotated[str, Field(max_length=64)]) -> ErrandOut:
    """Stop an errand."""
    return _out(request, errands_of(request).stop(token))


@router.get("/errands/{token}/files")
def fetch(request: Request, token: Annotated[str, Field(max_length=64)]) -> Response:
    """Return what was written: a single file as it is, several packed into one."""
    errand = errands_of(request).find(token)
    written = result_of(errand, dict)
    if len(written) == 1:
        ((name, data),) = written.items()
        return _file(name, data)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as box:
        for name, data in written.items():
            box.writestr(zipfile.ZipInfo(name, _EPOCH), data, zipfile.ZIP_DEFLATED)
    return _file(f"evenfoot-{errand.job}.zip", packed.getvalue())


@router.get("/errands/{token}/remedies")
def remedies(request: Request, token: Annotated[str, Field(max_length=64)]) -> RemediesOut:
    """Return what was tried; the fields of a change that passes are set over ``digest`` as any others are."""
    return remedies_out(result_of(errands_of(request).find(token), work.Cures))


def result_of(errand: Errand, kind: type[Result]) -> Result:
    """Return what came of an errand; raises StoreError ``errand-not-done``, ``errand-other``."""
    if errand.state is not ErrandState.DONE:
        raise StoreError(Fault(where="errand", code="errand-not-done", found=errand.state.value))
    if not isinstance(errand.result, kind):
        raise StoreError(Fault(where="errand", code="errand-other"))
    return errand.result


def _file(name: str, data: bytes) -> Response:
    last = name.rpartition("/")[2]
    return Response(
        data,
        media_type="application/octet-stream",
        headers={"Content-Disposition": f'attachment; filename="{last}"'},
    )


def _out(request: Request, errand: Errand) -> ErrandOut:
    speaker = speaker_of(request)
    code, _, count = ("" if errand.is_over else errand.stage).partition(" ")
    stage = speaker.say(f"stage.{code}", count=count) if code else speaker.say(f"errand.{errand.state.value}")
    return ErrandOut(
        token=errand.token,
        job=errand.job,
        state=errand.state.value,
        stage=stage,
        faults=[fault_out(fault, speaker) for fault in errand.faults],
    )
