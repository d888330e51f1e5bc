"""What was reckoned, by the API: findings, drawings, the model in space."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from evenfoot.office import desk, record_of
from evenfoot.web.api.shapes import FigureRow, JobNumber, Variants, VariantsOut, fault_out
from evenfoot.web.asked import hands_of, shelf_of
from evenfoot.web.hands import work
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter(tags=["plans"])


@router.get("/jobs/{job}/findings")
async def findings(request: Request, job: JobNumber) -> dict[str, Any]:
    """Return the plan in a few numbers and every finding in words; keys of measured numbers carry their unit."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    found = await hands_of(request).ask(job, work.tell, job, texts, language_of(request))
    return {"summary": record_of(found.summary), "findings": [record_of(one) for one in found.findings]}


@router.post("/jobs/{job}/variants")
async def variants(request: Request, job: JobNumber, wanted: Variants) -> VariantsOut:
    """Reckon variants of a job beside it; nothing of them is kept."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    wishes = tuple(dict(one) for one in wanted.variants)
    found = await hands_of(request).ask(job, work.vary, job, texts, wishes, language_of(request))
    speaker = speaker_of(request)
    return VariantsOut(
        rows=[
            FigureRow(code=r.code, name=r.name, said=list(r.said), values=list(r.values), best=list(r.best))
            for r in found.rows
        ],
        columns=list(found.columns),
        faults=[[fault_out(fault, speaker) for fault in faults] for faults in found.faults],
    )


@router.get("/jobs/{job}/things/{mark}")
async def thing(
    request: Request, job: JobNumber, mark: Annotated[str, Path(min_length=1, max_length=80)]
) -> dict[str, Any]:
    """Return what is known of one timber, post, board, joint or grid line, by its mark."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    return record_of(await hands_of(request).ask(job, work.card, job, texts, mark, language_of(request)))


@router.get("/jobs/{job}/drawings/{name}")
async def drawing(
    request: Request, job: JobNumber, name: str, sheet: Annotated[int, Query(ge=1, le=500)] = 1
) -> Response:
    """Return one sheet of a drawing as SVG."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    found = await hands_of(request).ask(job, work.draw, job, texts, name, language_of(request))
    return Response(desk.sheet_of(found, sheet), media_type="image/svg+xml")


@router.get("/jobs/{job}/floor.glb")
async def model(request: Request, job: JobNumber) -> Response:
    """Return the floor in space as binary glTF."""
    texts = (await run_in_threadpool(shelf_of(request).state, job)).texts
    found = await hands_of(request).ask(job, work.model, job, texts, language_of(request))
    return Response(found, media_type="model/gltf-binary")
