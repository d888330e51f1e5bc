"""One function for each thing that a person asks for: start a job, plan it, check it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from evenfoot.errors import EvenfootError, Fault, StoreError
from evenfoot.job import files, kinds, read_job, read_shop
from evenfoot.office.files import write_all
from evenfoot.office.record import plan_json
from evenfoot.plan import Plan, make_plan
from evenfoot.words import STANDS_FREE, Language, Speaker

PARTS = ("pdf", "svg", "dxf", "labels", "strips", "xlsx", "csv", "ics", "glb", "ifc", "json")


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What to reckon: the job file, the shop file (None = the default of the job's standard), the log file.

    The log is ``log.jsonl`` beside the job when none is named and one is there. ``standard`` overrides the job's.
    """

    job: Path
    shop: Path | None = None
    log: Path | None = None
    standard: str = ""


def start_job(place: Path, *, standard: str, language: Language) -> Path:
    """Write a commented job file that plans at once, and return its path.

    Raises: StoreError (``file-exists``) when something stands there; nothing is overwritten.
    """
    if place.exists():
        raise StoreError(Fault(where=str(place), code="file-exists", found=place.name))
    text = files.job_template(kinds.Standard(standard), language.value)
    return write_all(place.parent, {place.name: text.encode()})[0]


def reckon(request: Request, *, on_stage: Callable[[str], None] | None = None) -> Plan:
    """Read the files and return the plan.

    Raises: JobFileError with all faults of a file; EvenfootError when a room cannot go on.
    """
    job = read_job(request.job)
    if request.standard:
        job = replace(job, standard=kinds.Standard(request.standard))
    log = request.log
    if log is None and (request.job.parent / "log.jsonl").exists():
        log = request.job.parent / "log.jsonl"
    shop, readings = read_shop(request.shop, standard=job.standard), files.read_log(log)
    try:
        return make_plan(job, shop, readings, on_stage=on_stage)
    except EvenfootError as error:
        text = request.job.read_text(encoding="utf-8")
        raise type(error)(*files.located(error.faults, text)) from error


def speaker_for(plan: Plan, language: Language, *, instead: tuple[str, ...] = ()) -> Speaker:
    """Return the speaker of this plan: the language asked for, lengths in the unit of the job.

    A job typed in inches is read out in feet and inches, as a tape is. A floor that stands free knows no house.
    ``instead`` as for ``Speaker``.
    """
    unit = plan.job.unit
    said = kinds.Unit.FOOT if unit is kinds.Unit.INCH else unit
    free = () if plan.job.site.has_house else (STANDS_FREE,)
    return Speaker(language, said.value, instead=(*instead, *free))


def draw_sheets(plan: Plan, folder: Path, language: Language, *, parts: tuple[str, ...] = PARTS) -> tuple[Path, ...]:
    """Write the sheets, drawings, workbook and record of a plan into ``folder`` and return their paths.

    ``parts`` are some of ``PARTS``. Nothing is written when anything fails.
    """
    return write_all(folder, sheet_files(plan, language, parts=parts))


def sheet_files(plan: Plan, language: Language, *, parts: tuple[str, ...] = PARTS) -> Mapping[str, bytes]:
    """Return the files of a plan by name, each part in its own kind (docs/commands.md names them all)."""
    speaker = speaker_for(plan, language)
    out = {
        **_drawn(plan, speaker, parts),
        **_shop_papers(plan, speaker, parts),
        **_listed(plan, speaker, parts),
        **_modelled(plan, speaker, parts),
    }
    if "json" in parts:
        out["plan.json"] = plan_json(plan)
    return out


def _drawn(plan: Plan, speaker: Speaker, parts: tuple[str, ...]) -> dict[str, bytes]:
    """Return the sheets as one PDF and the drawings one by one."""
    out: dict[str, bytes] = {}
    if not {"pdf", "svg", "dxf"} & set(parts):
        return out
    from evenfoot.press import dxf_of, pdf_of, svg_of
    from evenfoot.sheets import drawings

    pages = drawings(plan, speaker, plan.job.paper)
    if "pdf" in parts:
        out["sheets.pdf"] = pdf_of(pages, title=plan.job.name)
    if "svg" in parts:
        out |= {f"drawings/{page.code}.svg": svg_of(page).encode() for page in pages}
    if "dxf" in parts:
        out |= {f"drawings/{page.code}.dxf": dxf_of(page) for page in pages if page.scale > 0.0}
    return out


def _shop_papers(plan: Plan, speaker: Speaker, parts: tuple[str, ...]) -> dict[str, bytes]:
    """Return labels and full-size strips."""
    from evenfoot.press import pdf_of
    from evenfoot.sheets import labels, strips

    draws = {"labels": labels, "strips": strips}
    found = {part: draw(plan, speaker, plan.job.paper) for part, draw in draws.items() if part in parts}
    return {f"{part}.pdf": pdf_of(pages, title=plan.job.name) for part, pages in found.items() if pages}


def _listed(plan: Plan, speaker: Speaker, parts: tuple[str, ...]) -> dict[str, bytes]:
    """Return the lists as a workbook, as plain text and as a calendar; no calendar without a first day."""
    out: dict[str, bytes] = {}
    if not {"xlsx", "csv", "ics"} & set(parts):
        return out
    from evenfoot.press import calendar_of, csv_of, workbook_of
    from evenfoot.sheets import calendar, tables

    listed = tables(plan, speaker)
    if "xlsx" in parts:
        out["lists.xlsx"] = workbook_of(listed)
    if "csv" in parts:
        out |= {f"lists/{table.code}.csv": csv_of(table) for table in listed}
    days = calendar(plan, speaker)
    if "ics" in parts and days.rows:
        out["work.ics"] = calendar_of(days, title=plan.job.name)
    return out


def _modelled(plan: Plan, speaker: Speaker, parts: tuple[str, ...]) -> dict[str, bytes]:
    """Return every timber in space: as GLB to look at, as IFC to build on."""
    out: dict[str, bytes] = {}
    if not {"glb", "ifc"} & set(parts):
        return out
    from evenfoot.press import glb_of, ifc_of
    from evenfoot.sheets import bodies

    found = bodies(plan, speaker)
    if "glb" in parts:
        out["floor.glb"] = glb_of(found, title=plan.job.name)
    if "ifc" in parts:
        date = plan.job.date.isoformat() if plan.job.date else "2000-01-01"
        out["floor.ifc"] = ifc_of(found, title=plan.job.name, date=date)
    return out
