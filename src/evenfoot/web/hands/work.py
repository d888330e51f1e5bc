"""What a hand does inside its own process; the jobs that it looked at last stay on its desk."""

from __future__ import annotations

import gc
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import count

from evenfoot.office import desk, remedies, sheet_files, speaker_for
from evenfoot.web.pack import pack_html
from evenfoot.words import ON_PAGE, Language


@cache
def _desk() -> desk.Desk:
    """Return the one desk of this process."""
    return desk.Desk()


def warm_up() -> None:
    """Load everything that a look needs."""
    texts = desk.example_job(desk.example_names()[0])
    look = desk.Look(station=desk.stations()[0], drawing="boards", language=Language.ENGLISH)
    desk.view_of(desk.Desk(), 0, texts, look)
    gc.collect()
    gc.freeze()  # what is loaded by now stays: the collector need not look at it again between two keys


def look(job: int, texts: desk.Texts, asked: desk.Look) -> desk.View:
    """Return what the page shows of a job."""
    return desk.view_of(_desk(), job, texts, asked)


def tell(job: int, texts: desk.Texts, language: Language) -> desk.Told:
    """Return the plan of a job in a few numbers and its findings in words."""
    return desk.told_of(_desk().plan(job, texts), language)


def ask(texts: desk.Texts, question: desk.Question, language: Language) -> desk.SiteAnswer:
    """Return the answer to a question on site."""
    return desk.ask_on_site(texts, question, language)


def card(job: int, texts: desk.Texts, mark: str, language: Language) -> desk.TimberCard:
    """Return what is known of one timber, post, board or joint."""
    plan = _desk().plan(job, texts)
    return desk.timber_card(plan, mark, speaker_for(plan, language, instead=(ON_PAGE,)))


def drag(job: int, texts: desk.Texts, grip: tuple[str, str], to_mm: float) -> dict[str, desk.Typed]:
    """Return what is typed into the job when a grip is dragged to a place [mm]."""
    kind, name = grip
    return dict(desk.drag_changes(texts.job, _desk().plan(job, texts), kind=kind, name=name, to_mm=to_mm))


def vary(job: int, texts: desk.Texts, wishes: tuple[dict[str, desk.Typed], ...], language: Language) -> desk.WhatIf:
    """Return a job and its variants side by side."""
    return desk.what_if(_desk(), job, texts, wishes, language)


def compare(job: int, states: tuple[desk.Texts, desk.Texts], language: Language) -> desk.Comparison:
    """Return what differs between two states of a job."""
    return desk.compare_states(_desk(), job, states, language)


def pack(job: int, texts: desk.Texts, language: Language, log_url: str) -> bytes:
    """Return the site pack of a job, which sends its readings to ``log_url``."""
    return pack_html(_desk().plan(job, texts), language, log_url=log_url)


def draw(job: int, texts: desk.Texts, name: str, language: Language) -> desk.Picture:
    """Return one drawing of a job."""
    return desk.picture_of(_desk().plan(job, texts), name, language)


def model(job: int, texts: desk.Texts, language: Language) -> bytes:
    """Return a job in space, as GLB."""
    return sheet_files(_desk().plan(job, texts), language, parts=("glb",))["floor.glb"]


def write_files(
    texts: desk.Texts, language: Language, parts: tuple[str, ...], *, on_stage: Callable[[str], None]
) -> dict[str, bytes]:
    """Return the files of a job by name: a long errand."""
    plan = desk.Desk().plan(0, texts, on_stage=on_stage)
    on_stage("sheets")
    return dict(sheet_files(plan, language, parts=parts))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cures:
    """What was tried for the parts of a job that fall short, and the digest of the state that it was tried on."""

    digest: str
    remedies: tuple[remedies.Remedy, ...]


def seek_remedies(texts: desk.Texts, digest: str, language: Language, *, on_stage: Callable[[str], None]) -> Cures:
    """Return what would make a job pass, tried one change at a time: a long errand, told change by change."""
    plan = desk.Desk().plan(0, texts, on_stage=on_stage)
    tried = count(1)
    found = remedies.remedies_for(
        plan, speaker_for(plan, language), on_trial=lambda: on_stage(f"remedies-tried {next(tried)}")
    )
    return Cures(digest=digest, remedies=found)
