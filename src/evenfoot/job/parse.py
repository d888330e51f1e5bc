"""The readers of job files: text in, a checked job out, or every fault at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from evenfoot.errors import Fault, JobFileError
from evenfoot.job.build import build_job
from evenfoot.job.file.defaults import with_defaults
from evenfoot.job.file.faults import MOST_FAULTS, faults_of, located, parsed, without
from evenfoot.job.file.sense import NEEDS, SCALE_FREE
from evenfoot.job.file.tables import JobFile
from evenfoot.job.file.text import Tree, read_text, read_tree
from evenfoot.job.kinds import Standard, Unit
from evenfoot.job.model import Job


def read_job(path: Path | str) -> Job:
    """Return the job in the file at ``path``; a job without a name takes the file's, or the folder's of a job.toml.

    Raises: JobFileError with every fault of the file, each with its path and line.
    """
    path = Path(path)
    name = path.resolve().parent.name if path.stem == "job" else path.stem
    return _parse(read_text(path), name or "job", where=path.name)


def parse_job(text: str, name: str = "job") -> Job:
    """Return the job in a TOML text; ``name`` is used when it has no name of its own.

    Raises: JobFileError with every fault of the text, each with its path and line.
    """
    return _parse(text, name, where=name)


def _parse(text: str, name: str, *, where: str) -> Job:
    tree = {"name": name} | read_tree(text, where=where)
    unit = known_unit(tree)
    file, faults = _checked(tree, unit)
    if file is None:
        more = _second_look(tree, faults, unit) if len(faults) < MOST_FAULTS else []
        sound = [fault for fault in (*faults, *more) if not _hangs_on(fault, faults)]
        raise JobFileError(*located(sound, text))
    return build_job(file)


def _second_look(tree: Tree, faults: list[Fault], unit: str | None) -> list[Fault]:
    """Return the disagreements between the sound keys, found once the keys at fault are out of the way."""
    _, more = _checked(without(tree, faults), unit or "mm")
    return [fault for fault in more if not _is_about(fault, faults) and (unit is not None or fault.code in SCALE_FREE)]


def _checked(tree: Tree, unit: str | None) -> tuple[JobFile | None, list[Fault]]:
    whole = with_defaults(tree, _known_standard(tree))
    try:
        return JobFile.model_validate(whole, context={"unit": unit}), []
    except ValidationError as error:
        return None, faults_of(error, JobFile)


def _hangs_on(fault: Fault, faults: list[Fault]) -> bool:
    """Return whether a disagreement rests on a key that is itself at fault."""
    needs = NEEDS.get(fault.code)
    values = (first for first in faults if first.code not in NEEDS)
    return needs is not None and any(first.where.startswith(needs) for first in values)


def _is_about(fault: Fault, faults: list[Fault]) -> bool:
    """Return whether a fault of the second look only comes from what was taken out of the first."""
    here = parsed(fault.where)
    return any(parsed(first.where)[: len(here)] == here for first in faults)


def known_unit(tree: Tree) -> str | None:
    """Return the file's unit when it is one; None leaves every length unread."""
    unit = tree.get("unit")
    return unit if isinstance(unit, str) and unit in set(Unit) else None


def _known_standard(tree: dict[str, Any]) -> Standard:
    """Return the file's standard, or any other for a file that will be refused for it."""
    standard = tree.get("standard")
    if isinstance(standard, str) and standard in set(Standard):
        return Standard(standard)
    return Standard.JAPAN
